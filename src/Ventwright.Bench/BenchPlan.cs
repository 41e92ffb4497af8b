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

    /// <summary>Works the plan out: what each fault does to each check, then the cheapest cover.</summary>
    /// <param name="bench">The unit on the bench.</param>
    /// <param name="simulator">Its simulator.</param>
    /// <param name="minutes">Time that there is, or null to show everything that can be shown.</param>
    /// <param name="without">Places that are not to be opened.</param>
    public static BenchPlan Make(BenchDiagnosis bench, Simulator simulator, double? minutes, IReadOnlyCollection<string> without)
    {
        UnitModel model = simulator.Model;
        int[] checks = [.. bench.Candidates.Where(c => !without.Contains(model.Places[bench.Predictor.Checks[c].Place].Name, StringComparer.Ordinal))];
        int[] faults = [.. Enumerable.Range(0, model.Faults.Length).Where(f => bench.Catalog.Presence.Has(model.Faults[f].Part))];
        int[] sound = Classes(bench, FaultSet.None, checks);
        int[][] classes = [.. Enumerable.Repeat(sound, model.Faults.Length)];
        Parallel.ForEach(faults, f => classes[f] = Classes(bench, FaultSet.Of(f), checks));
        var cover = checks.Select((c, i) => new CoverCheck(
            c, [.. faults.Where(f => classes[f][i] != sound[i])], bench.Predictor.Checks[c].ReadMinutes, bench.Predictor.Checks[c].Setting, [bench.Predictor.Checks[c].Place])).ToList();
        int settings = bench.Predictor.Checks.Max(c => c.Setting) + 1;
        var problem = new CoverProblem(
            cover, [.. model.Faults.Select(f => f.Weight)], [.. Enumerable.Repeat(MinutesPerSetting, settings)], [.. model.Places.Select(p => p.Minutes)]);
        CoverPlan plan = minutes is { } limit ? CoverPlanner.Within(problem, limit) : CoverPlanner.Cheapest(problem);
        return new(
            [.. plan.Checks.GroupBy(c => bench.Predictor.Checks[c].Setting).Select(g => (bench.Predictor[g.First()].Setting, (IReadOnlyList<int>)[.. g.OrderBy(c => bench.Predictor.Checks[c].Place)]))],
            plan.Minutes, plan.ShownWeight / faults.Sum(f => model.Faults[f].Weight), plan.Gap,
            [.. plan.NotShown.Except(plan.ShownByNone).Select(f => model.Faults[f])], [.. plan.ShownByNone.Intersect(faults).Select(f => model.Faults[f])],
            [.. FaultClasses.Identical([.. classes]).Where(g => !plan.ShownByNone.Contains(g[0])).Select(g => (IReadOnlyList<Fault>)[.. g.Select(f => model.Faults[f])])]);
    }

    private static int[] Classes(BenchDiagnosis bench, FaultSet set, int[] checks)
    {
        int[] result = new int[checks.Length];
        for (int i = 0; i < checks.Length; i++)
        {
            CheckEntry entry = bench.Predictor.Checks[checks[i]];
            Prediction sound = bench.Predictor.Predict(FaultSet.None, checks[i]), bad = bench.Predictor.Predict(set, checks[i]);
            result[i] = Apart(sound.Components[0], bad.Components[0], entry) ? BenchDiagnosis.OutcomeClass(bad, entry) : 0;
        }

        return result;
    }

    /// <summary>Whether a person would take the one for the other: other words, or more than three standard deviations of the difference.</summary>
    private static bool Apart(PredictionComponent sound, PredictionComponent bad, CheckEntry entry)
    {
        if (sound.Kind != bad.Kind) return true;
        if (sound.Kind == ComponentKind.Words) return sound.WordShares.Zip(bad.WordShares, Math.Min).Sum() < 0.15;
        if (sound.Kind != ComponentKind.Number) return false;
        double meter = Math.Pow(entry.Meter.Absolute, 2) + Math.Pow(entry.Meter.RelativeGain * Math.Max(Math.Abs(sound.Mean), Math.Abs(bad.Mean)), 2);
        double spread = Math.Sqrt((2 * meter) + (sound.Sd * sound.Sd) + (bad.Sd * bad.Sd) + sound.Shared.Sum(s => s * s));
        return Math.Abs(sound.Mean - bad.Mean) > 3 * spread;
    }
}
