using System.Text;

namespace Ventwright.Rig.Logs;

/// <summary>A table of text: heads and rows with as many cells.</summary>
internal sealed class CsvTable
{
    private const long LargestBytes = 512L * 1024 * 1024;

    private CsvTable(string path, char delimiter, string[] heads, List<string[]> rows, int firstLine) => (Path, Delimiter, Heads, Rows, FirstLine) = (path, delimiter, heads, rows, firstLine);

    /// <summary>The file.</summary>
    public string Path { get; }

    /// <summary>What separates cells.</summary>
    public char Delimiter { get; }

    /// <summary>Heads of the columns.</summary>
    public string[] Heads { get; }

    /// <summary>Rows; short ones are filled up with empty cells.</summary>
    public List<string[]> Rows { get; }

    /// <summary>Line of the first row in the file, from 1.</summary>
    public int FirstLine { get; }

    /// <summary>Index of a column, or -1.</summary>
    public int Column(string head) => Array.FindIndex(Heads, h => string.Equals(h, head, StringComparison.OrdinalIgnoreCase));

    /// <summary>Reads a file.</summary>
    /// <param name="path">The file.</param>
    /// <param name="delimiter">What separates cells; null to find it from the heads.</param>
    /// <param name="skip">Lines before the heads.</param>
    /// <exception cref="RigException">It cannot be read, or is no table.</exception>
    public static CsvTable Read(string path, char? delimiter, int skip)
    {
        try
        {
            if (new FileInfo(path).Length > LargestBytes) throw new RigException(RigTrouble.NotPossible, path, "it is larger than 512 MB; cut it into pieces");
            return Of(path, File.ReadAllLines(path, Encoding.UTF8), delimiter, skip);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException)
        {
            throw new RigException(RigTrouble.NotPossible, path, $"it cannot be read: {e.Message.TrimEnd('.')}", e);
        }
    }

    /// <summary>Reads lines that are already in memory.</summary>
    /// <param name="path">Name for messages.</param>
    /// <param name="lines">The lines.</param>
    /// <param name="delimiter">What separates cells; null to find it from the heads.</param>
    /// <param name="skip">Lines before the heads.</param>
    /// <exception cref="RigException">It is no table.</exception>
    public static CsvTable Of(string path, string[] lines, char? delimiter, int skip)
    {
        int head = skip;
        while (head < lines.Length && string.IsNullOrWhiteSpace(lines[head])) head++;
        if (head >= lines.Length) throw new RigException(RigTrouble.NotPossible, path, skip > 0 ? $"nothing stands after the first {skip} lines" : "it is empty");
        char by = delimiter ?? Likely(lines[head]);
        string[] heads = [.. Cells(lines[head], by).Select(h => h.Trim())];
        var rows = new List<string[]>();
        for (int i = head + 1; i < lines.Length; i++)
        {
            if (string.IsNullOrWhiteSpace(lines[i])) continue;
            List<string> cells = Cells(lines[i], by);
            while (cells.Count < heads.Length) cells.Add("");
            rows.Add([.. cells.Take(heads.Length).Select(c => c.Trim())]);
        }

        return new(path, by, heads, rows, head + 2);
    }

    private static char Likely(string heads) => ((char[])['\t', ';', ',']).MaxBy(c => heads.Count(h => h == c));

    private static List<string> Cells(string line, char by)
    {
        var cells = new List<string>();
        var cell = new StringBuilder();
        bool isQuoted = false;
        for (int i = 0; i < line.Length; i++)
        {
            char c = line[i];
            if (c == '"' && isQuoted && i + 1 < line.Length && line[i + 1] == '"') cell.Append(line[++i]);
            else if (c == '"') isQuoted = !isQuoted;
            else if (c == by && !isQuoted)
            {
                cells.Add(cell.ToString());
                cell.Clear();
            }
            else cell.Append(c);
        }

        cells.Add(cell.ToString());
        return cells;
    }
}
