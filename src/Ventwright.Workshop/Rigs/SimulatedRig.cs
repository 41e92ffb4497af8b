using System.Globalization;
using System.Text;
using Ventwright.Bench.Car;
using Ventwright.Model.Kernel;
using Ventwright.Rig.Running;
using Ventwright.Simulation;

namespace Ventwright.Workshop.Rigs;

/// <summary>
/// A rig for trying out, made from the sheet: supply, pump, a resistance in place of every thermistor, and what the simulated car has to be told. All its devices are
/// virtual. Written as a rig file, so that it is read like any other.
/// </summary>
public static class SimulatedRig
{
    /// <summary>Bounds of a resistance that a usual digital potentiometer gives with margin, ohm (common practice, no source).</summary>
    private const double LeastOhm = 50, MostOhm = 100e3;

    /// <summary>Temperature that a sensor shows in the safe state, K.</summary>
    private const double RoomK = 293.15;

    /// <summary>The rig file for a unit.</summary>
    public static string TextFor(Simulator simulator)
    {
        UnitModel model = simulator.Model;
        var text = new StringBuilder("# Made from the sheet, for trying out: nothing here is a real device.\nrig: 1\nname: Simulated rig\n\ndevices:\n  simulated: { kind: virtual }\n\noutputs:\n");
        text.Append("  supply: { device: simulated, gives: relay, wired-to: supply, safe: off }\n");
        if (model.VacuumSources.Length > 0) text.Append("  pump: { device: simulated, gives: relay, wired-to: pump, safe: off }\n");
        foreach (PartInfo part in model.Parts)
        {
            if (ScriptedSurroundings.CurveOf(model, part.Id) is not { } curve) continue;
            double safe = Math.Clamp(curve.Ohms(RoomK), LeastOhm, MostOhm);
            text.Append(CultureInfo.InvariantCulture, $"  sensor-{part.Id}: {{ device: simulated, gives: resistance, wired-to: {part.Id}, limits: {LeastOhm:0} ohm .. {MostOhm:0} ohm, safe: {safe:0} ohm }}\n");
        }

        text.Append("\ninputs:\n");
        foreach (Observable check in Inputs(simulator))
        {
            string wired = check.Second is null ? check.Target : $"[{check.Target}, {check.Second}]";
            string name = string.Concat(check.ToString().Select(c => char.IsAsciiLetterOrDigit(c) ? c : '-')).Trim('-');
            text.Append(CultureInfo.InvariantCulture, $"  {name}: {{ device: simulated, reads: {(check.Kind == ObservableKind.Vacuum ? "pressure" : "voltage")}, wired-to: {wired} }}\n");
        }

        return text.ToString();
    }

    /// <summary>The supply, what the car has to be told, and the hoses of the actuators.</summary>
    private static IEnumerable<Observable> Inputs(Simulator simulator)
    {
        UnitModel model = simulator.Model;
        ElectricBranch supply = model.Electric[model.SupplyBranch];
        string[] ends = [.. model.Vacuum.Where(b => model.Parts[b.Part].Kind == "vacuum-actuator").Select(b => model.Hoses[b.A])];
        IEnumerable<Observable> hoses = model.Points.Where(p => p.What.Kind == ObservableKind.Vacuum && p.When == PointState.Running && ends.Contains(p.What.Target, StringComparer.Ordinal)).Select(p => p.What);
        return [.. ((Observable[])[new(ObservableKind.Volts, model.Nets[supply.A]), .. MeasuredCar.Measurable(simulator), .. hoses]).Distinct()];
    }
}
