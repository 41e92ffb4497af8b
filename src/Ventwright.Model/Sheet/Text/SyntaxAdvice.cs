namespace Ventwright.Model.Sheet.Text;

/// <summary>Turns what the YAML parser says into what a person can act on.</summary>
internal static class SyntaxAdvice
{
    /// <summary>Parts of the parser's messages, with what they mean in a sheet. The first that fits is taken.</summary>
    private static readonly (string Detail, string Message, string Hint)[] Known =
    [
        ("invalid mapping", "a second ': ' on one line", "put text that contains ': ' in quotes, or check the indentation"),
        ("wrong indentation", "a quote that is not closed", "close the quote on the same line"),
        ("end of stream", "a quote that is not closed", "close the quote on the same line"),
        ("current state of the object", "a bracket that is not closed", "close '[' with ']' and '{' with '}'"),
        ("expected ','", "a bracket or a comma is missing", "close '[' with ']' and '{' with '}', with commas between items"),
        ("expected key", "this does not fit the lines above", "check the indentation and the ':' after the key"),
        ("cannot start any token", "a value cannot start with this character", "put the value in quotes"),
        ("node content", "a value was expected here", "check the brackets"),
    ];

    /// <summary>The problem for a message of the parser.</summary>
    /// <param name="at">The last place that is known.</param>
    /// <param name="detail">The parser's message.</param>
    /// <param name="text">The sheet.</param>
    public static Problem For(Mark at, string detail, string text)
    {
        if (detail.Contains("tab", StringComparison.Ordinal) && IndentingTab(at, text) is { } tab)
            return new Problem("syntax", tab, "a tab in the indentation", "indent with spaces, not with tabs");
        foreach ((string part, string message, string hint) in Known)
        {
            if (detail.Contains(part, StringComparison.Ordinal)) return new Problem("syntax", at, message, hint);
        }

        return new Problem("syntax", at, $"this is not valid YAML: {Tidy(detail)}");
    }

    /// <summary>The first tab in the indentation of a line, from the given line on.</summary>
    private static Mark? IndentingTab(Mark at, string text)
    {
        int number = 0;
        foreach (ReadOnlySpan<char> line in text.AsSpan().EnumerateLines())
        {
            int indent = line.IndexOfAnyExcept(' ');
            if (++number >= at.Line && indent >= 0 && line[indent] == '\t') return new Mark(at.File, number, indent + 1);
        }

        return null;
    }

    private static string Tidy(string detail)
    {
        string tidy = detail.ReplaceLineEndings(" ").TrimEnd('.', ' ');
        return tidy.Length == 0 ? "not understood" : char.ToLowerInvariant(tidy[0]) + tidy[1..];
    }
}
