using Ventwright.Bench;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Tests.Bench;

/// <summary>What the made-up person of the study reads off a meter. Reference: the meter's accuracy, half of it by hand; no outside source.</summary>
public class SimulatedUnitTests
{
    private const int Repeats = 400;
    private static readonly Simulator Unit = ShippedSheets.Manual;

    /// <summary>One meter reads high or low by its own share, and differs from reading to reading by its last digits only; another one reads high by another share.</summary>
    [Fact]
    public void A_meter_is_off_by_the_same_share_at_every_reading()
    {
        var predictor = new SheetPredictor(Unit);
        int check = predictor.Check(ShippedSheets.Set(Unit, "fan=1, mode=bilevel"), new(ObservableKind.Volts, "feed.full"));
        (double gain, double digits) = (predictor.Checks[check].Meter.RelativeGain, predictor.Checks[check].Meter.Absolute);
        var random = new Random(5);
        SimulatedUnit Another() => new(Unit, [], random, within: 0, misreads: 0);
        SimulatedUnit one = Another();
        double[] again = [.. Enumerable.Range(0, Repeats).Select(_ => one.Observe(predictor, check).Value)], others = [.. Enumerable.Range(0, Repeats).Select(_ => Another().Observe(predictor, check).Value)];
        Assert.InRange(Spread(again) / digits, 0.85, 1.15);
        Assert.InRange(Spread(others) / Math.Sqrt((digits * digits) + Math.Pow(gain * others.Average(), 2)), 0.85, 1.15);
    }

    private static double Spread(double[] values)
    {
        double mean = values.Average();
        return Math.Sqrt(values.Sum(v => (v - mean) * (v - mean)) / (values.Length - 1));
    }
}
