using Ventwright.Diagnosis;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Bench;

/// <summary>
/// A known-good part as an instrument: swapped in, a check that came out badly comes out well if the old part was the bad one. Offered only where no other check
/// tells the leading suspects apart.
/// </summary>
internal sealed class SwapChecks(UnitModel model, BenchDiagnosis bench)
{
    private const int MostAdvice = 3, ChecksSeen = 8;
    private const double LeastShare = 0.05, LeastBelief = 0.3, LeastGain = 0.05;

    /// <summary>Parts of the leading line that are worth a swap, best first.</summary>
    /// <param name="leader">The leading line of suspects.</param>
    /// <param name="made">Checks that were made, in order.</param>
    public IReadOnlyList<SwapAdvice> Of(Suspect leader, IReadOnlyList<int> made)
    {
        (FaultSet Set, double Probability)[] sets = [.. leader.Sets.Where(s => s.Probability > LeastShare * leader.Probability)];
        int[] parts = [.. sets.SelectMany(s => s.Set).Select(f => model.Faults[f].Part).Distinct()];
        if (leader.Probability < LeastBelief || parts.Length < 2) return [];
        int[] bad = [.. made.Reverse().Distinct().Where(c => !ReferenceEquals(Predict(sets[0].Set, c), Predict(FaultSet.None, c))).Take(ChecksSeen)];
        return [.. parts.Select(p => Best(p, sets, bad)).OfType<SwapAdvice>().OrderByDescending(a => a.Gain / a.Minutes).Take(MostAdvice)];
    }

    private SwapAdvice? Best(int part, (FaultSet Set, double Probability)[] sets, int[] checks)
    {
        var best = checks.Select(c => (Check: c, Gain: Gain(part, sets, c), Minutes: Minutes(part, c))).DefaultIfEmpty().MaxBy(c => c.Gain / Math.Max(0.1, c.Minutes));
        if (best.Gain < LeastGain) return null;
        (Setting setting, Observable what) = bench.Predictor[best.Check];
        return new(model.Parts[part].Id, setting, what, model.Places[bench.Predictor.Checks[best.Check].Place], best.Minutes, best.Gain, Why(part, sets, what));
    }

    /// <summary>Expected drop of entropy over the sets when the part is a good one and the check is made again.</summary>
    private double Gain(int part, (FaultSet Set, double Probability)[] sets, int check)
    {
        CheckEntry entry = bench.Predictor.Checks[check];
        var outcomes = sets.GroupBy(s => OutcomeClass(Predict(Without(part, s.Set), check), entry)).ToArray();
        double all = sets.Sum(s => s.Probability);
        return Bits([.. sets.Select(s => s.Probability)]) - outcomes.Sum(o => o.Sum(s => s.Probability) / all * Bits([.. o.Select(s => s.Probability)]));
    }

    /// <summary>To reach the part, to take it out and put the other in (as long again), and to make the check.</summary>
    private double Minutes(int part, int check) => (2 * model.Places[model.Parts[part].Place].Minutes) + bench.Minutes(check);

    private string Why(int part, (FaultSet Set, double Probability)[] sets, Observable what)
    {
        IEnumerable<string> others = sets.SelectMany(s => s.Set).Select(f => model.Faults[f].Part).Distinct().Where(p => p != part).Select(p => model.Parts[p].Title);
        return $"swap in a known-good {model.Parts[part].Title} and look again at {what}: no other check tells a bad {model.Parts[part].Title} from {string.Join(", ", others.Take(3))}";
    }

    private Prediction Predict(FaultSet set, int check) => bench.Predict(set, check);

    private FaultSet Without(int part, FaultSet set) => FaultSet.Of(set.Where(f => model.Faults[f].Part != part));

    /// <summary>A number above 0 for what a person would tell apart: the likeliest word, or the reading in steps of about four standard deviations.</summary>
    private static int OutcomeClass(Prediction prediction, CheckEntry check)
    {
        PredictionComponent main = prediction.Components[0];
        if (main.Kind == ComponentKind.Words) return 1 + main.WordShares.ToList().IndexOf(main.WordShares.Max());
        if (main.Kind != ComponentKind.Number) return 100 + (int)main.Kind;
        double sd = Math.Sqrt(Math.Pow(check.Meter.Absolute, 2) + Math.Pow(check.Meter.RelativeGain * main.Mean, 2) + Math.Pow(main.Sd, 2) + main.Shared.Sum(s => s * s));
        return 1_000_000 + (int)Math.Clamp(Math.Round(main.Mean / (4 * Math.Max(sd, 1e-9))), -900_000, 900_000);
    }

    private static double Bits(double[] weights)
    {
        double sum = weights.Sum();
        return -weights.Where(w => w > 0).Sum(w => w / sum * Math.Log2(w / sum));
    }
}
