using Ventwright.Model.Sheet.Text;

namespace Ventwright.Bench;

/// <summary>A reading as it stands in a file.</summary>
/// <param name="Set">How the unit stood, as name and text.</param>
/// <param name="At">The check.</param>
/// <param name="Got">What was read.</param>
/// <param name="Where">Where it stands in the file.</param>
/// <param name="Accuracy">Accuracy of the meter as written, or null.</param>
/// <param name="AccuracyAt">Where the accuracy stands in the file.</param>
/// <param name="IsSymptom">Whether it was told, <c>as: symptom</c>, and not read on the bench.</param>
public sealed record WrittenReading(
    IReadOnlyList<(string Name, string Value)> Set, string At, string Got, Mark Where, string? Accuracy = null, Mark AccuracyAt = default,
    bool IsSymptom = false);

/// <summary>Reads files of readings: YAML lists of <c>{ set: {mode: screen}, at: volts(mod.7), got: 2.31 V }</c>, or CSV with the columns set, at, got; both may give an accuracy, or say <c>as: symptom</c>.</summary>
public static class ReadingsFile
{
    /// <summary>Reads a file; problems go to the list.</summary>
    public static IReadOnlyList<WrittenReading> Load(string path, ProblemList problems)
    {
        ArgumentNullException.ThrowIfNull(problems);
        string? text = SheetText.LoadFile(path, problems);
        if (text is null) return [];
        return path.EndsWith(".csv", StringComparison.OrdinalIgnoreCase) ? Csv(path, text, problems) : Yaml(path, text, problems);
    }

    private static List<WrittenReading> Yaml(string path, string text, ProblemList problems)
    {
        SheetMap? root = SheetText.Read(path, text, problems, listOf: "readings");
        var result = new List<WrittenReading>();
        if (root is null) return result;
        var keys = new MapReader(root, problems);
        foreach (SheetNode item in keys.List("readings", true)?.Items ?? [])
        {
            if (ValueReader.Map(item, "reading", problems) is not { } map) continue;
            var row = new MapReader(map, problems);
            var set = (row.Map("set")?.Entries ?? []).Select(e => (e.Key, ValueReader.Text(e.Value, e.Key, problems) ?? "")).ToList();
            foreach (string other in (string[])["by", "when"]) row.Text(other);
            SheetScalar? accuracy = row.Scalar("accuracy");
            Mark accuracyAt = accuracy?.Mark ?? item.Mark;
            bool isSymptom = IsSymptom(row.Text("as"), item.Mark, problems);
            if (row.Text("at", true) is { } at && row.Text("got", true) is { } got) result.Add(new(set, at, got, item.Mark, accuracy?.Text, accuracyAt, isSymptom));
            row.Done();
        }

        return result;
    }

    private static List<WrittenReading> Csv(string path, string text, ProblemList problems)
    {
        var result = new List<WrittenReading>();
        string[] lines = text.ReplaceLineEndings("\n").Split('\n');
        char separator = lines[0].Contains(';', StringComparison.Ordinal) && !lines[0].Contains(',', StringComparison.Ordinal) ? ';' : ',';
        string[] heads = [.. Cells(lines[0], separator).Select(h => h.ToLowerInvariant())];
        int set = Array.IndexOf(heads, "set"), at = Array.IndexOf(heads, "at"), got = Array.IndexOf(heads, "got"), accuracy = Array.IndexOf(heads, "accuracy"), told = Array.IndexOf(heads, "as");
        if (at < 0 || got < 0)
        {
            problems.Error("csv-heads", new(path, 1, 1), "the first line names no columns `at` and `got`", "write: set,at,got");
            return result;
        }

        for (int i = 1; i < lines.Length; i++)
        {
            if (lines[i].Trim().Length == 0) continue;
            string[] cells = Cells(lines[i], separator);
            if (cells.Length <= Math.Max(at, got))
            {
                problems.Error("csv-row", new(path, i + 1, 1), $"this line has {cells.Length} cells, the head has {heads.Length}", "quote cells that hold the separator");
                continue;
            }

            IReadOnlyList<(string, string)> words = set < 0 ? [] : SettingText.Words(cells[set]);
            string? meter = accuracy >= 0 && accuracy < cells.Length && cells[accuracy].Length > 0 ? cells[accuracy] : null;
            int column = meter is null ? 1 : lines[i].LastIndexOf(meter, StringComparison.Ordinal) + 1;
            var line = new Mark(path, i + 1, 1);
            bool isSymptom = IsSymptom(told >= 0 && told < cells.Length ? cells[told] : null, line, problems);
            result.Add(new(words, cells[at], cells[got], line, meter, new(path, i + 1, Math.Max(1, column)), isSymptom));
        }

        return result;
    }

    private static bool IsSymptom(string? text, Mark at, ProblemList problems)
    {
        if (text is not (null or "" or "reading" or "symptom")) problems.Error("reading-as", at, $"'{text}' is no way to take a reading", "write `as: symptom` for what was told, or leave it out");
        return text == "symptom";
    }

    private static string[] Cells(string line, char separator)
    {
        var cells = new List<string>();
        var cell = new System.Text.StringBuilder();
        bool quoted = false;
        int depth = 0;
        foreach (char c in line)
        {
            if (c == '"') quoted = !quoted;
            else if (c == separator && !quoted && depth == 0)
            {
                cells.Add(cell.ToString().Trim());
                cell.Clear();
            }
            else
            {
                depth += c == '(' ? 1 : c == ')' ? -1 : 0;
                cell.Append(c);
            }
        }

        cells.Add(cell.ToString().Trim());
        return [.. cells];
    }
}
