namespace Ventwright.Diagnosis;

/// <summary>Probability of each outcome that a person can tell apart at one check, under each leading hypothesis.</summary>
internal sealed class OutcomeTable
{
    private const double LeastLikely = 0.2;

    private OutcomeTable(double[][] rows) => Rows = rows;

    /// <summary>One row for each hypothesis, adding up to 1; the last outcome is "unsteady".</summary>
    public double[][] Rows { get; }

    /// <summary>Table for hypotheses with the given predictions and what their runs have learnt.</summary>
    public static OutcomeTable Of(Posterior posterior, int check, IReadOnlyList<(CompiledPrediction Prediction, FilterResult Run)> hypotheses)
    {
        CheckEntry entry = posterior.Cache.Predictor.Checks[check];
        Spread[][] spreads = [.. hypotheses.Select(h => Spreads(posterior, check, entry, h.Prediction, h.Run))];
        double[] edges = entry.IsNumber ? Edges([.. spreads.SelectMany(s => s)], entry, posterior.Options.DistinctSigmas) : [];
        return new([.. spreads.Select(s => Row(s, entry, edges, posterior.Options))]);
    }

    /// <summary>Outcomes that are no surprise under a hypothesis: the most likely one and those not much less so.</summary>
    public bool[] LikelyOf(int hypothesis)
    {
        double least = Rows[hypothesis].Max() * LeastLikely;
        return [.. Rows[hypothesis].Select(p => p >= least)];
    }

    /// <summary>Probability of any of some outcomes under a hypothesis.</summary>
    public double ShareIn(int hypothesis, bool[] outcomes)
    {
        double sum = 0;
        for (int o = 0; o < outcomes.Length; o++) sum += outcomes[o] ? Rows[hypothesis][o] : 0;
        return Math.Min(sum, 1);
    }

    /// <summary>Share of outcomes in which two hypotheses differ (total variation), 0 to 1.</summary>
    public double Apart(int a, int b)
    {
        double sum = 0;
        for (int o = 0; o < Rows[a].Length; o++) sum += Math.Abs(Rows[a][o] - Rows[b][o]);
        return sum / 2;
    }

    /// <summary>Expected drop of the entropy over groups of hypotheses, in bits.</summary>
    /// <param name="weights">Weight of each hypothesis.</param>
    /// <param name="groups">Group of each hypothesis, from 0 on.</param>
    public double Gain(IReadOnlyList<double> weights, IReadOnlyList<int> groups)
    {
        int outcomes = Rows[0].Length;
        int count = groups.Max() + 1;
        var joint = new double[count][];
        for (int g = 0; g < count; g++) joint[g] = new double[outcomes];
        for (int h = 0; h < Rows.Length; h++)
        {
            for (int o = 0; o < outcomes; o++) joint[groups[h]][o] += weights[h] * Rows[h][o];
        }

        double all = weights.Sum();
        double before = Information.Bits([.. joint.Select(j => j.Sum())]);
        double after = 0;
        for (int o = 0; o < outcomes; o++)
        {
            double[] column = [.. joint.Select(j => j[o])];
            double weight = column.Sum();
            if (weight > 0) after += weight / all * Information.Bits(column);
        }

        return Math.Max(0, before - after);
    }

    /// <summary>The most likely outcome of a hypothesis alone.</summary>
    public bool[] OnlyExpected(int hypothesis)
    {
        var only = new bool[Rows[hypothesis].Length];
        only[Expected(hypothesis)] = true;
        return only;
    }

    /// <summary>Most likely outcome of a hypothesis.</summary>
    public int Expected(int hypothesis) => Array.IndexOf(Rows[hypothesis], Rows[hypothesis].Max());

    private static Spread[] Spreads(Posterior posterior, int check, CheckEntry entry, CompiledPrediction prediction, FilterResult run)
    {
        GroupMemory? memory = run.Memory.GetValueOrDefault(check);
        int slot = posterior.View.MeterSlots.TryGetValue(entry.Meter.MeterId, out int known) ? known : -1;
        Span<double> slope = stackalloc double[run.State.Size];
        Span<double> cross = stackalloc double[run.State.Size];
        var spreads = new List<Spread>();
        for (int m = 0; m < prediction.Modes.Length; m++)
        {
            Component[] mode = prediction.Modes[m];
            for (int c = 0; c < mode.Length; c++)
            {
                double weight = prediction.ModeWeights[m] * (memory?.Weight(mode, c) ?? mode[c].Weight);
                posterior.Filter.Slope(mode[c], entry.Meter.RelativeGain, slot, slope);
                double own = slope[^1];
                slope[^1] = 0;
                (double offset, double variance) = run.State.Project(slope, cross);
                variance += (own * own * (memory?.OwnVariance ?? 1)) + (entry.Meter.Absolute * entry.Meter.Absolute);
                if (slot < 0) variance += Math.Pow(entry.Meter.RelativeGain * mode[c].Mean, 2);
                spreads.Add(new(mode[c], weight, mode[c].Mean + offset + (own * (memory?.OwnMean ?? 0)), Math.Sqrt(variance)));
            }
        }

        return [.. spreads];
    }

    /// <summary>Borders between numbers that can be told apart: clusters of predicted means, and the gaps between them where they are wide.</summary>
    private static double[] Edges(Spread[] all, CheckEntry entry, double sigmas)
    {
        var points = all.Where(s => s.Component.Kind == ComponentKind.Number && s.Weight > 1e-4).OrderBy(s => s.Mean).ThenBy(s => s.Sd).ToArray();
        var edges = new List<double>();
        double end = double.NaN, margin = 0;
        for (int i = 0; i < points.Length;)
        {
            int last = i;
            while (last + 1 < points.Length && points[last + 1].Mean - points[i].Mean <= sigmas * points[last + 1].Sd) last++;
            double before = points[i].Mean - (sigmas * points[i].Sd);
            if (i > 0 && end + margin >= before) edges.Add((end + points[i].Mean) / 2);
            else edges.AddRange(i > 0 ? [end + margin, before] : [before]);
            end = points[last].Mean;
            margin = sigmas * points[last].Sd;
            i = last + 1;
        }

        if (points.Length > 0) edges.Add(end + margin);
        return [.. edges.Where(e => e > entry.RangeLow && e < entry.RangeHigh)];
    }

    private static double[] Row(Spread[] spreads, CheckEntry entry, double[] edges, DiagnosisOptions options)
    {
        int outcomes = entry.IsNumber ? edges.Length + 1 : entry.Words.Count;
        double[] even = Even(entry, edges, outcomes);
        var row = new double[outcomes + 1];
        double unsteady = options.BroadUnsteadyShare;
        void AddEven(double weight, double steady)
        {
            for (int o = 0; o < outcomes; o++) row[o] += weight * steady * even[o];
            row[outcomes] += weight * (1 - steady);
        }

        foreach (Spread s in spreads)
        {
            double weight = s.Weight * (1 - options.MisreadShare);
            if (s.Component.Kind == ComponentKind.Unsteady) AddEven(weight, options.UnsteadyReadAsNumber);
            else if (s.Component.Kind == ComponentKind.Unknown) AddEven(weight, 1 - unsteady);
            else if (s.Component.Kind == ComponentKind.Words) row[s.Component.Word] += weight;
            else AddNormal(row, edges, s, weight);
        }

        AddEven(options.MisreadShare, 1 - unsteady);
        return row;
    }

    private static void AddNormal(double[] row, double[] edges, Spread s, double weight)
    {
        double below = 0;
        for (int o = 0; o <= edges.Length; o++)
        {
            double upTo = o == edges.Length ? 1 : NormalTail.Below((edges[o] - s.Mean) / s.Sd);
            row[o] += weight * (upTo - below);
            below = upTo;
        }
    }

    private static double[] Even(CheckEntry entry, double[] edges, int outcomes)
    {
        if (!entry.IsNumber) return [.. Enumerable.Repeat(1.0 / outcomes, outcomes)];
        double[] all = [entry.RangeLow, .. edges, entry.RangeHigh];
        return [.. Enumerable.Range(0, outcomes).Select(o => (all[o + 1] - all[o]) / (entry.RangeHigh - entry.RangeLow))];
    }

    private readonly record struct Spread(Component Component, double Weight, double Mean, double Sd);
}

/// <summary>The normal distribution function.</summary>
internal static class NormalTail
{
    /// <summary>
    /// Probability of a standard normal variable below x, absolute error below 1.5e-7: Abramowitz and Stegun, Handbook of Mathematical Functions,
    /// formula 7.1.26 (quoted from memory).
    /// </summary>
    public static double Below(double x)
    {
        double z = Math.Abs(x) / Math.Sqrt(2);
        double t = 1 / (1 + (0.3275911 * z));
        double poly = t * (0.254829592 + (t * (-0.284496736 + (t * (1.421413741 + (t * (-1.453152027 + (t * 1.061405429))))))));
        double half = 0.5 * poly * Math.Exp(-z * z);
        return x < 0 ? half : 1 - half;
    }
}
