namespace Ventwright.Diagnosis;

/// <summary>A set of faults that explains the readings, with all larger sets whose further faults explain nothing more.</summary>
/// <param name="Set">Faults present in the unit as it stands that the explanation needs; empty when nothing bad has shown itself.</param>
/// <param name="Probability">Probability of the set and of the larger ones together.</param>
/// <param name="Alone">Share of that probability which the set has without any further fault.</param>
/// <param name="Hypothesis">Most probable hypothesis of the set.</param>
public sealed record Explanation(FaultSet Set, double Probability, double Alone, Hypothesis Hypothesis);

/// <summary>Gathers hypotheses by what they explain: a fault that no reading speaks for is not part of an explanation, however likely it is beforehand.</summary>
internal static class Explanations
{
    /// <summary>A fault counts as spoken for when it makes the readings at least this many times as likely.</summary>
    private const double SpokenFor = 2;

    public static IReadOnlyList<Explanation> Of(IReadOnlyList<Hypothesis> hypotheses, EvidenceView view)
    {
        var byAtoms = hypotheses.ToDictionary(h => h.Atoms);
        return [.. hypotheses.SelectMany(h => Shares(h, byAtoms, view)).GroupBy(p => p.Core.Current)
            .Select(g => Gather(g.Key, [.. g])).OrderByDescending(e => Math.Round(e.Probability, 12)).ThenBy(e => e.Set)];
    }

    private static Explanation Gather(FaultSet set, (Hypothesis Core, double Probability)[] members)
    {
        double all = members.Sum(m => m.Probability);
        Hypothesis[] cores = [.. members.Select(m => m.Core).Distinct()];
        return new(set, all, all > 0 ? Math.Min(1, cores.Sum(c => c.Probability) / all) : 0, cores.MaxBy(c => c.Probability)!);
    }

    /// <summary>A hypothesis counts for the smallest parts of it that explain the readings nearly as well, in proportion to their own probability.</summary>
    private static IEnumerable<(Hypothesis Core, double Probability)> Shares(Hypothesis whole, Dictionary<FaultSet, Hypothesis> known, EvidenceView view)
    {
        Hypothesis[] smaller = [.. Smaller(whole, whole, known, view).Distinct()];
        if (smaller.Length == 0) return [(whole, whole.Probability)];
        int least = smaller.Min(s => s.Atoms.Count);
        Hypothesis[] cores = [.. smaller.Where(s => s.Atoms.Count == least)];
        double all = cores.Sum(c => c.Probability);
        return cores.Select(c => (c, whole.Probability * (all > 0 ? c.Probability / all : 1.0 / cores.Length)));
    }

    /// <summary>All parts of a hypothesis that explain the readings nearly as well; faults of renewed parts stay.</summary>
    private static IEnumerable<Hypothesis> Smaller(Hypothesis part, Hypothesis whole, Dictionary<FaultSet, Hypothesis> known, EvidenceView view)
    {
        foreach (int atom in part.Atoms)
        {
            if (!view.Atoms[atom].IsCurrent || !known.TryGetValue(part.Atoms.Without(atom), out Hypothesis? without)) continue;
            if (without.LogLikelihood < whole.LogLikelihood - Math.Log(SpokenFor)) continue;
            yield return without;
            foreach (Hypothesis less in Smaller(without, whole, known, view)) yield return less;
        }
    }
}
