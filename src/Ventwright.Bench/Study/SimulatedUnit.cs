using Ventwright.Diagnosis;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Bench;

/// <summary>A made-up unit on the bench with faults of its own, and a person with an ordinary meter who now and then misreads.</summary>
public sealed class SimulatedUnit
{
    private static readonly double Wiggle = new DiagnosisOptions().WiggleShare;
    private readonly Simulator _simulator;
    private readonly List<Fault> _truth;
    private readonly Random _random;
    private readonly double[] _offsets;
    private readonly Dictionary<int, double> _gains = [];
    private readonly double _misreads;
    private readonly double _attention;

    /// <summary>Makes a unit whose parameters lie at random within their tolerances, times <paramref name="within"/>.</summary>
    /// <param name="simulator">The unit as the sheet has it.</param>
    /// <param name="truth">Faults that are there.</param>
    /// <param name="random">Source of chance, seeded by the caller.</param>
    /// <param name="within">Factor on the tolerances.</param>
    /// <param name="misreads">Share of readings that are nonsense.</param>
    public SimulatedUnit(Simulator simulator, Fault[] truth, Random random, double within, double misreads)
    {
        (_simulator, _truth, _random, _misreads) = (simulator, [.. truth], random, misreads);
        _attention = random.NextDouble();
        _offsets = [.. ToleranceSample.Draw(simulator.Model, random).Select(d => d * within)];
    }

    /// <summary>Takes a fault out: the part was repaired.</summary>
    public void Mend(Fault fault) => _truth.Remove(fault);

    /// <summary>What the person reads at a check.</summary>
    public Outcome Observe(SheetPredictor predictor, int check)
    {
        (Setting setting, Observable what) = predictor[check];
        CheckEntry entry = predictor.Checks[check];
        if (_random.NextDouble() < _misreads)
            return entry.IsNumber ? Outcome.Number(entry.RangeLow + (_random.NextDouble() * (entry.RangeHigh - entry.RangeLow))) : Outcome.Word(_random.Next(entry.Words.Count));
        Fault[] shown = [.. _truth.Where(f => Shows(f, entry))];
        double[] parameters = ToleranceSample.Moved(_simulator.Model, _simulator.Parameters(setting, shown), _offsets);
        Shown seen = Readings.Read(_simulator, setting, shown, _simulator.Settle(setting, shown, parameters), what);
        if (seen.Unsteady) return Outcome.Unsteady;
        // What this person does not see once, he does not see again.
        if (_attention < Readings.OverlookedShare(what.Kind, seen.Value)) seen = Readings.Read(_simulator, setting, [], _simulator.Settle(setting, []), what);
        if (!entry.IsNumber) return Outcome.Word(Math.Max(0, entry.Words.ToList().IndexOf(seen.Word ?? "")));
        double value = BenchMeter.ToScale(what.Kind, seen.Value), gain = 1 + (entry.Meter.RelativeGain * GainOf(entry.Meter.MeterId));
        return Outcome.Number(Math.Clamp((value * gain) + (Gaussian() * entry.Meter.Absolute), entry.RangeLow, entry.RangeHigh));
    }

    /// <summary>How far a meter reads high, in standard deviations: the same as long as it is this meter.</summary>
    private double GainOf(int meter)
    {
        if (!_gains.TryGetValue(meter, out double gain)) _gains[meter] = gain = Gaussian();
        return gain;
    }

    /// <summary>An intermittent fault shows in its share of the readings, more often while its part is wiggled.</summary>
    private bool Shows(Fault fault, CheckEntry entry)
    {
        if (fault.IntermittentShare == 0) return true;
        bool isWiggled = entry.WigglePart == _simulator.Model.Parts[fault.Part].Id;
        return _random.NextDouble() < (isWiggled ? Math.Max(fault.IntermittentShare, Wiggle) : fault.IntermittentShare);
    }

    private double Gaussian() => Math.Sqrt(-2 * Math.Log(1 - _random.NextDouble())) * Math.Cos(2 * Math.PI * _random.NextDouble());
}
