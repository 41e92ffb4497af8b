using System.Globalization;
using Ventwright.Bench.Sensors;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Workshop.Sensors;

/// <summary>A check of the session's catalogue that a measurement off the unit answers.</summary>
/// <param name="What">The check.</param>
/// <param name="Set">How the unit stands meanwhile: supply off, the part's plug pulled.</param>
public sealed record BareCheck(Observable What, IReadOnlyList<(string Name, string Value)> Set);

/// <summary>Keeps what was measured at a part that is unplugged as a reading of the session, so that suspects and proof move.</summary>
public static class BareReadings
{
    private const double ZeroCelsius = 273.15;

    /// <summary>The check of a sensor's resistance at a temperature; null when the sheet has none for it.</summary>
    public static BareCheck? Of(UnitModel model, SensorPart sensor, double kelvin)
    {
        ArgumentNullException.ThrowIfNull(sensor);
        string at = string.Create(CultureInfo.InvariantCulture, $"{kelvin - ZeroCelsius:0.##} degC");
        return Of(model, sensor.Id, sensor.Nets, sensor.Pins, [(sensor.Condition, at)]);
    }

    /// <summary>The check of a track's resistance from end to end; null when the sheet has none for it.</summary>
    public static BareCheck? Of(UnitModel model, TrackPart track)
    {
        ArgumentNullException.ThrowIfNull(track);
        return Of(model, track.Id, (track.LowNet, track.HighNet), track.Pins, []);
    }

    /// <summary>Keeps a reading. The panel then stands as before: the part was off the unit.</summary>
    /// <exception cref="RefusedException">Something about it cannot be; nothing was kept.</exception>
    public static SessionEvent Keep(OpenSession session, BareCheck check, string got, string? by)
    {
        ArgumentNullException.ThrowIfNull(session);
        ArgumentNullException.ThrowIfNull(check);
        Setting before = session.Stands;
        SessionEvent entry = session.Read(SettingWords.Pairs(SettingOf(session, check)), check.What.ToString(), got, by);
        session.StandAs(SettingWords.Pairs(before), by);
        return entry;
    }

    /// <summary>The reading that is kept for a measurement, or null.</summary>
    public static SessionEvent? Kept(OpenSession session, BareCheck check, string got)
    {
        ArgumentNullException.ThrowIfNull(session);
        ArgumentNullException.ThrowIfNull(check);
        return Latest(session, check.What, SettingOf(session, check).Key) is { } entry && WrittenEntries.Body<ReadingBody>(entry).Got == got ? entry : null;
    }

    /// <summary>The latest standing reading of a check in a setting, or null.</summary>
    internal static SessionEvent? Latest(OpenSession session, Observable what, string setting) => session.Evidence.LastOrDefault(e =>
        e.Kind == SessionEventKind.Reading && WrittenEntries.Body<ReadingBody>(e) is var body && body.At == what.ToString()
        && SettingWords.KeyOf(session.Unit.Model, body.Set) == setting);

    private static Setting SettingOf(OpenSession session, BareCheck check) => session.OnThisBench(SettingWords.Make(session.Unit.Model, check.Set));

    private static BareCheck? Of(UnitModel model, string id, (string A, string B) nets, IReadOnlyList<string> pins, IReadOnlyList<(string Name, string Value)> more)
    {
        ArgumentNullException.ThrowIfNull(model);
        int part = model.PartIndex(id);
        Point? point = Array.Find(model.Points, p => p.Part == part && p.When == PointState.Dead && p.What.Kind == ObservableKind.Ohms
            && ((p.What.Target == nets.A && p.What.Second == nets.B) || (p.What.Target == nets.B && p.What.Second == nets.A)));
        if (point is null) return null;
        IEnumerable<string> plugs = pins.Count > 0 ? pins.Select(p => p.Split(" pin ")[0]).Distinct() : PlugsOf(model, nets);
        return new(point.What, [("supply", "off"), .. more, .. plugs.Select(p => ($"unplug {p}", "yes"))]);
    }

    /// <summary>The plugs that free a part without one of its own: those of the end that has the fewest. One free end is enough for the meter.</summary>
    private static string[] PlugsOf(UnitModel model, (string A, string B) nets)
    {
        string[][] ends = [.. new[] { nets.A, nets.B }.Select(n => On(model, Array.IndexOf(model.Nets, n)))];
        return ends.Where(e => e.Length > 0).OrderBy(e => e.Length).FirstOrDefault() ?? [];
    }

    private static string[] On(UnitModel model, int net) =>
        [.. model.Electric.Where(b => b.Part >= 0 && model.Parts[b.Part].Kind == "connector" && (b.A == net || b.B == net)).Select(b => model.Parts[b.Part].Id).Distinct()];
}
