namespace Ventwright.Model.Editing;

/// <summary>The groups of keys that are open at a place of a sheet: by indent outside braces, by braces and brackets inside.</summary>
internal sealed class GroupStack
{
    private readonly List<Group> _groups = [new(0, ' ')];

    /// <summary>Whether the innermost group is in braces.</summary>
    public bool InFlow => Innermost.Bracket != ' ';

    /// <summary>Indent of the innermost group outside braces.</summary>
    public int Indent => _groups.FindLast(g => g.Bracket == ' ')!.Indent;

    /// <summary>Keys of the innermost group so far.</summary>
    public IReadOnlyList<string> Keys => Innermost.Keys;

    /// <summary>Keys that lead to the innermost group of keys.</summary>
    public IReadOnlyList<string> Path
    {
        get
        {
            Group innermost = Innermost;
            return [.. _groups.TakeWhile(g => g != innermost).Where(g => g.Bracket != '[').Select(g => g.Key).OfType<string>()];
        }
    }

    /// <summary>The key whose value is open at the end of what was read, also inside a list; null where a key is to come.</summary>
    public string? OpenKey => Innermost.Key;

    /// <summary>The innermost group of keys; a list belongs to the key before it.</summary>
    private Group Innermost => _groups.FindLast(g => g.Bracket != '[')!;

    /// <summary>The key at the start of a line, or null.</summary>
    public static string? KeyOf(string line)
    {
        int colon = line.IndexOf(':', StringComparison.Ordinal);
        return colon > 0 && (colon + 1 == line.Length || line[colon + 1] == ' ') ? line[..colon].Trim().Trim('"') : null;
    }

    /// <summary>Reads a line, or the part of one before the cursor.</summary>
    /// <param name="line">The line.</param>
    /// <param name="indent">Indent of the whole line where only a part is given.</param>
    public void Read(string line, int indent = -1)
    {
        string content = line.TrimStart(' ');
        if (indent < 0)
        {
            if (content.Length == 0 || content[0] == '#') return;
            indent = line.Length - content.Length;
        }

        if (_groups[^1].Bracket == ' ') OpenBlock(indent + (content.StartsWith("- ", StringComparison.Ordinal) ? 2 : 0));
        if (content.StartsWith("- ", StringComparison.Ordinal)) content = content[2..];
        ReadContent(content);
    }

    private void OpenBlock(int indent)
    {
        while (_groups.Count > 1 && _groups[^1].Indent > indent) _groups.RemoveAt(_groups.Count - 1);
        if (indent > _groups[^1].Indent) _groups.Add(new(indent, ' '));
        else _groups[^1].Key = null;
    }

    private void ReadContent(string content)
    {
        int word = 0;
        for (int i = 0; i < content.Length; i++)
        {
            char c = content[i];
            if (c == '#' && (i == 0 || content[i - 1] == ' ')) return;
            if (c is '"' or '\'' && content[word..i].Trim().Length == 0)
            {
                int end = content.IndexOf(c, i + 1);
                if (end < 0) return;
                i = end;
            }
            else if (c is '{' or '[')
            {
                _groups.Add(new(int.MaxValue, c));
                word = i + 1;
            }
            else if (c is '}' or ']' or ',')
            {
                Close(c);
                word = i + 1;
            }
            else if (c == ':' && (i + 1 == content.Length || content[i + 1] == ' ') && Innermost.Key is null)
            {
                Innermost.Open(content[word..i].Trim().Trim('"'));
                word = i + 1;
            }
        }
    }

    private void Close(char c)
    {
        if (c == ',')
        {
            if (_groups[^1].Bracket == '{') _groups[^1].Key = null;
            return;
        }

        char opener = c == '}' ? '{' : '[';
        if (_groups[^1].Bracket == opener) _groups.RemoveAt(_groups.Count - 1);
    }

    private sealed class Group(int indent, char bracket)
    {
        public int Indent { get; } = indent;

        public char Bracket { get; } = bracket;

        public List<string> Keys { get; } = [];

        public string? Key { get; set; }

        public void Open(string key)
        {
            Key = key;
            Keys.Add(key);
        }
    }
}
