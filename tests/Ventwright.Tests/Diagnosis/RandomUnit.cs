using Ventwright.Diagnosis;

namespace Ventwright.Tests.Diagnosis;

/// <summary>
/// A made-up unit: each fault shifts some checks; some faults cut a check off from all others (masking). One shared unknown moves all checks.
/// </summary>
internal sealed class RandomUnit
{
    private const double SharedSlope = 0.2, OwnSd = 0.1, MeterSd = 0.05, RangeHigh = 20;
    private readonly double[,] _shift;
    private readonly bool[,] _cuts;

    public RandomUnit(int seed, int faults, int checks)
    {
        var random = new Random(seed);
        _shift = new double[faults, checks];
        _cuts = new bool[faults, checks];
        for (int f = 0; f < faults; f++)
        {
            for (int c = 0; c < checks; c++)
            {
                if (random.NextDouble() < 0.3) _shift[f, c] = Math.Round((random.NextDouble() * 6) - 3, 1);
                _cuts[f, c] = random.NextDouble() < 0.08;
            }
        }

        double[] odds = [.. Enumerable.Range(0, faults).Select(_ => 0.01 + (0.1 * random.NextDouble()))];
        Predictor = new(
            [.. odds.Select((o, f) => ToyPredictor.Fault($"P{f}", o))],
            [.. Enumerable.Range(0, checks).Select(c => ToyPredictor.Volts($"c{c}", MeterSd, setting: c / 3))],
            (set, c) => Prediction.Number(Mean(set, c), OwnSd, SharedSlope),
            1);
    }

    public ToyPredictor Predictor { get; }

    /// <summary>A reading drawn from the model with the shared unknown at a fixed value.</summary>
    public Reading Read(Random random, FaultSet truth, int check, string? id = null, double shared = 0.5, double misread = 0)
    {
        double value = random.NextDouble() < misread
            ? RangeHigh * random.NextDouble()
            : Mean(truth, check) + (SharedSlope * shared) + (Normal(random) * Math.Sqrt((OwnSd * OwnSd) + (MeterSd * MeterSd)));
        return ToyPredictor.Read(id ?? $"r{check}", check, value);
    }

    public static double Normal(Random random) => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());

    private double Mean(FaultSet set, int check)
    {
        if (set.Any(f => _cuts[f, check])) return 1;
        return Math.Clamp(10 + set.Sum(f => _shift[f, check]), 0.5, 19.5);
    }
}
