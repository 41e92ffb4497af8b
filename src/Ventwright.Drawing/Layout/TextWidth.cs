namespace Ventwright.Drawing;

/// <summary>Widths of type without a font at hand: on the wide side, so that what fits here fits on the page.</summary>
internal static class TextWidth
{
    /// <summary>Width of a text in CSS pixels. Shares of the em are those of a common sans-serif face, rounded up (common practice, no source).</summary>
    public static double Of(string text, double size) => size * text.Sum(Share);

    /// <summary>The text, or as much of it as fits with an ellipsis.</summary>
    public static string Fit(string text, double width, double size)
    {
        if (Of(text, size) <= width) return text;
        for (int length = text.Length - 1; length > 1; length--)
        {
            string shorter = text[..length].TrimEnd() + "\u2026";
            if (Of(shorter, size) <= width) return shorter;
        }

        return "";
    }

    private static double Share(char c) => c switch
    {
        'i' or 'j' or 'l' or 'I' or '.' or ',' or ':' or ';' or '\'' or '|' or '!' or ' ' or '\u00B7' => 0.31,
        'f' or 't' or 'r' or '(' or ')' or '-' or '/' or '\u00B3' => 0.37,
        'm' or 'w' or 'M' or 'W' or '%' or '@' or '\u2026' => 1.0,
        >= 'A' and <= 'Z' => 0.75,
        _ => 0.6,
    };
}
