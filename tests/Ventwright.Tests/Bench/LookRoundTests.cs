using Ventwright.Bench;
using Ventwright.Diagnosis;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Tests.Bench;

/// <summary>Looks that are made in one go. The program's own contract; no outside source.</summary>
public sealed class LookRoundTests
{
    private static readonly Simulator Unit = ShippedSheets.Manual;

    [Fact]
    public void A_round_is_of_one_setting_needs_no_tool_and_costs_what_it_says()
    {
        BenchDiagnosis bench = Prepared();
        Advice[] rounds = [.. Followed(bench).Where(a => a.Also.Count > 0)];
        Assert.NotEmpty(rounds);
        foreach (Advice round in rounds)
        {
            Assert.Equal(round.Looks.Count, round.Looks.Distinct().Count());
            int[] checks = [.. round.Looks.Select(look => bench.Predictor.Check(round.Setting, look))];
            Assert.All(checks, c => Assert.False(bench.Predictor.Checks[c].IsNumber));
            Assert.True(round.Gain > 0);
        }
    }

    [Fact]
    public void A_round_takes_less_time_than_its_looks_one_by_one_and_no_more_than_it_says()
    {
        BenchDiagnosis bench = Prepared();
        Advice round = Followed(bench).First(a => a.Also.Count > 0);
        int[] checks = [.. round.Looks.Select(look => bench.Predictor.Check(round.Setting, look))];
        Assert.True(round.Minutes < checks.Sum(bench.Minutes));
        double before = bench.MinutesSpent;
        for (int i = 0; i < checks.Length; i++) bench.Take($"look {i}", round.Setting, round.Looks[i], Outcome.Word(0));
        Assert.Equal(round.Minutes, bench.MinutesSpent - before, 1e-9);
    }

    [Fact]
    public void What_lies_behind_a_cover_is_in_no_round_before_it_was_opened()
    {
        BenchDiagnosis bench = Prepared();
        foreach (Advice round in Followed(bench).Where(a => a.Also.Count > 0))
            Assert.All(round.Looks, look => Assert.Null(Unit.Model.Places[bench.Predictor.Checks[bench.Predictor.Check(round.Setting, look)].Place].Opens));
    }

    private static BenchDiagnosis Prepared()
    {
        var bench = new BenchDiagnosis(Unit);
        bench.Prepare();
        return bench;
    }

    /// <summary>All advice of a few steps in which a sound unit is looked at as advised; the bench stands after each step as the advice has it.</summary>
    private static IEnumerable<Advice> Followed(BenchDiagnosis bench)
    {
        var unit = new SimulatedUnit(Unit, [], new Random(5), within: 0.5, misreads: 0);
        for (int step = 0; step < 8; step++)
        {
            IReadOnlyList<Advice> next = bench.Next(bench.Explain(), 8);
            foreach (Advice advice in next) yield return advice;
            if (next.Count == 0) yield break;
            foreach (Observable look in next[0].Looks)
                bench.Take($"{step} {look}", next[0].Setting, look, unit.Observe(bench.Predictor, bench.Predictor.Check(next[0].Setting, look)));
        }
    }
}
