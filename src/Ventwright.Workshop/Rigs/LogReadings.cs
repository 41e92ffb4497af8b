using Ventwright.Model.Kernel;
using Ventwright.Model.Sheet.Text;
using Ventwright.Rig;
using Ventwright.Rig.Logs;
using Ventwright.Rig.Running;
using Ventwright.Simulation;

namespace Ventwright.Workshop.Rigs;

/// <summary>What became of readings that were taken from a log.</summary>
/// <param name="Kept">How many were kept in the session.</param>
/// <param name="Known">How many stood there already and were not kept twice.</param>
public sealed record TakenReadings(int Kept, int Known);

/// <summary>Readings from logs at their steady moments, and into a session.</summary>
public static class LogReadings
{
    /// <summary>Most readings that are taken into a session at once.</summary>
    public const int Most = 400;

    /// <summary>Readings of a kept run.</summary>
    /// <exception cref="RefusedException">The log cannot be used with this sheet.</exception>
    public static IReadOnlyList<LoggedReading> Of(RigRunRecord run, IReadOnlyList<IReadOnlyList<string>> rows, UnitModel model)
    {
        ArgumentNullException.ThrowIfNull(run);
        return Of($"run {run.Number}", [RunTable.Line(run.Start.Heads), .. rows.Select(RunTable.Line)], null, model);
    }

    /// <summary>Readings of a log of any logger.</summary>
    /// <param name="name">Name of the log, for messages.</param>
    /// <param name="lines">Its lines.</param>
    /// <param name="map">What its columns are; null for a log whose heads say everything.</param>
    /// <param name="model">The unit.</param>
    /// <exception cref="RefusedException">The log cannot be used; the message tells why.</exception>
    public static IReadOnlyList<LoggedReading> Of(string name, string[] lines, ForeignLogMap? map, UnitModel model)
    {
        var problems = new ProblemList();
        try
        {
            IReadOnlyList<LoggedReading> readings = LogImport.Read(name, lines, map?.ToYaml(), model, problems)
                ?? throw new RefusedException(string.Join('\n', problems.Sorted.Select(p => p.Hint is null ? p.Message : $"{p.Message}; {p.Hint}")));
            foreach (LoggedReading reading in readings.DistinctBy(r => string.Join(' ', r.Set))) SettingWords.Make(model, reading.Set);
            return readings;
        }
        catch (RigException e)
        {
            throw new RefusedException(e.Message, e);
        }
    }

    /// <summary>Keeps readings in a session, with what is off its bench. One that stands there already, with the same setting, check and value, is not kept twice.</summary>
    /// <param name="session">The session.</param>
    /// <param name="readings">The readings.</param>
    /// <param name="by">Who takes them.</param>
    /// <exception cref="RefusedException">One of them cannot be, or there are too many; nothing was kept.</exception>
    public static TakenReadings Keep(OpenSession session, IReadOnlyList<LoggedReading> readings, string by)
    {
        ArgumentNullException.ThrowIfNull(session);
        ArgumentNullException.ThrowIfNull(readings);
        if (readings.Count > Most) throw new RefusedException($"these are {readings.Count} readings; up to {Most} are taken at once. Ask for a longer steady time, or map fewer columns");
        UnitModel model = session.Unit.Model;
        var all = readings.Select(r => (Reading: r, Check: WrittenEntries.Check(model, [.. r.Set, .. session.OnBench], r.At.ToString(), r.Got))).ToList();
        HashSet<(string, string, string)> known = [.. session.Evidence.Where(e => e.Kind == SessionEventKind.Reading).Select(WrittenEntries.Body<ReadingBody>)
            .Select(b => (SettingWords.KeyOf(model, b.Set), b.At, b.Got))];
        int kept = 0;
        foreach ((LoggedReading reading, (Setting setting, Observable what, _)) in all)
        {
            if (!known.Add((setting.Key, what.ToString(), reading.Got))) continue;
            session.Read(SettingWords.Pairs(setting), what.ToString(), reading.Got, by);
            kept++;
        }

        return new(kept, readings.Count - kept);
    }
}
