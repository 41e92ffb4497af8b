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

    /// <summary>Predictions leave a little to every word; where nothing but that little is for a word, the fault is looked at again.</summary>
    [Fact]
    public void A_word_that_nobody_expects_calls_for_a_second_look()
    {
        Prediction sound = Prediction.Words(0.98, 0.01, 0.01), first = Prediction.Words(0.01, 0.01, 0.98), closely = Prediction.Words(0.01, 0.29, 0.7);
        var model = new ToyPredictor([ToyPredictor.Fault("P1", 0.05), ToyPredictor.Fault("P2", 0.05)], [ToyPredictor.Words("a", "none", "weak", "strong")], (set, _) => set.Count == 0 ? sound : first)
        {
            Closely = (set, _) => set.Contains(0) ? closely : set.Count == 0 ? sound : first,
        };
        Posterior found = new Diagnoser(model, Options).Explain([ToyPredictor.Say("r", 0, 1)]);
        double slip = Misread / 3, of = ((1 - Misread) * 0.29) + slip, other = ((1 - Misread) * 0.01) + slip;
        Assert.Equal(of / other, Of(found, 0) / Of(found, 1), 0.05 * of / other);
    }

    /// <summary>A fault that shows nothing in the nominal unit, but in a quarter of units with it flips a state, explains the flip with a quarter of its weight.</summary>
    [Fact]
    public void A_fault_that_flips_a_state_in_some_units_explains_the_flip()
    {
        Posterior found = new Diagnoser(new Quiet(), Options).Explain([ToyPredictor.Read("r", 0, 8)]);
        CheckEntry check = ToyPredictor.Volts("a");
        double slip = Misread * (1 - Options.BroadUnsteadyShare) / (check.RangeHigh - check.RangeLow);
        double variance = (0.05 * 0.05) + Math.Pow(check.Meter.Absolute, 2) + Math.Pow(check.Meter.RelativeGain * 8, 2);
        double fits = ((1 - Misread) * Quiet.FlipShare / Math.Sqrt(2 * Math.PI * variance)) + slip;
        Assert.Equal(fits / slip, Of(found, 0) / Of(found, 1), 0.02 * fits / slip);
        Assert.Equal(FaultSet.Of(0), found.Explanations[0].Set);
    }

    [Fact]
    public void A_flip_is_seen_beside_a_fault_that_moves_the_same_check()
    {
        Posterior found = new Diagnoser(new Quiet(), Options).Explain([ToyPredictor.Read("a", 0, 8), ToyPredictor.Read("b", 1, 2)]);
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

    /// <summary>A first fault flips check a from 5 to 8 V in some units, which the usual prediction does not know; a third puts it to 6 V and check b to 2 V; a second does nothing.</summary>
    private sealed class Quiet : IFaultPredictor
    {
        public const double FlipShare = 0.25;

        public IReadOnlyList<FaultEntry> Faults { get; } = [ToyPredictor.Fault("P1", 0.05), ToyPredictor.Fault("P2", 0.05), ToyPredictor.Fault("P3", 0.05)];

        public IReadOnlyList<CheckEntry> Checks { get; } = [ToyPredictor.Volts("a"), ToyPredictor.Volts("b")];

        public int SharedCount => 0;

        private static readonly Prediction Sound = Prediction.Number(5, 0.05), Moved = Prediction.Number(6, 0.05), Third = Prediction.Number(2, 0.05), Flips = new(
            [PredictionComponent.Number(5, 0.05, [], 1 - FlipShare), PredictionComponent.Number(8, 0.05, [], FlipShare)]);

        public Prediction Predict(FaultSet faults, int check) => !faults.Contains(2) ? Sound : check == 0 ? Moved : Third;

        public Prediction PredictClosely(FaultSet faults, int check) => check == 0 && faults.Contains(0) ? Flips : Predict(faults, check);

        public bool MayAct(int fault, int check) => fault == 0 && check == 0;
    }
}
