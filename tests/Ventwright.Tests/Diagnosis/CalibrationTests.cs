using Ventwright.Diagnosis;

namespace Ventwright.Tests.Diagnosis;

/// <summary>Law: of things given the probability p, the share p is true. Units, faults, misreads and shared unknowns are drawn from the stated priors.</summary>
public class CalibrationTests
{
    [Fact]
    public void Of_suspects_given_about_ninety_per_cent_about_ninety_per_cent_are_true()
    {
        const int units = 4000;
        var bins = new Dictionary<int, (int Count, double Expected, int True)>();
        for (int seed = 0; seed < units; seed++)
        {
            var random = new Random(seed);
            var model = new RandomUnit(seed % 10, 12, 9);
            FaultSet truth = Draw(random, model.Predictor.Faults);
            double shared = RandomUnit.Normal(random);
            Reading[] readings = [.. Enumerable.Range(0, 9).OrderBy(_ => random.Next()).Take(random.Next(1, 6))
                .Select(c => model.Read(random, truth, c, shared: shared, misread: 0.01))];
            DiagnosisOptions options = new() { PriorNoFault = null, PriorOffSheet = 0, BroadUnsteadyShare = 0 };
            Posterior posterior = new Diagnoser(model.Predictor, options).Explain(readings);
            for (int f = 0; f < 12; f++)
            {
                double p = posterior.Present[f];
                int bin = p > 0.8 && p < 0.98 ? 9 : (int)(p * 5);
                (int count, double expected, int hits) = bins.GetValueOrDefault(bin);
                bins[bin] = (count + 1, expected + p, hits + (truth.Contains(f) ? 1 : 0));
            }
        }

        Assert.True(bins[9].Count > 100, $"only {bins[9].Count} suspects near 90 %");
        foreach ((int bin, (int count, double expected, int hits)) in bins)
        {
            double p = expected / count;
            double margin = (3.5 * Math.Sqrt(count * p * (1 - p))) + 1;
            Assert.True(Math.Abs(hits - expected) < margin, $"bin {bin}: {count} suspects, {expected:F1} expected, {hits} true");
        }
    }

    private static FaultSet Draw(Random random, IReadOnlyList<FaultEntry> faults)
    {
        while (true)
        {
            var set = FaultSet.Of(Enumerable.Range(0, faults.Count).Where(f => random.NextDouble() < faults[f].Odds / (1 + faults[f].Odds)));
            if (set.Count <= 3) return set;
        }
    }
}
