using Ventwright.Bench;
using Ventwright.Diagnosis;
using Ventwright.Simulation;

namespace Ventwright.Tests.Bench;

/// <summary>Work done ahead saves time and changes nothing. No outside source.</summary>
public sealed class LookAheadTests
{
    [Fact]
    public void Looking_ahead_takes_no_reading_and_changes_no_answer()
    {
        Simulator unit = ShippedSheets.Manual;
        BenchDiagnosis plain = new(unit), ahead = new(unit);
        BenchDiagnosis.Rehearse(new(unit, ahead.Predictor, ahead.Catalog), 2);
        var real = new SimulatedUnit(unit, [unit.Model.FindFault("F3:blown")!], new Random(5), 1, 0);
        for (int i = 0; i < 4; i++)
        {
            Findings one = plain.Find(), other = ahead.Find();
            ahead.LookAhead(other, 5);
            Assert.Equal(Told(one), Told(other));
            Assert.Equal(Told(one), Told(ahead.Find()));
            Assert.Equal(plain.MinutesSpent, ahead.MinutesSpent);
            Advice next = one.Next[0];
            Outcome seen = real.Observe(plain.Predictor, plain.Predictor.Check(next.Setting, next.What));
            foreach (BenchDiagnosis bench in (BenchDiagnosis[])[plain, ahead]) bench.Take($"r{i}", next.Setting, next.What, seen);
        }

        Assert.NotEqual(Told(new BenchDiagnosis(unit).Find()), Told(plain.Find()));
    }

    private static string Told(Findings findings) => string.Join('\n',
    [
        .. findings.Suspects.Take(6).Select(s => $"{s.Text} {s.Probability:0.0000}"), .. findings.Next.Select(n => $"{n.Setting.Key} {n.What} {n.Gain:0.0000}"), $"{findings.Proof.Coverage:0.0000}",
    ]);
}
