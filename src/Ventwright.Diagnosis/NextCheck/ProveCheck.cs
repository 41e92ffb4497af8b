namespace Ventwright.Diagnosis;

/// <summary>Once the suspects are settled: the check that is expected to rule out most prior fault weight for each minute.</summary>
internal static class ProveCheck
{
    public static IReadOnlyList<Suggestion> Rank(
        Posterior posterior, ProofReport proof, IReadOnlyList<int> candidates, Func<int, double> minutes, int count)
    {
        IReadOnlyList<FaultEntry> faults = posterior.Cache.Predictor.Faults;
        Leader leading = posterior.Leaders[0];
        FaultVerdict[] open = [.. proof.Faults.Where(v => !v.RuledOut && v.ShowsOnBench && !leading.Explanation.Set.Contains(v.Fault))];
        if (open.Length == 0) return [];
        double all = faults.Where(f => f.ShowsOnBench).Sum(f => f.Odds);
        var suggestions = new Suggestion?[candidates.Count];
        Parallel.For(0, suggestions.Length, i => suggestions[i] = Suggest(posterior, leading, candidates[i], open, all, minutes));
        return [.. suggestions.OfType<Suggestion>().OrderByDescending(s => s.GainPerMinute).ThenBy(s => s.Check).Take(count)];
    }

    private static Suggestion? Suggest(
        Posterior posterior, Leader leading, int check, FaultVerdict[] open, double all, Func<int, double> minutes)
    {
        FaultVerdict[] acting = [.. open.Where(v => posterior.Cache.Acts(v.Fault, check))];
        if (acting.Length == 0) return null;
        FaultSet leader = leading.Explanation.Set;
        FaultSet[] with = [.. acting.Select(v => Proof.Add(posterior, leader, v.Fault))];
        CompiledPrediction[] predictions = [posterior.Cache.Get(leader, check), .. with.Select(s => posterior.Cache.Get(s, check))];
        OutcomeTable table = OutcomeTable.Of(posterior, check, [.. predictions.Select(p => (p, leading.Run))]);
        int expected = table.Expected(0);
        double[] row = table.Rows[0];
        double[] left = [.. acting.Select((v, i) => v.LikelihoodRatio * table.Rows[i + 1][expected] / row[expected])];
        int[] ruled = [.. Enumerable.Range(0, acting.Length).Where(i => left[i] < posterior.Options.RuledOutRatio)];
        double gain = acting.Select((v, i) => Odds(posterior, v) * Progress(v.LikelihoodRatio, left[i], posterior.Options.RuledOutRatio)).Sum() / all;
        gain *= row[expected];
        if (gain < 1e-6) return null;
        FaultVerdict first = ruled.Length > 0 ? acting[ruled.MaxBy(i => Odds(posterior, acting[i]))] : acting[0];
        FaultEntry entry = posterior.Cache.Predictor.Faults[first.Fault];
        string reason = $"a good reading rules out {entry.Part} {entry.Text}" + (ruled.Length > 1 ? $" and {ruled.Length - 1} more" : "");
        double time = minutes(check);
        return new(check, CheckPurpose.Prove, gain, time, [leader], [.. ruled.Select(i => with[i])], reason);
    }

    private static double Odds(Posterior posterior, FaultVerdict verdict) => posterior.Cache.Predictor.Faults[verdict.Fault].Odds;

    /// <summary>1 for a fault that is ruled out; else the share of the way there, on the scale of logarithms.</summary>
    private static double Progress(double before, double after, double threshold)
    {
        double from = Math.Min(0, Math.Log(before));
        if (after < threshold) return 1;
        return Math.Max(0, (from - Math.Log(after)) / (from - Math.Log(threshold)));
    }
}
