namespace Ventwright.Model.Editing;

/// <summary>
/// Where a cursor stands in a sheet that may be half written: the keys around it and what has been typed of the word. Reads line by line and keeps going where
/// YAML would refuse.
/// </summary>
/// <param name="Path">Keys from the outermost group to the one that the cursor is in.</param>
/// <param name="Siblings">Keys that the group has already.</param>
/// <param name="Key">The key whose value is being written, or null when a key is.</param>
/// <param name="Word">What is typed of the word so far.</param>
public sealed record CursorContext(IReadOnlyList<string> Path, IReadOnlyList<string> Siblings, string? Key, string Word)
{
    private const string WordEnds = " \t,[]{}:\"";

    /// <summary>Reads the context of a place.</summary>
    /// <param name="text">The sheet.</param>
    /// <param name="line">Line from 1.</param>
    /// <param name="column">Column from 1; the cursor stands before that character.</param>
    public static CursorContext At(string text, int line, int column)
    {
        string[] lines = text.Split('\n');
        int last = Math.Clamp(line - 1, 0, lines.Length - 1);
        var groups = new GroupStack();
        for (int i = 0; i < last; i++) groups.Read(lines[i].TrimEnd('\r'));
        string before = lines[last].TrimEnd('\r');
        before = before[..Math.Clamp(column - 1, 0, before.Length)];
        int start = before.Length;
        while (start > 0 && !WordEnds.Contains(before[start - 1], StringComparison.Ordinal)) start--;
        string word = before[start..];
        groups.Read(before[..^word.Length], Indent(before));
        List<string> siblings = [.. groups.Keys];
        if (!groups.InFlow) siblings.AddRange(KeysBelow(lines, last + 1, groups.Indent));
        return new(groups.Path, siblings, groups.OpenKey, word);
    }

    /// <summary>The part that a line belongs to: the entry of <c>parts</c> or <c>air</c> around it, or null.</summary>
    public static string? PartAt(string text, int line)
    {
        string[] lines = text.Split('\n');
        string? entry = null;
        for (int i = Math.Clamp(line - 1, 0, lines.Length - 1); i >= 0; i--)
        {
            string one = lines[i].TrimEnd('\r');
            if (one.Trim() is "" or ['#', ..]) continue;
            int indent = Indent(one);
            if (indent == 2) entry ??= GroupStack.KeyOf(one.Trim());
            if (indent == 0) return GroupStack.KeyOf(one) is "parts" or "air" ? entry : null;
        }

        return null;
    }

    private static int Indent(string line) => line.Length - line.TrimStart(' ').Length;

    private static IEnumerable<string> KeysBelow(string[] lines, int from, int indent)
    {
        for (int i = from; i < lines.Length; i++)
        {
            string line = lines[i].TrimEnd('\r');
            if (line.Trim() is "" or ['#', ..]) continue;
            if (Indent(line) < indent) yield break;
            if (Indent(line) == indent && GroupStack.KeyOf(line.Trim()) is { } key) yield return key;
        }
    }
}
