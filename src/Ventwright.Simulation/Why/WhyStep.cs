using Ventwright.Quantities;

namespace Ventwright.Simulation.Why;

/// <summary>What a step of a chain is about.</summary>
public enum WhyKind
{
    /// <summary>The check itself.</summary>
    Check,

    /// <summary>A state of a part: the position of a flap or servo, a coil that holds, a motor's speed.</summary>
    State,

    /// <summary>A part of a circuit, with the volts at both ends and the current.</summary>
    Circuit,

    /// <summary>A part of the vacuum side, with the depressions at both ends.</summary>
    Vacuum,

    /// <summary>A part of the air side, with its flow.</summary>
    Air,

    /// <summary>An output of the module.</summary>
    Output,

    /// <summary>A signal of the module, read from a pin or worked out by a rule.</summary>
    Signal,

    /// <summary>A control, a condition, or something fed or held on the bench.</summary>
    Setting,

    /// <summary>Something that stands further up in the tree.</summary>
    Above,

    /// <summary>The chain goes on, but is cut here.</summary>
    Cut,
}

/// <summary>A law by name.</summary>
/// <param name="Name">Name, such as "Ohm's law".</param>
/// <param name="Text">The formula.</param>
/// <param name="Source">Where it comes from; says so where there is no source.</param>
public sealed record Formula(string Name, string Text, string Source);

/// <summary>A value that a step has now.</summary>
/// <param name="Name">What it is the value of: a net, a hose, "current", "wants".</param>
/// <param name="Si">The number, SI; NaN where there is none, as on a net that floats.</param>
/// <param name="Dimension">What the number measures.</param>
/// <param name="Word">The value in a word, or null.</param>
public sealed record WhyValue(string Name, double Si, Dimension Dimension, string? Word = null);

/// <summary>A tolerance and how far it moves the check.</summary>
/// <param name="Name">Part and quantity.</param>
/// <param name="Effect">How far the check moves when the quantity goes to the end of its tolerance, SI.</param>
/// <param name="Dimension">What the effect measures: that of the check.</param>
public sealed record WhyTolerance(string Name, double Effect, Dimension Dimension);

/// <summary>A step of the chain that makes a value: what it is, what it is now, by which law, and the steps that it comes from.</summary>
/// <param name="Kind">What it is about.</param>
/// <param name="Name">Part, net, signal or control by its name on the sheet.</param>
/// <param name="Title">The part's name in words; empty where there is none.</param>
/// <param name="Says">What it does now, in words.</param>
/// <param name="Now">Its values now.</param>
/// <param name="Formula">Its law, or null.</param>
/// <param name="Fault">The fault that acts here, id and symptom, or null.</param>
/// <param name="Tolerances">Tolerances of this step that move the check, largest first; on the check itself all of them. Those that hardly move it are left out.</param>
/// <param name="SheetLine">Line of the sheet that describes the part; 0 where there is none.</param>
/// <param name="From">The steps that it comes from.</param>
public sealed record WhyStep(
    WhyKind Kind, string Name, string Title, string Says, IReadOnlyList<WhyValue> Now, Formula? Formula, string? Fault,
    IReadOnlyList<WhyTolerance> Tolerances, int SheetLine, IReadOnlyList<WhyStep> From)
{
    /// <summary>The step and all steps below it.</summary>
    public IEnumerable<WhyStep> All() => From.SelectMany(s => s.All()).Prepend(this);
}
