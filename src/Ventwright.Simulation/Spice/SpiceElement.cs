using System.Globalization;
using Ventwright.Model.Kernel;

namespace Ventwright.Simulation.Spice;

/// <summary>One electrical branch as lines of a netlist.</summary>
internal sealed class SpiceElement(UnitModel model, Settled settled, ElectricBranch branch, int index, int a, int b)
{
    private const double LeastOhms = 1e-4, StageSiemens = ElectricSolver.StageSiemens;

    private string A => Node(a);

    private string B => Node(b);

    private string Across => $"({Volts(a)}-{Volts(b)})";

    /// <summary>Name of a net's node.</summary>
    public static string Node(int net) => net == 0 ? "0" : string.Create(CultureInfo.InvariantCulture, $"n{net}");

    /// <summary>Its lines; a comment where it does not conduct.</summary>
    public string Text()
    {
        if (a == b) return "* both ends on one net";
        if (branch.Gate is { Mode: GateMode.Conduct } gate && gate.At(settled.Variables[gate.Variable]) < 0.5) return "* contact open";
        return branch.Law switch
        {
            ElectricLaw.Ohmic => Resistor(P(0) * (branch.Gate is { Mode: GateMode.Scale } scale ? Math.Max(scale.At(settled.Variables[scale.Variable]), LeastOhms) : 1)),
            ElectricLaw.Thermistor => Thermistor(),
            ElectricLaw.Source => Source(),
            ElectricLaw.Diode => Line($"B{index} {A} {B} I=max(0,({Across}-{P(0):R})/{P(1):R})"),
            ElectricLaw.Lamp => Lamp(),
            ElectricLaw.Motor => Motor(),
            _ => Stage(),
        };
    }

    private static string Volts(int net) => net == 0 ? "0" : $"v({Node(net)})";

    private static string Line(FormattableString text) => text.ToString(CultureInfo.InvariantCulture);

    private double P(int offset) => settled.Parameters[branch.Parameter + offset];

    private string Resistor(double ohms) =>
        double.IsPositiveInfinity(ohms) ? "* open" : Line($"R{index} {A} {B} {Math.Max(ohms, LeastOhms):R}");

    /// <summary>The resistance at its temperature; the curve itself is not the circuit simulator's business.</summary>
    private string Thermistor() =>
        Resistor(double.IsNaN(P(3)) ? model.Curves[(int)P(0)].Ohms(settled.Variables[branch.Variable] + P(2)) * P(1) : P(3));

    private string Source()
    {
        double ohms = P(1), limit = P(2), volts = P(0) + (branch.Variable >= 0 ? settled.Variables[branch.Variable] : 0);
        if (double.IsPositiveInfinity(ohms)) return "* open";
        double delivered = (volts - (settled.Volts[a] - settled.Volts[b])) / ohms;
        return Math.Abs(delivered) > limit
            ? Line($"I{index} {(delivered > 0 ? B : A)} {(delivered > 0 ? A : B)} {limit:R}")
            : Line($"V{index} x{index} {B} {volts:R}\nR{index} x{index} {A} {ohms:R}");
    }

    private string Lamp() => double.IsPositiveInfinity(P(0))
        ? "* open" : Line($"B{index} {A} {B} I={Across}/({P(0):R}*({P(2):R}+{(1 - P(2)) / P(1):R}*abs({Across})))");

    /// <summary>v = i R + k w and i = i0 + ic w |w|, solved for w: a root that the circuit simulator takes itself.</summary>
    private string Motor()
    {
        double ohms = P(0), k = P(1), friction = P(2) * ohms, load = P(3) * ohms;
        if (double.IsPositiveInfinity(ohms)) return "* open";
        if (branch.Variable >= 0 && settled.Variables[branch.Variable] > 0.5) return Resistor(ohms);
        FormattableString speed = load < 1e-9
            ? (FormattableString)$"max(0,abs({Across})-{friction:R})/{k:R}"
            : $"(sqrt({k * k:R}+{4 * load:R}*max(0,abs({Across})-{friction:R}))-{k:R})/{2 * load:R}";
        return Line($"B{index} {A} {B} I=sgn({Across})*(abs({Across})-{k:R}*{Line(speed)})/{ohms:R}");
    }

    private string Stage()
    {
        if (settled.Open[index]) return "* transistor stage off";
        double control = settled.Volts[branch.Control], amps = settled.Amps[index];
        double active = StageSiemens * ((P(0) * control) - P(1) - settled.Volts[b]), saturated = (settled.Volts[a] - settled.Volts[b]) / P(2);
        return Math.Abs(amps - saturated) <= Math.Abs(amps - active)
            ? Resistor(P(2)) : Line($"B{index} {A} {B} I={StageSiemens:R}*({P(0):R}*{Volts(branch.Control)}-{P(1):R}-{Volts(b)})");
    }
}
