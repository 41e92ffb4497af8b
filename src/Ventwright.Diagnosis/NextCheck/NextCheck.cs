namespace Ventwright.Diagnosis;

/// <summary>What a suggested check is for.</summary>
public enum CheckPurpose
{
    /// <summary>To find the bad part.</summary>
    Find,

    /// <summary>To prove parts good.</summary>
    Prove,
}

/// <summary>Checks that are made in one go, such as a look at everything that moves and blows in a setting.</summary>
/// <param name="Checks">Indices of the checks, two or more, in the order in which they are made.</param>
/// <param name="Minutes">Minutes for all of them.</param>
public sealed record CheckRound(IReadOnlyList<int> Checks, double Minutes);

/// <summary>A check worth making, or several in one go.</summary>
/// <param name="Check">Index of the check, the first of several.</param>
/// <param name="Purpose">What it is for.</param>
/// <param name="Gain">Expected drop of entropy in bits (find), or share of prior fault weight that it is expected to rule out (prove).</param>
/// <param name="Minutes">Minutes it takes.</param>
/// <param name="Separates">Sets that give the outcome expected of the leader (find), or the leader alone (prove).</param>
/// <param name="From">Sets that give another outcome (find), or the leader with each fault that would be ruled out (prove).</param>
/// <param name="Reason">The reason in plain words.</param>
public sealed record Suggestion(
    int Check, CheckPurpose Purpose, double Gain, double Minutes, IReadOnlyList<FaultSet> Separates, IReadOnlyList<FaultSet> From, string Reason)
{
    /// <summary>Further checks that are made in the same go; mostly none.</summary>
    public IReadOnlyList<int> Also { get; init; } = [];

    /// <summary>Gain for each minute, a reading's attention included.</summary>
    public double GainPerMinute => Gain / NextCheck.Effort(Purpose, Minutes);
}

/// <summary>Chooses the check that tells most for the time it takes.</summary>
public static class NextCheck
{
    /// <summary>Smallest drop of entropy, in bits, that makes a check worth naming.</summary>
    private const double LeastGain = 1e-4;

    /// <summary>
    /// What a stop costs in attention, in minutes, whatever is done there (common practice, no source). While parts are proven, stops are made for the sake of many faults at
    /// once: dearer ones make a round of twelve looks better than twelve good checks far apart, in the same minutes (docs/results.md).
    /// </summary>
    private const double FindAttention = 1, ProveAttention = 3;

    /// <summary>Checks that are tried as the first and as the second of two steps: the best of one step.</summary>
    private const int FirstsAhead = 10, SecondsAhead = 40;

    /// <summary>Two values per minute count as equal, and the tie-break decides, within this fraction.</summary>
    private const double TieFraction = 0.02;

    /// <summary>Checks worth making, best first; empty when no check tells or proves anything more.</summary>
    /// <param name="posterior">What the readings say.</param>
    /// <param name="candidates">Checks that can be made now.</param>
    /// <param name="minutes">Minutes for a check as the bench stands: changing the setting, opening places, moving the probe, reading.</param>
    /// <param name="count">Number of suggestions.</param>
    public static IReadOnlyList<Suggestion> Rank(Posterior posterior, IReadOnlyList<int> candidates, Func<int, double> minutes, int count = 5)
    {
        IReadOnlyList<Suggestion> find = ToFind(posterior, candidates, minutes, count);
        return find.Count > 0 ? find : ToProve(posterior, Proof.Judge(posterior), candidates, minutes, count);
    }

    /// <summary>Checks that tell the leading explanations apart, best first; empty once one of them is settled, or when no check tells more.</summary>
    /// <param name="posterior">What the readings say.</param>
    /// <param name="candidates">Checks that can be made now.</param>
    /// <param name="minutes">Minutes for a check as the bench stands.</param>
    /// <param name="count">Number of suggestions.</param>
    /// <param name="steps">Steps to look ahead, 1 or 2.</param>
    public static IReadOnlyList<Suggestion> ToFind(Posterior posterior, IReadOnlyList<int> candidates, Func<int, double> minutes, int count = 5, int steps = 1)
    {
        if (posterior.Leaders.Count == 0 || candidates.Count == 0) return [];
        var leading = new LeadingSets(posterior, candidates);
        double leader = leading.Weights.Where((_, s) => leading.Lines[s] == 0).Sum();
        return leader < posterior.Options.SettledShare ? Find(posterior, leading, candidates, minutes, count, steps) : [];
    }

    /// <summary>Checks that rule most prior fault weight out, best first, while the leading explanation stands.</summary>
    /// <param name="posterior">What the readings say.</param>
    /// <param name="proof">What they prove.</param>
    /// <param name="candidates">Checks that can be made now.</param>
    /// <param name="minutes">Minutes for a check as the bench stands.</param>
    /// <param name="count">Number of suggestions.</param>
    /// <param name="rounds">Checks that can be made in one go, ranked among the others.</param>
    public static IReadOnlyList<Suggestion> ToProve(
        Posterior posterior, ProofReport proof, IReadOnlyList<int> candidates, Func<int, double> minutes, int count = 5, IReadOnlyList<CheckRound>? rounds = null) =>
        posterior.Leaders.Count == 0 ? [] : ProveCheck.Rank(posterior, proof, [.. candidates.Select(c => new CheckRound([c], minutes(c))), .. rounds ?? []], count);

    /// <summary>
    /// Minutes with what a stop costs in attention, which makes few telling readings better than many cheap ones.
    /// </summary>
    /// <param name="purpose">What the check is for.</param>
    /// <param name="minutes">Minutes that the check takes.</param>
    public static double Effort(CheckPurpose purpose, double minutes) => Math.Max(minutes, 0) + (purpose == CheckPurpose.Find ? FindAttention : ProveAttention);

    private static Suggestion[] Find(
        Posterior posterior, LeadingSets leading, IReadOnlyList<int> candidates, Func<int, double> minutes, int count, int steps)
    {
        var gains = new double[candidates.Count];
        Parallel.For(0, gains.Length, i => gains[i] = leading.Table(candidates[i]).Gain(leading.Weights, leading.Lines));
        var scored = candidates.Select((check, i) => (Check: check, Gain: gains[i], Minutes: minutes(check)))
            .Where(p => p.Gain > LeastGain).OrderByDescending(p => p.Gain / Effort(CheckPurpose.Find, p.Minutes)).ThenBy(p => p.Check).ToList();
        if (scored.Count == 0) return [];
        double near = scored[0].Gain / Effort(CheckPurpose.Find, scored[0].Minutes) * (1 - TieFraction);
        int ties = scored.TakeWhile(p => p.Gain / Effort(CheckPurpose.Find, p.Minutes) >= near).Count();
        var order = scored.Take(ties).OrderBy(p => Unbalance(leading, p.Check)).ThenBy(p => p.Check).Concat(scored.Skip(ties)).ToList();
        if (steps > 1)
        {
            int[] firsts = [.. order.Take(FirstsAhead).Select(p => p.Check)];
            int[] ranked = new TwoAhead(leading, firsts, [.. order.Take(SecondsAhead).Select(p => p.Check)], minutes).Rank();
            order = [.. ranked.Select(c => order.First(p => p.Check == c)), .. order.Skip(firsts.Length)];
        }

        return [.. order.Take(count).Select(p => Explain(posterior, leading, p.Check, p.Gain, p.Minutes))];
    }

    /// <summary>How far a check is from halving the leaders: 0 for half and half.</summary>
    private static double Unbalance(LeadingSets leading, int check)
    {
        OutcomeTable table = leading.Table(check);
        int outcome = table.Expected(0);
        double same = Enumerable.Range(0, leading.Sets.Length).Where(s => table.Expected(s) == outcome).Sum(s => leading.Weights[s]);
        return Math.Abs((same / leading.Weights.Sum()) - 0.5);
    }

    private static Suggestion Explain(Posterior posterior, LeadingSets leading, int check, double gain, double minutes)
    {
        OutcomeTable table = leading.Table(check);
        int[] same = [.. Enumerable.Range(0, leading.Sets.Length).Where(s => table.Apart(0, s) < 0.5)];
        int[] other = [.. Enumerable.Range(0, leading.Sets.Length).Except(same)];
        string reason = other.Length == 0
            ? "adds a little to what tells the suspects apart"
            : "tells " + posterior.Apart(leading.Sets[0], leading.Sets[other[0]]);
        return new(check, CheckPurpose.Find, gain, minutes, [.. same.Select(s => leading.Sets[s])], [.. other.Select(s => leading.Sets[s])], reason);
    }
}
