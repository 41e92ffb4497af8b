using Ventwright.Rig.Channels;
using Ventwright.Rig.Wiring;

namespace Ventwright.Rig.Running;

/// <summary>
/// One rig as a screen works with it: open, check the wiring, confirm, run, stop. It outlives the pages that show it: closing a tablet stops nothing, and any device can
/// stop. Thread-safe.
/// </summary>
public sealed class RigDesk : IAsyncDisposable
{
    private readonly SemaphoreSlim _turn = new(1, 1);
    private readonly Lock _gate = new();
    private readonly Queue<RunSample> _recent = new();
    private readonly int _keeps;
    private SafeOnExit? _guard;
    private volatile RigBench? _rig;
    private volatile RigRun? _run;

    /// <summary>A desk without a rig.</summary>
    /// <param name="keeps">Rounds kept for the screen; ten minutes at 5 Hz unless told.</param>
    public RigDesk(int keeps = 3000) => _keeps = keeps;

    /// <summary>Called whenever something changed, after each round too; on any thread.</summary>
    public event Action? Changed;

    /// <summary>The open rig, or null.</summary>
    public RigBench? Rig => _rig;

    /// <summary>What each device says it is.</summary>
    public IReadOnlyList<(string Device, string Found)> Found { get; private set; } = [];

    /// <summary>The last wiring check of this rig, or null before the first and after every stop: then it has to be made again.</summary>
    public WiringReport? Wiring { get; private set; }

    /// <summary>The run, which may be over; null before the first.</summary>
    public RigRun? Run => _run;

    /// <summary>How the last run went, or null.</summary>
    public RunReport? Report { get; private set; }

    /// <summary>The last rounds, oldest first.</summary>
    public IReadOnlyList<RunSample> Recent
    {
        get
        {
            lock (_gate) return [.. _recent];
        }
    }

    /// <summary>Opens a rig; one that was open before is made safe and closed.</summary>
    /// <exception cref="RigException">A device has trouble; nothing is open then.</exception>
    public async Task OpenAsync(RigBench rig, CancellationToken cancel)
    {
        await CloseAsync();
        await InTurnAsync(async () =>
        {
            try
            {
                Found = await rig.OpenAsync(cancel);
            }
            catch
            {
                await rig.DisposeAsync();
                throw;
            }

            rig.Stopped += OnStopped;
            _guard = new(rig);
            _rig = rig;
        });
    }

    /// <summary>Makes the wiring check, everything off; a run that is under way stops.</summary>
    /// <exception cref="RigException">No rig is open.</exception>
    public async Task<WiringReport> CheckAsync(CancellationToken cancel)
    {
        await InTurnAsync(async () => Wiring = await new WiringCheck(Opened()).OffAsync(cancel));
        return Wiring!;
    }

    /// <summary>Makes the wiring check with supply and pump on; everything is off again after it, and <see cref="Wiring"/> has to be made anew.</summary>
    /// <param name="panel">How the controls stand, as name and text.</param>
    /// <param name="rest">Time for the unit to come to rest.</param>
    /// <exception cref="RigException">The check with everything off was not confirmed, or the rig has trouble.</exception>
    /// <exception cref="OperationCanceledException">It was stopped in the middle.</exception>
    public async Task<WiringReport> CheckLiveAsync(IReadOnlyList<(string Name, string Value)> panel, TimeSpan rest)
    {
        using var stopped = new CancellationTokenSource();
        WiringReport? report = null;
        int stops = 0;
        void OnStop(SafeReport safe)
        {
            // The check's own end is a stop too; one before it is somebody's.
            Interlocked.Increment(ref stops);
            stopped.Cancel();
        }

        await InTurnAsync(async () =>
        {
            RigBench rig = Opened();
            rig.Stopped += OnStop;
            try
            {
                report = await new WiringCheck(rig).LiveAsync(panel, rest, stopped.Token);
            }
            finally
            {
                rig.Stopped -= OnStop;
            }
        });
        return stops == 1 ? report! : throw new OperationCanceledException("the rig was stopped");
    }

    /// <summary>The person has looked at <see cref="Wiring"/> and says that it is right.</summary>
    /// <param name="seen">The report that stood on the person's screen.</param>
    /// <exception cref="RigException">It is not the last one, or no rig is open.</exception>
    public void Confirm(WiringReport seen)
    {
        Opened().Confirm(seen);
        Changed?.Invoke();
    }

    /// <summary>Starts a run.</summary>
    /// <exception cref="RigException">A run is under way, the wiring is not confirmed, or the rig lacks something that the surroundings want.</exception>
    public async Task<RigRun> StartAsync(ISurroundings surroundings, RunOptions options)
    {
        await InTurnAsync(() =>
        {
            if (_run is { State: not RunState.Stopped }) throw new RigException(RigTrouble.NotPossible, Opened().Definition.Name, "a run is under way; stop it first");
            RigRun run = RigRun.Start(Opened(), surroundings, options);
            lock (_gate) _recent.Clear();
            Report = null;
            run.Sampled += Keep;
            _run = run;
            _ = FollowAsync(run);
            return Task.CompletedTask;
        });
        return _run!;
    }

    /// <summary>Stops whatever is under way; all outputs go to their safe state at once. Waits for nobody's turn.</summary>
    /// <param name="why">Why, in words.</param>
    public async Task<SafeReport?> StopAsync(string why)
    {
        if (_rig is not { } rig) return null;
        SafeReport report = await rig.MakeSafeAsync(why);
        if (_run is { } run) await run.StopAsync(why);
        return report;
    }

    /// <summary>Makes the rig safe and closes it.</summary>
    public Task CloseAsync() => InTurnAsync(async () =>
    {
        if (_rig is not { } rig) return;
        await StopAsync("the rig was closed");
        _guard?.Dispose();
        rig.Stopped -= OnStopped;
        await rig.DisposeAsync();
        (_rig, _guard, Wiring, Found) = (null, null, null, []);
    });

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        await CloseAsync();
        _turn.Dispose();
    }

    private RigBench Opened() => _rig ?? throw new RigException(RigTrouble.NotPossible, "rig", "no rig is open");

    private void OnStopped(SafeReport report)
    {
        Wiring = null;
        Changed?.Invoke();
    }

    private void Keep(RunSample sample)
    {
        lock (_gate)
        {
            _recent.Enqueue(sample);
            while (_recent.Count > _keeps) _recent.Dequeue();
        }

        Changed?.Invoke();
    }

    private async Task FollowAsync(RigRun run)
    {
        Report = await run.Completion;
        Changed?.Invoke();
    }

    private async Task InTurnAsync(Func<Task> work)
    {
        await _turn.WaitAsync();
        try
        {
            await work();
        }
        finally
        {
            _turn.Release();
        }

        Changed?.Invoke();
    }
}
