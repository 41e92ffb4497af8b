using Ventwright.Bench.StepTest;

namespace Ventwright.Workshop.Automatic;

/// <summary>The step test of a unit's automatic mode, worked out once in the background and kept beside the unit. Thread-safe.</summary>
public sealed class StepTestWork
{
    private readonly Lazy<Task<AutomaticTest?>> _test;
    private double _share;

    internal StepTestWork(UnitOnSheet unit)
    {
        _test = new(() => Task.Factory.StartNew(
            () => AutomaticTest.Make(unit.Simulator, unit.Predictor, share => Volatile.Write(ref _share, share)), CancellationToken.None, TaskCreationOptions.LongRunning, TaskScheduler.Default));
    }

    /// <summary>The test, null for a unit without a module; asked for the first time, work on it begins.</summary>
    public Task<AutomaticTest?> Test => _test.Value;

    /// <summary>Share of the work that is done, 0..1; it stays at 0 while the thresholds are looked for.</summary>
    public double Share => Volatile.Read(ref _share);
}
