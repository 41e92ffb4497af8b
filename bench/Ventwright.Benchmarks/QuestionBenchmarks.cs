using BenchmarkDotNet.Attributes;
using Ventwright.Bench;
using Ventwright.Diagnosis;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;
using Ventwright.Simulation.Why;

namespace Ventwright.Benchmarks;

/// <summary>What a person waits for: compiling the sheet, expecting with bands, asking why.</summary>
[MemoryDiagnoser]
public class QuestionBenchmarks
{
    private Simulator _simulator = null!;
    private Setting _setting = null!;
    private Settled _settled = null!;
    private Observable[] _all = [];
    private Band _flap = null!;

    [GlobalSetup]
    public void Setup()
    {
        UnitModel model = Unit.Compile();
        (_simulator, _setting) = (new(model), Unit.Set(model, "mode=auto, warmth=0, cabin=30 degC"));
        _all = [.. model.Points.Where(p => p.When == PointState.Running).Select(p => p.What).Distinct()];
        _settled = _simulator.Settle(_setting, []);
        _flap = Bands.Of(_simulator, _setting, [], [new(ObservableKind.Position, "FL1")])[0];
    }

    [Benchmark]
    public UnitModel CompileSheet() => Unit.Compile();

    [Benchmark]
    public Band[] ExpectAllWithBands() => Bands.Of(_simulator, _setting, [], _all);

    [Benchmark]
    public WhyStep Why() => Explain.Check(_simulator, _setting, [], _settled, _flap);
}

/// <summary>Diagnosis: suspects and the next check after a reading, and the plan that shows every fault. Each takes seconds to minutes: few rounds.</summary>
[WarmupCount(1)]
[IterationCount(2)]
[InvocationCount(1, 1)]
public class DiagnosisBenchmarks
{
    private Simulator _simulator = null!;
    private Setting _setting = null!;
    private BenchDiagnosis _warm = null!;

    [GlobalSetup]
    public void Setup()
    {
        UnitModel model = Unit.Compile();
        (_simulator, _setting) = (new(model), Unit.Set(model, "mode=screen"));
        _warm = WithReading();
        _warm.Find();
    }

    /// <summary>A new session: everything is worked out, as in <c>find</c> with one reading.</summary>
    [Benchmark]
    public Findings SuspectsAndNextCheckOfNewSession() => WithReading().Find();

    /// <summary>One more reading in a session that has run for a while.</summary>
    [Benchmark]
    public Findings SuspectsAndNextCheckAfterOneMoreReading()
    {
        _warm.Take("more", _setting, new(ObservableKind.Position, "FL3"), Outcome.Word(0));
        Findings findings = _warm.Find();
        _warm.Undo("more");
        return findings;
    }

    /// <summary>Every single fault against every check of the bench, and the cheapest plan that shows them.</summary>
    [Benchmark]
    public BenchPlan PlanOfAllSingleFaults() => BenchPlan.Make(new BenchDiagnosis(_simulator), _simulator, null, []);

    private BenchDiagnosis WithReading()
    {
        var bench = new BenchDiagnosis(_simulator);
        bench.Take("first", _setting, new(ObservableKind.Airflow, "screen-left"), Outcome.Word(0));
        return bench;
    }
}
