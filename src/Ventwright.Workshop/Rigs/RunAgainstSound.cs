using System.Collections.Concurrent;
using Ventwright.Simulation;
using Ventwright.Workshop.Automatic;

namespace Ventwright.Workshop.Rigs;

/// <summary>A run with the simulated car, held against the same run of a sound unit while it goes on. Rounds are worked off in the background when somebody asks, so that a run is never delayed. Thread-safe.</summary>
/// <param name="simulator">The unit.</param>
/// <param name="drive">What the run is about.</param>
/// <param name="heads">Heads of the run's table, there from its first row on.</param>
public sealed class RunAgainstSound(Simulator simulator, RunDrive drive, Func<IReadOnlyList<string>> heads)
{
    private readonly ConcurrentQueue<IReadOnlyList<string>> _rows = new();
    private readonly Lock _gate = new();
    private RunReplay? _replay;
    private DrivePair? _latest;
    private Task<DrivePair?> _work = Task.FromResult<DrivePair?>(null);

    /// <summary>Both runs as far as they are worked out, while work on the rest begins; null before the first.</summary>
    public DrivePair? Pair
    {
        get
        {
            lock (_gate)
            {
                if (_work.IsCompletedSuccessfully && !_rows.IsEmpty) _work = Task.Run(WorkOff);
            }

            return Volatile.Read(ref _latest);
        }
    }

    /// <summary>Both runs of a kept run; takes some seconds. Null where it was none with the car, or is too short to say something.</summary>
    /// <exception cref="RefusedException">The run cannot be made again: scenario or car cannot be read, or the unit is another one now.</exception>
    public static DrivePair? Of(RigRunRecord run, IReadOnlyList<IReadOnlyList<string>> rows, UnitOnSheet unit)
    {
        ArgumentNullException.ThrowIfNull(run);
        ArgumentNullException.ThrowIfNull(unit);
        if (run.Start.Drive is not { } drive || rows.Count == 0) return null;
        var replay = new RunReplay(unit.Simulator, drive, run.Start.Heads);
        foreach (IReadOnlyList<string> row in rows) replay.GoOn(row);
        return replay.Pair();
    }

    /// <summary>Takes a round; quick.</summary>
    /// <param name="cells">Its cells, one for each head.</param>
    public void Take(IReadOnlyList<string> cells) => _rows.Enqueue(cells);

    /// <summary>Both runs with all rounds that were taken.</summary>
    /// <exception cref="RefusedException">The run cannot be made again.</exception>
    public async Task<DrivePair?> FinishAsync()
    {
        do
        {
            _ = Pair;
            await _work;
        }
        while (!_rows.IsEmpty);
        return _latest;
    }

    private DrivePair? WorkOff()
    {
        _replay ??= new(simulator, drive, heads());
        while (_rows.TryDequeue(out IReadOnlyList<string>? row)) _replay.GoOn(row);
        DrivePair? pair = _replay.Pair();
        Volatile.Write(ref _latest, pair);
        return pair;
    }
}
