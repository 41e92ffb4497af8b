using System.Globalization;
using System.Text;
using Ventwright.Model.Kernel;
using Ventwright.Quantities;
using Ventwright.Rig;
using Ventwright.Rig.Logs;

namespace Ventwright.Workshop.Rigs;

/// <summary>What a column of a foreign log is.</summary>
/// <param name="Head">Its head.</param>
/// <param name="Is">Empty when it is not used, <c>time</c>, a check such as <c>volts(mod.7)</c>, or something that can be set, such as <c>mode</c>.</param>
/// <param name="Unit">Unit of its numbers, for a check.</param>
public sealed record LogColumnChoice(string Head, string Is, string Unit);

/// <summary>How a log of any logger is to be read, as a person chooses it on a form. It is read through the same map file as <c>rig import-log --map</c> takes.</summary>
public sealed record ForeignLogMap
{
    /// <summary>Word for the column that holds the time.</summary>
    public const string Time = "time";

    /// <summary>Formats of time that are offered; a pattern such as <c>dd.MM.yyyy HH:mm:ss</c> may be written instead.</summary>
    public static IReadOnlyList<(string Value, string Words)> TimeFormats { get; } =
        [("seconds", "seconds"), ("milliseconds", "milliseconds"), ("minutes", "minutes"), ("hours", "hours"), ("clock", "clock, 14:05:30.2"), ("iso", "date and time, 2026-03-01T14:05:30")];

    /// <summary>Whether numbers have a decimal comma.</summary>
    public bool IsDecimalComma { get; init; }

    /// <summary>Lines before the heads.</summary>
    public int Skip { get; init; }

    /// <summary>Format of the time.</summary>
    public string TimeFormat { get; init; } = "seconds";

    /// <summary>Seconds for which everything must stand still, as written.</summary>
    public string SteadyFor { get; init; } = "5";

    /// <summary>How the unit stood all along.</summary>
    public IReadOnlyList<(string Name, string Value)> Set { get; init; } = [];

    /// <summary>The columns.</summary>
    public IReadOnlyList<LogColumnChoice> Columns { get; init; } = [];

    /// <summary>A first guess: what the heads say by themselves.</summary>
    /// <param name="name">Name of the log, for messages.</param>
    /// <param name="lines">Its lines.</param>
    /// <param name="skip">Lines before the heads.</param>
    /// <param name="model">The unit.</param>
    /// <exception cref="RefusedException">It is no table.</exception>
    public static ForeignLogMap Guess(string name, string[] lines, int skip, UnitModel model)
    {
        try
        {
            (IReadOnlyList<string> heads, IReadOnlyList<string[]> rows) = LogImport.Look(name, lines, skip, 5);
            if (rows.Count == 0) throw new RefusedException($"{name} has heads but no rows");
            int time = heads.ToList().FindIndex(h => h.StartsWith("seconds", StringComparison.OrdinalIgnoreCase) || h.Contains("time", StringComparison.OrdinalIgnoreCase));
            bool isComma = rows.Any(r => r.Any(c => c.Length < 20 && c.Contains(',', StringComparison.Ordinal) && double.TryParse(c.Replace(',', '.'), NumberStyles.Float, CultureInfo.InvariantCulture, out _)));
            string cell = time < 0 ? "" : rows[0][time];
            return new()
            {
                Skip = skip,
                IsDecimalComma = isComma,
                TimeFormat = cell.Contains('T', StringComparison.Ordinal) ? "iso" : cell.Contains(':', StringComparison.Ordinal) && cell.Length < 16 ? "clock" : "seconds",
                Columns = [.. heads.Select((h, i) => i == time ? new LogColumnChoice(h, Time, "") : Guess(h, model))],
            };
        }
        catch (RigException e)
        {
            throw new RefusedException(e.Message, e);
        }
    }

    /// <summary>Everything that a column can be, as value and words: checks that a logger can hold, then what can be set.</summary>
    public static IReadOnlyList<(string Group, IReadOnlyList<(string Value, string Words)> Choices)> Meanings(UnitModel model)
    {
        (string, string) Check(Observable what) => (what.ToString(), CheckTitles.Of(model, what));
        return
        [
            ("Voltages", [.. model.Nets.Skip(1).Select(n => Check(new(ObservableKind.Volts, n)))]),
            ("Vacuum", [.. model.Hoses.Skip(1).Select(h => Check(new(ObservableKind.Vacuum, h)))]),
            ("Currents", [.. model.Parts.Where((_, i) => model.MainBranch[i] >= 0).Select(p => Check(new(ObservableKind.Amps, p.Id)))]),
            ("How it stood", [.. model.Controls.Select(c => (c.Name, c.Name)), .. model.Conditions.Select(c => (c.Name, c.Name)), ("supply", "supply"), ("pump", "pump"),
                .. model.Electric.Where(b => b.Law == ElectricLaw.Thermistor).Select(b => ($"stand-in {model.Parts[b.Part].Id}", $"resistance in place of {SettingWords.PartName(model, model.Parts[b.Part].Id)}"))]),
        ];
    }

    /// <summary>The usual unit of a column, by what it is.</summary>
    public static string UsualUnit(string meaning) => meaning.StartsWith("stand-in ", StringComparison.Ordinal) ? "ohm"
        : Observable.TryParse(meaning, out Observable what, out _) ? QuantityText.Unit(what.Dimension(), UnitSystem.Metric) : "";

    /// <summary>The map as a file (docs/rig.md, logs).</summary>
    /// <exception cref="RefusedException">No column holds the time, or the steady time is no number.</exception>
    public string ToYaml()
    {
        if (Columns.FirstOrDefault(c => c.Is == Time) is not { } time) throw new RefusedException("no column is the time yet: choose it in the list");
        if (!double.TryParse(SteadyFor, NumberStyles.Float, CultureInfo.InvariantCulture, out double steady) || !(steady is >= 0.5 and <= 3600)) throw new RefusedException("the steady time wants seconds from 0.5 to 3600");
        var text = new StringBuilder("log: 1\n");
        text.Append(CultureInfo.InvariantCulture, $"decimal: {(IsDecimalComma ? "comma" : "point")}\nskip-lines: {Skip}\ntime: {{ column: {Quoted(time.Head)}, format: {Quoted(TimeFormat)} }}\ncolumns:\n");
        foreach (LogColumnChoice column in Columns.Where(c => c.Is.Length > 0 && c.Is != Time).DistinctBy(c => c.Head))
        {
            string what = Observable.TryParse(column.Is, out _, out _) ? "at" : "set", unit = column.Unit.Length > 0 ? $", unit: {Quoted(column.Unit)}" : "";
            text.Append(CultureInfo.InvariantCulture, $"  {Quoted(column.Head)}: {{ {what}: {Quoted(column.Is)}{unit} }}\n");
        }

        if (Set.Count > 0) text.Append(CultureInfo.InvariantCulture, $"set: {{ {string.Join(", ", Set.Select(s => $"{Quoted(s.Name)}: {Quoted(s.Value)}"))} }}\n");
        text.Append(CultureInfo.InvariantCulture, $"steady: {{ for: {steady} s }}\n");
        return text.ToString();
    }

    private static LogColumnChoice Guess(string head, UnitModel model)
    {
        int bracket = head.IndexOf('[', StringComparison.Ordinal);
        string name = bracket < 0 ? head.Trim() : head[..bracket].Trim(), unit = bracket < 0 ? "" : head[(bracket + 1)..].TrimEnd(']', ' ');
        string found = Meanings(model).SelectMany(g => g.Choices).Select(c => c.Value).FirstOrDefault(v => string.Equals(v, name, StringComparison.OrdinalIgnoreCase)) ?? "";
        return new(head, found, found.Length == 0 ? "" : unit.Length > 0 ? unit : UsualUnit(found));
    }

    private static string Quoted(string text) => $"\"{string.Concat(text.Where(c => !char.IsControl(c))).Replace("\\", "\\\\", StringComparison.Ordinal).Replace("\"", "\\\"", StringComparison.Ordinal)}\"";
}
