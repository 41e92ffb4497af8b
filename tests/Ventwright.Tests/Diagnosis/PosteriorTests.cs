using CsCheck;
using Ventwright.Diagnosis;

namespace Ventwright.Tests.Diagnosis;

/// <summary>Search and posterior on made-up models. Reference: exhaustive enumeration and laws; no outside source.</summary>
public class PosteriorTests
{
    [Theory]
    [InlineData(1, 1500)]
    [InlineData(2, 1500)]
    [InlineData(3, 90)]
    [InlineData(4, 40)]
    public void Posterior_equals_exhaustive_enumeration_within_the_reported_bound(int seed, int maxSets)
    {
        var model = new RandomUnit(seed, 11, 10);
        var random = new Random(seed);
        FaultSet truth = FaultSet.Of(random.Next(11), random.Next(11));
        Reading[] readings = [.. Enumerable.Range(0, 10).Select(c => model.Read(random, truth, c))];
        Posterior posterior = new Diagnoser(model.Predictor, new() { MaxSets = maxSets, PriorOffSheet = 0 }).Explain(readings);
        Posterior full = new Diagnoser(model.Predictor, new() { MaxSets = 100_000, MaxInterplay = 100_000, KeepFraction = 0, PriorOffSheet = 0 }).Explain(readings);
        Assert.Equal(1 + 11 + 55 + 165, full.Hypotheses.Count);
        double[] exact = Enumerate(model, readings);
        for (int f = 0; f < 11; f++)
        {
            Assert.Equal(exact[f], full.Present[f], 1e-9);
            Assert.InRange(Math.Abs(exact[f] - posterior.Present[f]), 0, posterior.LeftOutAtMost + 1e-9);
        }

        Assert.InRange(posterior.Hypotheses.Count, 1, 12 + maxSets + 128);
    }

    [Fact]
    public void Order_of_readings_does_not_change_the_answer()
    {
        var model = new RandomUnit(7, 12, 8);
        Gen.Shuffle(Enumerable.Range(0, 10).ToArray()).Sample(order =>
        {
            var random = new Random(5);
            Reading[] readings = [.. Enumerable.Range(0, 10).Select(i => model.Read(random, FaultSet.Of(3), i % 8, $"r{i}"))];
            Posterior straight = new Diagnoser(model.Predictor).Explain(readings);
            var diagnoser = new Diagnoser(model.Predictor);
            for (int n = 1; n < 10; n++) diagnoser.Explain([.. order[..n].Select(i => readings[i])]);
            Posterior shuffled = diagnoser.Explain([.. order.Select(i => readings[i])]);
            Assert.Equal(straight.Hypotheses.Select(h => (h.Current, h.Probability)), shuffled.Hypotheses.Select(h => (h.Current, h.Probability)));
            Assert.Equal(straight.OffSheet, shuffled.OffSheet);
        }, iter: 15);
    }

    /// <summary>Soft faults each fit some readings of a sound unit a little better than it does; three at a time, the best of them at every reading would beat it, if they hid each other.</summary>
    [Fact]
    public void Triples_that_only_hiding_would_save_are_not_worked_out_by_the_thousand()
    {
        const int faults = 60, checks = 24;
        var random = new Random(8);
        double[][] shifts = [.. Enumerable.Range(0, faults).Select(_ => (double[])[.. Enumerable.Range(0, checks).Select(_ => random.Next(3) == 0 ? 0.2 * (random.NextDouble() - 0.5) : 0)])];
        var triples = new System.Collections.Concurrent.ConcurrentDictionary<FaultSet, bool>();
        var predictor = new ToyPredictor(
            [.. Enumerable.Range(0, faults).Select(f => ToyPredictor.Fault($"P{f}", 0.03))], [.. Enumerable.Range(0, checks).Select(c => ToyPredictor.Volts($"c{c}", sd: 0.03))],
            (set, c) =>
            {
                if (set.Count == 3) triples[set] = true;
                return Prediction.Number(5 + set.Sum(f => shifts[f][c]), 0.03);
            });
        Reading[] readings = [.. Enumerable.Range(0, checks).Select(c => ToyPredictor.Read($"r{c}", c, 5 + (0.03 * RandomUnit.Normal(random))))];
        DiagnosisOptions options = new();
        new Diagnoser(predictor, options).Explain(readings);
        Assert.InRange(triples.Count, 1, 2 * options.MaxInterplay);
    }

    [Fact]
    public void Two_faults_that_mask_each_other_are_found_as_a_set()
    {
        // Either fault alone shifts the reading; together they cancel on the first check and show on the second only.
        var predictor = new ToyPredictor(
            [ToyPredictor.Fault("P1", 0.02), ToyPredictor.Fault("P2", 0.02), ToyPredictor.Fault("P3", 0.02)],
            [ToyPredictor.Volts("a"), ToyPredictor.Volts("b")],
            (set, c) => Prediction.Number(
                c == 0 ? 5 + (set.Contains(0) ? 2 : 0) - (set.Contains(1) ? 2 : 0) : set.Contains(0) && set.Contains(1) ? 9 : 6 + set.Count, 0.05));
        Posterior posterior = new Diagnoser(predictor).Explain([ToyPredictor.Read("a", 0, 5), ToyPredictor.Read("b", 1, 9)]);
        Assert.Equal(FaultSet.Of(0, 1), posterior.CurrentSets[0].Set);
    }

    [Fact]
    public void After_a_renewal_earlier_readings_still_count_for_everything_else()
    {
        // Two parts in a chain: the first check sees both, the second sees P2 alone.
        var predictor = new ToyPredictor(
            [ToyPredictor.Fault("P1", 0.05), ToyPredictor.Fault("P2", 0.05)],
            [ToyPredictor.Volts("both"), ToyPredictor.Volts("second")],
            (set, c) => Prediction.Number(c == 0 ? (set.IsEmpty ? 5 : 0) : set.Contains(1) ? 0 : 5, 0.05));
        var diagnoser = new Diagnoser(predictor);
        Reading bad = ToyPredictor.Read("bad", 0, 0), second = ToyPredictor.Read("second", 1, 5);
        Posterior before = diagnoser.Explain([bad, second]);
        Assert.True(before.Present[0] > 0.9);
        var renewal = new Renewal("new P1", "P1", 0.1);
        Posterior after = diagnoser.Explain([bad, second, renewal]);
        Assert.InRange(after.Present[0], 0, 0.02);
        Assert.Equal(FaultSet.Of(0), after.Hypotheses[0].Past);
        Assert.False(Proof.Judge(after).Parts[0].Proven, "nothing was read since P1 was renewed");
        Assert.True(Proof.Judge(after).Parts[1].Proven, "the reading of P2 still counts");
        Posterior good = diagnoser.Explain([bad, second, renewal, ToyPredictor.Read("good", 0, 5)]);
        Assert.True(Proof.Judge(good).Parts[0].Proven);
        Posterior still = diagnoser.Explain([bad, second, renewal, ToyPredictor.Read("still bad", 0, 0)]);
        Assert.True(still.Present[0] > after.Present[0] && still.Present[1] > after.Present[1]);
        Posterior undone = diagnoser.Explain([bad, second]);
        Assert.Equal(before.Present, undone.Present);
    }

    [Fact]
    public void Disagreeing_repeats_raise_the_intermittent_fault_and_wiggling_raises_it_more()
    {
        ToyPredictor With(bool intermittent) => new(
            [ToyPredictor.Fault("X1", 0.02, "dry joint", intermittent ? 0.3 : 0), ToyPredictor.Fault("R1", 0.05, "open")],
            [ToyPredictor.Volts("plain"), ToyPredictor.Volts("wiggled", wiggle: "X1")],
            (set, _) => Prediction.Number(set.IsEmpty ? 5 : 0, 0.05));
        Reading good = ToyPredictor.Read("r0", 0, 5), bad = ToyPredictor.Read("r1", 0, 0);
        Posterior repeats = new Diagnoser(With(true)).Explain([good, bad]);
        Assert.True(repeats.Present[0] > 5 * repeats.Present[1]);
        Assert.Empty(repeats.Contradictions);
        Posterior wiggled = new Diagnoser(With(true)).Explain([good, ToyPredictor.Read("w", 1, 0)]);
        Assert.True(wiggled.Present[0] / wiggled.Present[1] > 2 * repeats.Present[0] / repeats.Present[1]);
        Posterior never = new Diagnoser(With(false)).Explain([good, bad]);
        Assert.Equal(["r0", "r1"], never.Contradictions.Single().Order(StringComparer.Ordinal));
    }

    [Fact]
    public void Something_off_the_sheet_leads_only_when_no_set_explains_the_readings()
    {
        var predictor = new ToyPredictor(
            [ToyPredictor.Fault("P1", 0.05), ToyPredictor.Fault("P2", 0.05)],
            [.. Enumerable.Range(0, 6).Select(i => ToyPredictor.Volts($"c{i}"))],
            (set, c) => Prediction.Number(5 + (set.Contains(0) && c < 3 ? 2 : 0) + (set.Contains(1) && c >= 3 ? 3 : 0), 0.1));
        var diagnoser = new Diagnoser(predictor);
        Posterior known = diagnoser.Explain([.. Enumerable.Range(0, 6).Select(c => ToyPredictor.Read($"r{c}", c, c < 3 ? 7 : 5))]);
        Assert.InRange(known.OffSheet, 0, 1e-3);
        Posterior odd = diagnoser.Explain([.. Enumerable.Range(0, 6).Select(c => ToyPredictor.Read($"r{c}", c, c is 1 or 4 or 5 ? 13 + c : 5))]);
        Assert.True(odd.OffSheet > 0.9, $"off the sheet {odd.OffSheet}");
        Assert.Equal(["r1", "r4", "r5"], odd.UnexplainedReadings.Order(StringComparer.Ordinal));
    }

    [Fact]
    public void Faults_of_one_cause_are_found_together_more_often()
    {
        ToyPredictor With(string? cause) => new(
            [ToyPredictor.Fault("P1", 0.02) with { CommonCause = cause }, ToyPredictor.Fault("P2", 0.02) with { CommonCause = cause }],
            [ToyPredictor.Volts("one")],
            (set, _) => Prediction.Number(set.Contains(0) ? 0 : 5, 0.05));
        Posterior Read(string? cause) => new Diagnoser(With(cause)).Explain([ToyPredictor.Read("r", 0, 0)]);
        Assert.True(Read("water").Present[1] > 3 * Read(null).Present[1]);
    }

    [Fact]
    public void A_wrong_event_says_what_is_wrong()
    {
        var model = new RandomUnit(1, 3, 2);
        var diagnoser = new Diagnoser(model.Predictor);
        Assert.Contains("check number 9", Assert.Throws<ArgumentException>(() => diagnoser.Explain([ToyPredictor.Read("r", 9, 1)])).Message, StringComparison.Ordinal);
        Assert.Contains("must be a number", Assert.Throws<ArgumentException>(() => diagnoser.Explain([ToyPredictor.Say("r", 0, 0)])).Message, StringComparison.Ordinal);
        Assert.Contains("Two events", Assert.Throws<ArgumentException>(
            () => diagnoser.Explain([ToyPredictor.Read("r", 0, 1), ToyPredictor.Read("r", 1, 1)])).Message, StringComparison.Ordinal);
    }

    /// <summary>Marginals by going through all sets of up to three faults, priors as stated, likelihoods from the filter.</summary>
    private static double[] Enumerate(RandomUnit model, Reading[] readings)
    {
        var options = new DiagnosisOptions();
        var cache = new PredictionCache(model.Predictor, options.WiggleShare);
        EvidenceView view = EvidenceView.Of(model.Predictor, options, readings);
        var filter = new ReadingFilter(view, cache, options);
        int n = model.Predictor.Faults.Count;
        int[] masks = [.. Enumerable.Range(0, 1 << n).Where(m => int.PopCount(m) <= 3)];
        double Odds(int mask) => Enumerable.Range(0, n).Where(f => (mask >> f & 1) == 1).Aggregate(1.0, (p, f) => p * model.Predictor.Faults[f].Odds);
        double all = masks.Where(m => m != 0).Sum(Odds);
        double[] weights = [.. masks.Select(m => (m == 0 ? 0.1 : 0.9 * Odds(m) / all)
            * Math.Exp(filter.Run(FaultSet.Of(Enumerable.Range(0, n).Where(f => (m >> f & 1) == 1))).LogLikelihood))];
        double sum = weights.Sum();
        return [.. Enumerable.Range(0, n).Select(f => masks.Select((m, i) => (m >> f & 1) == 1 ? weights[i] : 0).Sum() / sum)];
    }
}
