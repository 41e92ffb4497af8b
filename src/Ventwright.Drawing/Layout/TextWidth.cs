namespace Ventwright.Drawing;

/// <summary>Widths of type without a font at hand: on the wide side, so that what fits here fits on the page.</summary>
internal static class TextWidth
{
    private const double Safety = 1.06;

    /// <summary>
    /// Width of a text in CSS pixels: shares of the em of the Helvetica family, to which the faces that the stylesheet names are metric-compatible (widths from
    /// memory of the published font metrics, rounded up), and a little more for safety.
    /// </summary>
    public static double Of(string text, double size) => Safety * size * text.Sum(Share);

    /// <summary>The text, or as much of it as fits with an ellipsis.</summary>
    public static string Fit(string text, double width, double size)
    {
        if (Of(text, size) <= width) return text;
        for (int length = text.Length - 1; length > 2; length--)
        {
            string shorter = text[..length].TrimEnd(' ', '-', ',') + "\u2026";
            if (Of(shorter, size) <= width) return shorter;
        }

        return "";
    }

    private static double Share(char c) => c switch
    {
        'i' or 'j' or 'l' or 'I' or '.' or ',' or ':' or ';' or '\'' or '|' or '!' or ' ' or '\u00B7' => 0.28,
        'f' or 't' or 'r' or '(' or ')' or '-' or '/' or '\u00B3' => 0.335,
        'c' or 'k' or 's' or 'v' or 'x' or 'y' or 'z' or 'J' => 0.51,
        'm' or 'M' or 'W' or '%' or '@' => 0.945,
        'w' => 0.73,
        '\u2026' => 1.0,
        'C' or 'D' or 'G' or 'H' or 'N' or 'O' or 'Q' or 'R' or 'U' or '\u03A9' => 0.78,
        >= 'A' and <= 'Z' => 0.67,
        _ => c < 128 ? 0.56 : 0.75,
    };
}
