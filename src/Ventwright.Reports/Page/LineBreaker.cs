using System.Buffers;
using System.Globalization;

namespace Ventwright.Reports.Page;

/// <summary>Breaks text into lines that are no wider than they may be.</summary>
internal static class LineBreaker
{
    /// <summary>A blank at which no line ends, as between a number and its unit.</summary>
    public const char NoBreak = '\u00A0';

    private static readonly SearchValues<char> BreaksAfter = SearchValues.Create(".,;/-_)(:=");

    /// <summary>The lines of a text. Breaks at blanks; a word that is too wide alone is broken after a punctuation mark, or wherever it must.</summary>
    public static List<string> Break(Fonts fonts, string text, TextStyle style, float width)
    {
        var lines = new List<string>();
        foreach (string paragraph in text.ReplaceLineEndings("\n").Split('\n')) AddParagraph(lines, fonts, paragraph, style, width);
        return [.. lines.Select(l => l.Replace(NoBreak, ' '))];
    }

    private static void AddParagraph(List<string> lines, Fonts fonts, string paragraph, TextStyle style, float width)
    {
        string line = "";
        foreach (string word in paragraph.Split([' ', '\t'], StringSplitOptions.RemoveEmptyEntries))
        {
            string longer = line.Length == 0 ? word : line + " " + word;
            if (fonts.Width(longer, style) <= width)
            {
                line = longer;
                continue;
            }

            if (line.Length > 0) lines.Add(line);
            line = word;
            while (fonts.Width(line, style) > width)
            {
                int at = Cut(fonts, line, style, width);
                if (at >= line.Length) break;
                lines.Add(line[..at]);
                line = line[at..];
            }
        }

        lines.Add(line);
    }

    /// <summary>How much of a word fits: at least one character, up to the last punctuation mark if there is one in its second half.</summary>
    private static int Cut(Fonts fonts, string word, TextStyle style, float width)
    {
        int[] starts = StringInfo.ParseCombiningCharacters(word);
        int fits = 1;
        while (fits < starts.Length && fonts.Width(word[..End(starts, fits + 1, word)], style) <= width) fits++;
        int end = End(starts, fits, word);
        int mark = word.AsSpan(0, end).LastIndexOfAny(BreaksAfter);
        return mark >= end / 2 && end < word.Length ? mark + 1 : end;
    }

    private static int End(int[] starts, int count, string word) => count < starts.Length ? starts[count] : word.Length;
}
