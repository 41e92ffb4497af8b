namespace Ventwright.Bench;

/// <summary>Splits a setting that is written on one line: <c>mode=screen stand-in RT1=12.1 kohm wiggle X5=on</c>.</summary>
public static class SettingText
{
    private static readonly string[] Verbs = ["stand-in", "unplug", "absent", "feed", "wiggle", "after"];

    /// <summary>Names and texts, in order. A verb belongs to the name behind it; a word without an equals sign to the text before it.</summary>
    public static IReadOnlyList<(string Name, string Value)> Words(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        var words = new List<(string Name, string Value)>();
        string verb = "";
        foreach (string word in text.Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            int equals = word.IndexOf('=', StringComparison.Ordinal);
            if (equals > 0)
            {
                words.Add((verb + word[..equals], word[(equals + 1)..]));
                verb = "";
            }
            else if (Verbs.Contains(word, StringComparer.Ordinal)) verb += word + " ";
            else if (words.Count > 0) words[^1] = (words[^1].Name, words[^1].Value + " " + word);
        }

        return words;
    }
}
