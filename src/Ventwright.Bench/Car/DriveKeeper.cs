using Ventwright.Model.Kernel;
using Ventwright.Physics.Car;
using Ventwright.Quantities;
using Ventwright.Simulation.Time;

namespace Ventwright.Bench.Car;

/// <summary>Keeps what a drive is looked at for afterwards.</summary>
internal sealed class DriveKeeper
{
    private readonly UnitRun _run;
    private readonly BenchCar _car;
    private readonly Scenario _scenario;
    private readonly List<double> _seconds = [], _wanted = [];
    private readonly List<(string Id, string Name, SeriesGroup Group, Dimension Dimension, Func<Weather, double> Look, List<double> Values)> _series = [];
    private readonly List<int> _servos = [];
    private readonly int _setPoint;

    /// <summary>Begins to keep.</summary>
    /// <param name="model">The unit.</param>
    /// <param name="run">The unit as it runs.</param>
    /// <param name="car">The car round it.</param>
    /// <param name="scenario">What the world does.</param>
    /// <param name="parts">Parts that are kept, with neither single vents nor signals of the module; everything where it is left out.</param>
    public DriveKeeper(UnitModel model, UnitRun run, BenchCar car, Scenario scenario, IReadOnlyCollection<int>? parts = null)
    {
        (_run, _car, _scenario, _setPoint) = (run, car, scenario, model.Module?.SetPoint ?? -1);
        Temperatures(model, parts is null);
        for (int i = 0; i < model.Parts.Length; i++)
        {
            if (parts?.Contains(i) != false) Part(model, i);
        }

        if (parts is null) Signals(model);
    }

    /// <summary>Keeps the present moment.</summary>
    public void Keep(double seconds, Weather weather)
    {
        _seconds.Add(seconds);
        _wanted.Add(_setPoint >= 0 ? _run.Signals[_setPoint] + 273.15 : _scenario.ComfortK);
        foreach (var series in _series) series.Values.Add(series.Look(weather));
    }

    /// <summary>The record.</summary>
    public DriveRecord Record(IReadOnlyList<Fault> faults, bool sound, double imbalance, IReadOnlyList<string> unmoved)
    {
        double[] seconds = [.. _seconds];
        Series[] series = [.. _series.Select(s => new Series(s.Id, s.Name, s.Group, s.Dimension, [.. s.Values])),
            new("wanted", "Asked for", SeriesGroup.Temperatures, Dimension.Temperature, [.. _wanted])];
        double[][] servos = [.. _servos.Select(i => series[i].Values)];
        return new(_scenario, [.. faults.Select(f => f.Id)], seconds, series, Comfort.Of(seconds, series[0].Values, [.. _wanted], servos), sound, imbalance, unmoved);
    }

    private void Add(string id, string name, SeriesGroup group, Dimension dimension, Func<Weather, double> look) => _series.Add((id, name, group, dimension, look, []));

    private void Temperatures(UnitModel model, bool isWhole)
    {
        Add("cabin", "Cabin", SeriesGroup.Temperatures, Dimension.Temperature, _ => _car.State.Air);
        Add("trim", "Trim and seats", SeriesGroup.Temperatures, Dimension.Temperature, _ => _car.State.Trim);
        Add("outside", "Outside", SeriesGroup.Temperatures, Dimension.Temperature, w => w.OutsideK);
        Add("blown", "Air out of the vents, mixed", SeriesGroup.Temperatures, Dimension.Temperature, _ => _car.Heat.BlownKgPerS > 1e-3 ? _car.Heat.BlownK : double.NaN);
        Add("evaporator", "Evaporator", SeriesGroup.Temperatures, Dimension.Temperature, _ => _car.State.Evaporator);
        Add("coolant", "Coolant", SeriesGroup.Temperatures, Dimension.Temperature, _ => _car.State.Coolant);
        if (!isWhole) return;
        foreach ((string name, int branch) in model.Vents)
            Add(model.Parts[model.Air[branch].Part].Id, name, SeriesGroup.Temperatures, Dimension.Temperature, _ => _run.AirFlow[branch] > 1e-4 ? _car.VentK(branch, _run.AirFlow[branch]) : double.NaN);
    }

    private void Part(UnitModel model, int part)
    {
        int variable = model.MainVariable[part];
        if (variable < 0) return;
        PartInfo info = model.Parts[part];
        SeriesGroup? group = model.Variables[variable].Law switch
        {
            VariableLaw.Servo or VariableLaw.Linkage => SeriesGroup.Positions,
            VariableLaw.Travel when info.Kind == "water-valve" => SeriesGroup.Positions,
            VariableLaw.Speed => SeriesGroup.Blowers,
            VariableLaw.Coil when info.Kind is "clutch-coil" or "relay" => SeriesGroup.Contacts,
            _ => null,
        };
        if (group is not { } of) return;
        if (model.Variables[variable].Law == VariableLaw.Servo) _servos.Add(_series.Count);
        Add(info.Id, info.Name, of, Dimension.Fraction, _ => _run.Variables[variable]);
    }

    private void Signals(UnitModel model)
    {
        if (model.Module is not { } module) return;
        for (int i = 0; i < module.SignalNames.Length; i++)
        {
            int signal = i;
            Add(module.SignalNames[i], module.SignalNames[i], SeriesGroup.Signals, Dimension.None, _ => _run.Signals[signal]);
        }
    }
}
