using Ventwright.Model.Kernel;
using Ventwright.Rig;
using Ventwright.Rig.Definition;
using Ventwright.Rig.Running;
using Ventwright.Workshop.Automatic;

namespace Ventwright.Workshop.Rigs;

/// <summary>What a run with the simulated car is about, as it is kept: all that is needed to let a sound unit make the same run.</summary>
/// <param name="World">What the world does, and to which car.</param>
/// <param name="Hands">How the panel stands over the scenario's own, by name and text.</param>
/// <param name="Sensors">Sensors that the rig stands in for, and the least and most ohms that it gives.</param>
/// <param name="IsAtRest">Whether the unit is a simulated one, which gets at once where it goes.</param>
public sealed record RunDrive(WorldText World, IReadOnlyDictionary<string, string> Hands, IReadOnlyDictionary<string, double[]> Sensors, bool IsAtRest)
{
    /// <summary>From here on a resistance counts as open, ohm.</summary>
    private const double OpenOhm = 1e9;

    /// <summary>The drive of a run on a rig.</summary>
    /// <param name="rig">The rig.</param>
    /// <param name="model">The unit.</param>
    /// <param name="world">What the world does.</param>
    /// <param name="hands">How the panel stands over the scenario's own.</param>
    /// <param name="isAtRest">Whether the unit is a simulated one.</param>
    public static RunDrive Of(RigDefinition rig, UnitModel model, WorldText world, IEnumerable<(string Name, string Value)> hands, bool isAtRest)
    {
        ArgumentNullException.ThrowIfNull(rig);
        IEnumerable<OutputDefinition> sensors = rig.Outputs.Where(o => o.Kind == ChannelKind.Resistance && ScriptedSurroundings.CurveOf(model, o.Wired.Name) is not null);
        return new(
            world, hands.ToDictionary(h => h.Name, h => h.Value, StringComparer.Ordinal),
            sensors.GroupBy(o => o.Wired.Name).ToDictionary(g => g.Key, g => (double[])[Math.Max(g.First().Low, 0), Math.Min(g.First().High, OpenOhm)], StringComparer.Ordinal), isAtRest);
    }

    /// <summary>The simulated car round the unit of a rig.</summary>
    /// <exception cref="RefusedException">Scenario or car cannot be used.</exception>
    /// <exception cref="RigException">The rig lacks something that the car needs.</exception>
    public CarSurroundings Surroundings(RigDefinition rig, UnitModel model) => CarSurroundings.Of(rig, model, World.World(), World.Body(), HandWords);

    /// <summary>The hands as pairs.</summary>
    internal IReadOnlyList<(string Name, string Value)> HandWords => [.. Hands.Select(h => (h.Key, h.Value))];
}
