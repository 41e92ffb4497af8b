using Ventwright.Bench.Sensors;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Workshop.Sensors;

/// <summary>What was seen at an aspirator, held against what the sheet expects.</summary>
/// <param name="Fits">Whether it fits a sound aspirator.</param>
/// <param name="Text">It in words.</param>
public sealed record SeenAir(bool Fits, string Text);

/// <summary>The air that aspirators draw past their sensors.</summary>
public static class Aspirators
{
    private static readonly string[] Words = ["none", "weak", "fair", "strong"];

    /// <summary>Words for air, from none up.</summary>
    public static IReadOnlyList<string> Airs => Words;

    /// <summary>Works an aspirator out.</summary>
    /// <param name="simulator">The unit.</param>
    /// <param name="id">Id of the aspirator.</param>
    /// <param name="dashKelvin">Temperature of still air behind the dash, K.</param>
    /// <param name="set">Controls and conditions that are held.</param>
    /// <exception cref="RefusedException">There is no such aspirator, it names no sensor, or the setting cannot be made.</exception>
    public static AspiratorCheck Check(Simulator simulator, string id, double dashKelvin, IReadOnlyList<(string Name, string Value)> set)
    {
        ArgumentNullException.ThrowIfNull(simulator);
        string sensor = AspiratorCheck.SensorOf(simulator.Model, id) ?? throw new RefusedException($"{id} does not name the sensor whose air it draws");
        return AspiratorCheck.TryMake(simulator, id, sensor, dashKelvin, set, out string? problem) ?? throw new RefusedException(problem!);
    }

    /// <summary>The aspirator that draws air past a sensor, or null.</summary>
    public static string? Of(UnitModel model, string sensor) => AspiratorCheck.All(model).FirstOrDefault(a => AspiratorCheck.SensorOf(model, a) == sensor);

    /// <summary>The words that a sound aspirator may show.</summary>
    public static string Expected(AspiratorFlow flow) => string.Join(" or ", flow.Speed.Words.OrderBy(w => Array.IndexOf(Words, w)));

    /// <summary>Holds what was seen against what is expected.</summary>
    /// <param name="flow">The setting in which it was seen.</param>
    /// <param name="word">The word.</param>
    public static SeenAir Judge(AspiratorFlow flow, string word)
    {
        ArgumentNullException.ThrowIfNull(flow);
        bool fits = flow.Speed.Words.Contains(word), lost = word == flow.WordWithoutHose;
        string tells = fits ? lost ? "fits, but fits a hose that is off as well: look in a setting with more air" : "fits"
            : lost ? "does not fit a sound aspirator, but fits a hose that is off or split, or a clogged grille" : "does not fit";
        return new(fits, $"seen: {word}; expected: {Expected(flow)}; it {tells}");
    }

    /// <summary>Keeps what was seen as a reading of the session.</summary>
    /// <exception cref="RefusedException">It is no word for air.</exception>
    public static SessionEvent Keep(OpenSession session, AspiratorCheck check, AspiratorFlow flow, string word, string? by)
    {
        ArgumentNullException.ThrowIfNull(session);
        return session.Read(SettingWords.Pairs(session.OnThisBench(SettingWords.Make(session.Unit.Model, flow.Set))), What(check.Id).ToString(), word, by);
    }

    /// <summary>The latest word that was seen in a setting, or null.</summary>
    public static (SessionEvent Entry, string Word)? Seen(OpenSession session, AspiratorCheck check, AspiratorFlow flow)
    {
        ArgumentNullException.ThrowIfNull(session);
        string key = session.OnThisBench(SettingWords.Make(session.Unit.Model, flow.Set)).Key;
        return BareReadings.Latest(session, What(check.Id), key) is { } entry ? (entry, WrittenEntries.Body<ReadingBody>(entry).Got) : null;
    }

    /// <summary>The check of an aspirator's air.</summary>
    internal static Observable What(string id) => new(ObservableKind.Airflow, id);
}
