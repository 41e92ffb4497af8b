using System.Globalization;
using Ventwright.Model.Sheet.Text;
using Ventwright.Quantities;

namespace Ventwright.Bench.Sensors;

/// <summary>
/// Reads the points of a sweep: CSV with a column of places (<c>position</c> as 0..1 or in per cent, or <c>time</c>) and one of values (<c>ohms</c> or
/// <c>volts</c>); a log with the columns <c>time</c>, <c>channel</c>, <c>value</c>, of which one channel is taken; or a YAML list of
/// <c>{ position: 0.1, got: 512 ohm }</c>. Values may carry a unit; <c>OL</c> or nothing means that the meter shows nothing.
/// </summary>
public static class SweepFile
{
    private static readonly string[] Places = ["position", "place", "time"], Values = ["ohms", "ohm", "volts", "volt", "value", "got"];

    /// <summary>Reads a file; problems go to the list.</summary>
    /// <param name="path">The file.</param>
    /// <param name="channel">Channel of a log, or null.</param>
    /// <param name="problems">Takes what is wrong.</param>
    public static SweepData? Load(string path, string? channel, ProblemList problems)
    {
        ArgumentNullException.ThrowIfNull(path);
        ArgumentNullException.ThrowIfNull(problems);
        if (SheetText.LoadFile(path, problems) is not { } text) return null;
        bool yaml = path.EndsWith(".yaml", StringComparison.OrdinalIgnoreCase) || path.EndsWith(".yml", StringComparison.OrdinalIgnoreCase);
        return yaml ? Yaml(path, text, problems) : Csv(path, text, channel, problems);
    }

    /// <summary>Reads CSV text.</summary>
    /// <param name="name">Name for messages.</param>
    /// <param name="text">The text.</param>
    /// <param name="channel">Channel of a log, or null.</param>
    /// <param name="problems">Takes what is wrong.</param>
    public static SweepData? Csv(string name, string text, string? channel, ProblemList problems)
    {
        ArgumentNullException.ThrowIfNull(text);
        ArgumentNullException.ThrowIfNull(problems);
        (string Line, int Number)[] lines = [.. text.TrimStart('\uFEFF').ReplaceLineEndings("\n").Split('\n').Select((l, i) => (l.Trim(), i + 1)).Where(l => l.Item1.Length > 0 && !l.Item1.StartsWith('#'))];
        if (lines.Length == 0) return Refuse(problems, new(name, 1, 1), "the file is empty", "write: position,ohms");
        char separator = lines[0].Line.Contains(';', StringComparison.Ordinal) ? ';' : lines[0].Line.Contains('\t', StringComparison.Ordinal) ? '\t' : ',';
        string[] heads = [.. lines[0].Line.Split(separator).Select(h => h.Trim().Trim('"').ToLowerInvariant())];
        int place = Array.FindIndex(heads, h => Places.Contains(Word(h))), value = Array.FindIndex(heads, h => Values.Contains(Word(h))), named = Array.IndexOf(heads, "channel");
        if (place < 0 || value < 0) return Refuse(problems, new(name, lines[0].Number, 1), "the first line names no column of places and one of values", "write: position,ohms or time,volts");
        bool byTime = Word(heads[place]) == "time";
        string unit = Word(heads[value]) is "ohms" or "ohm" ? "ohm" : Word(heads[value]) is "volts" or "volt" ? "V" : "";
        var rows = new List<(string Place, string Value, Mark At)>();
        foreach ((string line, int number) in lines.Skip(1))
        {
            string[] cells = [.. line.Split(separator).Select(c => c.Trim().Trim('"'))];
            if (cells.Length <= Math.Max(place, value)) problems.Error("csv-row", new(name, number, 1), $"this line has {cells.Length} cells, the head has {heads.Length}");
            else if (named < 0 || (named < cells.Length && (channel is null || cells[named] == channel))) rows.Add((cells[place], cells[value], new(name, number, 1)));
        }

        string[] channels = named < 0 ? [] : [.. lines.Skip(1).Select(l => l.Line.Split(separator)).Where(c => c.Length > named).Select(c => c[named].Trim()).Distinct()];
        if (channel is null && channels.Length > 1) return Refuse(problems, new(name, 1, 1), $"the log has the channels {string.Join(", ", channels)}", "say which with --channel");
        if (rows.Count == 0 && channel is not null) return Refuse(problems, new(name, 1, 1), $"the log has no channel '{channel}'", $"it has {string.Join(", ", channels)}");
        bool percent = heads[place].Contains('%', StringComparison.Ordinal) || heads[place].Contains("percent", StringComparison.Ordinal);
        return Made(rows, byTime, percent, unit, problems);
    }

    private static SweepData? Yaml(string path, string text, ProblemList problems)
    {
        if (SheetText.Read(path, text, problems, listOf: "points") is not { } root) return null;
        var keys = new MapReader(root, problems);
        var rows = new List<(string, string, Mark)>();
        bool byTime = false;
        foreach (SheetNode item in keys.List("points", true)?.Items ?? [])
        {
            if (ValueReader.Map(item, "point", problems) is not { } map) continue;
            var row = new MapReader(map, problems);
            byTime |= row.Has("time");
            if ((row.Text("position") ?? row.Text("time", true)) is { } place && row.Text("got", true) is { } got) rows.Add((place, got, item.Mark));
            row.Done();
        }

        keys.Done();
        return problems.HasErrors ? null : Made(rows, byTime, false, "", problems);
    }

    private static SweepData? Made(List<(string Place, string Value, Mark At)> rows, bool byTime, bool percent, string unit, ProblemList problems)
    {
        var readings = new List<SweepReading>();
        bool? volts = unit.Length == 0 ? null : unit == "V";
        foreach ((string placeText, string valueText, Mark at) in rows)
        {
            double? place = Place(placeText, byTime, percent, at, problems);
            if (valueText.Length == 0 || valueText is "OL" or "ol" or "O.L" or "open" or "inf" or "-" or "nan" or "NaN")
            {
                if (place is { } empty) readings.Add(new(empty, double.NaN));
                continue;
            }

            string written = char.IsDigit(valueText[^1]) && unit.Length > 0 ? $"{valueText} {unit}" : valueText;
            if (!QuantityText.TryParseAny(written, out Quantity quantity, out string? problem)) problems.Error("sweep-value", at, problem);
            else if (quantity.Dimension is not (Dimension.Ohm or Dimension.Volt)) problems.Error("sweep-value", at, $"'{valueText}' is neither ohms nor volts", "write 512 ohm or 2.31 V");
            else if (volts is { } before && before != (quantity.Dimension == Dimension.Volt)) problems.Error("sweep-value", at, "ohms and volts in one sweep", "make two files");
            else if (place is { } good)
            {
                volts = quantity.Dimension == Dimension.Volt;
                readings.Add(new(good, quantity.Si));
            }
        }

        return problems.HasErrors ? null : new(readings, byTime, volts ?? false);
    }

    private static double? Place(string text, bool byTime, bool percent, Mark at, ProblemList problems)
    {
        string? problem = null;
        if (byTime)
        {
            if (double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out double seconds) || QuantityText.TryParse(text, Dimension.Second, out seconds, out problem)) return seconds;
        }
        else if (QuantityText.TryParse(percent && !text.EndsWith('%') ? text + " %" : text, Dimension.Fraction, out double share, out problem))
        {
            if (share is >= 0 and <= 1) return share;
            problem = $"a position is 0 to 1, or 0 % to 100 %, not '{text}'";
        }

        problems.Error("sweep-place", at, problem!);
        return null;
    }

    /// <summary>A head without its unit: <c>time_s</c>, <c>position (%)</c>.</summary>
    private static string Word(string head) => new([.. head.TakeWhile(char.IsLetter)]);

    private static SweepData? Refuse(ProblemList problems, Mark at, string message, string hint)
    {
        problems.Error("sweep-file", at, message, hint);
        return null;
    }
}
