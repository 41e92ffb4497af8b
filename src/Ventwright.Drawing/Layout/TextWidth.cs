namespace Ventwright.Drawing;

/// <summary>Widths of type without a font at hand: a little on the wide side, so that what fits here fits on the page.</summary>
internal static class TextWidth
{
    private const double Safety = 1.02;

    /// <summary>
    /// Width of a text in CSS pixels: shares of the em of the Helvetica family, to which the faces that the stylesheet names are metric-compatible (widths from
    /// memory of the published font metrics), and a little more for safety.
    /// </summary>
    public static double Of(string text, double size, bool bold = false) => Safety * size * text.Sum(bold ? BoldShare : Share);

    /// <summary>The text, or as much of it as fits with an ellipsis.</summary>
    public static string Fit(string text, double width, double size, bool bold = false)
    {
        if (Of(text, size, bold) <= width) return text;
        for (int length = text.Length - 1; length > 2; length--)
        {
            string shorter = text[..length].TrimEnd(' ', '-', ',') + "\u2026";
            if (Of(shorter, size, bold) <= width) return shorter;
        }

        return "";
    }

    private static double Share(char c) => c switch
    {
        'i' or 'j' or 'l' => 0.222,
        'I' or '.' or ',' or ':' or ';' or '\'' or '|' or '!' or ' ' or '/' or 'f' or 't' or '\u00B7' => 0.28,
        'r' or '(' or ')' or '-' or '\u00B3' => 0.335,
        'c' or 'k' or 's' or 'v' or 'x' or 'y' or 'z' or 'J' => 0.5,
        'm' or 'M' => 0.833,
        'W' or '%' or '@' => 1.0,
        'w' or 'C' or 'D' or 'H' or 'N' or 'R' or 'U' => 0.722,
        '\u2026' => 1.0,
        'G' or 'O' or 'Q' or '\u03A9' => 0.778,
        'F' or 'T' or 'Z' => 0.611,
        >= 'A' and <= 'Z' => 0.667,
        _ => c < 128 ? 0.556 : 0.75,
    };

    private static double BoldShare(char c) => c switch
    {
        'i' or 'j' or 'l' => 0.278,
        'f' or 't' or '\'' or '!' or ':' or ';' => 0.333,
        'r' => 0.389,
        'b' or 'd' or 'g' or 'h' or 'n' or 'o' or 'p' or 'q' or 'u' => 0.611,
        'c' or 'k' or 's' or 'v' or 'x' or 'y' or 'J' => 0.556,
        'm' => 0.889,
        'w' => 0.778,
        >= 'A' and <= 'Z' => Share(c) + 0.056,
        _ => Share(c),
    };
}
