using Ventwright.Bench;
using Ventwright.Simulation;

namespace Ventwright.Tests.Bench;

/// <summary>A rehearsal saves time and changes no answer. No outside source.</summary>
public sealed class RehearsalTests
{
    [Fact]
    public void A_rehearsal_goes_through_its_checks_and_changes_no_answer_of_a_session_after_it()
    {
        Simulator unit = ShippedSheets.Manual;
        var rehearsed = new BenchDiagnosis(unit);
        BenchDiagnosis.Rehearse(rehearsed, 2);
        Assert.True(rehearsed.MinutesSpent > 0);
        Assert.NotEqual(Told(new(unit)), Told(rehearsed));
        Assert.Equal(Told(new(unit)), Told(new(unit, rehearsed.Predictor, rehearsed.Catalog)));
    }

    private static string Told(BenchDiagnosis bench)
    {
        Findings findings = bench.Find();
        return string.Join('\n', [.. findings.Suspects.Take(6).Select(s => $"{s.Text} {s.Probability:0.0000}"), .. findings.Next.Select(n => $"{n.Setting.Key} {n.What} {n.Gain:0.0000}"), $"{findings.Proof.Coverage:0.0000}"]);
    }
}
