using Ventwright.Bench;
using Ventwright.Diagnosis;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Tests.Bench;

/// <summary>Words that units with a fault show, as first predicted from sound units, against random units with the fault. Reference: random units; no outside source.</summary>
public class FaultyWordsTests
{
    private const int Units = 300;
    private const double Near = 0.12;
    private static readonly Simulator Unit = ShippedSheets.Manual;

    [Theory]
    [InlineData("fan=1, mode=cold", "airflow(screen)", "K2:welded")]
    [InlineData("fan=2, mode=vent", "airflow(screen)", "K2:welded")]
    [InlineData("fan=3, mode=screen", "airflow(fresh)", "W3:high-resistance")]
    [InlineData("fan=1, mode=bilevel", "airflow(feet)", "G2:high-resistance")]
    public void Each_word_is_about_as_frequent_as_predicted(string words, string look, string id)
    {
        Fault fault = Unit.Model.FindFault(id)!;
        Setting setting = ShippedSheets.Set(Unit, words);
        Assert.True(Observable.TryParse(look, out Observable what, out _));
        var predictor = new SheetPredictor(Unit);
        int check = predictor.Check(setting, what);
        double[] values = [.. ShippedSheets.Drawn(Unit, seed: 13).Take(Units).Select(real => Readings.Read(real, setting, [fault], real.Settle(setting, [fault]), what).Value)];
        double[] told = WordLaw.Predict(what.Kind, predictor.Checks[check].Words, values, [.. values.Select(_ => 1.0 / Units)]);
        IReadOnlyList<double> shares = predictor.Predict(FaultSet.One(Array.IndexOf(Unit.Model.Faults, fault)), check).Components[0].WordShares;
        Assert.All(shares.Zip(told), p => Assert.InRange(p.First, p.Second - Near, p.Second + Near));
    }

    /// <summary>A welded relay makes the blower run at full speed, and one unit in five lets a little air through to the screen then, wherever it is looked at: no seal has to be bad for it.</summary>
    [Fact]
    public void A_unit_near_a_limit_shows_the_same_word_at_check_after_check()
    {
        var bench = new BenchDiagnosis(Unit);
        bench.Take("amps", ShippedSheets.Set(Unit, "fan=2, mode=vent"), new(ObservableKind.Amps, "supply"), Outcome.Number(18.6));
        foreach (string set in (string[])["fan=1, mode=cold", "fan=1, mode=vent", "fan=2, mode=vent", "fan=2, mode=cold", "fan=3, mode=cold"])
            bench.Take(set, ShippedSheets.Set(Unit, set), new(ObservableKind.Airflow, "screen"), Outcome.Word(1));
        Explanation first = bench.Explain().Explanations[0];
        Assert.Equal("K2:welded", Assert.Single(first.Set.Select(f => Unit.Model.Faults[f].Id)));
        Assert.True(first.Probability > 0.5);
    }
}
