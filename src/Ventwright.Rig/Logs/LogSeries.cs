using System.Globalization;
using Ventwright.Quantities;

namespace Ventwright.Rig.Logs;

/// <summary>A log as numbers: times, the checks in SI, and the settings as text.</summary>
internal sealed class LogSeries
{
    private LogSeries(double[] seconds, (LogColumn Column, double[] Values)[] checks, (string Name, string[] Texts)[] sets) => (Seconds, Checks, Sets) = (seconds, checks, sets);

    /// <summary>Times from the first row, s, rising.</summary>
    public double[] Seconds { get; }

    /// <summary>Checks, SI; NaN where a cell is empty.</summary>
    public (LogColumn Column, double[] Values)[] Checks { get; }

    /// <summary>Settings as text.</summary>
    public (string Name, string[] Texts)[] Sets { get; }

    /// <summary>Reads a table by a map.</summary>
    /// <exception cref="RigException">A column is not there, or a cell cannot be read: the first ten are told.</exception>
    public static LogSeries Read(CsvTable table, LogMap map)
    {
        var wrong = new List<string>();
        int time = Find(table, map.TimeColumn, wrong);
        var columns = map.Columns.Select(c => (Column: c, Index: Find(table, c.Head, wrong))).ToList();
        if (wrong.Count > 0) throw new RigException(RigTrouble.NotPossible, table.Path, string.Join("; ", wrong));
        double[] seconds = [.. table.Rows.Select((row, i) => Time(row[time], map, Where(table, i, map.TimeColumn), wrong))];
        double first = seconds.Length > 0 ? seconds[0] : 0;
        seconds = [.. seconds.Select(s => s - first)];
        for (int i = 1; i < seconds.Length && wrong.Count == 0; i++)
        {
            if (!(seconds[i] >= seconds[i - 1])) wrong.Add($"{Where(table, i, map.TimeColumn)}: the time goes back; is the format of the time right?");
        }

        (LogColumn, double[])[] checks = [.. columns.Where(c => c.Column.Check is not null)
            .Select(c => (c.Column, table.Rows.Select((row, i) => Number(row[c.Index], c.Column, map, Where(table, i, c.Column.Head), wrong)).ToArray()))];
        (string, string[])[] sets = [.. columns.Where(c => c.Column.Set is not null)
            .Select(c => (c.Column.Set!, table.Rows.Select(row => Text(row[c.Index], c.Column, map)).ToArray()))];
        if (wrong.Count > 0) throw new RigException(RigTrouble.NotPossible, table.Path, string.Join("\n  ", wrong.Take(10)));
        return new(seconds, checks, sets);
    }

    private static int Find(CsvTable table, string head, List<string> wrong)
    {
        int column = table.Column(head);
        if (column >= 0) return column;
        string? near = NearMiss.Suggest(head, table.Heads);
        wrong.Add($"there is no column '{head}'; {(near is null ? $"its columns are {string.Join(", ", table.Heads.Take(12))}" : $"did you mean '{near}'?")}");
        return column;
    }

    private static string Where(CsvTable table, int row, string head) => $"row {row + table.FirstLine}, column '{head}'";

    private static double Time(string text, LogMap map, string where, List<string> wrong)
    {
        double factor = map.TimeFormat switch { "seconds" => 1, "milliseconds" => 1e-3, "minutes" => 60, "hours" => 3600, _ => 0 };
        if (factor > 0)
        {
            if (TryNumber(text, map, out double number)) return number * factor;
        }
        else if (map.TimeFormat == "clock")
        {
            if (TimeSpan.TryParse(text.Replace(',', '.'), CultureInfo.InvariantCulture, out TimeSpan span)) return span.TotalSeconds;
        }
        else if (map.TimeFormat == "iso")
        {
            if (DateTimeOffset.TryParse(text, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal, out DateTimeOffset at)) return at.ToUnixTimeMilliseconds() / 1e3;
        }
        else if (DateTime.TryParseExact(text, map.TimeFormat, CultureInfo.InvariantCulture, DateTimeStyles.None, out DateTime stamp))
        {
            return stamp.Ticks / (double)TimeSpan.TicksPerSecond;
        }

        wrong.Add($"{where}: '{text}' is no time of the format '{map.TimeFormat}'");
        return double.NaN;
    }

    private static double Number(string text, LogColumn column, LogMap map, string where, List<string> wrong)
    {
        if (text.Length == 0) return double.NaN;
        if (TryNumber(text, map, out double number)
            && QuantityText.TryParse($"{number.ToString("R", CultureInfo.InvariantCulture)} {column.Unit}", column.Check!.Value.Dimension(), out double si, out _)) return si;
        if (text is "open" or "OL" or "ol") return double.PositiveInfinity;
        wrong.Add($"{where}: '{text}' is no number in {column.Unit}{(text.Contains(',', StringComparison.Ordinal) && !map.IsDecimalComma ? "; does the log have a decimal comma?" : "")}");
        return double.NaN;
    }

    private static bool TryNumber(string text, LogMap map, out double number) =>
        double.TryParse(map.IsDecimalComma ? text.Replace(',', '.') : text, NumberStyles.Float, CultureInfo.InvariantCulture, out number);

    /// <summary>A setting's text as the sheet has it: a word of the map, or a number with its unit at four digits, so that noise does not make a new setting.</summary>
    private static string Text(string cell, LogColumn column, LogMap map)
    {
        if (column.Words.TryGetValue(cell, out string? word)) return word;
        if (!TryNumber(cell, map, out double number)) return cell;
        string text = number.ToString("G4", CultureInfo.InvariantCulture);
        if (text.Contains('E', StringComparison.Ordinal)) text = number.ToString("0", CultureInfo.InvariantCulture);
        return column.Unit.Length == 0 ? text : $"{text} {column.Unit}";
    }
}
