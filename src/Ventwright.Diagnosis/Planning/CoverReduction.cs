namespace Ventwright.Diagnosis;

/// <summary>A cover problem made smaller without losing a best plan.</summary>
/// <param name="Checks">Positions in the problem of the checks that may be needed.</param>
/// <param name="Rows">Groups of faults that the same checks show: those checks, as positions in <paramref name="Checks"/>, and the group's weight.</param>
internal sealed record CoverReduction(IReadOnlyList<int> Checks, IReadOnlyList<(int[] ShownBy, double Weight)> Rows)
{
    /// <summary>Drops checks that another check replaces at no higher cost, and merges faults that the same checks show.</summary>
    /// <param name="problem">The problem.</param>
    /// <param name="all">True when every fault must be shown: then a fault whose checks include all checks of another fault goes along with it.</param>
    public static CoverReduction Of(CoverProblem problem, bool all)
    {
        int[] checks = [.. Enumerable.Range(0, problem.Checks.Count).Where(c => problem.Checks[c].Shows.Count > 0 && !Replaced(problem, c))];
        var shownBy = new SortedDictionary<int, List<int>>();
        for (int i = 0; i < checks.Length; i++)
        {
            foreach (int fault in problem.Checks[checks[i]].Shows.Distinct())
            {
                if (!shownBy.TryGetValue(fault, out List<int>? list)) shownBy[fault] = list = [];
                list.Add(i);
            }
        }

        var rows = shownBy.GroupBy(p => string.Join(',', p.Value), StringComparer.Ordinal)
            .Select(g => (ShownBy: g.First().Value.ToArray(), Weight: g.Sum(p => problem.FaultWeights[p.Key])))
            .OrderBy(r => r.ShownBy.Length).ToList();
        return new(checks, all ? Hardest(rows) : rows);
    }

    private static List<(int[] ShownBy, double Weight)> Hardest(List<(int[] ShownBy, double Weight)> rows)
    {
        var kept = new List<(int[] ShownBy, double Weight)>();
        foreach (var row in rows)
        {
            var checks = row.ShownBy.ToHashSet();
            if (!kept.Any(k => checks.IsSupersetOf(k.ShownBy))) kept.Add(row);
        }

        return kept;
    }

    private static bool Replaced(CoverProblem problem, int c)
    {
        CoverCheck check = problem.Checks[c];
        for (int d = 0; d < problem.Checks.Count; d++)
        {
            CoverCheck other = problem.Checks[d];
            if (d == c || other.Setting != check.Setting || other.ReadMinutes > check.ReadMinutes || other.Shows.Count < check.Shows.Count) continue;
            if (other.Places.Except(check.Places).Any() || check.Shows.Except(other.Shows).Any()) continue;
            bool equal = other.ReadMinutes >= check.ReadMinutes && !check.Places.Except(other.Places).Any() && !other.Shows.Except(check.Shows).Any();
            if (!equal || d < c) return true;
        }

        return false;
    }
}
