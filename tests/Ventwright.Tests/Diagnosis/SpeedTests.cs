using System.Diagnostics;
using Ventwright.Diagnosis;

namespace Ventwright.Tests.Diagnosis;

/// <summary>Size of a real sheet: 600 faults, predictions that cost 50 microseconds for each new set in a setting. Times are printed; the limit is generous.</summary>
public class SpeedTests(ITestOutputHelper output)
{
    [Fact]
    public void One_more_reading_with_600_faults_takes_a_fraction_of_a_second()
    {
        (ToyPredictor predictor, Func<int, int, double> value) = Build(600, 200);
        var diagnoser = new Diagnoser(predictor);
        var random = new Random(3);
        var readings = new List<Reading>();
        var times = new List<double>();
        for (int i = 0; i < 40; i++)
        {
            int check = (i * 7) % 200;
            readings.Add(ToyPredictor.Read($"r{i}", check, value(check, 17) + (0.1 * RandomUnit.Normal(random))));
            var watch = Stopwatch.StartNew();
            Posterior posterior = diagnoser.Explain(readings);
            times.Add(watch.Elapsed.TotalMilliseconds);
            if (i % 8 != 7) continue;
            watch.Restart();
            int lines = Suspects.Rank(posterior, []).Count;
            output.WriteLine(FormattableString.Invariant(
                $"{i + 1} readings: {times[^1]:F0} ms, {posterior.Hypotheses.Count} sets, left out at most {posterior.LeftOutAtMost:G3}, leader {posterior.CurrentSets[0]}, {lines} lines"));
            watch.Restart();
            var next = NextCheck.Rank(posterior, [.. Enumerable.Range(0, 200)], _ => 1);
            output.WriteLine(FormattableString.Invariant($"  next check {watch.Elapsed.TotalMilliseconds:F0} ms, {(next.Count > 0 ? next[0].Reason : "none")}"));
            watch.Restart();
            ProofReport proof = Proof.Judge(posterior);
            output.WriteLine(FormattableString.Invariant($"  proof {watch.Elapsed.TotalMilliseconds:F0} ms, coverage {proof.Coverage:F2}"));
        }

        output.WriteLine(FormattableString.Invariant($"median {times.Order().ElementAt(20):F0} ms, worst {times.Max():F0} ms"));
        Assert.InRange(times.Order().ElementAt(20), 0, 1500);
    }

    /// <summary>A fault moves about six checks that lie close together; a setting has ten checks.</summary>
    private static (ToyPredictor Predictor, Func<int, int, double> Value) Build(int faults, int checks)
    {
        double Value(IEnumerable<int> set, int check)
        {
            double value = 6;
            foreach (int f in set)
            {
                if ((((check * 3) + (f * 7)) % 100) < 4) value += ((f % 5) - 2.5) * 1.2;
            }

            return Math.Clamp(value, 0, 20);
        }

        var known = new System.Collections.Concurrent.ConcurrentDictionary<(FaultSet, int), bool>();
        Prediction Predict(FaultSet set, int check)
        {
            if (known.TryAdd((set, check / 10), true))
            {
                long until = Stopwatch.GetTimestamp() + (Stopwatch.Frequency / 20_000);
                while (Stopwatch.GetTimestamp() < until) Thread.SpinWait(10);
            }

            return Prediction.Number(Value(set, check), 0.1, 0.05, 0.02, 0.02, 0.01);
        }

        return (
            new(
                [.. Enumerable.Range(0, faults).Select(f => ToyPredictor.Fault($"P{f}", 0.0001 * (1 + (f % 4))))],
                [.. Enumerable.Range(0, checks).Select(c => ToyPredictor.Volts($"c{c}", setting: c / 10))],
                Predict,
                4),
            (check, fault) => Value([fault], check));
    }
}
