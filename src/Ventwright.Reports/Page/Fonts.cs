using System.Text;
using SkiaSharp;

namespace Ventwright.Reports.Page;

/// <summary>The system's fonts: one family for all text, and others for single characters that it does not have.</summary>
internal sealed class Fonts : IDisposable
{
    /// <summary>Signs that no report can do without: ohm, micro, minus, degree, comparison, raised figures, dashes.</summary>
    public const string Needed = "\u03A9\u00B5\u2212\u00B0\u2265\u2264\u00B2\u00B3\u00B7\u2013\u2026\u00D7\u0394\u2260";

    /// <summary>Sans-serif families in order of liking: the first two have the same widths, so that pages break alike on each system.</summary>
    private static readonly string[] Families = ["Liberation Sans", "Arial", "DejaVu Sans", "Noto Sans", "Helvetica", "Segoe UI"];

    private static readonly Lazy<(SKTypeface Regular, SKTypeface Bold)> System = new(Find);
    private readonly Dictionary<(SKTypeface, float), SKFont> _fonts = [];
    private readonly Dictionary<(int, bool), SKTypeface?> _others = [];

    /// <summary>Width of a line of text in points.</summary>
    public float Width(string text, TextStyle style) => Runs(text, style).Sum(r => r.Font.MeasureText(r.Text));

    /// <summary>The text cut where the font changes.</summary>
    public IEnumerable<(string Text, SKFont Font)> Runs(string text, TextStyle style)
    {
        SKTypeface main = style.Bold ? System.Value.Bold : System.Value.Regular;
        SKFont sized = Sized(main, style.Size);
        if (sized.ContainsGlyphs(text)) return [(text, sized)];
        var runs = new List<(StringBuilder Text, SKTypeface Face)>();
        foreach (Rune rune in text.EnumerateRunes())
        {
            (SKTypeface face, string sign) = Rune.IsControl(rune) ? (main, " ") : FaceFor(main, rune, style.Bold) is { } found ? (found, rune.ToString()) : (main, "?");
            if (runs.Count == 0 || runs[^1].Face != face) runs.Add((new(), face));
            runs[^1].Text.Append(sign);
        }

        return runs.Select(r => (r.Text.ToString(), Sized(r.Face, style.Size)));
    }

    public void Dispose()
    {
        foreach (SKFont font in _fonts.Values) font.Dispose();
    }

    private SKTypeface? FaceFor(SKTypeface main, Rune rune, bool bold)
    {
        if (Has(main, rune.ToString())) return main;
        if (_others.TryGetValue((rune.Value, bold), out SKTypeface? known)) return known;
        SKTypeface? other = SKFontManager.Default.MatchCharacter(null, bold ? SKFontStyle.Bold : SKFontStyle.Normal, null, rune.Value);
        return _others[(rune.Value, bold)] = other is not null && Has(other, rune.ToString()) ? other : null;
    }

    private SKFont Sized(SKTypeface face, float size)
    {
        if (_fonts.TryGetValue((face, size), out SKFont? font)) return font;
        return _fonts[(face, size)] = new SKFont(face, size) { Subpixel = true, LinearMetrics = true, Hinting = SKFontHinting.None, Edging = SKFontEdging.Antialias };
    }

    private static (SKTypeface, SKTypeface) Find()
    {
        SKFontManager manager = SKFontManager.Default;
        foreach (string family in Families.Concat(manager.FontFamilies.Order(StringComparer.Ordinal)))
        {
            SKTypeface? regular = Match(manager, family, SKFontStyle.Normal), bold = Match(manager, family, SKFontStyle.Bold);
            if (regular is not null && bold is not null) return (regular, bold);
        }

        throw new ReportException($"no font on this system has the signs {string.Join(' ', Needed.ToCharArray())}; install Liberation Sans or DejaVu Sans (Debian, Ubuntu: apt-get install fonts-liberation)");
    }

    private static SKTypeface? Match(SKFontManager manager, string family, SKFontStyle style)
    {
        SKTypeface? face = manager.MatchFamily(family, style);
        bool fits = face is not null && string.Equals(face.FamilyName, family, StringComparison.OrdinalIgnoreCase) && Has(face, Needed + "AZaz09");
        return fits ? face : null;
    }

    private static bool Has(SKTypeface face, string signs)
    {
        using var font = new SKFont(face);
        return font.ContainsGlyphs(signs);
    }
}
