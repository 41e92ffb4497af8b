using Ventwright.Diagnosis;

namespace Ventwright.Tests.Diagnosis;

/// <summary>
/// Two-level noisy-or network. Reference: inclusion-exclusion over the present findings (Heckerman, "A tractable inference algorithm for diagnosing
/// multiple diseases", UAI 1989; formula from memory), coded here independently.
/// </summary>
public class NoisyOrTests
{
    private const double Leak = 0.02;
    private static readonly double[] Prior = [0.1, 0.05, 0.2, 0.02];
    private static readonly double[,] Cause = { { 0.8, 0.3, 0, 0.5 }, { 0, 0.9, 0.4, 0 }, { 0.6, 0, 0.7, 0.1 }, { 0.2, 0.5, 0, 0.95 } };

    [Theory]
    [InlineData("++-+")]
    [InlineData("+--+")]
    [InlineData("----")]
    [InlineData("++++")]
    public void Marginals_equal_inclusion_and_exclusion(string findings)
    {
        var predictor = new ToyPredictor(
            [.. Prior.Select((p, d) => ToyPredictor.Fault($"d{d}", p / (1 - p)))],
            [.. Enumerable.Range(0, 4).Select(f => ToyPredictor.Words($"f{f}", "absent", "present"))],
            (set, finding) =>
            {
                double absent = (1 - Leak) * set.Aggregate(1.0, (q, d) => q * (1 - Cause[d, finding]));
                return Prediction.Words(absent, 1 - absent);
            });
        DiagnosisOptions options = ToyPredictor.Crisp(4) with { MisreadShare = 1e-12, KeepFraction = 1e-15 };
        Posterior posterior = new Diagnoser(predictor, options).Explain([.. findings.Select((c, f) => ToyPredictor.Say($"r{f}", f, c == '+' ? 1 : 0))]);
        double all = Evidence(findings, -1);
        for (int d = 0; d < 4; d++) Assert.Equal(Evidence(findings, d) / all, posterior.Present[d], 1e-8);
    }

    /// <summary>Probability of the findings, and of one disease together with them.</summary>
    private static double Evidence(string findings, int disease)
    {
        int[] present = [.. Enumerable.Range(0, 4).Where(f => findings[f] == '+')];
        double sum = 0;
        for (int mask = 0; mask < 1 << present.Length; mask++)
        {
            int[] off = [.. Enumerable.Range(0, 4).Where(f => findings[f] == '-'), .. present.Where((_, i) => (mask >> i & 1) == 1)];
            double term = Math.Pow(1 - Leak, off.Length) * (int.PopCount(mask) % 2 == 0 ? 1 : -1);
            for (int d = 0; d < 4; d++)
            {
                double with = Prior[d] * off.Aggregate(1.0, (q, f) => q * (1 - Cause[d, f]));
                term *= d == disease ? with : with + 1 - Prior[d];
            }

            sum += term;
        }

        return sum;
    }
}
