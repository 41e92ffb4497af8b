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
        int[] checks = [.. rounds.SelectMany(r => r.Checks).Distinct()];
        var looks = new Look?[checks.Length];
        Parallel.For(0, checks.Length, posterior.Filter.Loops, i => looks[i] = LookAt(posterior, leading, checks[i], open));
        var known = checks.Zip(looks).ToDictionary(p => p.First, p => p.Second);
        IEnumerable<Suggestion?> suggestions = rounds.Select(r => Suggest(posterior, leading, r, [.. r.Checks.Select(c => known[c]).OfType<Look>()], open, all));
        return [.. suggestions.OfType<Suggestion>().OrderByDescending(s => s.GainPerMinute).ThenBy(s => s.Also.Count).ThenBy(s => s.Check).Take(count)];
    }

    /// <summary>What a check shows as the leading explanation has it, and with each open fault that acts on it added; null where none does.</summary>
    private static Look? LookAt(Posterior posterior, Leader leading, int check, FaultVerdict[] open)
    {
        int[] acting = [.. Enumerable.Range(0, open.Length).Where(i => posterior.Cache.Acts(open[i].Fault, check))];
        if (acting.Length == 0) return null;
        FaultSet leader = leading.Explanation.Set;
        CompiledPrediction[] predictions = [posterior.Cache.Get(leader, check), .. acting.Select(i => posterior.Cache.Get(Proof.Add(posterior, leader, open[i].Fault), check))];
        return new(acting, OutcomeTable.Of(posterior, check, [.. predictions.Select(p => (p, leading.Run))]));
    }

    private static Suggestion? Suggest(Posterior posterior, Leader leading, CheckRound round, Look[] looks, FaultVerdict[] open, double all)
    {
        if (looks.Length == 0) return null;
        var left = new Dictionary<int, double>();
        double good = 1;
        foreach (Look look in looks)
        {
            bool[] expected = round.Checks.Count > 1 ? look.Table.LikelyOf(0) : look.Table.OnlyExpected(0);
            double share = look.Table.ShareIn(0, expected);
            good *= share;
            for (int i = 0; i < look.Acting.Length; i++)
            {
                int fault = look.Acting[i];
                left[fault] = left.GetValueOrDefault(fault, open[fault].LikelihoodRatio) * look.Table.ShareIn(i + 1, expected) / share;
            }
        }

        int[] acting = [.. left.Keys.Order()], ruled = [.. acting.Where(i => left[i] < posterior.Options.RuledOutRatio)];
        double gain = good * acting.Sum(i => Odds(posterior, open[i]) * Taken(open[i].LikelihoodRatio, left[i])) / all;
        if (gain < 1e-6) return null;
        FaultVerdict first = open[ruled.Length > 0 ? ruled.MaxBy(i => Odds(posterior, open[i])) : acting[0]];
        FaultEntry entry = posterior.Cache.Predictor.Faults[first.Fault];
        string reason = $"{(round.Checks.Count > 1 ? "good readings rule" : "a good reading rules")} out {entry.PartName} {entry.Text}" + (ruled.Length > 1 ? $" and {ruled.Length - 1} more" : "");
        FaultSet leader = leading.Explanation.Set;
        return new(round.Checks[0], CheckPurpose.Prove, gain, round.Minutes, [leader], [.. ruled.Select(i => Proof.Add(posterior, leader, open[i].Fault))], reason)
        {
            Also = [.. round.Checks.Skip(1)],
        };
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

    /// <summary>One check on its own.</summary>
    /// <param name="Acting">Open faults that act on it, by place.</param>
    /// <param name="Table">Its outcomes as the leading explanation has it, then with each of these faults added.</param>
    private sealed record Look(int[] Acting, OutcomeTable Table);
}
