using Ventwright.Model.Kernel;
using Ventwright.Model.Sheet.Text;
using Ventwright.Quantities;

namespace Ventwright.Rig.Logs;

/// <summary>What a column of a log is.</summary>
/// <param name="Head">Its head.</param>
/// <param name="Check">The check that it holds, or null.</param>
/// <param name="Unit">Unit of its numbers: <c>V</c>, <c>kPa</c>.</param>
/// <param name="Set">The control, condition or stand-in that it holds, or null.</param>
/// <param name="Words">For <paramref name="Set"/>: words for the texts of the log; empty when they are the sheet's own.</param>
/// <param name="Within">How much the check may move in a steady moment, SI; null for the usual.</param>
/// <param name="Accuracy">Accuracy of the meter as written in readings, or null.</param>
internal sealed record LogColumn(
    string Head, Observable? Check, string Unit, string? Set, IReadOnlyDictionary<string, string> Words, double? Within, string? Accuracy);

/// <summary>How a log is to be read.</summary>
internal sealed record LogMap
{
    /// <summary>What separates cells; null to find it.</summary>
    public char? Delimiter { get; init; }

    /// <summary>Whether numbers have a decimal comma.</summary>
    public bool IsDecimalComma { get; init; }

    /// <summary>Lines before the heads.</summary>
    public int Skip { get; init; }

    /// <summary>Head of the column with the time.</summary>
    public string TimeColumn { get; init; } = "seconds";

    /// <summary><c>seconds</c>, <c>milliseconds</c>, <c>hours</c>, <c>clock</c>, or a pattern such as <c>dd.MM.yyyy HH:mm:ss</c>.</summary>
    public string TimeFormat { get; init; } = "seconds";

    /// <summary>Columns that are used.</summary>
    public IReadOnlyList<LogColumn> Columns { get; init; } = [];

    /// <summary>How the unit stood all along.</summary>
    public IReadOnlyList<(string Name, string Value)> Set { get; init; } = [];

    /// <summary>How long everything must stand still.</summary>
    public TimeSpan SteadyFor { get; init; } = TimeSpan.FromSeconds(5);

    /// <summary>Share of the reading that a check may move within a steady moment.</summary>
    public double SteadyShare { get; init; } = 0.01;

    /// <summary>
    /// The map of a log whose heads say everything, as the program's own logs do: <c>volts(mod.7) [V]</c>, <c>stand-in RT1 [ohm]</c>, <c>mode</c>.
    /// </summary>
    public static LogMap FromHeads(CsvTable table, UnitModel model)
    {
        var columns = new List<LogColumn>();
        foreach (string head in table.Heads)
        {
            int bracket = head.IndexOf('[', StringComparison.Ordinal);
            string name = bracket < 0 ? head.Trim() : head[..bracket].Trim(), unit = bracket < 0 ? "" : head[(bracket + 1)..].TrimEnd(']', ' ');
            if (unit.Length > 0 && Observable.TryParse(name, out Observable check, out _)) columns.Add(new(head, check, unit, null, NoWords, null, null));
            else if (IsSetting(name, model)) columns.Add(new(head, null, unit, name, NoWords, null, null));
        }

        return new() { Columns = columns };
    }

    /// <summary>Whether a name is something that can be set: a control, a condition, supply, pump, a stand-in or a feed.</summary>
    internal static bool IsSetting(string name, UnitModel model) =>
        name is "supply" or "pump" || model.Controls.Any(c => c.Name == name) || model.Conditions.Any(c => c.Name == name)
        || name.StartsWith("stand-in ", StringComparison.Ordinal) || name.StartsWith("feed ", StringComparison.Ordinal);

    internal static IReadOnlyDictionary<string, string> NoWords { get; } = new Dictionary<string, string>(StringComparer.Ordinal);
}

/// <summary>Reads a file that says how a log is to be read (docs/rig.md, logs).</summary>
internal static class LogMapFile
{
    private static readonly string[] Delimiters = ["comma", "semicolon", "tab"];

    /// <summary>Reads the file; null if there is any error.</summary>
    public static LogMap? Load(string path, UnitModel model, ProblemList problems) => Build(SheetText.ReadFile(path, problems), model, problems);

    /// <summary>Reads text that is already in memory; null if there is any error.</summary>
    public static LogMap? Read(string name, string text, UnitModel model, ProblemList problems) => Build(SheetText.Read(name, text, problems), model, problems);

    private static LogMap? Build(SheetMap? root, UnitModel model, ProblemList problems)
    {
        if (root is null) return null;
        var keys = new MapReader(root, problems);
        if (keys.Whole("log", true) is { } version && version != 1) problems.Error("version", keys.MarkOf("log"), $"version {version} is not known", "write 'log: 1'");
        MapReader? time = keys.Reader("time", true);
        MapReader? steady = keys.Reader("steady");
        var map = new LogMap
        {
            Delimiter = keys.Word("delimiter", Delimiters) switch { "comma" => ',', "semicolon" => ';', "tab" => '\t', _ => null },
            IsDecimalComma = keys.Word("decimal", ["point", "comma"]) == "comma",
            Skip = Math.Max(0, keys.Whole("skip-lines") ?? 0),
            TimeColumn = time?.Text("column", true) ?? "",
            TimeFormat = time?.Text("format", true) ?? "",
            SteadyFor = TimeSpan.FromSeconds(steady?.Quantity("for", Dimension.Second, 5, Allowed.Positive) ?? 5),
            SteadyShare = steady?.Quantity("within", Dimension.Fraction, 0.01, Allowed.Positive) ?? 0.01,
            Set = [.. (keys.Map("set")?.Entries ?? []).Select(e => (e.Key, ValueReader.Text(e.Value, e.Key, problems) ?? ""))],
            Columns = [.. (keys.Map("columns", true)?.Entries ?? []).Select(e => Column(e, model, problems)).OfType<LogColumn>()],
        };
        time?.Done();
        steady?.Done();
        keys.Done();
        return problems.HasErrors ? null : map;
    }

    private static LogColumn? Column(SheetEntry entry, UnitModel model, ProblemList problems)
    {
        if (ValueReader.Map(entry.Value, entry.Key, problems) is not { } inner) return null;
        var keys = new MapReader(inner, problems);
        SheetScalar? at = keys.Scalar("at"), set = keys.Scalar("set");
        string unit = keys.Text("unit") ?? "";
        string? accuracy = keys.Text("accuracy");
        var words = (keys.Map("words")?.Entries ?? []).ToDictionary(e => e.Key, e => ValueReader.Text(e.Value, e.Key, problems) ?? "", StringComparer.Ordinal);
        if (at is null == set is null)
        {
            problems.Error("log-column", entry.KeyMark, $"'{entry.Key}' wants either 'at' (a check) or 'set' (a control, condition or stand-in)");
            keys.Has("within");
            keys.Done();
            return null;
        }

        Observable? check = null;
        double? within = null;
        if (at is not null && Check(at, model, problems) is { } parsed)
        {
            check = parsed;
            if (!QuantityText.TryParse("1 " + unit, parsed.Dimension(), out _, out string? problem))
                problems.Error("wrong-value", keys.MarkOf("unit"), $"'{entry.Key}' wants the unit of its numbers: {problem}");
            within = keys.Quantity("within", parsed.Dimension(), false, Allowed.Positive);
        }
        else if (set is not null && !LogMap.IsSetting(set.Text, model))
        {
            string? near = NearMiss.Suggest(set.Text, [.. model.Controls.Select(c => c.Name), .. model.Conditions.Select(c => c.Name), "supply", "pump"]);
            problems.Error("log-column", set.Mark, $"the sheet has nothing called '{set.Text}' that can be set", near is null ? "write a control, a condition, 'supply', 'pump', or 'stand-in RT1'" : $"did you mean '{near}'?");
        }

        keys.Done();
        return new(entry.Key, check, unit, set?.Text, words, within, accuracy);
    }

    private static Observable? Check(SheetScalar at, UnitModel model, ProblemList problems)
    {
        if (!Observable.TryParse(at.Text, out Observable check, out string? problem))
        {
            problems.Error("log-column", at.Mark, problem!);
            return null;
        }

        (IEnumerable<string> known, string what) = check.Kind switch
        {
            ObservableKind.Volts or ObservableKind.Ohms => (model.Nets.AsEnumerable(), "net"),
            ObservableKind.Vacuum => (model.Hoses, "hose"),
            ObservableKind.Amps => (model.Parts.Where((_, i) => model.MainBranch[i] >= 0).Select(p => p.Id), "part that carries a current"),
            _ => ([], ""),
        };
        if (what.Length == 0)
        {
            problems.Error("log-column", at.Mark, $"{check} cannot come from a log", "a log holds volts(...), amps(...), vacuum(...) or ohms(...)");
            return null;
        }

        foreach (string name in ((string?[])[check.Target, check.Second]).OfType<string>().Where(n => !known.Contains(n, StringComparer.Ordinal)))
        {
            string? near = NearMiss.Suggest(name, known);
            problems.Error("log-column", at.Mark, $"the sheet has no {what} '{name}'", near is null ? null : $"did you mean '{near}'?");
            return null;
        }

        return check;
    }
}
