using Ventwright.Model.Build;
using Ventwright.Quantities;

namespace Ventwright.Model.Parts;

/// <summary>A key that a kind of part knows: its name, what its value is, and a line for people and for the schema.</summary>
/// <param name="Name">Key on the sheet.</param>
/// <param name="Value">What the value is: net, nets, hose, hoses, space, name, names, map, flag, number, or a dimension such as Volt.</param>
/// <param name="Text">One line on what it means, with the default.</param>
/// <param name="Required">Whether a part without it is a problem.</param>
public sealed record KeySpec(string Name, string Value, string Text, bool Required = false);

/// <summary>A kind of part: what a sheet may say of it, and what that adds to the model.</summary>
internal abstract class PartKind
{
    /// <summary>The key that names the kind on a sheet.</summary>
    public abstract string Key { get; }

    /// <summary>What it is, in a line.</summary>
    public abstract string Summary { get; }

    /// <summary>Its keys, the kind's own first.</summary>
    public abstract IReadOnlyList<KeySpec> Keys { get; }

    /// <summary>Makes the variables that other parts may name, before anything is built.</summary>
    public virtual void Declare(PartBuilder part)
    {
    }

    /// <summary>Adds branches, faults and points.</summary>
    public abstract void Build(PartBuilder part);

    /// <summary>A key with a quantity.</summary>
    protected static KeySpec Size(string name, Dimension dimension, string text, bool required = false) => new(name, dimension.ToString(), text, required);

    /// <summary>The keys "from" and "to".</summary>
    protected static KeySpec[] FromTo => [new("from", "net", "net at one end", true), new("to", "net", "net at the other end", true)];
}

/// <summary>All kinds, by key.</summary>
internal static class PartKinds
{
    /// <summary>Kinds for the <c>parts</c> section.</summary>
    public static IReadOnlyDictionary<string, PartKind> All { get; } = new PartKind[]
    {
        new Fuse(), new Wire(), new Connector(), new GroundPoint(), new Switch(), new Relay(), new ThermostaticSwitch(), new PressureSwitch(),
        new Resistor(), new ResistorPack(), new Potentiometer(), new Diode(), new Lamp(), new Thermistor(), new ClutchCoil(), new Blower(), new Motor(),
        new TransistorStage(), new Servo(), new VacuumPump(), new CheckValve(), new Reservoir(), new Hose(), new Restrictor(), new SolenoidValve(),
        new RotaryValve(), new VacuumActuator(), new WaterValve(), new VacuumTransducer(), new Flap(), new Lever(),
    }.ToDictionary(k => k.Key, StringComparer.Ordinal);
}
