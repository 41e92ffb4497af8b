namespace Ventwright.Diagnosis;

/// <summary>A quick plan: always the check that shows most new weight for each added minute. A hint for the solver, and the answer when it has no time.</summary>
internal static class GreedyCover
{
    /// <summary>Chosen checks, as positions in the reduction.</summary>
    public static List<int> Choose(CoverProblem problem, CoverReduction reduction, double minutes)
    {
        var chosen = new List<int>();
        var settings = new HashSet<int>();
        var places = new HashSet<int>();
        var open = Enumerable.Range(0, reduction.Rows.Count).ToHashSet();
        double spent = 0;
        while (open.Count > 0)
        {
            (int best, double rate, double cost) = (-1, 0, 0);
            for (int i = 0; i < reduction.Checks.Count; i++)
            {
                double weight = open.Where(r => reduction.Rows[r].ShownBy.Contains(i)).Sum(r => Math.Max(reduction.Rows[r].Weight, 1e-12));
                if (weight <= 0) continue;
                double added = Added(problem, problem.Checks[reduction.Checks[i]], settings, places);
                double value = weight / Math.Max(added, 1e-6);
                if (spent + added > minutes || value <= rate) continue;
                (best, rate, cost) = (i, value, added);
            }

            if (best < 0) break;
            chosen.Add(best);
            spent += cost;
            CoverCheck check = problem.Checks[reduction.Checks[best]];
            settings.Add(check.Setting);
            places.UnionWith(check.Places);
            open.RemoveWhere(r => reduction.Rows[r].ShownBy.Contains(best));
        }

        return chosen;
    }

    private static double Added(CoverProblem problem, CoverCheck check, HashSet<int> settings, HashSet<int> places) =>
        check.ReadMinutes + (settings.Contains(check.Setting) ? 0 : problem.SettingMinutes[check.Setting])
        + check.Places.Distinct().Where(p => !places.Contains(p)).Sum(p => problem.PlaceMinutes[p]);
}
