using Google.OrTools.Sat;

namespace Ventwright.Diagnosis;

/// <summary>
/// Plans a bench day with a constraint solver: the cheapest list of checks that shows every fault, or the list that shows most fault weight within a
/// time. One worker, a fixed seed and a limit in the solver's own count of work make the answer the same on every machine.
/// </summary>
public static class CoverPlanner
{
    /// <summary>Whole numbers that a minute is counted in: tenths of a second.</summary>
    private const double Ticks = 600;

    /// <summary>Whole numbers that the weight of all faults together is counted in.</summary>
    private const double WeightTicks = 1e6;

    /// <summary>The cheapest plan that shows every fault that any check shows.</summary>
    /// <param name="problem">Checks, faults and minutes.</param>
    /// <param name="effort">Limit of work in the solver's deterministic seconds.</param>
    public static CoverPlan Cheapest(CoverProblem problem, double effort = 10) => Plan(problem, null, effort);

    /// <summary>The plan that shows most fault weight within a time.</summary>
    /// <param name="problem">Checks, faults and minutes.</param>
    /// <param name="minutes">Time at hand, in minutes.</param>
    /// <param name="effort">Limit of work in the solver's deterministic seconds.</param>
    public static CoverPlan Within(CoverProblem problem, double minutes, double effort = 10) => Plan(problem, minutes, effort);

    private static CoverPlan Plan(CoverProblem problem, double? minutes, double effort)
    {
        CoverReduction reduction = CoverReduction.Of(problem, minutes is null);
        List<int> greedy = GreedyCover.Choose(problem, reduction, minutes ?? double.PositiveInfinity);
        var model = new CpModel();
        BoolVar[] take = [.. reduction.Checks.Select((_, i) => model.NewBoolVar("take" + i))];
        LinearExpr cost = Cost(model, problem, reduction, take);
        double weightTick = Math.Max(problem.FaultWeights.Sum(), 1e-300) / WeightTicks;
        if (minutes is null) model.Minimize(cost);
        else model.Add(cost <= (long)Math.Floor(minutes.Value * Ticks));
        var shown = new List<BoolVar>();
        foreach ((int[] shownBy, _) in reduction.Rows)
        {
            IEnumerable<ILiteral> any = shownBy.Select(i => take[i]);
            if (minutes is null)
            {
                model.AddBoolOr(any);
                continue;
            }

            BoolVar row = model.NewBoolVar("shown" + shown.Count);
            model.AddBoolOr(any.Append(row.Not()));
            shown.Add(row);
        }

        if (minutes is not null)
            model.Maximize(LinearExpr.WeightedSum(shown, reduction.Rows.Select(r => (long)Math.Round(r.Weight / weightTick))));
        for (int i = 0; i < take.Length; i++) model.AddHint(take[i], greedy.Contains(i));
        using var solver = new CpSolver();
        solver.StringParameters = FormattableString.Invariant($"num_workers:1,random_seed:1,linearization_level:2,max_deterministic_time:{effort}");
        bool solved = solver.Solve(model) is CpSolverStatus.Optimal or CpSolverStatus.Feasible;
        IEnumerable<int> chosen = solved ? Enumerable.Range(0, take.Length).Where(i => solver.BooleanValue(take[i])) : greedy;
        double tick = minutes is null ? 1 / Ticks : weightTick;
        double noBound = minutes is null ? 0 : reduction.Rows.Sum(r => r.Weight);
        return Report(problem, [.. chosen.Select(i => reduction.Checks[i])], minutes is null, solved ? solver.BestObjectiveBound * tick : noBound, tick);
    }

    private static LinearExpr Cost(CpModel model, CoverProblem problem, CoverReduction reduction, BoolVar[] take)
    {
        var terms = new List<BoolVar>();
        var ticks = new List<long>();
        void Once(string name, IEnumerable<int> users, double minutes)
        {
            BoolVar used = model.NewBoolVar(name);
            foreach (int i in users) model.AddImplication(take[i], used);
            terms.Add(used);
            ticks.Add((long)Math.Round(minutes * Ticks));
        }

        for (int i = 0; i < take.Length; i++)
        {
            terms.Add(take[i]);
            ticks.Add((long)Math.Round(problem.Checks[reduction.Checks[i]].ReadMinutes * Ticks));
        }

        var positions = Enumerable.Range(0, take.Length);
        foreach (var group in positions.GroupBy(i => problem.Checks[reduction.Checks[i]].Setting).OrderBy(g => g.Key))
            Once("setting" + group.Key, group, problem.SettingMinutes[group.Key]);
        var places = positions.SelectMany(i => problem.Checks[reduction.Checks[i]].Places.Distinct().Select(p => (Place: p, Position: i)));
        foreach (var group in places.GroupBy(p => p.Place, p => p.Position).OrderBy(g => g.Key))
            Once("place" + group.Key, group, problem.PlaceMinutes[group.Key]);
        return LinearExpr.WeightedSum(terms, ticks);
    }

    private static CoverPlan Report(CoverProblem problem, List<int> chosen, bool all, double bound, double tick)
    {
        CoverCheck[] checks = [.. chosen.Select(c => problem.Checks[c]).OrderBy(c => c.Setting).ThenBy(c => c.Check)];
        double minutes = checks.Sum(c => c.ReadMinutes)
            + checks.Select(c => c.Setting).Distinct().Sum(s => problem.SettingMinutes[s])
            + checks.SelectMany(c => c.Places).Distinct().Sum(p => problem.PlaceMinutes[p]);
        var shown = checks.SelectMany(c => c.Shows).ToHashSet();
        var showable = problem.Checks.SelectMany(c => c.Shows).ToHashSet();
        var faults = Enumerable.Range(0, problem.FaultWeights.Count);
        double weight = shown.Sum(f => problem.FaultWeights[f]);
        double value = all ? minutes : weight;

        // Rounding to whole ticks may set value and bound apart by up to half a tick for each term; that is no gap.
        double apart = Math.Abs(value - bound) <= tick * (problem.Checks.Count + problem.FaultWeights.Count) ? 0 : Math.Abs(value - bound);
        double gap = apart / Math.Max(Math.Max(value, bound), 1e-300);
        return new(
            [.. checks.Select(c => c.Check)],
            minutes,
            weight,
            bound,
            gap,
            [.. faults.Where(f => !shown.Contains(f))],
            [.. faults.Where(f => !showable.Contains(f))]);
    }
}
