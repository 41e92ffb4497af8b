using SkiaSharp;

namespace Ventwright.Reports.Page;

/// <summary>Something that stands on a page.</summary>
internal abstract record Mark;

/// <summary>A line of text.</summary>
internal sealed record TextMark(float X, float Baseline, string Text, TextStyle Style) : Mark;

/// <summary>A straight line.</summary>
internal sealed record LineMark(SKPoint From, SKPoint To, float Width, SKColor Colour) : Mark;

/// <summary>A rectangle, outlined, filled or both.</summary>
internal sealed record BoxMark(SKRect Box, SKColor? Fill, SKColor? Stroke, float Width = 0.8f) : Mark;

/// <summary>A drawing, scaled to a place.</summary>
internal sealed record PictureMark(SKPicture Picture, SKRect Box) : Mark;

/// <summary>One page while it is filled.</summary>
internal sealed class Sheet
{
    public List<Mark> Marks { get; } = [];

    public void Text(float x, float baseline, string text, TextStyle style)
    {
        if (text.Length > 0) Marks.Add(new TextMark(x, baseline, text, style));
    }

    public void Line(float x1, float y1, float x2, float y2, float width, SKColor colour) => Marks.Add(new LineMark(new(x1, y1), new(x2, y2), width, colour));

    public void Box(SKRect box, SKColor? fill, SKColor? stroke) => Marks.Add(new BoxMark(box, fill, stroke));
}
