namespace Ventwright.Model.Kernel;

/// <summary>How a variable (a contact's coil, a flap's position, a servo, a temperature) comes by its value at rest.</summary>
public enum VariableLaw
{
    /// <summary>Given by the setting: selector position, dial, temperature (K), pressure (Pa). Parameters: force.</summary>
    Given,

    /// <summary>
    /// 1 when the magnitude of the voltage over a branch is above pull-in, 0 below drop-out, else as before. Parameters: force, pull-in (V), drop-out (V).
    /// <see cref="Variable.Input"/> is the branch. A branch that is open counts as 0 V.
    /// </summary>
    Coil,

    /// <summary>
    /// Contact moved by a quantity: 1 above the upper threshold, 0 below the lower one, else as before. Parameters: force, lower, upper, shift.
    /// <see cref="Variable.Input"/> is the variable that it feels.
    /// </summary>
    Threshold,

    /// <summary>
    /// Diaphragm travel 0..1 from the depression of a hose: (depression - starts) / (full - starts). Parameters: force, starts (Pa), full (Pa).
    /// <see cref="Variable.Input"/> is the hose; <see cref="Variable.Second"/> is the second chamber's hose or -1. With two chambers, the first
    /// alone gives half the travel, both give all of it.
    /// </summary>
    Travel,

    /// <summary>
    /// Position through a linkage: offset + gain * mover, held within 0..1. Parameters: force, offset, gain. <see cref="Variable.Input"/> is the mover.
    /// </summary>
    Linkage,

    /// <summary>
    /// Servo position 0..1, driven by the voltage over its motor branch. Parameters: force, direction (1, or -1 if fitted the other way round), starting
    /// voltage (V), where it stands when it never moved (0..1), travel time at rated voltage (s), rated voltage (V), offset of the resting place in the
    /// dead band (-1..1). <see cref="Variable.Input"/> is the motor branch.
    /// </summary>
    Servo,

    /// <summary>1 while a servo stands at an end stop or is jammed, so that its motor stalls. Parameters: force. <see cref="Variable.Input"/> is the servo.</summary>
    Blocked,

    /// <summary>Speed of a motor, 1 = rated. Parameters: force, time constant of the run-up (s; 0.7 s is common practice, no source). <see cref="Variable.Input"/> is the motor branch.</summary>
    Speed,

    /// <summary>
    /// Fuse: 1 until the current of its branch has been above the rating, then 0 for good. Parameters: force, rating (A).
    /// <see cref="Variable.Input"/> is the branch.
    /// </summary>
    Fuse,

    /// <summary>Set by an output of the module. Parameters: force. <see cref="Variable.Input"/> is the output's index.</summary>
    Output,

    /// <summary>
    /// Graded depression in pascals of a vacuum transducer: table-free line, gain * |current| + offset, at least 0. Parameters: force, gain (Pa/A), offset
    /// (Pa). <see cref="Variable.Input"/> is the coil branch.
    /// </summary>
    Graded,

    /// <summary>0 inside a gap of the shaft's travel (a worn track's dead spot), else 1. Parameters: force, gap from, gap to (NaN = none).</summary>
    Gap,

    /// <summary>
    /// 1 when the module has enough voltage to work, with hysteresis. Parameters: force, wakes above (V), sleeps below (V).
    /// <see cref="Variable.Input"/> is its supply net, <see cref="Variable.Second"/> its ground net.
    /// </summary>
    Powered,
}

/// <summary>A scalar state of the unit that is not a potential of a node. Every law's first parameter is the force: NaN, or the value that a fault holds it at.</summary>
/// <param name="Name">Name on the sheet, such as "mode", "FL1", "K1" or "M3".</param>
/// <param name="Part">Index of the part that it belongs to, or -1 for a control or condition.</param>
/// <param name="Law">How it comes by its value.</param>
/// <param name="Parameter">First of its parameters (the force).</param>
/// <param name="Input">What the law reads.</param>
/// <param name="Second">Second thing that the law reads, or -1.</param>
/// <param name="Start">Value before anything happened.</param>
public sealed record Variable(string Name, int Part, VariableLaw Law, int Parameter, int Input = -1, int Second = -1, double Start = 0);

/// <summary>A way that an edit changes a parameter.</summary>
public enum EditKind
{
    /// <summary>The parameter becomes the value.</summary>
    Set,

    /// <summary>The parameter is multiplied by the value.</summary>
    Scale,

    /// <summary>The value is added to the parameter.</summary>
    Add,
}

/// <summary>A change of one parameter of the model.</summary>
public readonly record struct Edit(int Parameter, EditKind Kind, double Value);

/// <summary>A change of the node that one end of a branch is joined to.</summary>
/// <param name="Domain">Network.</param>
/// <param name="Branch">Index of the branch in its network.</param>
/// <param name="AtA">True for end A.</param>
/// <param name="Node">New node.</param>
public readonly record struct Rewire(Domain Domain, int Branch, bool AtA, int Node);

/// <summary>How wide a parameter may lie in a sound part.</summary>
/// <param name="Parameter">Index of the parameter.</param>
/// <param name="Amount">Half-width: a share of the nominal value if <paramref name="Relative"/>, else in the parameter's own unit.</param>
/// <param name="Relative">Whether <paramref name="Amount"/> is a share.</param>
/// <param name="Part">Index of the part, or -1.</param>
/// <param name="Shared">Name of the shared unknown that it stands for (supply, reference, pump, ambient), or null for a part's own spread.</param>
public sealed record Tolerance(int Parameter, double Amount, bool Relative, int Part, string? Shared = null);

/// <summary>A way in which a part, or what somebody did to it, can be bad: an edit of the model.</summary>
/// <param name="Id">Part and fault, with its size if it has several: <c>Y1:stuck-shut</c>, <c>RT1:drifted@+5K</c>.</param>
/// <param name="Family">Id without the size. Two faults of one family never stand together.</param>
/// <param name="Part">Index of the part.</param>
/// <param name="Name">Fault name without the part: stuck-shut.</param>
/// <param name="Weight">Relative frequency; 1 is an average fault of an average part.</param>
/// <param name="Symptom">What a person would notice, in words.</param>
/// <param name="Edits">Changed parameters.</param>
/// <param name="Rewires">Changed joints.</param>
/// <param name="IntermittentShare">0 for a fault that is always there, else the share of readings in which it shows.</param>
/// <param name="CarOnly">True if it can only show in the car.</param>
/// <param name="CommonCause">Name of a cause that it shares with others (water, heat, earlier repair), or null.</param>
public sealed record Fault(
    string Id, string Family, int Part, string Name, double Weight, string Symptom, Edit[] Edits, Rewire[] Rewires,
    double IntermittentShare = 0, bool CarOnly = false, string? CommonCause = null)
{
    /// <summary>What is wrong, without the part, as a person says it: <c>stuck shut</c>, <c>drifted, reads 4K warm</c>.</summary>
    public string Words => Name.Replace('-', ' ').Replace("@", ", ", StringComparison.Ordinal);
}
