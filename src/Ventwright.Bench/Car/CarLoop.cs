using Ventwright.Model.Kernel;
using Ventwright.Physics.Car;
using Ventwright.Simulation;
using Ventwright.Simulation.Time;

namespace Ventwright.Bench.Car;

/// <summary>A simulated unit and the bench car, closed round each other. Not thread-safe.</summary>
internal sealed class CarLoop
{
    private readonly UnitModel _model;
    private readonly (int Variable, string Name)[] _conditions;
    private readonly int[] _clutches;

    /// <summary>Puts a unit into a car; its sensors are as warm as the car.</summary>
    /// <param name="simulator">The unit.</param>
    /// <param name="car">The car.</param>
    /// <param name="hands">Words of the setting: panel, stand-ins, what is held.</param>
    /// <param name="weather">What the world does.</param>
    /// <param name="faults">Faults that are there.</param>
    /// <param name="from">How the unit stands, or null for one that was just switched on.</param>
    public CarLoop(Simulator simulator, BenchCar car, Setting hands, Weather weather, IReadOnlyList<Fault> faults, Settled? from = null)
    {
        (_model, Car) = (simulator.Model, car);
        _conditions = [.. _model.Conditions.Where(c => !double.IsNaN(car.Condition(c.Name, weather))).Select(c => (c.Variable, c.Name))];
        _clutches = [.. _model.ClutchCoils.Select(p => _model.MainVariable[p])];
        Run = new(simulator, Warmed(hands, weather), faults, from);
        Feel(weather);
    }

    /// <summary>The car.</summary>
    public BenchCar Car { get; }

    /// <summary>The unit.</summary>
    public UnitRun Run { get; }

    /// <summary>Conditions of the sheet that the car does not know and leaves as they are.</summary>
    public IReadOnlyList<string> Unmoved => [.. _model.Conditions.Where(c => !_conditions.Any(k => k.Variable == c.Variable)).Select(c => c.Name)];

    /// <summary>Whether the clutch is in; with several, all of them.</summary>
    public bool Clutch
    {
        get
        {
            foreach (int clutch in _clutches)
            {
                if (Run.Variables[clutch] < 0.5) return false;
            }

            return _clutches.Length > 0;
        }
    }

    /// <summary>Lets time pass for both.</summary>
    /// <param name="seconds">Step, s.</param>
    /// <param name="weather">What the world does.</param>
    /// <param name="clutch">Whether the compressor is driven; as the unit has it if null.</param>
    public void Step(double seconds, in Weather weather, bool? clutch = null)
    {
        Car.Advance(seconds, weather, new(Run.AirFlow, clutch ?? Clutch, BenchCar.Water(_model, Run.Variables, Run.Parameters)));
        Feel(weather);
        Run.Advance(seconds);
    }

    private void Feel(in Weather weather)
    {
        foreach ((int variable, string name) in _conditions) Run.Feel(variable, Car.Condition(name, weather));
        foreach (Aspirator aspirator in _model.Aspirators) Run.Surround(aspirator.Sensor, Car.AspiratedK(Run.AirFlow[aspirator.Branch], weather));
    }

    /// <summary>The hands' setting with the conditions as they are in the car, unless the hands say otherwise.</summary>
    private Setting Warmed(Setting hands, Weather weather)
    {
        IEnumerable<(string, string)> words = hands.Words.Select(w => (w.Key, w.Value));
        IEnumerable<(string, string)> warm = _conditions.Where(c => !hands.Words.ContainsKey(c.Name))
            .Select(c => (c.Name, FormattableString.Invariant($"{Car.Condition(c.Name, weather) - 273.15:0.###} degC")));
        return Setting.TryMake(_model, words.Concat(warm), out _) ?? hands;
    }
}
