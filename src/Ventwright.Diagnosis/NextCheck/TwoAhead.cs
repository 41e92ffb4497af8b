namespace Ventwright.Diagnosis;

/// <summary>
/// Ranks checks by what they tell together with the best check after each of their outcomes. Outcomes of two checks are taken as independent under each set of
/// faults; what the first reading would teach of shared tolerances is left out.
/// </summary>
internal sealed class TwoAhead(LeadingSets leading, IReadOnlyList<int> firsts, IReadOnlyList<int> seconds, Func<int, double> minutes)
{
    private const double LeastOutcome = 1e-3;

    /// <summary>The first checks, the best first, by gain for each minute over both steps.</summary>
    public int[] Rank()
    {
        double[] scores = new double[firsts.Count];
        Parallel.For(0, scores.Length, i => scores[i] = Score(firsts[i]));
        return [.. firsts.Select((check, i) => (check, Score: scores[i])).OrderByDescending(p => p.Score).ThenBy(p => p.check).Select(p => p.check)];
    }

    private double Score(int first)
    {
        OutcomeTable table = leading.Table(first);
        double all = leading.Weights.Sum(), gain = table.Gain(leading.Weights, leading.Lines), effort = NextCheck.Effort(CheckPurpose.Find, minutes(first));
        for (int outcome = 0; outcome < table.Rows[0].Length; outcome++)
        {
            double[] after = [.. leading.Weights.Select((w, s) => w * table.Rows[s][outcome])];
            double share = after.Sum() / all;
            if (share < LeastOutcome) continue;
            (double more, double longer) = Best(first, after);
            gain += share * more;
            effort += share * longer;
        }

        return gain / effort;
    }

    /// <summary>Gain and effort of the check that tells most for its time once the weights are these.</summary>
    private (double Gain, double Effort) Best(int first, double[] weights)
    {
        (double Gain, double Effort) best = (0, 0);
        foreach (int second in seconds)
        {
            if (second == first) continue;
            double gain = leading.Table(second).Gain(weights, leading.Lines), effort = NextCheck.Effort(CheckPurpose.Find, minutes(second));
            if (gain > 0 && (best.Effort == 0 || gain / effort > best.Gain / best.Effort)) best = (gain, effort);
        }

        return best;
    }
}
