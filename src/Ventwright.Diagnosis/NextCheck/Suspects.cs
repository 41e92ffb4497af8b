namespace Ventwright.Diagnosis;

/// <summary>One line in the list of suspects: sets of faults that no available check separates.</summary>
/// <param name="Sets">The sets, most probable first, with their probabilities.</param>
/// <param name="Probability">Probability of the line.</param>
/// <param name="Text">Names of the sets and, for several, why they stand together.</param>
public sealed record Suspect(IReadOnlyList<(FaultSet Set, double Probability)> Sets, double Probability, string Text);

/// <summary>The list of suspects.</summary>
public static class Suspects
{
    private const double LeastNamed = 0.02;
    private const int MostNamed = 4;

    /// <summary>Ranks what may be wrong with the unit as it stands, most probable first; "no fault" is a line like the others.</summary>
    /// <param name="posterior">What the readings say.</param>
    /// <param name="available">Checks that can still be made; sets that none of them separates are one line.</param>
    public static IReadOnlyList<Suspect> Rank(Posterior posterior, IReadOnlyList<int> available)
    {
        var leading = new LeadingSets(posterior, available);
        return [.. Enumerable.Range(0, leading.Sets.Length).GroupBy(s => leading.Lines[s])
            .Select(g => Line(posterior, leading, [.. g]))
            .OrderByDescending(s => s.Probability).ThenBy(s => s.Sets[0].Set)];
    }

    private static Suspect Line(Posterior posterior, LeadingSets leading, int[] members)
    {
        double all = members.Sum(s => leading.Weights[s]);
        int[] named = [.. members.Where(s => leading.Weights[s] >= LeastNamed * all).Take(MostNamed)];
        string text = string.Join(" or ", named.Select(s => posterior.Describe(leading.Sets[s])));
        if (members.Length > named.Length) text += FormattableString.Invariant($" or {members.Length - named.Length} less likely");
        if (members.Length > 1) text += ": no available check tells them apart";
        return new([.. members.Select(s => (leading.Sets[s], leading.Weights[s]))], all, text);
    }
}
