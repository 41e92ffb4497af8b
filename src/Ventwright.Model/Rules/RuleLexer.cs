using System.Globalization;
using Ventwright.Model.Sheet.Text;

namespace Ventwright.Model.Rules;

internal enum TokenKind
{
    Number,
    Word,
    Sign,
    End,
}

internal readonly record struct Token(TokenKind Kind, string Text, Mark At);

/// <summary>
/// Cuts a rule into words, numbers and signs. A word may have digits, points and hyphens inside; a hyphen belongs to the word only when a
/// letter or digit follows it at once, so that <c>low-side</c> is a word and <c>low - side</c> a difference.
/// </summary>
internal static class RuleLexer
{
    private static readonly string[] Signs = ["<=", ">=", "!=", "<", ">", "=", "+", "-", "*", "/", "(", ")", ",", ":"];

    /// <summary>The tokens with an end token; null with a problem when a character or number is not understood.</summary>
    public static List<Token>? Cut(string text, Mark start, ProblemList problems)
    {
        var tokens = new List<Token>();
        for (int at = 0; at < text.Length;)
        {
            char c = text[at];
            int length = char.IsAsciiLetter(c) ? WordLength(text, at) : char.IsAsciiDigit(c) ? NumberLength(text, at) : SignLength(text, at);
            Mark mark = Place(text, at, start);
            if (char.IsWhiteSpace(c)) length = 1;
            else if (length == 0)
            {
                string shown = char.IsControl(c) || char.IsSurrogate(c) ? $"U+{(int)c:X4}" : $"'{c}'";
                problems.Error("rule-syntax", mark, $"{shown} means nothing in a rule", Remedy(c));
                return null;
            }
            else tokens.Add(new Token(KindOf(c), text.Substring(at, length), mark));

            at += length;
            if (!char.IsAsciiDigit(c) || IsGoodNumber(text, at, tokens[^1].Text)) continue;
            problems.Error("rule-syntax", mark, $"'{tokens[^1].Text}{Rest(text, at)}' is not a number", "numbers in rules are plain, such as 0.5");
            return null;
        }

        tokens.Add(new Token(TokenKind.End, "the end", Place(text, text.Length, start)));
        return tokens;
    }

    private static TokenKind KindOf(char first) =>
        char.IsAsciiLetter(first) ? TokenKind.Word : char.IsAsciiDigit(first) ? TokenKind.Number : TokenKind.Sign;

    private static bool IsGoodNumber(string text, int end, string number) =>
        (end == text.Length || !(char.IsAsciiLetterOrDigit(text[end]) || text[end] is '.' or '_'))
        && double.IsFinite(double.Parse(number, CultureInfo.InvariantCulture));

    private static string? Remedy(char c) => c switch
    {
        '&' => "write 'and'",
        '|' => "write 'or'",
        '!' => "write 'not', or '!=' for 'differs from'",
        '.' => "write '0.5', not '.5'",
        '\u2212' or '\u2013' => "write '-'",
        '\u00D7' => "write '*'",
        _ => null,
    };

    private static string Rest(string text, int at) => text.Substring(at, Math.Min(WordLength(text, at), 20));

    private static int WordLength(string text, int start)
    {
        int at = start;
        while (at < text.Length && (IsInner(text[at]) || (text[at] == '-' && at + 1 < text.Length && IsInner(text[at + 1])))) at++;
        return at - start;
    }

    private static bool IsInner(char c) => char.IsAsciiLetterOrDigit(c) || c is '.' or '_';

    private static int NumberLength(string text, int start)
    {
        int at = Digits(text, start);
        if (at + 1 < text.Length && text[at] == '.' && char.IsAsciiDigit(text[at + 1])) at = Digits(text, at + 1);
        if (at >= text.Length || text[at] is not ('e' or 'E')) return at - start;
        int exponent = at + 1 < text.Length && text[at + 1] is ('+' or '-') ? at + 2 : at + 1;
        int end = Digits(text, exponent);
        return (end > exponent ? end : at) - start;
    }

    private static int Digits(string text, int at)
    {
        while (at < text.Length && char.IsAsciiDigit(text[at])) at++;
        return at;
    }

    private static int SignLength(string text, int at) =>
        Array.Find(Signs, s => string.CompareOrdinal(text, at, s, 0, s.Length) == 0)?.Length ?? 0;

    /// <summary>The place of a character. The indentation of lines after the first is not known, so there columns count from the text.</summary>
    private static Mark Place(string text, int index, Mark start)
    {
        ReadOnlySpan<char> before = text.AsSpan(0, index);
        int breaks = before.Count('\n');
        return breaks == 0 ? start.Plus(index) : new Mark(start.File, start.Line + breaks, index - before.LastIndexOf('\n'));
    }
}
