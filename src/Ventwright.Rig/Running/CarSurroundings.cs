using Ventwright.Bench.Car;
using Ventwright.Model.Kernel;
using Ventwright.Physics.Car;
using Ventwright.Quantities;
using Ventwright.Rig.Definition;
using Ventwright.Simulation;

namespace Ventwright.Rig.Running;

/// <summary>The bench car round the unit: what servos, blowers and clutch do is measured, what the sensors would be is set as resistances.</summary>
public sealed class CarSurroundings : ISurroundings
{
    private readonly MeasuredCar _car;
    private readonly string[] _sensors;
    private readonly IReadOnlyList<(string Name, string Value)> _hands;

    private CarSurroundings(MeasuredCar car, string[] sensors, IReadOnlyList<(string Name, string Value)> hands) => (_car, _sensors, _hands) = (car, sensors, hands);

    /// <inheritdoc/>
    public IReadOnlyList<string> Sets => _sensors;

    /// <inheritdoc/>
    public IReadOnlyList<string> Needs => _car.Needs;

    /// <inheritdoc/>
    public IReadOnlyList<(string Name, string Value)> Panel => [.. _car.Panel.Where(p => _hands.All(h => h.Name != p.Name)), .. _hands];

    /// <summary>Puts a car round the unit of a rig. Sensors for which the rig has no resistance stay as they are on the bench.</summary>
    /// <param name="rig">The rig.</param>
    /// <param name="model">The unit.</param>
    /// <param name="scenario">What the world does.</param>
    /// <param name="body">The car.</param>
    /// <param name="hands">How the panel stands, over the scenario's own.</param>
    /// <exception cref="RigException">The rig stands in for no sensor, or measures nothing that the car needs.</exception>
    public static CarSurroundings Of(RigDefinition rig, UnitModel model, Scenario scenario, CarBody body, IReadOnlyList<(string Name, string Value)> hands)
    {
        string[] sensors = [.. rig.Outputs.Where(o => o.Kind == ChannelKind.Resistance && ScriptedSurroundings.CurveOf(model, o.Wired.Name) is not null).Select(rig.KeyOf)];
        if (sensors.Length == 0) throw new RigException(RigTrouble.NotPossible, rig.Name, "no output of the rig is a resistance in place of a sensor: the module cannot be made to feel a car");
        try
        {
            return new(new(new Simulator(model), scenario, body, [.. rig.Inputs.Select(i => i.Wired.Check).OfType<Observable>()], hands), sensors, hands);
        }
        catch (ArgumentException e)
        {
            throw new RigException(RigTrouble.NotPossible, rig.Name, e.Message);
        }
    }

    /// <inheritdoc/>
    public SurroundingsStep Step(IReadOnlyDictionary<string, double> measured, double seconds)
    {
        _car.Step(measured, seconds);
        var wanted = _car.Resistances.Where(r => _sensors.Contains(r.Part, StringComparer.Ordinal)).ToDictionary(r => r.Part, r => r.Ohms, StringComparer.Ordinal);
        CarState state = _car.State;
        return new(
            wanted,
            [
                new("car time", _car.Seconds, Dimension.Second), new("cabin air", state.Air, Dimension.Temperature), new("asked for", _car.WantedK, Dimension.Temperature), new("seats and trim", state.Trim, Dimension.Temperature),
                new("evaporator surface", state.Evaporator, Dimension.Temperature), new("coolant in the car", state.Coolant, Dimension.Temperature),
            ],
            _car.IsOver);
    }
}
