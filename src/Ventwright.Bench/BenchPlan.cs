using Ventwright.Diagnosis;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Bench;

/// <summary>The shortest bench test.</summary>
/// <param name="Groups">Checks grouped by setting.</param>
/// <param name="Minutes">Minutes in all.</param>
/// <param name="ShownShare">Share of the prior fault weight of the parts on the bench that it shows.</param>
/// <param name="Gap">How far it may be from the best plan, as a share; 0 = proven best.</param>
/// <param name="NotShown">Faults that this plan leaves unseen although some check would show them.</param>
/// <param name="ShownByNone">Faults of parts on the bench that no check on the bench shows.</param>
/// <param name="Inseparable">Groups of faults that no check tells apart.</param>
public sealed record BenchPlan(
    IReadOnlyList<(Setting Setting, IReadOnlyList<int> Checks)> Groups, double Minutes, double ShownShare, double Gap, IReadOnlyList<Fault> NotShown,
    IReadOnlyList<Fault> ShownByNone, IReadOnlyList<IReadOnlyList<Fault>> Inseparable)
{
    private const double MinutesPerSetting = 0.4;

    /// <summary>Works the plan out: what each fault does to each check, as far as a person can tell it from the sound unit, then the cheapest cover.</summary>
    /// <param name="bench">The unit on the bench.</param>
    /// <param name="simulator">Its simulator.</param>
    /// <param name="minutes">Time that there is, or null to show everything that can be shown.</param>
    /// <param name="without">Places that are not to be opened.</param>
    public static BenchPlan Make(BenchDiagnosis bench, Simulator simulator, double? minutes, IReadOnlyCollection<string> without)
    {
        UnitModel model = simulator.Model;
        SheetPredictor predictor = bench.Predictor;
        int[] checks = [.. bench.Candidates.Where(c => !without.Contains(model.Places[predictor.Checks[c].Place].Name, StringComparer.Ordinal))];
        int[] faults = [.. Enumerable.Range(0, model.Faults.Length).Where(f => bench.Catalog.Presence.Has(model.Faults[f].Part))];
        predictor.Prepare(checks);
        int[][] byCheck = [.. checks.Select(c => Classes(predictor, c, faults, model.Faults.Length))];
        int[][] classes = [.. model.Faults.Select((_, f) => (int[])[.. byCheck.Select(c => c[f])])];
        var cover = checks.Select((c, i) => new CoverCheck(
            c, [.. faults.Where(f => byCheck[i][f] != 0)], predictor.Checks[c].ReadMinutes, predictor.Checks[c].Setting, [predictor.Checks[c].Place])).ToList();
        int settings = predictor.Checks.Max(c => c.Setting) + 1;
        var problem = new CoverProblem(
            cover, [.. model.Faults.Select(f => f.Weight)], [.. Enumerable.Repeat(MinutesPerSetting, settings)], [.. model.Places.Select(p => p.Minutes)]);
        CoverPlan plan = minutes is { } limit ? CoverPlanner.Within(problem, limit) : CoverPlanner.Cheapest(problem);
        return new(
            [.. plan.Checks.GroupBy(c => predictor.Checks[c].Setting).Select(g => (predictor[g.First()].Setting, (IReadOnlyList<int>)[.. g.OrderBy(c => predictor.Checks[c].Place)]))],
            plan.Minutes, plan.ShownWeight / faults.Sum(f => model.Faults[f].Weight), plan.Gap,
            [.. plan.NotShown.Except(plan.ShownByNone).Select(f => model.Faults[f])], [.. plan.ShownByNone.Intersect(faults).Select(f => model.Faults[f])],
            [.. FaultClasses.Identical([.. classes]).Where(g => !plan.ShownByNone.Contains(g[0])).Select(g => (IReadOnlyList<Fault>)[.. g.Select(f => model.Faults[f])])]);
    }

    /// <summary>By fault: what the check shows, 0 for what the sound unit shows; faults of absent parts show nothing.</summary>
    private static int[] Classes(SheetPredictor predictor, int check, int[] faults, int all)
    {
        CheckClasses classes = predictor.Classes(predictor.Checks[check].Setting);
        int column = predictor.Column(check);
        int[] result = new int[all];
        foreach (int f in faults) result[f] = column < 0 ? 0 : classes.Of(column, f);
        return result;
    }
}
