namespace Ventwright.Model.Kernel;

/// <summary>How a two-ended electrical branch conducts. The current of a branch is counted from end A to end B, in amperes.</summary>
public enum ElectricLaw
{
    /// <summary>i = (vA - vB) / R. Parameters: R (ohm). A scaling gate multiplies R; a conducting gate opens the branch.</summary>
    Ohmic,

    /// <summary>Source with its plus at A: i = (vA - vB - E) / Rs. Parameters: E (V), Rs (ohm), current limit (A). A variable, if any, is added to E.</summary>
    Source,

    /// <summary>Conducts from A to B above the forward drop: i = (vA - vB - Vf) / Ron. Parameters: Vf (V), Ron (ohm).</summary>
    Diode,

    /// <summary>Filament whose resistance grows with voltage: R = Rhot (c + (1 - c) |v| / Vn). Parameters: Rhot (ohm), Vn (V), c (cold share).</summary>
    Lamp,

    /// <summary>
    /// Permanent-magnet motor at rest speed: v = i R + k w, i = i0 + ic w |w|. Parameters: R (ohm), k (V at speed 1), i0 (friction, A), ic (load at
    /// speed 1, A). Speed 1 is the rated speed. Below v = i0 R it stands still and draws v / R. A variable of 1 blocks it.
    /// </summary>
    Motor,

    /// <summary>
    /// Thermistor. Parameters: curve index, scale (1), offset (K), stand-in resistance (ohm, NaN = none), lag (s, for runs in time; 15 s is common practice, no
    /// source). The variable is its temperature (K).
    /// </summary>
    Thermistor,

    /// <summary>
    /// Transistor stage from A (feed) to B (load), steered by a control net: off below the threshold; else B is held at gain * vControl - offset through
    /// Ron, but never above vA - i Ron. Parameters: gain, offset (V), Ron (ohm), threshold (V), force (NaN, 0 = open, 1 = full on).
    /// </summary>
    Stage,
}

/// <summary>What a gate does with the number that it reads off its table.</summary>
public enum GateMode
{
    /// <summary>The branch is there when the number is at least one half, else it is removed.</summary>
    Conduct,

    /// <summary>The number multiplies the branch's size: ohms, sonic conductance, or area.</summary>
    Scale,
}

/// <summary>Ties a branch to a variable: a contact to its coil, an air path to its flap, a potentiometer section to its shaft.</summary>
/// <param name="Variable">Index of the variable.</param>
/// <param name="Mode">What the table's number does.</param>
/// <param name="Inputs">Rising values of the variable.</param>
/// <param name="Outputs">Number at each input; linear between, held at the ends.</param>
public sealed record Gate(int Variable, GateMode Mode, double[] Inputs, double[] Outputs)
{
    /// <summary>A contact that is made when a two-valued variable is 1 (or, if <paramref name="when"/> is false, 0).</summary>
    public static Gate Contact(int variable, bool when = true) =>
        new(variable, GateMode.Conduct, [0, 1], when ? [0, 1] : [1, 0]);

    /// <summary>A contact that is made in the given positions of a selector with <paramref name="count"/> positions.</summary>
    public static Gate Positions(int variable, int count, IReadOnlyCollection<int> made) =>
        new(variable, GateMode.Conduct, [.. Enumerable.Range(0, count).Select(i => (double)i)],
            [.. Enumerable.Range(0, count).Select(i => made.Contains(i) ? 1.0 : 0.0)]);

    /// <summary>A size that follows the variable from 0 to 1 (or, if not <paramref name="rising"/>, from 1 to 0).</summary>
    public static Gate Fraction(int variable, bool rising = true) =>
        new(variable, GateMode.Scale, [0, 1], rising ? [0, 1] : [1, 0]);

    /// <summary>The number at a value of the variable.</summary>
    public double At(double value)
    {
        double[] x = Inputs;
        int last = x.Length - 1;
        if (!(value > x[0])) return Outputs[0];
        if (value >= x[last]) return Outputs[last];
        int i = 1;
        while (x[i] < value) i++;
        double share = (value - x[i - 1]) / (x[i] - x[i - 1]);
        return Outputs[i - 1] + (share * (Outputs[i] - Outputs[i - 1]));
    }
}

/// <summary>An electrical branch between two nets.</summary>
/// <param name="Name">Name in words, such as "coil" or "contact".</param>
/// <param name="Part">Index of the part that it belongs to.</param>
/// <param name="Law">How it conducts.</param>
/// <param name="A">Net at end A.</param>
/// <param name="B">Net at end B.</param>
/// <param name="Parameter">First of its parameters.</param>
/// <param name="Gate">Gate, or null.</param>
/// <param name="Variable">Variable that the law reads, or -1.</param>
/// <param name="Control">Control net of a stage, or -1.</param>
public sealed record ElectricBranch(
    string Name, int Part, ElectricLaw Law, int A, int B, int Parameter, Gate? Gate = null, int Variable = -1, int Control = -1);

/// <summary>A vacuum branch between two hoses: ISO 6358 restriction. Parameters: sonic conductance C (m3/(s Pa)), critical pressure ratio b.</summary>
/// <param name="Name">Name in words.</param>
/// <param name="Part">Index of the part that it belongs to.</param>
/// <param name="A">Hose at end A.</param>
/// <param name="B">Hose at end B.</param>
/// <param name="Parameter">First of its parameters.</param>
/// <param name="Gate">Gate, or null.</param>
/// <param name="OneWay">True if air passes only from A to B.</param>
public sealed record VacuumBranch(string Name, int Part, int A, int B, int Parameter, Gate? Gate = null, bool OneWay = false);

/// <summary>
/// An air branch between two spaces. Parameters: free area (m2), discharge coefficient, fan pressure at speed 1 and no flow (Pa), blockage share (0..1).
/// </summary>
/// <param name="Name">Name in words.</param>
/// <param name="Part">Index of the part that it belongs to.</param>
/// <param name="A">Space at end A.</param>
/// <param name="B">Space at end B.</param>
/// <param name="Parameter">First of its parameters.</param>
/// <param name="Gate">Gate on the area, or null.</param>
/// <param name="Speed">Variable with the fan's speed, or -1.</param>
public sealed record AirBranch(string Name, int Part, int A, int B, int Parameter, Gate? Gate = null, int Speed = -1);

/// <summary>Which of the three networks a node or branch belongs to.</summary>
public enum Domain
{
    /// <summary>Nets: potential in volts to ground, flow in amperes.</summary>
    Electric,

    /// <summary>Hoses: depression below ambient in pascals, flow in kg/s.</summary>
    Vacuum,

    /// <summary>Spaces: pressure above ambient in pascals, flow in m3/s.</summary>
    Air,
}
