namespace Ventwright.Diagnosis;

/// <summary>Once the suspects are settled: the check that is expected to rule out most prior fault weight for each minute.</summary>
internal static class ProveCheck
{
    /// <summary>Worth of a step of one natural unit towards ruling a fault out, as a share of its weight; small beside finding one that is still open.</summary>
    private const double LastStep = 0.02;

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
        double gain = acting.Select((v, i) => Odds(posterior, v) * Taken(v.LikelihoodRatio, left[i])).Sum() / all;
        gain *= row[expected];
        if (gain < 1e-6) return null;
        FaultVerdict first = ruled.Length > 0 ? acting[ruled.MaxBy(i => Odds(posterior, acting[i]))] : acting[0];
        FaultEntry entry = posterior.Cache.Predictor.Faults[first.Fault];
        string reason = $"a good reading rules out {entry.PartName} {entry.Text}" + (ruled.Length > 1 ? $" and {ruled.Length - 1} more" : "");
        double time = minutes(check);
        return new(check, CheckPurpose.Prove, gain, time, [leader], [.. ruled.Select(i => with[i])], reason);
    }

    private static double Odds(Posterior posterior, FaultVerdict verdict) => posterior.Cache.Predictor.Faults[verdict.Fault].Odds;

    /// <summary>
    /// Share of a fault's prior weight that a good reading takes away; as much would have shown in a bad one. A fault that is nearly ruled out has little left
    /// to give, however little is wanting to the threshold, but that little still counts.
    /// </summary>
    private static double Taken(double before, double after)
    {
        double from = Math.Min(1, before);
        return Math.Max(0, from - after) + (LastStep * Math.Clamp(Math.Log(from / Math.Max(after, 1e-9)), 0, 1));
    }
}
