using System.Globalization;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Bench;

/// <summary>One setting of the function chart, and the unit at rest in it.</summary>
/// <param name="Control">The control that is turned.</param>
/// <param name="Position">Where it stands.</param>
/// <param name="Dial">Where the first dial stands; null when there is no dial.</param>
/// <param name="Setting">The whole setting.</param>
/// <param name="Rest">The unit at rest.</param>
/// <param name="Shown">What each of <see cref="FunctionChart.Looks"/> shows.</param>
public sealed record ChartSetting(Control Control, string Position, double? Dial, Setting Setting, Settled Rest, IReadOnlyList<Shown> Shown);

/// <summary>
/// The function chart: what everything that moves, blows or lights does in each position of each control, with the first dial at its low end, in the middle
/// and at its high end.
/// </summary>
/// <param name="Looks">What is looked at: positions of flaps, actuators, valves and servos, motion of motors, air out of vents, lamps.</param>
/// <param name="Dial">The first dial, or null.</param>
/// <param name="Held">Controls and conditions that are held, unless the chart turns them, as name and text.</param>
/// <param name="Settings">The settings, by control and position.</param>
public sealed record FunctionChart(IReadOnlyList<Observable> Looks, Control? Dial, IReadOnlyList<(string Name, string Value)> Held, IReadOnlyList<ChartSetting> Settings)
{
    /// <summary>Works the chart out for a sound unit.</summary>
    /// <param name="simulator">The unit.</param>
    /// <param name="held">Controls and conditions that are held, unless the chart turns them, as name and text.</param>
    /// <param name="problem">What is wrong with <paramref name="held"/>, in words; null when the chart is there.</param>
    /// <returns>The chart, or null.</returns>
    public static FunctionChart? TryMake(Simulator simulator, IReadOnlyList<(string Name, string Value)> held, out string? problem)
    {
        ArgumentNullException.ThrowIfNull(simulator);
        UnitModel model = simulator.Model;
        problem = null;
        Observable[] looks = [.. model.Points.Where(p => p.When == PointState.Running && IsCharted(model, p)).Select(p => p.What).Distinct()];
        Control? dial = Array.Find(model.Controls, c => c.Positions.Length == 0);
        var settings = new List<ChartSetting>();
        foreach ((Control control, string position, double? at) in Turns(model, dial))
        {
            List<(string, string)> words = [.. held, (control.Name, position)];
            if (at is { } number) words.Add((dial!.Name, number.ToString("R", CultureInfo.InvariantCulture)));
            if (Setting.TryMake(model, words, out problem) is not { } setting) return null;
            Settled rest = simulator.Settle(setting, []);
            settings.Add(new(control, position, at, setting, rest, [.. looks.Select(l => Readings.Read(simulator, setting, [], rest, l))]));
        }

        return new(looks, dial, held, settings);
    }

    private static IEnumerable<(Control, string, double?)> Turns(UnitModel model, Control? dial)
    {
        double?[] dials = dial is null ? [null] : [dial.Low, (dial.Low + dial.High) / 2, dial.High];
        return from control in model.Controls
               from position in control.Positions
               from at in dials
               select (control, position, at);
    }

    private static bool IsCharted(UnitModel model, Point point) => point.What.Kind switch
    {
        ObservableKind.Position or ObservableKind.Motion or ObservableKind.Light => true,
        ObservableKind.Airflow => model.Parts[point.Part].Kind == "vent",
        _ => false,
    };
}
