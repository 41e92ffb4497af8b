using System.Globalization;
using System.Text;
using Ventwright.Model.Kernel;
using Ventwright.Model.Sheet.Text;
using Ventwright.Quantities;

namespace Ventwright.Rig.Logs;

/// <summary>A reading taken from a log.</summary>
/// <param name="Set">How the unit stood.</param>
/// <param name="At">The check.</param>
/// <param name="Si">What was read, SI.</param>
/// <param name="FromS">Start of the steady moment, s from the first row.</param>
/// <param name="ToS">End of the steady moment.</param>
/// <param name="Accuracy">Accuracy of the meter as written, or null.</param>
public sealed record LoggedReading(IReadOnlyList<(string Name, string Value)> Set, Observable At, double Si, double FromS, double ToS, string? Accuracy)
{
    /// <summary>The reading as it is written: <c>2.3125 V</c>.</summary>
    public string Got
    {
        get
        {
            if (double.IsInfinity(Si)) return "OL";
            string unit = QuantityText.Unit(At.Dimension(), UnitSystem.Metric);
            double number = QuantityText.ToUnit(Si, At.Dimension(), UnitSystem.Metric);
            string text = number.ToString("G5", CultureInfo.InvariantCulture);
            return $"{(text.Contains('E', StringComparison.Ordinal) ? number.ToString("0.#####", CultureInfo.InvariantCulture) : text)} {unit}";
        }
    }
}

/// <summary>Takes readings from a log at its steady moments.</summary>
public static class LogImport
{
    /// <summary>Takes readings from a log.</summary>
    /// <param name="path">The log, CSV.</param>
    /// <param name="mapPath">The file that says how to read it; null for a log whose heads say everything.</param>
    /// <param name="model">The unit.</param>
    /// <param name="problems">Gets what is wrong with the map.</param>
    /// <returns>Readings in the order of time; null when the map has errors.</returns>
    /// <exception cref="RigException">The log cannot be used.</exception>
    public static IReadOnlyList<LoggedReading>? Read(string path, string? mapPath, UnitModel model, ProblemList problems)
    {
        LogMap? map = mapPath is null ? null : LogMapFile.Load(mapPath, model, problems);
        if (mapPath is not null && map is null) return null;
        return Readings(CsvTable.Read(path, map?.Delimiter, map?.Skip ?? 0), map, model, "say with --map what the columns are (docs/rig.md)");
    }

    /// <summary>Takes readings from a log that is already in memory.</summary>
    /// <param name="name">Name of the log, for messages.</param>
    /// <param name="lines">Its lines.</param>
    /// <param name="mapText">The text that says how to read it; null for a log whose heads say everything.</param>
    /// <param name="model">The unit.</param>
    /// <param name="problems">Gets what is wrong with the map.</param>
    /// <returns>Readings in the order of time; null when the map has errors.</returns>
    /// <exception cref="RigException">The log cannot be used.</exception>
    public static IReadOnlyList<LoggedReading>? Read(string name, string[] lines, string? mapText, UnitModel model, ProblemList problems)
    {
        LogMap? map = mapText is null ? null : LogMapFile.Read("map", mapText, model, problems);
        if (mapText is not null && map is null) return null;
        return Readings(CsvTable.Of(name, lines, map?.Delimiter, map?.Skip ?? 0), map, model, "say what the columns are");
    }

    /// <summary>Heads of a log's columns, and the first rows as they are written.</summary>
    /// <param name="name">Name of the log, for messages.</param>
    /// <param name="lines">Its lines.</param>
    /// <param name="skip">Lines before the heads.</param>
    /// <param name="rows">How many rows.</param>
    /// <exception cref="RigException">It is no table.</exception>
    public static (IReadOnlyList<string> Heads, IReadOnlyList<string[]> Rows) Look(string name, string[] lines, int skip, int rows)
    {
        CsvTable table = CsvTable.Of(name, lines, null, skip);
        return (table.Heads, [.. table.Rows.Take(rows)]);
    }

    private static IReadOnlyList<LoggedReading> Readings(CsvTable table, LogMap? map, UnitModel model, string hint)
    {
        map ??= LogMap.FromHeads(table, model);
        if (!map.Columns.Any(c => c.Check is not null))
            throw new RigException(RigTrouble.NotPossible, table.Path, $"no column is a check such as 'volts(mod.7) [V]'; {hint}");
        LogSeries log = LogSeries.Read(table, map);
        return [.. SteadyMoments.Find(log, map).SelectMany(m => Readings(log, map, m))];
    }

    /// <summary>Readings as YAML that <c>find</c> reads.</summary>
    public static string ToYaml(IReadOnlyList<LoggedReading> readings)
    {
        var text = new StringBuilder();
        foreach (LoggedReading reading in readings)
        {
            string set = string.Join(", ", reading.Set.Select(s => $"{Quoted(s.Name)}: {Quoted(s.Value)}"));
            text.Append(CultureInfo.InvariantCulture, $"- {{ set: {{ {set} }}, at: {Quoted(reading.At.ToString())}, got: {Quoted(reading.Got)}");
            if (reading.Accuracy is { } accuracy) text.Append(CultureInfo.InvariantCulture, $", accuracy: {Quoted(accuracy)}");
            text.Append(CultureInfo.InvariantCulture, $", when: \"{reading.FromS:0.0} s .. {reading.ToS:0.0} s\" }}\n");
        }

        return text.Length == 0 ? "readings: []\n" : text.ToString();
    }

    private static IEnumerable<LoggedReading> Readings(LogSeries log, LogMap map, SteadyMoment moment)
    {
        // Supply and pump are on unless told: said again, they would make another setting of the same bench.
        (string, string)[] set = [.. map.Set, .. log.Sets.Select(s => (s.Name, s.Texts[moment.Row])).Where(s => s.Item2.Length > 0 && s is not ("supply" or "pump", "on"))];
        for (int i = 0; i < log.Checks.Length; i++)
        {
            LogColumn column = log.Checks[i].Column;
            if (!double.IsNaN(moment.Means[i])) yield return new(set, column.Check!.Value, moment.Means[i], moment.FromS, moment.ToS, column.Accuracy);
        }
    }

    private static string Quoted(string text) => $"\"{text.Replace("\\", "\\\\", StringComparison.Ordinal).Replace("\"", "\\\"", StringComparison.Ordinal)}\"";
}
