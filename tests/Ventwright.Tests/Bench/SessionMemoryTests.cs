using Ventwright.Bench;
using Ventwright.Diagnosis;
using Ventwright.Simulation;

namespace Ventwright.Tests.Bench;

/// <summary>What a session keeps of sets of faults. No outside source.</summary>
public sealed class SessionMemoryTests
{
    private static readonly Simulator Unit = ShippedSheets.Manual;

    [Fact]
    public void Forgetting_sets_changes_no_answer()
    {
        var predictor = new SheetPredictor(Unit);
        SessionMemory usual = new(predictor), brief = new(predictor, mostSets: 50);
        EvidenceEvent[] events = Readings(predictor);
        int most = 0;
        for (int n = 1; n <= events.Length; n++)
        {
            Posterior one = usual.Explain(events[..n], null), other = brief.Explain(events[..n], null);
            Assert.Equal(one.Hypotheses.Select(h => (h.Current, h.Probability)), other.Hypotheses.Select(h => (h.Current, h.Probability)));
            Assert.Equal(one.OffSheet, other.OffSheet);
            most = Math.Max(most, brief.Kept);
        }

        Assert.True(most > 50, "so few sets were asked for that nothing was forgotten");
        Assert.True(brief.Kept < usual.Kept, $"{brief.Kept} are kept where {usual.Kept} were asked for");
    }

    /// <summary>A session that is over leaves nothing behind but what single faults show.</summary>
    [Fact]
    public void Sessions_do_not_see_each_others_sets()
    {
        var predictor = new SheetPredictor(Unit);
        SessionMemory first = new(predictor), second = new(predictor);
        EvidenceEvent[] events = Readings(predictor);
        first.Explain(events, null);
        Assert.True(first.Kept > 0);
        Assert.Equal(0, second.Kept);
    }

    private static EvidenceEvent[] Readings(SheetPredictor predictor)
    {
        var catalog = new BenchCatalog(Unit);
        var bench = new BenchDiagnosis(Unit, predictor, catalog);
        var real = new SimulatedUnit(Unit, [Unit.Model.FindFault("F3:blown")!], new Random(4), within: 1, misreads: 0);
        var events = new List<EvidenceEvent>();
        for (int i = 0; i < 6; i++)
        {
            Advice next = bench.Find().Next[0];
            foreach (var look in next.Looks)
            {
                int check = predictor.Check(next.Setting, look);
                Outcome seen = real.Observe(predictor, check);
                events.Add(new Reading($"{i} {look}", check, seen));
                bench.Take($"{i} {look}", next.Setting, look, seen);
            }
        }

        return [.. events];
    }
}
