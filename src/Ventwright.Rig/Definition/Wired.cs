using System.Globalization;
using Ventwright.Model.Kernel;

namespace Ventwright.Rig.Definition;

/// <summary>What an output of the rig does to the unit.</summary>
public enum OutputRole
{
    /// <summary>Stands in for a sensor or a switch.</summary>
    StandIn,

    /// <summary>Feeds a net with a voltage.</summary>
    Feed,

    /// <summary>A contact that joins a net to the supply's plus or to ground.</summary>
    Join,

    /// <summary>The unit's supply: on and off, or its voltage.</summary>
    Supply,

    /// <summary>The vacuum pump.</summary>
    Pump,
}

/// <summary>Where an output is wired to.</summary>
/// <param name="Name">Part, net, <c>supply</c> or <c>pump</c>.</param>
/// <param name="Role">What it does there.</param>
/// <param name="JoinsTo">For <see cref="OutputRole.Join"/>: <c>battery</c> or <c>gnd</c>; else null.</param>
public sealed record WiredOutput(string Name, OutputRole Role, string? JoinsTo = null)
{
    /// <summary>Below this the supply counts as off, V.</summary>
    private const double LeastSupply = 0.5;

    /// <summary>Resistance that stands for an open stand-in, ohm.</summary>
    private const double Open = 1e9;

    /// <summary>What a value of the output means as a setting of the bench, as name and text.</summary>
    /// <param name="model">The unit.</param>
    /// <param name="kind">Kind of the output.</param>
    /// <param name="value">Its value, SI; 0 or 1 for a contact.</param>
    public IEnumerable<(string Name, string Value)> Words(UnitModel model, ChannelKind kind, double value)
    {
        bool isOn = value >= 0.5;
        ElectricBranch supply = model.Electric[model.SupplyBranch];
        string plus = model.Nets[supply.A];
        switch (Role)
        {
            case OutputRole.StandIn when kind == ChannelKind.Relay:
                return [($"stand-in {Name}", isOn ? "closed" : "open")];
            case OutputRole.StandIn:
                return [($"stand-in {Name}", Number(double.IsFinite(value) ? value : Open) + " ohm")];
            case OutputRole.Feed:
                return [($"feed {Name}", Number(value) + " V")];
            case OutputRole.Join:
                return isOn ? [($"feed {Name}", JoinsTo == "gnd" ? "0 V" : Number(model.Parameters[supply.Parameter]) + " V")] : [];
            case OutputRole.Pump:
                return [("pump", isOn ? "on" : "off")];
            default:
                return kind == ChannelKind.Relay ? [("supply", isOn ? "on" : "off")]
                    : value < LeastSupply ? [("supply", "off")] : [("supply", "off"), ($"feed {plus}", Number(value) + " V")];
        }
    }

    private static string Number(double value) => value.ToString("0.######", CultureInfo.InvariantCulture);
}

/// <summary>Where an input is wired to.</summary>
/// <param name="Check">The check that it makes, or null.</param>
/// <param name="Condition">The condition that it measures (a temperature), or null.</param>
public sealed record WiredInput(Observable? Check, string? Condition)
{
    /// <inheritdoc/>
    public override string ToString() => Check?.ToString() ?? Condition ?? "";
}
