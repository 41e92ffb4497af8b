using System.Collections.Concurrent;
using Ventwright.Rig.Running;

namespace Ventwright.Workshop.Rigs;

/// <summary>
/// Keeps a run in the store while it goes on. Rounds are queued and written by a thread of their own, all that came within a second in one go, so that the disk never
/// delays the run; a program that is killed loses about the last second.
/// </summary>
public sealed class RunKeeper
{
    private static readonly TimeSpan Every = TimeSpan.FromSeconds(1);

    private readonly IRunStore _store;
    private readonly RunTable _table;
    private readonly RigRunStart _start;
    private readonly ConcurrentQueue<IReadOnlyList<string>> _rows = new();
    private readonly TaskCompletionSource<RunReport> _over = new(TaskCreationOptions.RunContinuationsAsynchronously);
    private long _run;
    private int _kept;

    /// <summary>Begins to keep a run.</summary>
    /// <param name="store">Where.</param>
    /// <param name="start">How it begins; its heads are those of the table.</param>
    /// <param name="table">The run as a table.</param>
    /// <param name="failed">Called when something cannot be kept, with the reason in words; nothing more is kept then.</param>
    public RunKeeper(IRunStore store, RigRunStart start, RunTable table, Action<string> failed)
    {
        (_store, _start, _table) = (store, start, table);
        Kept = Task.Run(() => KeepAsync(failed));
    }

    /// <summary>Ends once all is on disk, with the run's number; 0 when it could not be kept.</summary>
    public Task<long> Kept { get; }

    /// <summary>Takes a round; quick.</summary>
    /// <returns>Its cells.</returns>
    public IReadOnlyList<string> Take(RunSample sample)
    {
        IReadOnlyList<string> row = _table.Row(sample);
        _rows.Enqueue(row);
        return row;
    }

    /// <summary>The run is over.</summary>
    public void End(RunReport report) => _over.TrySetResult(report);

    private async Task<long> KeepAsync(Action<string> failed)
    {
        try
        {
            while (await Task.WhenAny(_over.Task, Task.Delay(Every)) != _over.Task) Write();
            Write();
            Begin();
            _store.EndRun(_run, RigRunEnd.Of(await _over.Task, TimeProvider.System.GetLocalNow()));
            return _run;
        }
#pragma warning disable CA1031 // Whatever the store says, the run must be told of it.
        catch (Exception e)
#pragma warning restore CA1031
        {
            failed(e.Message);
            return 0;
        }
    }

    private void Begin()
    {
        if (_run == 0) _run = _store.BeginRun(_start with { Heads = _table.Heads });
    }

    private void Write()
    {
        var rows = new List<IReadOnlyList<string>>();
        while (_rows.TryDequeue(out IReadOnlyList<string>? row)) rows.Add(row);
        if (rows.Count == 0) return;
        Begin();
        _store.AddSamples(_run, _kept + 1, rows);
        _kept += rows.Count;
    }
}
