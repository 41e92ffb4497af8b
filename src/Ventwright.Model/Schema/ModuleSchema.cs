using System.Text.Json.Nodes;

namespace Ventwright.Model.Schema;

/// <summary>The schema of the <c>module</c> section.</summary>
internal static class ModuleSchema
{
    /// <summary>The section.</summary>
    public static JsonObject Module() => SchemaValues.Closed(
        [
            ("supply", SchemaValues.Of("net")), ("ground", SchemaValues.Of("net")), ("wakes-above", SchemaValues.Of("Volt")), ("sleeps-below", SchemaValues.Of("Volt")),
            ("draws", SchemaValues.Of("Ohm")), ("set-point", SchemaValues.Of("name", "signal with the temperature asked for, degC")), ("samples", SchemaValues.Of("Frequency")), ("place", SchemaValues.Of("name")), ("name", SchemaValues.Of("name")),
            ("reference", SchemaValues.Closed([("pin", SchemaValues.Of("net")), ("volts", SchemaValues.Of("Volt")), ("tolerance", SchemaValues.Of("Fraction")), ("source", SchemaValues.Of("Ohm"))])),
            ("inputs", SchemaValues.Map(Input())), ("signals", SchemaValues.Map(SchemaValues.Of("name"))), ("outputs", SchemaValues.Map(Output())),
        ],
        ["supply", "ground"]);

    private static JsonObject Input() => SchemaValues.Closed(
        [
            ("pin", SchemaValues.Of("net")), ("pins", SchemaValues.Map(SchemaValues.Of("name"))), ("reads", SchemaValues.Of("name", "volts, or fraction of NET")),
            ("pull-up", SchemaValues.Of("name", "10 kohm to NET")), ("sensor", SchemaValues.Of("name")), ("above", SchemaValues.Of("Volt")), ("else", SchemaValues.Of("name")),
            ("input", SchemaValues.Of("Ohm", "resistance to ground inside, 1 Mohm")), ("slow-rise", SchemaValues.Of("Second")),
        ]);

    private static JsonObject Output() => SchemaValues.Closed(
        [
            ("sinks-when", SchemaValues.Of("name")), ("sources-when", SchemaValues.Of("name")), ("until", SchemaValues.Of("name")), ("waits-for", SchemaValues.Of("name")),
            ("volts", SchemaValues.Of("name")), ("ohms", SchemaValues.Of("Ohm")), ("pins", SchemaValues.Of("nets")), ("seeks", SchemaValues.Of("name")),
            ("after", SchemaValues.Of("Second", "the condition must hold so long before it comes on")), ("reads", SchemaValues.Of("name")), ("dead-band", SchemaValues.Of("number")),
        ]);
}
