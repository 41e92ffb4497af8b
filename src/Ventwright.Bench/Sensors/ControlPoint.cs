using System.Globalization;
using Ventwright.Model.Kernel;
using Ventwright.Quantities;
using Ventwright.Simulation;

namespace Ventwright.Bench.Sensors;

/// <summary>The unit in one setting, asked what it does when a sensor's place is taken by a resistance.</summary>
internal sealed class ControlPoint(Simulator simulator, SensorPart sensor, IReadOnlyList<(string Name, string Value)> set)
{
    /// <summary>The setting's words.</summary>
    public IReadOnlyList<(string Name, string Value)> Set => set;

    private UnitModel Model => simulator.Model;

    /// <summary>The unit at rest with a resistance in the sensor's place; null when it does not come to rest.</summary>
    /// <param name="ohms">The resistance.</param>
    /// <param name="others">Conditions to change, besides the setting.</param>
    /// <param name="from">How it stood before, or null.</param>
    public Settled? At(double ohms, IReadOnlyList<(string Name, string Value)> others, Settled? from = null)
    {
        Setting? setting = Setting.TryMake(Model, [.. set, .. others, sensor.StandIn(ohms)], out _);
        Settled? rest = setting is null ? null : simulator.Settle(setting, [], from);
        return rest?.Verdict == Verdict.Settled ? rest : null;
    }

    /// <summary>What an output of the module that has no steps is after, in its own unit; NaN where the unit does not come to rest.</summary>
    public double Wanted(ModuleOutput output, double ohms, params (string Name, string Value)[] others) =>
        At(ohms, others) is { } rest && rest.Variables[Model.Module!.Powered] > 0.5 ? output.Value.Evaluate(rest.Signals) : double.NaN;

    /// <summary>A condition as a word of a setting.</summary>
    public static (string Name, string Value) Word(string condition, double kelvin) => (condition, kelvin.ToString("R", CultureInfo.InvariantCulture) + " K");

    /// <summary>The settings that are worth asking: those given, or each position of each selector with the first dial low, in the middle and high.</summary>
    public static IEnumerable<IReadOnlyList<(string Name, string Value)>> Settings(UnitModel model, IReadOnlyList<(string Name, string Value)> held)
    {
        Control[] free = [.. model.Controls.Where(c => held.All(h => h.Name != c.Name))];
        Control? dial = Array.Find(free, c => c.Positions.Length == 0);
        string[] dials = dial is null ? [""] : [Text((dial.Low + dial.High) / 2), Text(dial.Low), Text(dial.High)];
        Control[] selectors = [.. free.Where(c => c.Positions.Length > 0)];
        IEnumerable<(string, string)[]> positions = selectors.Length == 0 ? [[]]
            : selectors.SelectMany(c => c.Positions.OrderByDescending(p => p.Contains("auto", StringComparison.OrdinalIgnoreCase)).Select(p => ((string, string)[])[(c.Name, p)]));
        foreach ((string, string)[] position in positions)
        {
            foreach (string at in dials) yield return [.. held, .. position, .. dial is null ? ((string, string)[])[] : [(dial.Name, at)]];
        }
    }

    /// <summary>The setting in words.</summary>
    public static string Say(IReadOnlyList<(string Name, string Value)> set) => set.Count == 0 ? "as it stands" : string.Join(", ", set.Select(s => $"{s.Name} {s.Value}"));

    private static string Text(double number) => number.ToString("G6", CultureInfo.InvariantCulture);

    /// <summary>A temperature for a sentence.</summary>
    public static string Degrees(double kelvin, UnitSystem units) => QuantityText.Format(kelvin, Dimension.Temperature, units);

    /// <summary>A difference for a sentence, without sign.</summary>
    public static string Kelvins(double difference, UnitSystem units)
    {
        double shown = QuantityText.ToUnit(Math.Abs(difference), Dimension.TemperatureDifference, units);
        return string.Create(CultureInfo.InvariantCulture, $"{shown:0.0#} {QuantityText.Unit(Dimension.TemperatureDifference, units)}");
    }
}
