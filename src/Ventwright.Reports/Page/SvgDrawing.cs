using SkiaSharp;
using Svg.Skia;

namespace Ventwright.Reports.Page;

/// <summary>A drawing given as SVG, as wide as it may be and no higher than it may be; it stays a drawing, not a picture of dots.</summary>
internal sealed class SvgDrawing : IBlock
{
    private readonly SKPicture _picture;
    private readonly float _mostHeight;

    /// <summary>Reads the SVG.</summary>
    /// <exception cref="ReportException">It cannot be read.</exception>
    public SvgDrawing(string svg, float mostHeight)
    {
        const string What = "the drawing is no SVG that can be read";
        const string Advice = "leave it out or make it anew";
        _mostHeight = mostHeight;
        var reader = new SKSvg();
        try
        {
            _picture = reader.FromSvg(svg) ?? throw new ReportException($"{What}; {Advice}");
        }
        catch (Exception e) when (e is System.Xml.XmlException or FormatException or InvalidOperationException or ArgumentException)
        {
            throw new ReportException($"{What} ({e.Message.TrimEnd('.')}); {Advice}");
        }
        if (_picture.CullRect.IsEmpty) throw new ReportException($"the drawing has no size; {Advice}");
    }

    public float Height(Fonts fonts, float width) => _picture.CullRect.Height * Scale(width);

    public void Place(Sheet sheet, Fonts fonts, float x, float y, float width)
    {
        float scale = Scale(width), wide = _picture.CullRect.Width * scale;
        sheet.Marks.Add(new PictureMark(_picture, SKRect.Create(x + ((width - wide) / 2), y, wide, _picture.CullRect.Height * scale)));
    }

    private float Scale(float width) => Math.Min(width / _picture.CullRect.Width, _mostHeight / _picture.CullRect.Height);
}
