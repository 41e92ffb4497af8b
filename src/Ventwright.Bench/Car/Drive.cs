using Ventwright.Model.Kernel;
using Ventwright.Physics.Car;
using Ventwright.Simulation;

namespace Ventwright.Bench.Car;

/// <summary>How a drive is run.</summary>
public sealed record DriveOptions
{
    /// <summary>Faults that are there.</summary>
    public IReadOnlyList<Fault> Faults { get; init; } = [];

    /// <summary>Words of a setting that stand over the scenario's panel: controls, stand-ins, unplugged parts.</summary>
    public IReadOnlyList<(string Name, string Value)> Hands { get; init; } = [];

    /// <summary>Length, s; the scenario's own if null.</summary>
    public double? Seconds { get; init; }

    /// <summary>Step of car and unit, s.</summary>
    public double Step { get; init; } = 0.1;

    /// <summary>Seconds between two kept moments.</summary>
    public double Every { get; init; } = 1;
}

/// <summary>Drives a simulated unit in the bench car: the module's rules are closed round the cabin.</summary>
public sealed class Drive
{
    private readonly UnitModel _model;
    private readonly Scenario _scenario;
    private readonly DriveOptions _options;
    private readonly CarLoop _loop;
    private Moment _moment;

    private Drive(Simulator simulator, Scenario scenario, CarBody body, DriveOptions options, Setting first)
    {
        (_model, _scenario, _options, _moment) = (simulator.Model, scenario, options, scenario.Moments[0]);
        var car = new BenchCar(_model, body, BenchCar.Standing(scenario.CabinK, scenario.TrimK, scenario.CoolantK, _moment.Weather));
        _loop = new(simulator, car, first, _moment.Weather, options.Faults);
    }

    /// <summary>Runs a drive.</summary>
    /// <param name="simulator">The unit's simulator.</param>
    /// <param name="scenario">What the world and the hands do.</param>
    /// <param name="body">The car.</param>
    /// <param name="options">How it is run.</param>
    /// <param name="problem">What is wrong with the hands' words, or null.</param>
    /// <param name="progress">Told the share done, 0..1, now and then.</param>
    /// <param name="stop">Stops it.</param>
    public static DriveRecord? Run(
        Simulator simulator, Scenario scenario, CarBody body, DriveOptions options, out string? problem, Action<double>? progress = null, CancellationToken stop = default)
    {
        foreach (Moment moment in scenario.Moments)
        {
            if (Setting.TryMake(simulator.Model, [.. Scenario.Panel(simulator.Model, moment), .. options.Hands], out problem) is null) return null;
        }

        Setting first = Setting.TryMake(simulator.Model, [.. Scenario.Panel(simulator.Model, scenario.Moments[0]), .. options.Hands], out problem)!;
        return new Drive(simulator, scenario, body, options, first).Go(progress, stop);
    }

    private DriveRecord Go(Action<double>? progress, CancellationToken stop)
    {
        double length = _options.Seconds ?? _scenario.Seconds, worst = 0;
        var keeper = new DriveKeeper(_model, _loop.Run, _loop.Car, _scenario);
        int steps = (int)Math.Round(length / _options.Step), keep = Math.Max(1, (int)Math.Round(_options.Every / _options.Step));
        for (int i = 0; i <= steps; i++)
        {
            stop.ThrowIfCancellationRequested();
            if (i % keep == 0) keeper.Keep(i * _options.Step, _moment.Weather);
            if (i % 1000 == 0) progress?.Invoke((double)i / steps);
            if (i == steps) break;
            Turn(i * _options.Step);
            _loop.Step(_options.Step, _moment.Weather);
            worst = Math.Max(worst, Math.Abs(_loop.Car.ImbalanceW));
        }

        return keeper.Record(_options.Faults, _loop.Run.Sound, worst, _loop.Unmoved);
    }

    /// <summary>Takes the scenario's next moment, if it has come.</summary>
    private void Turn(double seconds)
    {
        Moment now = _scenario.At(seconds);
        if (ReferenceEquals(now, _moment)) return;
        _moment = now;
        if (Setting.TryMake(_model, [.. Scenario.Panel(_model, now), .. _options.Hands], out _) is { } setting) _loop.Run.Set(setting);
    }
}
