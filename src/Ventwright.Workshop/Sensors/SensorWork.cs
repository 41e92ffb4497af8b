using System.Collections.Concurrent;
using Ventwright.Bench.Sensors;

namespace Ventwright.Workshop.Sensors;

/// <summary>What the points of a sensor say.</summary>
/// <param name="Check">The sensor against the sheet; null when that cannot be worked out.</param>
/// <param name="Problem">Why not, in words; null when it can or when there is no point yet.</param>
public sealed record SensorFound(SensorCheck? Check, string? Problem)
{
    /// <summary>Whether the sensor has been shown to be right.</summary>
    public bool IsRight => Check is { Verdict: SensorVerdict.Good, FitHolds: true };
}

/// <summary>Sensors and aspirators of a unit, worked out once in the background and kept beside the unit. Thread-safe.</summary>
public sealed class SensorWork
{
    private const int MostKept = 100;
    private readonly UnitOnSheet _unit;
    private readonly ConcurrentDictionary<string, Lazy<Task<SensorFound>>> _sensors = new(StringComparer.Ordinal);
    private readonly ConcurrentDictionary<string, Lazy<Task<AspiratorCheck>>> _aspirators = new(StringComparer.Ordinal);

    private readonly ConcurrentDictionary<string, Lazy<SweepFound>> _sweeps = new(StringComparer.Ordinal);

    internal SensorWork(UnitOnSheet unit) => _unit = unit;

    /// <summary>A sensor from its readings.</summary>
    /// <param name="part">Id of the sensor.</param>
    /// <param name="readings">The readings; an infinite resistance is an open sensor.</param>
    /// <param name="meter">Accuracy of the ohmmeter.</param>
    public Task<SensorFound> CheckAsync(string part, IReadOnlyList<SensorReading> readings, OhmmeterAccuracy meter)
    {
        ArgumentNullException.ThrowIfNull(readings);
        if (readings.Count == 0) return Task.FromResult(new SensorFound(null, null));
        if (readings.Any(r => double.IsInfinity(r.Ohms)))
            return Task.FromResult(new SensorFound(null, "the meter showed no connection: the sensor or its lead is open, which no curve describes. Keep that point as a reading, so that the suspects know of it"));
        if (_sensors.Count > MostKept) _sensors.Clear();
        string key = $"{part} {SensorText.Exact(meter.Share)} {SensorText.Exact(meter.Ohms)} "
            + string.Join(' ', readings.Select(r => $"{SensorText.Exact(r.Bath.Kelvin)},{SensorText.Exact(r.Bath.HalfWidthK)},{SensorText.Exact(r.Bath.ThermometerK)},{SensorText.Exact(r.Ohms)}"));
        return _sensors.GetOrAdd(key, _ => new(() => Task.Run(() => Check(part, readings, meter)))).Value;
    }

    /// <summary>An aspirator.</summary>
    /// <param name="id">Id of the aspirator.</param>
    /// <param name="dashAir">Temperature of still air behind the dash as written; null or empty for the usual 40 degC.</param>
    /// <exception cref="RefusedException">It is no temperature, or there is no such aspirator.</exception>
    public Task<AspiratorCheck> AspiratorAsync(string id, string? dashAir)
    {
        double kelvin = string.IsNullOrWhiteSpace(dashAir) ? AspiratorCheck.UsualDashKelvin : SensorText.Temperature("air behind the dash", dashAir);
        if (kelvin is < 230 or > 370) throw new RefusedException($"air behind the dash: {dashAir} is outside what a parked car gets to (-43 .. 97 degC)");
        if (_aspirators.Count > MostKept) _aspirators.Clear();
        return _aspirators.GetOrAdd($"{id} {SensorText.Exact(kelvin)}", _ => new(() => Task.Run(() => Aspirators.Check(_unit.Simulator, id, kelvin, [])))).Value;
    }

    /// <summary>A sweep with the usual meter and limits.</summary>
    internal SweepFound Sweep(SessionSweep sweep)
    {
        if (_sweeps.Count > MostKept) _sweeps.Clear();
        SweepBody body = sweep.Written;
        return _sweeps.GetOrAdd($"{body.Part} {body.Total} {body.Csv}", _ => new(() =>
        {
            TrackTest? test = TrackTest.TryMake(_unit.Simulator, body.Part, sweep.Data, OhmmeterAccuracy.Usual, new(), out string? problem);
            return new(test, problem);
        })).Value;
    }

    private SensorFound Check(string part, IReadOnlyList<SensorReading> readings, OhmmeterAccuracy meter)
    {
        SensorCheck? check = SensorCheck.TryMake(_unit.Simulator, part, readings, meter, null, [], out string? problem);
        return new(check, problem);
    }
}
