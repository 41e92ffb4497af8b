using Ventwright.Diagnosis;

namespace Ventwright.Tests.Diagnosis;

/// <summary>Choice of the next check; entropies by hand, no outside source.</summary>
public class NextCheckTests
{
    [Fact]
    public void A_check_that_halves_the_suspects_beats_one_that_singles_one_out()
    {
        Posterior posterior = new Diagnoser(Four()).Explain([ToyPredictor.Read("r", 0, 0)]);
        var ranked = NextCheck.Rank(posterior, [1, 2], _ => 1);
        Assert.Equal(2, ranked[0].Check);
        Assert.Equal(1.0, ranked[0].Gain, 0.1);
        Assert.Equal(2.0 - (0.75 * Math.Log2(3)), ranked[1].Gain, 0.1);
        Assert.StartsWith("tells P", ranked[0].Reason, StringComparison.Ordinal);
    }

    [Fact]
    public void The_reason_gives_parts_by_their_names_and_names_one_part_once()
    {
        string Reason(params string[] parts)
        {
            var predictor = new ToyPredictor(
                [.. parts.Select((p, f) => ToyPredictor.Fault(p, 0.01, f == 0 ? "loose" : "open") with { PartName = $"Ground point ({p})" })],
                [ToyPredictor.Volts("any"), ToyPredictor.Volts("first")], (set, c) => Prediction.Number(set.Any(f => c == 0 || f == 0) ? 0 : 5, 0.05));
            return NextCheck.Rank(new Diagnoser(predictor).Explain([ToyPredictor.Read("r", 0, 0)]), [1], _ => 1)[0].Reason;
        }

        Assert.Contains(Reason("G1", "G1"), (string[])["tells loose from open of Ground point (G1)", "tells open from loose of Ground point (G1)"]);
        Assert.Contains(Reason("G1", "G2"), (string[])["tells Ground point (G1) loose from Ground point (G2) open", "tells Ground point (G2) open from Ground point (G1) loose"]);
    }

    [Fact]
    public void Minutes_count()
    {
        Posterior posterior = new Diagnoser(Four()).Explain([ToyPredictor.Read("r", 0, 0)]);
        Assert.Equal(1, NextCheck.Rank(posterior, [1, 2], c => c == 2 ? 10 : 1)[0].Check);
    }

    [Fact]
    public void A_check_that_was_read_is_not_asked_for_again()
    {
        Posterior posterior = new Diagnoser(Four()).Explain([ToyPredictor.Read("r", 0, 0), ToyPredictor.Read("half", 2, 0)]);
        var ranked = NextCheck.Rank(posterior, [1, 2, 3], _ => 1);
        Assert.NotEqual(2, ranked[0].Check);
        Assert.True(ranked.Where(s => s.Check == 2).All(s => s.Gain < 0.1));
    }

    [Fact]
    public void Sets_that_no_available_check_separates_are_one_line()
    {
        Posterior posterior = new Diagnoser(Four()).Explain([ToyPredictor.Read("r", 0, 0)]);
        Suspect first = Suspects.Rank(posterior, [2])[0];
        Assert.Equal([FaultSet.Of(0), FaultSet.Of(1)], first.Sets.Take(2).Select(p => p.Set));
        Assert.DoesNotContain(first.Sets, p => p.Set == FaultSet.Of(2));
        Assert.EndsWith(": no available check tells them apart", first.Text, StringComparison.Ordinal);
        var apart = Suspects.Rank(posterior, [1, 2, 3]).Take(4).ToArray();
        Assert.Equal([0, 1, 2, 3], apart.Select(s => s.Sets[0].Set.Single()).Order());
    }

    [Fact]
    public void Once_suspects_are_settled_the_check_that_rules_out_most_comes_first()
    {
        var predictor = new ToyPredictor(
            [ToyPredictor.Fault("P0", 0.05), ToyPredictor.Fault("P1", 0.01), ToyPredictor.Fault("P2", 0.04)],
            [ToyPredictor.Volts("zero"), ToyPredictor.Volts("one"), ToyPredictor.Volts("two")],
            (set, c) => Prediction.Number(set.Contains(c) ? 0 : 5, 0.05));
        Posterior posterior = new Diagnoser(predictor).Explain([ToyPredictor.Read("r", 0, 0)]);
        var ranked = NextCheck.Rank(posterior, [0, 1, 2], _ => 1);
        Assert.Equal([2, 1], ranked.Select(s => s.Check));
        Assert.All(ranked, s => Assert.Equal(CheckPurpose.Prove, s.Purpose));
        Assert.Equal(0.4, ranked[0].Gain, 0.03);
        Posterior done = new Diagnoser(predictor).Explain([ToyPredictor.Read("r", 0, 0), ToyPredictor.Read("a", 1, 5), ToyPredictor.Read("b", 2, 5)]);
        Assert.Empty(NextCheck.Rank(done, [0, 1, 2], _ => 1));
        Assert.Equal(2, Proof.Judge(done).Parts.Count(p => p.Proven));
    }

    /// <summary>
    /// One step: singling one of four out is 0.81 bits in 2 minutes with attention, halving them 1 bit in 2.6. Two steps: halving, then the check that splits the
    /// half left over, is 2 bits in 4.6 minutes; singling one out and going on from there 1.5 bits in 3.5.
    /// </summary>
    [Fact]
    public void Looking_two_checks_ahead_takes_the_dearer_check_that_leads_further()
    {
        int[][] bad = [[0, 1, 2, 3], [0, 1], [0], [3]];
        var predictor = Suspected(bad);
        Posterior posterior = new Diagnoser(predictor).Explain([ToyPredictor.Read("r", 0, 0)]);
        double Minutes(int check) => check == 1 ? 1.6 : 1;
        Assert.NotEqual(1, NextCheck.ToFind(posterior, [1, 2, 3], Minutes)[0].Check);
        IReadOnlyList<Suggestion> ahead = NextCheck.ToFind(posterior, [1, 2, 3], Minutes, steps: 2);
        Assert.Equal(1, ahead[0].Check);
        Assert.Equal(3, ahead.Count);
    }

    /// <summary>Four equal suspects: check 0 is bad with any, check 1 with the first, check 2 with the first two, check 3 with the first and the third.</summary>
    [Fact]
    public void Good_readings_in_one_go_rule_out_what_each_of_them_rules_out()
    {
        var predictor = new ToyPredictor(
            [ToyPredictor.Fault("P0", 0.05), ToyPredictor.Fault("P1", 0.01), ToyPredictor.Fault("P2", 0.04)],
            [ToyPredictor.Volts("zero"), ToyPredictor.Volts("one"), ToyPredictor.Volts("two")],
            (set, c) => Prediction.Number(set.Contains(c) ? 0 : 5, 0.05));
        Posterior posterior = new Diagnoser(predictor).Explain([ToyPredictor.Read("r", 0, 0)]);
        var ranked = NextCheck.ToProve(posterior, Proof.Judge(posterior), [1, 2], _ => 1, rounds: [new([1, 2], 1.2)]);
        Assert.Equal([1, 2], (int[])[ranked[0].Check, .. ranked[0].Also]);
        Assert.Equal(ranked[1].Gain + ranked[2].Gain, ranked[0].Gain, 0.02 * ranked[0].Gain);
        Assert.Equal("good readings rule out P2 bad and 1 more", ranked[0].Reason);
    }

    private static ToyPredictor Four()
    {
        return Suspected([[0, 1, 2, 3], [0], [0, 1], [0, 2]]);
    }

    /// <summary>Four equal suspects, and for each check those that make it read low.</summary>
    private static ToyPredictor Suspected(int[][] bad)
    {
        return new(
            [.. Enumerable.Range(0, 4).Select(p => ToyPredictor.Fault($"P{p}", 0.01))],
            [.. bad.Select((_, c) => ToyPredictor.Volts($"c{c}"))],
            (set, c) => Prediction.Number(set.Any(f => bad[c].Contains(f)) ? 0 : 5, 0.05));
    }
}
