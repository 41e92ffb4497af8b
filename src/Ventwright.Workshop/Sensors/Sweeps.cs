using System.Globalization;
using Ventwright.Bench.Sensors;
using Ventwright.Model.Kernel;
using Ventwright.Model.Sheet.Text;
using Ventwright.Quantities;

namespace Ventwright.Workshop.Sensors;

/// <summary>A sweep of a session's track.</summary>
/// <param name="Entry">Its entry.</param>
/// <param name="Written">As it was written.</param>
/// <param name="Data">The readings.</param>
public sealed record SessionSweep(SessionEvent Entry, SweepBody Written, SweepData Data);

/// <summary>What a sweep says.</summary>
/// <param name="Test">The test; null when it cannot be judged yet.</param>
/// <param name="Problem">Why not, in words; null when it can.</param>
public sealed record SweepFound(TrackTest? Test, string? Problem);

/// <summary>How a list of points that was pasted is meant.</summary>
/// <param name="Places"><c>position</c> (0 to 1), <c>percent</c> or <c>time</c> (seconds).</param>
/// <param name="Unit">Unit of values without one: <c>ohm</c>, <c>kohm</c> or <c>V</c>.</param>
/// <param name="Comma">Whether the person writes decimal commas.</param>
public sealed record SweepLayout(string Places, string Unit, bool Comma);

/// <summary>Sweeps of a session's tracks: kept as whole lists, so that one reading more or a list that was pasted are the same on every device, and can be taken back.</summary>
public static class Sweeps
{
    private const string Head = "position,ohms";
    private const int MostCharacters = 200_000, MostLines = 5000;

    /// <summary>The sweep of a track that stands, or null.</summary>
    public static SessionSweep? Of(OpenSession session, string part)
    {
        ArgumentNullException.ThrowIfNull(session);
        SessionEvent? last = session.Entries.LastOrDefault(e => e is { Kind: SessionEventKind.Sweep, Undone: false } && WrittenEntries.Body<SweepBody>(e).Part == part);
        if (last is null || WrittenEntries.Body<SweepBody>(last) is not { Csv.Length: > 0 } body) return null;
        SweepData? data = SweepFile.Csv("list", body.Csv, null, new());
        return data is not { Readings.Count: > 0 } ? null : new(last, body, data with { EndToEndOhms = body.Total is null ? null : SensorText.Ohms("end to end", body.Total) });
    }

    /// <summary>Adds one reading.</summary>
    /// <param name="session">The session.</param>
    /// <param name="part">The track.</param>
    /// <param name="place">Position, 0..1 or in per cent.</param>
    /// <param name="value">Ohms from the low end to the wiper, or OL.</param>
    /// <param name="by">Who reads.</param>
    /// <exception cref="RefusedException">Something about it cannot be; nothing was kept.</exception>
    public static SessionEvent Add(OpenSession session, string part, string place, string value, string? by)
    {
        RequireTrack(session, part);
        SweepBody before = Latest(session, part);
        if (before.Csv.Length > 0 && !before.Csv.StartsWith(Head, StringComparison.Ordinal)) throw new RefusedException("this list has volts, or times in place of positions: begin a new one for single readings");
        double share = SensorText.Quantity("position", place, Dimension.Fraction);
        if (share is < 0 or > 1) throw new RefusedException($"position: 0 to 1, or 0 % to 100 %, not '{place}'");
        string shown = IsNothing(value) ? "OL" : SensorText.Exact(NotNegative(SensorText.Ohms("resistance", value)));
        SweepBody after = before with { Csv = $"{(before.Csv.Length > 0 ? before.Csv : Head)}\n{SensorText.Exact(share)},{shown}" };
        return session.Keep(after with { IsStep = NextPlace(SweepFile.Csv("list", after.Csv, null, new())!) is not null }, by);
    }

    /// <summary>Takes a whole list in place of what was there.</summary>
    /// <exception cref="RefusedException">A line cannot be read; the message names the lines, and nothing was kept.</exception>
    public static SessionEvent Enter(OpenSession session, string part, string text, SweepLayout layout, string? by)
    {
        RequireTrack(session, part);
        string csv = Csv(text, layout);
        var problems = new ProblemList();
        SweepData? data = SweepFile.Csv("list", csv, null, problems);
        int before = csv.Split('\n').Length - text.Trim().ReplaceLineEndings("\n").Split('\n').Length;
        if (data is null || problems.HasErrors)
            throw new RefusedException("the list cannot be used:\n" + string.Join('\n', problems.Sorted.Take(6).Select(p => $"line {Math.Max(1, p.At.Line - before)}: {p.Message}{(p.Hint is null ? "" : $"; {p.Hint}")}")));
        if (data.Readings.Count == 0) throw new RefusedException("the list is empty: write a place and a value on each line");
        if (data.Readings.Any(r => r.Value < 0)) throw new RefusedException("ohms and volts of a track are not negative; are the meter's leads exchanged?");
        return session.Keep(Latest(session, part) with { Csv = csv, IsStep = false }, by);
    }

    /// <summary>Keeps what the meter shows from end to end.</summary>
    /// <exception cref="RefusedException">It is no resistance; nothing was kept.</exception>
    public static SessionEvent EndToEnd(OpenSession session, string part, string value, string? by)
    {
        RequireTrack(session, part);
        if (!(SensorText.Ohms("end to end", value) > 0)) throw new RefusedException("end to end: above 0 ohm");
        return session.Keep(Latest(session, part) with { Total = value.Trim(), IsStep = true }, by);
    }

    /// <summary>Begins a new list; the one before stays in the record.</summary>
    public static SessionEvent Clear(OpenSession session, string part, string? by)
    {
        ArgumentNullException.ThrowIfNull(session);
        return session.Keep(new SweepBody(part, "", null, true), by);
    }

    /// <summary>Judges a sweep with the usual meter and limits.</summary>
    public static SweepFound Judge(UnitOnSheet unit, SessionSweep sweep)
    {
        ArgumentNullException.ThrowIfNull(unit);
        ArgumentNullException.ThrowIfNull(sweep);
        return unit.SensorWork.Sweep(sweep);
    }

    /// <summary>Ohms that were read nearest the low and the high end; null for volts.</summary>
    public static (double Low, double High)? Ends(SessionSweep sweep)
    {
        ArgumentNullException.ThrowIfNull(sweep);
        SweepReading[] read = [.. sweep.Data.Readings.Where(r => double.IsFinite(r.Value)).OrderBy(r => r.Place)];
        return sweep.Data.Volts || read.Length == 0 ? null : (read[0].Value, read[^1].Value);
    }

    /// <summary>The positions that a person goes through, from the low end: every twentieth. Null when the list has them all.</summary>
    public static double? NextPlace(SweepData? sweep)
    {
        const int steps = 20;
        double[] done = [.. sweep?.Readings.Select(r => r.Place) ?? []];
        return Enumerable.Range(0, steps + 1).Select(i => (double?)i / steps).FirstOrDefault(p => !done.Any(d => Math.Abs(d - p!.Value) < 0.5 / steps));
    }

    /// <summary>A sweep in one line.</summary>
    public static string Title(UnitModel model, SweepBody body)
    {
        ArgumentNullException.ThrowIfNull(body);
        int count = Math.Max(0, body.Csv.Split('\n').Length - 1);
        return string.Create(CultureInfo.InvariantCulture, $"{SettingWords.PartName(model, body.Part)}: sweep of {count} readings");
    }

    /// <summary>A pasted list as CSV: heads where it has none, one separator, decimal points.</summary>
    private static string Csv(string text, SweepLayout layout)
    {
        ArgumentNullException.ThrowIfNull(text);
        if (text.Length > MostCharacters) throw new RefusedException($"the list has {text.Length} characters; up to {MostCharacters} are read");
        string[] lines = text.Trim().ReplaceLineEndings("\n").Split('\n');
        if (lines.Length > MostLines) throw new RefusedException($"the list has {lines.Length} lines; up to {MostLines} are read");
        bool hasHead = lines[0].Length > 0 && char.IsLetter(lines[0].TrimStart('"', ' ', '\uFEFF').FirstOrDefault()) && !IsNothing(lines[0]);
        if (hasHead) return layout.Comma && !lines[0].Contains(',', StringComparison.Ordinal) ? text.Trim().Replace(',', '.') : text.Trim();
        string head = $"{layout.Places switch { "percent" => "position %", "time" => "time", _ => "position" }};{(layout.Unit == "V" ? "volts" : "ohms")}";
        if (head == "position;ohms") head = Head;
        char between = head.Contains(';', StringComparison.Ordinal) ? ';' : ',';
        return $"{head}\n{string.Join('\n', lines.Select((l, i) => Line(l, i + 1, layout, between)))}";
    }

    private static string Line(string line, int number, SweepLayout layout, char between)
    {
        string trimmed = line.Trim();
        if (trimmed.Length == 0 || trimmed.StartsWith('#')) return "";
        char[] strong = [';', '\t'];
        string[] cells = trimmed.IndexOfAny(strong) >= 0 ? trimmed.Split(strong, 2)
            : trimmed.IndexOfAny([' ']) is > 0 and int blank ? [trimmed[..blank].TrimEnd(','), trimmed[blank..]] : trimmed.Split(',');
        if (cells.Length != 2) throw new RefusedException($"line {number}: '{Short(trimmed)}' is not one place and one value; write them with a blank or a semicolon between, such as 0.05; 260");
        string[] clean = [.. cells.Select(c => layout.Comma ? c.Trim().Replace(',', '.') : c.Trim())];
        string value = layout.Unit == "kohm" && clean[1].Length > 0 && char.IsAsciiDigit(clean[1][^1]) ? $"{clean[1]} kohm" : clean[1];
        if (clean.Any(c => c.Contains(between, StringComparison.Ordinal))) throw new RefusedException($"line {number}: '{Short(trimmed)}' is not one place and one value");
        return $"{clean[0]}{between}{value}";
    }

    private static SweepBody Latest(OpenSession session, string part) => Of(session, part)?.Written ?? new SweepBody(part, "", TotalOf(session, part), true);

    private static string? TotalOf(OpenSession session, string part) =>
        session.Entries.LastOrDefault(e => e is { Kind: SessionEventKind.Sweep, Undone: false } && WrittenEntries.Body<SweepBody>(e).Part == part) is { } last ? WrittenEntries.Body<SweepBody>(last).Total : null;

    private static double NotNegative(double ohms) => ohms >= 0 ? ohms : throw new RefusedException("resistance: that of a track is not negative; are the meter's leads exchanged?");

    private static bool IsNothing(string value) => value.Trim().ToUpperInvariant() is "OL" or "OPEN";

    private static string Short(string text) => text.Length > 40 ? text[..40] + "…" : text;

    private static void RequireTrack(OpenSession session, string part)
    {
        ArgumentNullException.ThrowIfNull(session);
        if (TrackPart.TryFind(session.Unit.Model, part, out string? problem) is null) throw new RefusedException(problem!);
    }
}
