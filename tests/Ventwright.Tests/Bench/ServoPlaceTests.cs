using Ventwright.Bench;
using Ventwright.Diagnosis;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Tests.Bench;

/// <summary>Servos that a fault keeps from moving stand anywhere: predictions against random units with the same fault. No outside source.</summary>
public sealed class ServoPlaceTests
{
    private static readonly Simulator Unit = ShippedSheets.Automatic;

    /// <summary>Of 200 random units with the fault at most one in fifty shows what its prediction gives less than a two hundredth of what it gives the middle.</summary>
    [Theory]
    [InlineData("mode=screen", "volts(mod.11)", "M3:motor-open")]
    [InlineData("mode=screen", "position(M3)", "M3:motor-open")]
    [InlineData("mode=auto, warmth=0", "volts(mod.12)", "mod.34:low-side-dead")]
    [InlineData("mode=auto", "volts(mod.31)", "XU:pin-1-swapped-with-XU.2")]
    [InlineData("mode=screen", "volts(mod.12)", "F1:blown")]
    [InlineData("mode=screen", "volts(mod.11)", "M3:motor-open", "Y1:coil-open")]
    public void A_servo_that_does_not_move_may_stand_anywhere(string set, string check, params string[] faults)
    {
        Fault[] bad = [.. faults.Select(f => Unit.Model.FindFault(f)!)];
        Setting setting = ShippedSheets.Set(Unit, set);
        Assert.True(Observable.TryParse(check, out Observable what, out _));
        var predictor = new SheetPredictor(Unit);
        int at = predictor.Check(setting, what);
        Prediction prediction = predictor.Predict(FaultSet.Of(bad.Select(f => Array.IndexOf(Unit.Model.Faults, f))), at);
        int odd = 0;
        foreach (Simulator real in ShippedSheets.Drawn(Unit, seed: 11).Take(200))
        {
            Shown shown = Readings.Read(real, setting, bad, real.Settle(setting, bad), what);
            if (Likely(prediction, shown, predictor.Checks[at]) < 0.005 * Highest(prediction)) odd++;
        }

        Assert.InRange(odd, 0, 4);
    }

    /// <summary>Where the servo stands is no excuse for faults that leave it alone.</summary>
    [Fact]
    public void A_servo_that_is_driven_stands_where_it_is_driven()
    {
        var predictor = new SheetPredictor(Unit);
        int at = predictor.Check(ShippedSheets.Set(Unit, "mode=screen"), new(ObservableKind.Volts, "mod.11"));
        foreach (string fault in (string[])["Y1:coil-open", "M4:motor-open", "XV:pin-2-corroded"])
            Assert.True(predictor.Predict(FaultSet.One(Array.FindIndex(Unit.Model.Faults, f => f.Id == fault)), at).Components[0].Sd < 0.3, fault);
    }

    /// <summary>A servo that stands where it is wanted does not move in a sound unit either, but it would from anywhere else.</summary>
    [Fact]
    public void A_servo_that_happens_to_stand_where_it_is_wanted_is_no_reason_to_expect_it_there()
    {
        var predictor = new SheetPredictor(Unit);
        int at = predictor.Check(ShippedSheets.Set(Unit, "mode=high"), new(ObservableKind.Position, "M4"));
        Assert.True(predictor.Predict(FaultSet.None, at).Components[0].WordShares[0] < 0.02);
        Assert.True(predictor.Predict(FaultSet.One(Array.FindIndex(Unit.Model.Faults, f => f.Id == "F2:blown")), at).Components[0].WordShares[0] > 0.05);
    }

    /// <summary>One blown fuse and a servo that was left at its low end: seen there again and again, it stands where it stood, and no second fault holds it.</summary>
    [Fact]
    public void Where_a_dead_servo_stands_needs_no_fault_of_its_own()
    {
        var bench = new BenchDiagnosis(Unit);
        foreach (string set in (string[])["mode=high, warmth=0", "mode=high, trim=1", "mode=high", "mode=low", "mode=low, warmth=0"])
            bench.Take(set, ShippedSheets.Set(Unit, set), new(ObservableKind.Position, "M4"), Outcome.Word(0));
        bench.Take("feed", ShippedSheets.Set(Unit, "mode=low"), new(ObservableKind.Volts, "mod.1"), Outcome.Number(0));
        bench.Take("feedback", ShippedSheets.Set(Unit, "mode=low"), new(ObservableKind.Volts, "mod.12"), Outcome.Number(-0.02));
        Explanation first = bench.Explain().Explanations[0];
        Assert.Contains(Unit.Model.Faults[Assert.Single(first.Set)].Id, (string[])["F1:blown", "F2:blown"]);
    }

    private static double Likely(Prediction prediction, Shown shown, CheckEntry entry) => prediction.Components.Sum(c => c.Weight * c.Kind switch
    {
        ComponentKind.Words => shown.Word is { } word ? c.WordShares[entry.Words.ToList().IndexOf(word)] : 0,
        ComponentKind.Number when !shown.Unsteady => Density((shown.Value - c.Mean) / Sd(c)) / Sd(c),
        ComponentKind.Unsteady => shown.Unsteady ? 1 : 0,
        _ => 0,
    });

    private static double Highest(Prediction prediction) => prediction.Components.Max(c => c.Kind switch
    {
        ComponentKind.Words => c.WordShares.Max() * c.Weight,
        ComponentKind.Number => c.Weight * Density(0) / Sd(c),
        _ => c.Weight,
    });

    private static double Sd(PredictionComponent c) => Math.Sqrt((c.Sd * c.Sd) + c.Shared.Sum(s => s * s) + (0.02 * 0.02));

    private static double Density(double z) => Math.Exp(-z * z / 2) / Math.Sqrt(2 * Math.PI);
}
