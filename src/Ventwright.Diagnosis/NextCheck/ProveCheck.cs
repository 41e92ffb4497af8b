namespace Ventwright.Diagnosis;

/// <summary>Once the suspects are settled: the check that is expected to rule out most prior fault weight for each minute.</summary>
internal static class ProveCheck
{
    /// <summary>Worth of a step of one natural unit towards ruling a fault out, as a share of its weight; small beside finding one that is still open.</summary>
    private const double LastStep = 0.02;

    public static IReadOnlyList<Suggestion> Rank(Posterior posterior, ProofReport proof, IReadOnlyList<CheckRound> rounds, int count)
    {
        IReadOnlyList<FaultEntry> faults = posterior.Cache.Predictor.Faults;
        Leader leading = posterior.Leaders[0];
        FaultVerdict[] open = [.. proof.Faults.Where(v => !v.RuledOut && v.ShowsOnBench && !leading.Explanation.Set.Contains(v.Fault))];
        if (open.Length == 0) return [];
        double all = faults.Where(f => f.ShowsOnBench).Sum(f => f.Odds);
        var suggestions = new Suggestion?[rounds.Count];
        Parallel.For(0, suggestions.Length, i => suggestions[i] = Suggest(posterior, leading, rounds[i], open, all));
        return [.. suggestions.OfType<Suggestion>().OrderByDescending(s => s.GainPerMinute).ThenBy(s => s.Also.Count).ThenBy(s => s.Check).Take(count)];
    }

    private static Suggestion? Suggest(Posterior posterior, Leader leading, CheckRound round, FaultVerdict[] open, double all)
    {
        FaultVerdict[] acting = [.. open.Where(v => round.Checks.Any(c => posterior.Cache.Acts(v.Fault, c)))];
        if (acting.Length == 0) return null;
        FaultSet leader = leading.Explanation.Set;
        FaultSet[] with = [.. acting.Select(v => Proof.Add(posterior, leader, v.Fault))];
        double[] left = [.. acting.Select(v => v.LikelihoodRatio)];
        double good = 1;
        foreach (int check in round.Checks)
        {
            CompiledPrediction[] predictions = [posterior.Cache.Get(leader, check), .. with.Select(s => posterior.Cache.Get(s, check))];
            OutcomeTable table = OutcomeTable.Of(posterior, check, [.. predictions.Select(p => (p, leading.Run))]);
            bool[] expected = round.Checks.Count > 1 ? table.LikelyOf(0) : table.OnlyExpected(0);
            double share = table.ShareIn(0, expected);
            good *= share;
            for (int i = 0; i < left.Length; i++) left[i] *= table.ShareIn(i + 1, expected) / share;
        }

        int[] ruled = [.. Enumerable.Range(0, acting.Length).Where(i => left[i] < posterior.Options.RuledOutRatio)];
        double gain = good * acting.Select((v, i) => Odds(posterior, v) * Taken(v.LikelihoodRatio, left[i])).Sum() / all;
        if (gain < 1e-6) return null;
        FaultVerdict first = ruled.Length > 0 ? acting[ruled.MaxBy(i => Odds(posterior, acting[i]))] : acting[0];
        FaultEntry entry = posterior.Cache.Predictor.Faults[first.Fault];
        string reason = $"{(round.Checks.Count > 1 ? "good readings rule" : "a good reading rules")} out {entry.PartName} {entry.Text}" + (ruled.Length > 1 ? $" and {ruled.Length - 1} more" : "");
        return new(round.Checks[0], CheckPurpose.Prove, gain, round.Minutes, [leader], [.. ruled.Select(i => with[i])], reason) { Also = [.. round.Checks.Skip(1)] };
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
