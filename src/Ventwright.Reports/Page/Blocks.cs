using SkiaSharp;

namespace Ventwright.Reports.Page;

/// <summary>Something that knows its height in a given width, and how to stand on a page.</summary>
internal interface IBlock
{
    /// <summary>Height in a width.</summary>
    float Height(Fonts fonts, float width);

    /// <summary>Puts it on a page with its top left corner at x, y.</summary>
    void Place(Sheet sheet, Fonts fonts, float x, float y, float width);
}

/// <summary>Text that wraps. What does not fit into the lines that it may have ends in an ellipsis; so few by default that a row of cells fits on any page.</summary>
internal sealed class TextBlock(string text, TextStyle style, bool right = false, int mostLines = 12) : IBlock
{
    private (float Width, List<string> Lines)? _broken;

    public float Height(Fonts fonts, float width) => Lines(fonts, width).Count * style.Leading;

    public void Place(Sheet sheet, Fonts fonts, float x, float y, float width)
    {
        float baseline = y + style.Rise;
        foreach (string line in Lines(fonts, width))
        {
            sheet.Text(right ? x + width - fonts.Width(line, style) : x, baseline, line, style);
            baseline += style.Leading;
        }
    }

    private List<string> Lines(Fonts fonts, float width)
    {
        if (_broken is { } known && known.Width == width) return known.Lines;
        List<string> lines = text.Length == 0 ? [] : LineBreaker.Break(fonts, text, style, width);
        if (lines.Count > mostLines)
        {
            string last = lines[mostLines - 1];
            while (last.Length > 0 && fonts.Width(last + "\u2026", style) > width) last = last[..^1];
            lines = [.. lines.Take(mostLines - 1), last + "\u2026"];
        }

        _broken = (width, lines);
        return lines;
    }
}

/// <summary>Blocks below each other.</summary>
internal sealed class Stack(float gap, params IBlock[] blocks) : IBlock
{
    public float Height(Fonts fonts, float width)
    {
        float[] heights = [.. blocks.Select(b => b.Height(fonts, width)).Where(h => h > 0)];
        return heights.Sum() + (gap * Math.Max(0, heights.Length - 1));
    }

    public void Place(Sheet sheet, Fonts fonts, float x, float y, float width)
    {
        foreach (IBlock block in blocks)
        {
            float height = block.Height(fonts, width);
            if (height <= 0) continue;
            block.Place(sheet, fonts, x, y, width);
            y += height + gap;
        }
    }
}

/// <summary>A box to tick, with text beside it or without.</summary>
internal sealed class TickBox(string text, TextStyle style, float size = 8.5f) : IBlock
{
    private readonly TextBlock _text = new(text, style);

    private float Indent => size + 4;

    public float Height(Fonts fonts, float width) => Math.Max(size + 2, _text.Height(fonts, width - Indent));

    public void Place(Sheet sheet, Fonts fonts, float x, float y, float width)
    {
        float top = y + Math.Max(0.5f, ((style.Leading - size) / 2) - 0.5f);
        sheet.Box(SKRect.Create(x + 0.5f, top, size, size), null, Ink.Heavy);
        _text.Place(sheet, fonts, x + Indent, y, width - Indent);
    }
}

/// <summary>A box to tick with another block beside it, on the same foot.</summary>
internal sealed class Ticked(IBlock block) : IBlock
{
    private const float Size = 8.5f, Indent = Size + 5;

    public float Height(Fonts fonts, float width) => Math.Max(Size + 2, block.Height(fonts, width - Indent));

    public void Place(Sheet sheet, Fonts fonts, float x, float y, float width)
    {
        float height = Height(fonts, width);
        sheet.Box(SKRect.Create(x + 0.5f, y + height - Size - 3, Size, Size), null, Ink.Heavy);
        block.Place(sheet, fonts, x + Indent, y, width - Indent);
    }
}

/// <summary>A line to write on, with the unit at its end.</summary>
internal sealed class WriteLine(string unit, float height = 17) : IBlock
{
    private static readonly TextStyle Unit = TextStyle.Small;

    public float Height(Fonts fonts, float width) => height;

    public void Place(Sheet sheet, Fonts fonts, float x, float y, float width)
    {
        float end = x + width, baseline = y + height - 3.5f, wide = fonts.Width(unit, Unit);
        if (wide > 0) sheet.Text(end - wide, baseline, unit, Unit);
        sheet.Line(x, baseline + 1, wide > 0 ? end - wide - 3 : end, baseline + 1, 0.6f, Ink.Heavy);
    }
}

/// <summary>Words to choose from, each with a small box.</summary>
internal sealed class Choice(IReadOnlyList<string> words) : IBlock
{
    private const float Box = 7, Gap = 2.5f, Between = 6, Line = 13;
    private static readonly TextStyle Style = new(8, false, Ink.Text);

    public float Height(Fonts fonts, float width) => Line * (1 + Places(fonts, width).Max(p => p.Row));

    public void Place(Sheet sheet, Fonts fonts, float x, float y, float width)
    {
        foreach ((string word, float at, int row) in Places(fonts, width))
        {
            float top = y + (row * Line);
            sheet.Box(SKRect.Create(x + at + 0.5f, top + 2, Box, Box), null, Ink.Heavy);
            new TextBlock(word, Style, mostLines: 1).Place(sheet, fonts, x + at + Box + Gap, top, width - at - Box - Gap);
        }
    }

    private List<(string Word, float X, int Row)> Places(Fonts fonts, float width)
    {
        var places = new List<(string, float, int)>();
        float x = 0;
        int row = 0;
        foreach (string word in words)
        {
            float wide = Box + Gap + fonts.Width(word, Style);
            if (x > 0 && x + wide > width) (x, row) = (0, row + 1);
            places.Add((word, x, row));
            x += wide + Between;
        }

        return places;
    }
}

/// <summary>Nothing: an empty cell.</summary>
internal sealed class Blank : IBlock
{
    public static readonly Blank Cell = new();

    public float Height(Fonts fonts, float width) => 0;

    public void Place(Sheet sheet, Fonts fonts, float x, float y, float width)
    {
        // Nothing stands there.
    }
}

/// <summary>Blocks beside each other, all of one width.</summary>
internal sealed class Columns(float gap, params IBlock[] blocks) : IBlock
{
    public float Height(Fonts fonts, float width) => blocks.Max(b => b.Height(fonts, Each(width)));

    public void Place(Sheet sheet, Fonts fonts, float x, float y, float width)
    {
        float each = Each(width);
        for (int i = 0; i < blocks.Length; i++) blocks[i].Place(sheet, fonts, x + (i * (each + gap)), y, each);
    }

    private float Each(float width) => (width - (gap * (blocks.Length - 1))) / blocks.Length;
}
