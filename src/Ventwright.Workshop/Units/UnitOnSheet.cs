using System.Collections.Concurrent;
using Ventwright.Bench;
using Ventwright.Model.Build;
using Ventwright.Model.Kernel;
using Ventwright.Model.Sheet.Text;
using Ventwright.Simulation;
using Ventwright.Simulation.Why;
using Ventwright.Workshop.Automatic;
using Ventwright.Workshop.Sensors;

namespace Ventwright.Workshop;

/// <summary>
/// A compiled sheet with everything that is worked out from it and kept: simulator, predictor, bands, function chart, plan. All sessions on the same sheet
/// share one. Thread-safe.
/// </summary>
public sealed class UnitOnSheet
{
    private const int MostSettingsKept = 200, Rehearsed = 12;
    private static readonly ConcurrentDictionary<(string Folder, string Text), Lazy<UnitOnSheet>> Known = new();

    private readonly Lazy<SheetPredictor> _predictor;
    private readonly Lazy<BenchCatalog> _catalog;
    private readonly Lazy<FunctionChart> _chart;
    private readonly Lazy<Task<PlannedTest>> _plan;
    private readonly Lazy<Task> _ready;
    private readonly ConcurrentDictionary<string, Lazy<Dictionary<Observable, Band>>> _bands = new(StringComparer.Ordinal);

    private UnitOnSheet(UnitModel model)
    {
        Model = model;
        Simulator = new(model);
        StepTest = new(this);
        SensorWork = new(this);
        _predictor = new(() => new SheetPredictor(Simulator));
        _catalog = new(() => new BenchCatalog(Simulator));
        _chart = new(() => FunctionChart.TryMake(Simulator, [], out _)!);
        _ready = new(() => Task.Factory.StartNew(WorkOutAhead, CancellationToken.None, TaskCreationOptions.LongRunning, TaskScheduler.Default));
        _plan = new(() => Task.Factory.StartNew(MakePlan, CancellationToken.None, TaskCreationOptions.LongRunning, TaskScheduler.Default));
    }

    /// <summary>The unit.</summary>
    public UnitModel Model { get; }

    /// <summary>Its simulator.</summary>
    public Simulator Simulator { get; }

    /// <summary>The function chart of the sound unit; worked out on first use.</summary>
    public FunctionChart Chart => _chart.Value;

    /// <summary>The shortest bench test; worked out on first use, in the background.</summary>
    public Task<PlannedTest> Plan => _plan.Value;

    /// <summary>The step test of automatic mode; worked out on first use, in the background.</summary>
    public StepTestWork StepTest { get; }

    /// <summary>Sensors from their points, and aspirators; worked out on first use, in the background.</summary>
    public SensorWork SensorWork { get; }

    /// <summary>What the sheet predicts.</summary>
    internal SheetPredictor Predictor => _predictor.Value;

    /// <summary>The unit of a sheet's text; the same text gives the same unit.</summary>
    /// <param name="path">Where the sheet was read from, for messages and for sheets named by <c>like</c>.</param>
    /// <param name="text">The sheet.</param>
    /// <exception cref="RefusedException">The sheet does not compile; the message tells every problem with its line.</exception>
    public static UnitOnSheet Of(string path, string text)
    {
        var key = (Path.GetDirectoryName(path) ?? "", text);
        try
        {
            return Known.GetOrAdd(key, _ => new(() => Compile(path, text))).Value;
        }
        catch (RefusedException)
        {
            // The sheet that it builds on may be mended; then it is worth another try.
            Known.TryRemove(key, out _);
            throw;
        }
    }

    /// <summary>A diagnosis without readings that shares what was worked out before.</summary>
    public BenchDiagnosis NewDiagnosis() => new(Simulator, Predictor, _catalog.Value);

    /// <summary>
    /// What every single fault shows at every check, worked out ahead in the background with one core left to the person: from then on suggestions look at every
    /// setting and come at once.
    /// </summary>
    public Task Ready => _ready.Value;

    /// <summary>A diagnosis without readings for what is on the bench; with parts missing its settings are others, and are worked out when they are needed.</summary>
    /// <param name="onBench">What is absent, unplugged or fed, as a setting names it.</param>
    /// <exception cref="RefusedException">It does not fit the unit.</exception>
    public BenchDiagnosis NewDiagnosis(IReadOnlyList<(string Name, string Value)> onBench)
    {
        if (onBench.Count == 0) return NewDiagnosis();
        Presence presence = Presence.TryMake(Model, onBench, out string? problem) ?? throw new RefusedException(problem ?? "that cannot be on the bench");
        return new(Simulator, Predictor, new(Simulator, presence));
    }

    /// <summary>The band that a sound unit would show.</summary>
    /// <param name="setting">The setting.</param>
    /// <param name="what">The check.</param>
    public Band Expect(Setting setting, Observable what)
    {
        if (_bands.Count > MostSettingsKept) _bands.Clear();
        var all = _bands.GetOrAdd(setting.Key, _ => new(() => BandsIn(setting))).Value;
        return all.TryGetValue(what, out Band? band) ? band : Bands.Of(Simulator, setting, [], [what])[0];
    }

    /// <summary>Why a sound unit would show what it shows: the chain of parts and laws down to numbers and sources.</summary>
    /// <param name="setting">The setting.</param>
    /// <param name="what">The check.</param>
    /// <exception cref="RefusedException">The unit finds no rest in this setting, so that nothing of it means anything.</exception>
    public WhyStep Why(Setting setting, Observable what)
    {
        Settled settled = Simulator.Settle(setting, []);
        if (settled.Verdict == Verdict.NotSolved) throw new RefusedException($"the unit is not solved in this setting: {settled.Note}");
        return Explain.Check(Simulator, setting, [], settled, Expect(setting, what));
    }

    /// <summary>What one would notice without a meter in a setting, by the faults behind it. Takes a second or so.</summary>
    /// <param name="setting">The setting.</param>
    public IReadOnlyList<NoticedSymptom> Symptoms(Setting setting) => SymptomList.In(Simulator, setting);

    /// <summary>Checks that can be made in a setting: while it runs, or with the supply off.</summary>
    public IReadOnlyList<Point> PointsIn(Setting setting)
    {
        return [.. Model.Points.Where(p => p.When == setting.State).DistinctBy(p => p.What)];
    }

    private void WorkOutAhead()
    {
        NewDiagnosis().Prepare(cores: Math.Max(1, Environment.ProcessorCount - 1));
        BenchDiagnosis.Rehearse(NewDiagnosis(), Rehearsed);
    }

    private static UnitOnSheet Compile(string path, string text)
    {
        var problems = new ProblemList();
        UnitModel? model = SheetFile.Read(path, text, problems);
        if (model is not null && !problems.HasErrors) return new(model);
        throw new RefusedException("the sheet cannot be used:\n" + string.Join('\n', problems.Sorted.Where(p => p.Severity == Severity.Error).Select(p => p.ToString())));
    }

    private Dictionary<Observable, Band> BandsIn(Setting setting) =>
        Bands.Of(Simulator, setting, [], [.. PointsIn(setting).Select(p => p.What)]).ToDictionary(b => b.What);

    private PlannedTest MakePlan()
    {
        BenchDiagnosis bench = NewDiagnosis();
        BenchPlan plan = BenchPlan.Make(bench, Simulator, null, []);
        return new(plan, [.. plan.Groups.Select(g => new PlannedGroup(g.Setting, [.. g.Checks.Select(c => bench.Predictor[c].What)]))]);
    }
}

/// <summary>The shortest bench test with its checks by name.</summary>
/// <param name="Plan">What it shows and what not.</param>
/// <param name="Groups">Checks by setting.</param>
public sealed record PlannedTest(BenchPlan Plan, IReadOnlyList<PlannedGroup> Groups);

/// <summary>Checks that are made in one setting.</summary>
/// <param name="Setting">The setting.</param>
/// <param name="Checks">The checks, by place.</param>
public sealed record PlannedGroup(Setting Setting, IReadOnlyList<Observable> Checks);
