using Ventwright.Diagnosis;

namespace Ventwright.Bench;

/// <summary>
/// A quick look at every check of the bench: picks the few that may tell the leading explanations apart, or rule most of the open faults out, so that only
/// those are worked out exactly. It compares single faults by what a person would tell apart (<see cref="CheckClasses"/>).
/// </summary>
/// <param name="predictor">What the sheet predicts.</param>
/// <param name="candidates">All checks of the bench.</param>
/// <param name="costs">What checks cost as the bench stands.</param>
internal sealed class QuickLook(SheetPredictor predictor, IReadOnlyList<int> candidates, BenchCosts costs)
{
    private const int LeadersSeen = 300, MostSeparating = 48, MostRounds = 4, MostInRound = 12;
    private const double LeastScore = 1e-6, LastStep = 0.02;

    /// <summary>Checks that promise most bits about the explanations for each minute.</summary>
    /// <param name="posterior">What the readings say.</param>
    /// <param name="open">Checks that were not made yet.</param>
    /// <param name="count">How many checks.</param>
    public int[] Finding(Posterior posterior, IReadOnlyList<int> open, int count)
    {
        (FaultSet Set, double Weight)[] leading = Leading(posterior);
        if (leading.Length < 2) return [];
        int[] members = [.. leading.SelectMany(l => l.Set).Distinct()];
        return Best(CheckPurpose.Find, open, s => predictor.Classes(s, members), (classes, column) => Bits(leading, classes, column), count);
    }

    /// <summary>Checks, and rounds of looks, that promise to rule most prior fault weight out for each minute, should they come out as the leading explanation has it.</summary>
    public (int[] Checks, CheckRound[] Rounds) Proving(Posterior posterior, ProofReport proof, IReadOnlyList<int> open, int count)
    {
        FaultSet leader = posterior.Explanations[0].Set;
        double[] weight = new double[predictor.Faults.Count];
        foreach (FaultVerdict v in proof.Faults)
        {
            if (!v.RuledOut && v.ShowsOnBench && !leader.Contains(v.Fault)) weight[v.Fault] = predictor.Faults[v.Fault].Odds * (Math.Min(1, v.LikelihoodRatio) + LastStep);
        }

        double Worth(CheckClasses classes, int column) => classes.Of(column, leader) == 0 ? classes.TakenAwayOf(column, weight) : 0;
        return (Best(CheckPurpose.Prove, open, predictor.Classes, Worth, count), Rounds(open, leader, weight));
    }

    /// <summary>A few checks that together tell apart whatever any check can tell apart among the leading explanations.</summary>
    public int[] Separating(Posterior posterior)
    {
        (FaultSet Set, double Weight)[] leading = Leading(posterior);
        int[] part = new int[leading.Length];
        int parts = 1;
        List<int> chosen = [];
        if (leading.Length < 2) return [];
        int[] members = [.. leading.SelectMany(l => l.Set).Distinct()];
        var known = new Dictionary<int, CheckClasses>();
        foreach (int check in candidates)
        {
            int setting = predictor.Checks[check].Setting;
            if (!known.TryGetValue(setting, out CheckClasses? classes)) known[setting] = classes = predictor.Classes(setting, members);
            if (Finer(leading, classes, check, part, ref parts)) chosen.Add(check);
            if (parts == leading.Length || chosen.Count >= MostSeparating) break;
        }

        return [.. chosen];
    }

    private static (FaultSet Set, double Weight)[] Leading(Posterior posterior) =>
        [.. posterior.Explanations.Take(LeadersSeen).Where(e => e.Probability > 1e-5).Select(e => (e.Set, e.Probability))];

    private bool Finer((FaultSet Set, double Weight)[] leading, CheckClasses classes, int check, int[] part, ref int parts)
    {
        int column = predictor.Column(check);
        if (column < 0) return false;
        Span<int> own = stackalloc int[leading.Length];
        bool differ = false;
        for (int s = 0; s < leading.Length; s++)
        {
            own[s] = classes.Of(column, leading[s].Set);
            differ |= own[s] != own[0];
        }

        if (!differ) return false;
        var renamed = new Dictionary<(int, int), int>();
        int[] finer = new int[leading.Length];
        for (int s = 0; s < leading.Length; s++)
        {
            if (!renamed.TryGetValue((part[s], own[s]), out finer[s])) renamed[(part[s], own[s])] = finer[s] = renamed.Count;
        }

        if (renamed.Count <= parts) return false;
        parts = renamed.Count;
        finer.CopyTo(part, 0);
        return true;
    }

    private int[] Best(CheckPurpose purpose, IReadOnlyList<int> open, Func<int, CheckClasses> look, Func<CheckClasses, int, double> value, int count)
    {
        var scores = new double[open.Count];
        IGrouping<int, int>[] groups = [.. Enumerable.Range(0, open.Count).GroupBy(i => predictor.Checks[open[i]].Setting)];
        Parallel.For(0, groups.Length, g =>
        {
            IGrouping<int, int> group = groups[g];
            CheckClasses classes = look(group.Key);
            foreach (int i in group)
            {
                int column = predictor.Column(open[i]);
                double gain = column < 0 ? 0 : value(classes, column);
                scores[i] = gain > LeastScore ? gain / NextCheck.Effort(purpose, costs.Minutes(open[i])) : 0;
            }
        });
        return [.. Enumerable.Range(0, open.Count).Where(i => scores[i] > 0).OrderByDescending(i => scores[i]).ThenBy(i => open[i]).Take(count).Select(i => open[i])];
    }

    /// <summary>The settings in which a look all round promises most, each with the looks that are worth it.</summary>
    private CheckRound[] Rounds(IReadOnlyList<int> open, FaultSet leader, double[] weight)
    {
        Looks[] settings = [.. open.Where(costs.IsLook).Where(c => predictor.Column(c) >= 0).GroupBy(c => predictor.Checks[c].Setting).Select(g =>
        {
            CheckClasses classes = predictor.Classes(g.Key);
            return new Looks([.. g.Where(c => classes.Of(predictor.Column(c), leader) == 0)], classes, weight);
        }).Where(l => l.Checks.Length > 1)];
        double[] worth = new double[settings.Length];
        Parallel.For(0, settings.Length, i => worth[i] = -Worth(settings[i], settings[i].Checks));
        Array.Sort(worth, settings);
        var rounds = new CheckRound?[Math.Min(MostRounds, settings.Length)];
        Parallel.For(0, rounds.Length, i => rounds[i] = Round(settings[i]));
        return [.. rounds.OfType<CheckRound>()];
    }

    /// <summary>Looks are taken in one by one as long as the round gains by it; null when it comes down to a single look.</summary>
    private CheckRound? Round(Looks looks)
    {
        int[] chosen = [];
        double worth = 0;
        while (chosen.Length < Math.Min(MostInRound, looks.Checks.Length))
        {
            (int Check, double Worth) best = looks.Checks.Except(chosen).Select(c => (c, Worth(looks, [.. chosen, c]))).MaxBy(p => p.Item2);
            if (best.Worth <= worth) break;
            (chosen, worth) = ([.. chosen, best.Check], best.Worth);
        }

        return chosen.Length < 2 ? null : costs.Round(chosen);
    }

    private double Worth(Looks looks, int[] checks) => looks.Classes.TakenAwayOf([.. checks.Select(predictor.Column)], looks.Weight) / NextCheck.Effort(CheckPurpose.Prove, costs.Round(checks).Minutes);

    /// <summary>Entropy, in bits, of the class that the check will show.</summary>
    private static double Bits((FaultSet Set, double Weight)[] leading, CheckClasses classes, int column)
    {
        Span<int> names = stackalloc int[24];
        Span<double> shares = stackalloc double[24];
        int count = 0;
        double total = 0;
        foreach ((FaultSet set, double weight) in leading)
        {
            int own = classes.Of(column, set), at = 0;
            while (at < count && names[at] != own) at++;
            if (at == count && count < names.Length) (names[count], shares[count++]) = (own, 0);
            shares[Math.Min(at, names.Length - 1)] += weight;
            total += weight;
        }

        double bits = 0;
        for (int i = 0; i < count; i++)
        {
            if (shares[i] > 0) bits -= shares[i] / total * Math.Log2(shares[i] / total);
        }

        return count < 2 ? 0 : bits;
    }

    /// <summary>What can be seen, heard or felt in one setting, as the leading explanation has it.</summary>
    /// <param name="Checks">The checks.</param>
    /// <param name="Classes">What faults make them show.</param>
    /// <param name="Weight">Weight of each fault that is still open.</param>
    private sealed record Looks(int[] Checks, CheckClasses Classes, double[] Weight);
}
