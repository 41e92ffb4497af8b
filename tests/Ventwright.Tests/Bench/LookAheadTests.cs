using Ventwright.Bench;
using Ventwright.Diagnosis;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Tests.Bench;

/// <summary>Working ahead of the person against not doing it. No outside source.</summary>
public sealed class LookAheadTests
{
    private static readonly Simulator Unit = ShippedSheets.Manual;
    private static readonly BenchCatalog Catalog = new(Unit);

    [Fact]
    public void Looking_ahead_changes_no_answer_and_spends_no_minutes()
    {
        var predictor = new SheetPredictor(Unit);
        BenchDiagnosis plain = new(Unit, new SheetPredictor(Unit), Catalog), ahead = new(Unit, predictor, Catalog);
        var real = new SimulatedUnit(Unit, [Unit.Model.FindFault("F3:blown")!], new Random(4), within: 1, misreads: 0);
        for (int i = 0; i < 4; i++)
        {
            Findings before = plain.Find(), same = ahead.Find();
            Assert.Equal(before.Suspects.Select(s => s.Probability), same.Suspects.Select(s => s.Probability));
            Assert.Equal(before.Next.Select(n => (n.What, n.Setting.Key, n.Gain, n.Minutes)), same.Next.Select(n => (n.What, n.Setting.Key, n.Gain, n.Minutes)));
            ahead.LookAhead(same, TestContext.Current.CancellationToken);
            Assert.Equal(plain.MinutesSpent, ahead.MinutesSpent);
            Advice next = before.Next[0];
            Outcome seen = real.Observe(predictor, predictor.Check(next.Setting, next.What));
            foreach (BenchDiagnosis bench in (BenchDiagnosis[])[plain, ahead]) bench.Take($"{i}", next.Setting, next.What, seen);
        }
    }

    [Fact]
    public void It_goes_through_several_answers_where_they_differ_and_none_once_it_is_told_to_end()
    {
        var bench = new BenchDiagnosis(Unit, null, Catalog);
        bench.Take("low", ShippedSheets.Set(Unit, "mode=vent"), new(ObservableKind.Volts, "feed.ctl"), Outcome.Number(0.02));
        Findings found = bench.Find();
        bench.LookAhead(found, new CancellationToken(canceled: true));
        Assert.Equal(0, bench.AnswersAhead);
        bench.LookAhead(found, TestContext.Current.CancellationToken);
        Assert.InRange(bench.AnswersAhead, 2, 4);
    }

    /// <summary>An answer in words that was looked at ahead is there at once, and is what working it out gives; anything else is worked out.</summary>
    [Fact]
    public void The_likely_word_is_there_at_once_and_another_is_worked_out()
    {
        var predictor = new SheetPredictor(Unit);
        BenchDiagnosis plain = new(Unit, predictor, Catalog), ahead = new(Unit, predictor, Catalog);
        foreach (BenchDiagnosis bench in (BenchDiagnosis[])[plain, ahead]) bench.Take("first", ShippedSheets.Set(Unit, "mode=vent"), new(ObservableKind.Volts, "feed.ctl"), Outcome.Number(12.9));
        Findings found = ahead.Find();
        Advice next = found.Next.First(n => Readings.WordsOf(Unit.Model, n.What).Count > 0) with { Also = [] };
        found = found with { Next = [next] };
        ahead.LookAhead(found, TestContext.Current.CancellationToken);
        int check = predictor.Check(next.Setting, next.What), words = predictor.Checks[check].Words.Count;
        int likely = Enumerable.Range(0, words).MaxBy(w => predictor.Predict(FaultSet.None, check).Components[0].WordShares[w]), other = (likely + 1) % words;

        ahead.Take("said", next.Setting, next.What, Outcome.Word(likely));
        plain.Take("said", next.Setting, next.What, Outcome.Word(likely));
        Findings known = ahead.Find(), anew = plain.Find();
        Assert.Same(known, ahead.Find());
        Assert.NotSame(anew, plain.Find());
        Assert.Equal(anew.Suspects.Select(s => s.Probability), known.Suspects.Select(s => s.Probability));
        Assert.Equal(anew.Next.Select(n => (n.What, n.Setting.Key, n.Gain, n.Minutes)), known.Next.Select(n => (n.What, n.Setting.Key, n.Gain, n.Minutes)));

        ahead.Undo("first");
        plain.Undo("first");
        Assert.Equal(plain.Find().Suspects.Select(s => s.Probability), ahead.Find().Suspects.Select(s => s.Probability));
        Assert.NotSame(known, ahead.Find());
        ahead.Take("again", next.Setting, next.What, Outcome.Word(likely));
        Assert.NotSame(known, ahead.Find());
        ahead.Undo("again");
        ahead.Undo("said");
        ahead.Take("other", next.Setting, next.What, Outcome.Word(other));
        Assert.NotEqual(known.Suspects[0].Probability, ahead.Find().Suspects[0].Probability);
    }

    /// <summary>Where a sound unit may well show either of two words, both are looked at.</summary>
    [Fact]
    public void The_second_likeliest_word_is_there_at_once_as_well()
    {
        var predictor = new SheetPredictor(Unit);
        var bench = new BenchDiagnosis(Unit, predictor, Catalog);
        bench.Take("first", ShippedSheets.Set(Unit, "mode=vent"), new(ObservableKind.Volts, "feed.ctl"), Outcome.Number(12.9));
        (int Check, double[] Shares)[] open = [.. bench.Candidates.Where(c => predictor[c].What.Kind == ObservableKind.Airflow)
            .Select(c => (c, (double[])[.. predictor.Predict(FaultSet.None, c).Components[0].WordShares]))];
        (int check, double[] shares) = open.First(p => p.Shares.OrderDescending().ElementAt(1) > 0.2);
        Findings found = bench.Find();
        bench.LookAhead(found with { Next = [found.Next[0] with { Setting = predictor[check].Setting, What = predictor[check].What, Also = [] }] }, TestContext.Current.CancellationToken);
        foreach (int word in Enumerable.Range(0, shares.Length).OrderByDescending(w => shares[w]).Take(2))
        {
            bench.Take("said", predictor[check].Setting, predictor[check].What, Outcome.Word(word));
            Assert.Same(bench.Find(), bench.Find());
            bench.Undo("said");
        }
    }
}
