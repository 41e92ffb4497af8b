using System.Globalization;
using Ventwright.Model.Kernel;
using Ventwright.Rig;
using Ventwright.Rig.Definition;
using Ventwright.Rig.Running;
using Ventwright.Simulation;
using Ventwright.Workshop.Automatic;

namespace Ventwright.Workshop.Rigs;

/// <summary>A run as a person orders it: what is played, how often a second, for how long, and how the panel stands.</summary>
public sealed record RunOrder
{
    private const double SlowestHz = 0.1, FastestHz = 50, LongestMinutes = 240;

    /// <summary>What the world does, and to which car; null where values are held.</summary>
    public WorldText? World { get; init; }

    /// <summary>Where values are held: outputs by name, and the value as written; an empty one is left as it is.</summary>
    public IReadOnlyDictionary<string, string> Held { get; init; } = new Dictionary<string, string>(StringComparer.Ordinal);

    /// <summary>Rounds in a second, as written.</summary>
    public string Rate { get; init; } = "5";

    /// <summary>Minutes by the clock, as written; empty for the scenario's own length, or until it is stopped.</summary>
    public string Minutes { get; init; } = "";

    /// <summary>How many times as fast as the clock the car goes; more than 1 for a simulated unit only.</summary>
    public int Times { get; init; } = 1;

    /// <summary>How the panel stands at the start, every control by name and text.</summary>
    public IReadOnlyList<(string Name, string Value)> Panel { get; init; } = [];

    /// <summary>How the panel is to stand for a scenario: as the scenario has it, and as the session has it where the scenario does not say.</summary>
    /// <param name="session">The session.</param>
    /// <param name="world">The scenario; null for none.</param>
    /// <exception cref="RefusedException">The scenario cannot be used.</exception>
    public static IReadOnlyList<(string Name, string Value)> PanelFor(OpenSession session, WorldText? world)
    {
        ArgumentNullException.ThrowIfNull(session);
        UnitModel model = session.Unit.Model;
        (string Name, string Value)[] told = world is null ? [] : [.. Bench.Car.Scenario.Panel(model, world.World().Moments[0])];
        Setting stands = session.Stands;
        return [.. model.Controls.Select(c => (c.Name, told.Where(t => t.Name == c.Name).Select(t => t.Value).FirstOrDefault(SettingWords.Value(model, stands, c.Name))))];
    }

    /// <summary>What is played, in words.</summary>
    internal string Words()
    {
        string[] held = [.. Given.Select(h => $"{h.Key} at {h.Value}")];
        return World is { } world ? world.World().Name + (Times > 1 ? $", {Times} times as fast" : "") : held.Length == 0 ? "nothing moved" : $"held: {string.Join(", ", held)}";
    }

    /// <summary>The drive that is ordered, or null where values are held.</summary>
    /// <exception cref="RefusedException">Scenario, car or panel cannot be used.</exception>
    internal RunDrive? Drive(RigDefinition rig, UnitModel model, bool isSimulated)
    {
        SettingWords.Make(model, Panel);
        if (World is not { } world) return null;
        (string, string)[] told = [.. Bench.Car.Scenario.Panel(model, world.World().Moments[0])];
        return RunDrive.Of(rig, model, world, [.. Panel.Where(p => !told.Contains(p))], isSimulated);
    }

    /// <summary>The surroundings that are ordered.</summary>
    /// <exception cref="RefusedException">Something about the order cannot be.</exception>
    /// <exception cref="RigException">The rig lacks something that the order wants.</exception>
    internal ISurroundings Surroundings(RigDefinition rig, UnitModel model, RunDrive? drive)
    {
        if (drive is null) return ScriptedSurroundings.Holding(rig, model, Given.Select(h => (h.Key, h.Value)));
        if (Times > 1 && !drive.IsAtRest) throw new RefusedException("a real unit takes its own time: only a simulated one can be driven faster than the clock");
        CarSurroundings car = drive.Surroundings(rig, model);
        return Times > 1 ? new HastenedSurroundings(car, Times) : car;
    }

    /// <summary>Period and length.</summary>
    /// <exception cref="RefusedException">A number cannot be.</exception>
    internal RunOptions Options()
    {
        double hertz = Number(Rate) is >= SlowestHz and <= FastestHz and var rate ? rate : throw new RefusedException($"the rounds in a second want a number from {SlowestHz} to {FastestHz}, not '{Short(Rate)}'");
        TimeSpan? length = null;
        if (!string.IsNullOrWhiteSpace(Minutes))
        {
            length = Number(Minutes) is > 0 and <= LongestMinutes and var minutes ? TimeSpan.FromMinutes(minutes)
                : throw new RefusedException($"the length wants minutes, up to {LongestMinutes}, not '{Short(Minutes)}'; leave it empty for the scenario's own, or to go on until you stop it");
        }

        return new() { Period = TimeSpan.FromSeconds(1 / hertz), EndsAfter = length, Panel = Panel };
    }

    private IEnumerable<KeyValuePair<string, string>> Given => Held.Where(h => !string.IsNullOrWhiteSpace(h.Value));

    private static double Number(string text) => double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out double value) ? value : double.NaN;

    private static string Short(string text) => text.Length > 40 ? text[..40] + "…" : text;
}
