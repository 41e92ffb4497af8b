using Ventwright.Diagnosis;

namespace Ventwright.Tests.Diagnosis;

/// <summary>Sets that are about to be believed are judged with their own spread. Reference: Bayes' rule by hand; no outside source.</summary>
public class CloserScoreTests
{
    private static readonly DiagnosisOptions Options = new() { PriorOffSheet = 0, MisreadShare = 1e-6 };

    [Fact]
    public void A_suspect_whose_own_spread_is_wide_is_believed_less()
    {
        // Both put the reading 1 V off; closely looked at, every second unit with the first reads something else altogether.
        Reading[] readings = [ToyPredictor.Read("r", 0, 6)];
        Posterior near = new Diagnoser(new Close(1)).Explain(readings), wide = new Diagnoser(new Close(0.5)).Explain(readings);
        Posterior plain = new Diagnoser(new Close(1), Options).Explain(readings), half = new Diagnoser(new Close(0.5), Options).Explain(readings);
        Assert.True(wide.Present[0] < near.Present[0]);
        double Odds(Posterior p) => p.CurrentSets.First(s => s.Set == FaultSet.Of(0)).Probability / p.CurrentSets.First(s => s.Set == FaultSet.Of(1)).Probability;
        Assert.Equal(0.5, Odds(half) / Odds(plain), 0.01);
    }

    [Fact]
    public void What_was_asked_before_does_not_change_the_answer()
    {
        Reading[] readings = [ToyPredictor.Read("a", 0, 6), ToyPredictor.Read("b", 1, 6)];
        Posterior straight = new Diagnoser(new Close(0.5)).Explain(readings);
        var used = new Diagnoser(new Close(0.5));
        used.Explain([readings[0]]);
        used.Explain([readings[1]]);
        Posterior after = used.Explain([readings[1], readings[0]]);
        Assert.Equal(straight.Hypotheses.Select(h => (h.Current, h.Probability)), after.Hypotheses.Select(h => (h.Current, h.Probability)));
    }

    /// <summary>Two faults that look the same at a first look; closely, the first shows its reading in a share of the units only.</summary>
    private sealed class Close(double share) : IFaultPredictor
    {
        public IReadOnlyList<FaultEntry> Faults { get; } = [ToyPredictor.Fault("P1", 0.05), ToyPredictor.Fault("P2", 0.05)];

        public IReadOnlyList<CheckEntry> Checks { get; } = [ToyPredictor.Volts("a"), ToyPredictor.Volts("b")];

        public int SharedCount => 0;

        public Prediction Predict(FaultSet faults, int check) => Prediction.Number(faults.IsEmpty ? 5 : 6, 0.05);

        public Prediction PredictClosely(FaultSet faults, int check) => faults == FaultSet.Of(0) && share < 1
            ? new([PredictionComponent.Number(6, 0.05, [], share), PredictionComponent.Number(15, 0.05, [], 1 - share)])
            : Predict(faults, check);
    }
}
