using Ventwright.Diagnosis;

namespace Ventwright.Tests.Diagnosis;

/// <summary>What counts as proven, by the rule stated for it; made-up models, no outside source.</summary>
public class ProofTests
{
    private const int Supply = 0, Valve = 1, Sensor = 2, Rattle = 3;

    [Fact]
    public void A_low_prior_alone_proves_nothing()
    {
        ProofReport report = Proof.Judge(new Diagnoser(Chain(valveOdds: 1e-9)).Explain([ToyPredictor.Read("s", 1, 5)]));
        Assert.False(Part(report, "Y1").Proven);
        Assert.Equal(1, report.Faults[Valve].LikelihoodRatio);
        Assert.True(Part(report, "B1").Proven);
    }

    [Fact]
    public void A_good_reading_that_would_have_come_out_differently_proves_the_part()
    {
        Posterior posterior = new Diagnoser(Chain()).Explain([ToyPredictor.Read("v", 0, 12), ToyPredictor.Read("s", 1, 5)]);
        ProofReport report = Proof.Judge(posterior);
        Assert.True(Part(report, "Y1").Proven);
        Assert.True(Part(report, "S1").Proven);
        Assert.Equal(1, report.Coverage, 1e-9);
        Assert.Equal([Rattle], Part(report, "Y1").OnlyInCar);
    }

    [Fact]
    public void A_fault_that_a_credible_suspect_masks_stays_open()
    {
        // Without supply the valve's check shows nothing either way.
        ProofReport report = Proof.Judge(new Diagnoser(Chain()).Explain(
            [ToyPredictor.Read("v", 0, 0), ToyPredictor.Read("s", 1, 5), ToyPredictor.Read("supply", 2, 0)]));
        Assert.True(report.Faults[Supply].Suspected);
        Assert.False(report.Faults[Valve].RuledOut);
        Assert.True(report.Faults[Sensor].RuledOut);
        Assert.Equal([Valve], Part(report, "Y1").Open);
    }

    [Fact]
    public void A_single_good_reading_does_not_rule_out_an_intermittent_fault()
    {
        var predictor = new ToyPredictor(
            [ToyPredictor.Fault("X1", 0.05, "dry joint", 0.3)],
            [ToyPredictor.Volts("pin")],
            (set, _) => Prediction.Number(set.IsEmpty ? 5 : 0, 0.05));
        bool Proven(int readings) => Proof.Judge(new Diagnoser(predictor)
            .Explain([.. Enumerable.Range(0, readings).Select(i => ToyPredictor.Read($"r{i}", 0, 5))])).Parts[0].Proven;
        Assert.False(Proven(1));
        Assert.True(Proven(25));
    }

    private static PartProof Part(ProofReport report, string part) => report.Parts.Single(p => p.Part == part);

    private static ToyPredictor Chain(double valveOdds = 0.05) => new(
        [
            ToyPredictor.Fault("S1", 0.05, "dead"),
            ToyPredictor.Fault("Y1", valveOdds, "open coil"),
            ToyPredictor.Fault("B1", 0.05, "drifted"),
            ToyPredictor.Fault("Y1", 0.05, "rattles") with { ShowsOnBench = false },
        ],
        [ToyPredictor.Volts("valve"), ToyPredictor.Volts("sensor"), ToyPredictor.Volts("supply")],
        (set, c) => Prediction.Number(
            c switch
            {
                0 => set.Contains(Supply) || set.Contains(Valve) ? 0 : 12,
                1 => set.Contains(Sensor) ? 3 : 5,
                _ => set.Contains(Supply) ? 0 : 12,
            },
            0.1));
}
