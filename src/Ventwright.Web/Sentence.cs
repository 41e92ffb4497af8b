namespace Ventwright.Web;

/// <summary>Messages as sentences.</summary>
internal static class Sentence
{
    /// <summary>The message with a capital at its start and a full stop at its end.</summary>
    public static string Of(string message)
    {
        string text = message.Trim();
        if (text.Length == 0) return "";
        string start = char.ToUpperInvariant(text[0]) + text[1..];
        return start[^1] is '.' or '?' or '!' ? start : start + ".";
    }

    /// <summary>A word with a capital at its start.</summary>
    public static string Capital(string word) => word.Length == 0 ? word : char.ToUpperInvariant(word[0]) + word[1..];
}
