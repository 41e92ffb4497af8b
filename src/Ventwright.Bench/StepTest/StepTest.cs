using Ventwright.Diagnosis;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Bench.StepTest;

/// <summary>A check of a step.</summary>
/// <param name="What">What is looked at.</param>
/// <param name="Band">What a sound unit shows.</param>
/// <param name="WithinS">Seconds within which it must show it.</param>
/// <param name="Place">Where it is reached.</param>
public sealed record StepLook(Observable What, Band Band, double WithinS, Place Place);

/// <summary>A step of the test.</summary>
/// <param name="Setting">What stands in for what, and how the controls stand.</param>
/// <param name="Looks">What must then happen.</param>
/// <param name="Restart">Whether the supply is switched off and on once everything is set, because the module follows something slowly on purpose.</param>
/// <param name="Purpose">What it brings out.</param>
public sealed record TestStep(Setting Setting, IReadOnlyList<StepLook> Looks, bool Restart, string Purpose);

/// <summary>
/// The smallest set of steps, with resistances in place of the sensors, that brings out every fault of module, inputs, outputs, sensors and feedback that
/// can be brought out on the bench.
/// </summary>
/// <param name="Steps">Steps in order.</param>
/// <param name="Minutes">Minutes in all.</param>
/// <param name="ShownShare">Share of the fault weight of the parts that automatic mode needs which it shows.</param>
/// <param name="NotShown">Faults of those parts that no step shows.</param>
/// <param name="Inseparable">Groups of those faults that no step tells apart.</param>
public sealed record AutomaticTest(
    IReadOnlyList<TestStep> Steps, double Minutes, double ShownShare, IReadOnlyList<Fault> NotShown, IReadOnlyList<IReadOnlyList<Fault>> Inseparable)
{
    private const double MinutesPerStep = 0.5, Patience = 1.3, Reaction = 1, Sure = 0.95;

    /// <summary>Works the test out; null for a unit without a module.</summary>
    /// <param name="simulator">The unit.</param>
    /// <param name="predictor">Its predictor.</param>
    /// <param name="progress">Told the share done, 0..1.</param>
    public static AutomaticTest? Make(Simulator simulator, SheetPredictor predictor, Action<double>? progress = null)
    {
        UnitModel model = simulator.Model;
        if (model.Module is null) return null;
        (Setting Setting, string Purpose)[] settings = [.. AutomaticSettings.Of(simulator), .. Dead(model)];
        int[] wanted = [.. Enumerable.Range(0, model.Faults.Length).Where(f => IsNeeded(model, model.Faults[f]))];
        int[][] checks = [.. settings.Select(s => predictor.Check([.. Points(model, s.Setting).Select(p => (s.Setting, p.What)).Distinct()]).Distinct().ToArray())];
        predictor.Prepare([.. checks.SelectMany(c => c)], progress);
        int[] all = [.. checks.SelectMany(c => c).Distinct()];
        var shows = all.ToDictionary(c => c, c => Shown(predictor, c, wanted));
        CoverPlan plan = Cover(model, predictor, all, shows);
        double weight = wanted.Sum(f => model.Faults[f].Weight);
        Fault[] notShown = [.. plan.ShownByNone.Intersect(wanted).Select(f => model.Faults[f])];
        var chosen = plan.Checks.ToHashSet();
        List<TestStep> steps = Order(simulator, predictor, settings, checks, chosen);
        int[][] classes = [.. wanted.Select(f => all.Select(c => Class(predictor, c, f)).ToArray())];
        return new(
            steps, plan.Minutes, 1 - (notShown.Sum(f => f.Weight) / weight), notShown,
            [.. FaultClasses.Identical(classes).Where(g => !notShown.Contains(model.Faults[wanted[g[0]]])).Select(g => (IReadOnlyList<Fault>)[.. g.Select(i => model.Faults[wanted[i]])])]);
    }

    /// <summary>Whether a fault belongs to what automatic mode needs: module, pins, sensors, their aspirator, feedback.</summary>
    public static bool IsNeeded(UnitModel model, Fault fault) => !fault.CarOnly && model.Parts[fault.Part].Kind is "module" or "module-input" or "module-output" or "thermistor" or "servo" or "aspirator" or "potentiometer";

    private static IEnumerable<(Setting, string)> Dead(UnitModel model)
    {
        if (Setting.TryMake(model, [("supply", "off")], out _) is { } off) yield return (off, "measures each sensor and track by itself");
        if (Setting.TryMake(model, [], out _) is { } plain) yield return (plain, "sees the sensors as they are");
    }

    private static IEnumerable<Point> Points(UnitModel model, Setting setting) =>
        model.Points.Where(p => setting.State == PointState.Dead ? p.When == PointState.Dead : p.When == PointState.Running);

    private static CoverPlan Cover(UnitModel model, SheetPredictor predictor, int[] all, Dictionary<int, int[]> shows)
    {
        int settings = predictor.Checks.Max(c => c.Setting) + 1;
        CoverCheck[] cover = [.. all.Where(c => shows[c].Length > 0).Select(c => new CoverCheck(c, shows[c], predictor.Checks[c].ReadMinutes, predictor.Checks[c].Setting, [predictor.Checks[c].Place]))];
        return CoverPlanner.Cheapest(new([.. cover], [.. model.Faults.Select(f => f.Weight)], [.. Enumerable.Repeat(MinutesPerStep, settings)], [.. model.Places.Select(p => p.Minutes)]), 4);
    }

    /// <summary>Faults against which the sound unit's outcome of a check speaks some twenty to one: a step must be sure, or a person would go on with a bad part.</summary>
    private static int[] Shown(SheetPredictor predictor, int check, int[] faults)
    {
        int column = predictor.Column(check);
        return column < 0 ? [] : [.. faults.Where(f => predictor.Classes(predictor.Checks[check].Setting).Shown(column, f) >= Sure)];
    }

    private static int Class(SheetPredictor predictor, int check, int fault)
    {
        int column = predictor.Column(check);
        return column < 0 ? 0 : predictor.Classes(predictor.Checks[check].Setting).Of(column, fault);
    }

    /// <summary>Steps with the same panel together, the one that needs the fewest turns next.</summary>
    private static List<TestStep> Order(Simulator simulator, SheetPredictor predictor, (Setting Setting, string Purpose)[] settings, int[][] checks, HashSet<int> chosen)
    {
        List<int> left = [.. Enumerable.Range(0, settings.Length).Where(i => checks[i].Any(chosen.Contains))];
        var steps = new List<TestStep>();
        Setting stands = Setting.Default(simulator.Model);
        while (left.Count > 0)
        {
            int next = left.MinBy(i => Turns(stands, settings[i].Setting));
            left.Remove(next);
            (Setting setting, string purpose) = settings[next];
            steps.Add(Step(simulator, predictor, stands, setting, purpose, [.. checks[next].Where(chosen.Contains)]));
            stands = setting;
        }

        return steps;
    }

    private static int Turns(Setting stands, Setting wanted) =>
        wanted.Words.Count(w => !stands.Words.TryGetValue(w.Key, out string? v) || v != w.Value) + stands.Words.Keys.Count(k => !wanted.Words.ContainsKey(k) && !Setting.IsAfter(k));

    private static TestStep Step(Simulator simulator, SheetPredictor predictor, Setting stands, Setting setting, string purpose, int[] checks)
    {
        UnitModel model = simulator.Model;
        Observable[] looks = [.. checks.Select(c => predictor[c].What)];
        bool dead = setting.State == PointState.Dead;
        (double[] seconds, bool restart) = dead ? (new double[looks.Length], false) : StepTiming.Of(simulator, stands.State == PointState.Dead ? Setting.Default(model) : stands, setting, looks);
        return new(
            setting, [.. checks.Select((c, i) => new StepLook(looks[i], predictor.Sound(c), dead ? 0 : Math.Ceiling((seconds[i] * Patience) + Reaction), model.Places[predictor.Checks[c].Place]))],
            restart, purpose);
    }
}
