using Ventwright.Diagnosis;

namespace Ventwright.Tests.Diagnosis;

/// <summary>Faults that only a slip of the reader would save are judged with their own spread before they are dropped. Reference: Bayes' rule by hand; no outside source.</summary>
public class SecondLookTests
{
    private const double Misread = 0.01, Wide = 1.5;
    private static readonly DiagnosisOptions Options = new() { PriorOffSheet = 0, MisreadShare = Misread };

    [Fact]
    public void A_fault_with_a_wide_spread_of_its_own_explains_what_no_first_look_does()
    {
        Reading[] readings = [ToyPredictor.Read("r", 0, 7.4)];
        Posterior found = new Diagnoser(new Model(Wide), Options).Explain(readings);
        CheckEntry check = ToyPredictor.Volts("a");
        double slip = Misread * (1 - Options.BroadUnsteadyShare) / (check.RangeHigh - check.RangeLow);
        double variance = (Wide * Wide) + Math.Pow(check.Meter.Absolute, 2) + Math.Pow(check.Meter.RelativeGain * 6, 2);
        double fits = ((1 - Misread) * Math.Exp(-0.5 * 1.4 * 1.4 / variance) / Math.Sqrt(2 * Math.PI * variance)) + slip;
        double odds = Of(found, 0) / Of(found, 1);
        Assert.Equal(fits / slip, odds, 0.02 * odds);
        Assert.True(found.Present[0] > 0.9);
    }

    [Fact]
    public void A_fault_without_one_is_no_better_for_a_second_look()
    {
        Posterior found = new Diagnoser(new Model(0.05), Options).Explain([ToyPredictor.Read("r", 0, 7.4)]);
        Assert.Equal(1, Of(found, 0) / Of(found, 1), 0.05);
    }

    /// <summary>Beside a fault that acts elsewhere only the same second look counts, so that the pair is found too.</summary>
    [Fact]
    public void Pairs_are_judged_as_their_members_were()
    {
        Posterior found = new Diagnoser(new Model(Wide), Options).Explain([ToyPredictor.Read("a", 0, 7.4), ToyPredictor.Read("b", 1, 2)]);
        Assert.Equal(FaultSet.Of(0, 2), found.Explanations[0].Set);
    }

    private static double Of(Posterior found, int fault) => found.CurrentSets.First(s => s.Set == FaultSet.Of(fault)).Probability;

    /// <summary>Two faults put check a to 6 and to 8 V, the first, closely looked at, with a spread of its own; a third puts check b to 2 V.</summary>
    private sealed class Model(double wide) : IFaultPredictor
    {
        public IReadOnlyList<FaultEntry> Faults { get; } = [ToyPredictor.Fault("P1", 0.05), ToyPredictor.Fault("P2", 0.05), ToyPredictor.Fault("P3", 0.05)];

        public IReadOnlyList<CheckEntry> Checks { get; } = [ToyPredictor.Volts("a"), ToyPredictor.Volts("b")];

        public int SharedCount => 0;

        private static readonly Prediction Sound = Prediction.Number(5, 0.05), First = Prediction.Number(6, 0.05), Second = Prediction.Number(8, 0.05), Third = Prediction.Number(2, 0.05);

        public Prediction Predict(FaultSet faults, int check) => check == 1 ? faults.Contains(2) ? Third : Sound : faults.Contains(0) ? First : faults.Contains(1) ? Second : Sound;

        public Prediction PredictClosely(FaultSet faults, int check) => check == 0 && faults.Contains(0) ? Prediction.Number(6, wide) : Predict(faults, check);
    }
}
