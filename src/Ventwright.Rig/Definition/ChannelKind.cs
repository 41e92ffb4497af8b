using Ventwright.Quantities;

namespace Ventwright.Rig.Definition;

/// <summary>What a channel gives or reads.</summary>
public enum ChannelKind
{
    /// <summary>A resistance that stands in for a sensor, ohm.</summary>
    Resistance,

    /// <summary>A voltage, V.</summary>
    Voltage,

    /// <summary>A contact: 0 open, 1 closed.</summary>
    Relay,

    /// <summary>A current, A.</summary>
    Current,

    /// <summary>A temperature, K.</summary>
    Temperature,

    /// <summary>A depression, Pa.</summary>
    Pressure,

    /// <summary>Whether there is a voltage, or a contact is closed: 0 or 1.</summary>
    Switch,
}

/// <summary>Numbers and words of channels.</summary>
public static class ChannelKinds
{
    /// <summary>What a channel of this kind measures; none for contacts.</summary>
    public static Dimension Dimension(this ChannelKind kind) => kind switch
    {
        ChannelKind.Resistance => Quantities.Dimension.Ohm,
        ChannelKind.Voltage => Quantities.Dimension.Volt,
        ChannelKind.Current => Quantities.Dimension.Ampere,
        ChannelKind.Temperature => Quantities.Dimension.Temperature,
        ChannelKind.Pressure => Quantities.Dimension.Pressure,
        _ => Quantities.Dimension.None,
    };

    /// <summary>Whether it knows only on and off.</summary>
    public static bool IsContact(this ChannelKind kind) => kind is ChannelKind.Relay or ChannelKind.Switch;

    /// <summary>A value for people: <c>12.1 kohm</c>, <c>on</c>, <c>open</c>.</summary>
    public static string Text(this ChannelKind kind, double value, UnitSystem units)
    {
        if (double.IsNaN(value)) return "-";
        if (kind.IsContact()) return value >= 0.5 ? "on" : "off";
        return kind == ChannelKind.Resistance && double.IsInfinity(value) ? "open" : QuantityText.Format(value, kind.Dimension(), units);
    }

    /// <summary>Reads a value as people write it; says what is wrong in <paramref name="problem"/> if it cannot.</summary>
    public static bool TryRead(this ChannelKind kind, string text, out double value, out string? problem)
    {
        (value, problem) = (0, null);
        if (kind.IsContact())
        {
            value = text is "on" or "closed" ? 1 : 0;
            if (text is not ("on" or "closed" or "off" or "open")) problem = $"'{text}' is no state of a contact; write on or off";
            return problem is null;
        }

        if (kind == ChannelKind.Resistance && text == "open")
        {
            value = double.PositiveInfinity;
            return true;
        }

        return QuantityText.TryParse(text, kind.Dimension(), out value, out problem);
    }
}
