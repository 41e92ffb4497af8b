using Ventwright.Rig;
using Ventwright.Rig.Channels;
using Ventwright.Rig.Definition;
using Ventwright.Rig.Running;
using Ventwright.Rig.Virtual;
using Ventwright.Rig.Wiring;
using Ventwright.Workshop.Automatic;

namespace Ventwright.Workshop.Rigs;

/// <summary>How far the work with a rig is.</summary>
public enum RigStep
{
    /// <summary>No rig is connected.</summary>
    NotConnected,

    /// <summary>Its devices answered; the wiring has to be checked, for the first time or anew after a stop.</summary>
    Found,

    /// <summary>The wiring was checked; nobody has said yet that it is right.</summary>
    Checked,

    /// <summary>The wiring is confirmed: outputs may be set from now on.</summary>
    Confirmed,

    /// <summary>The wiring is being checked with supply and pump on.</summary>
    Live,

    /// <summary>A run is under way.</summary>
    Running,
}

/// <summary>A rig that is connected.</summary>
/// <param name="Session">The session that it is for.</param>
/// <param name="Unit">The unit, of the version of the sheet that the session was tied to when it was connected.</param>
/// <param name="Choice">What the person chose.</param>
/// <param name="Definition">The rig.</param>
public sealed record ConnectedRig(OpenSession Session, UnitOnSheet Unit, RigChoice Choice, RigDefinition Definition)
{
    /// <summary>What it is wired to, in words.</summary>
    public string UnitWords => !Choice.IsSimulated ? "the unit on the bench" : Unit.Model.FindFault(Choice.Fault) is { } fault ? $"the simulated unit with {CheckTitles.FaultTitle(Unit.Model, fault)}" : "the simulated unit, sound";
}

/// <summary>
/// The rig of this computer: one for all screens. It outlives the pages that show it: a closed page stops nothing, any device sees the same run and can stop it, and the
/// end of the program makes it safe. Thread-safe.
/// </summary>
public sealed class BenchRig : IAsyncDisposable
{
    private readonly IRunStore _store;
    private readonly RigDesk _desk = new(keeps: 1);
    private readonly SemaphoreSlim _turn = new(1, 1);
    private volatile ConnectedRig? _connected;
    private volatile RunTrack? _track;
    private volatile RunAgainstSound? _against;
    private volatile RunSample? _latest;
    private volatile bool _isLive;
    private VirtualUnit? _simulated;
    private Task _finishing = Task.CompletedTask;

    /// <summary>No rig yet.</summary>
    /// <param name="store">Keeps the runs.</param>
    public BenchRig(IRunStore store)
    {
        _store = store;
        _desk.Changed += Announce;
    }

    /// <summary>Raised whenever something changed, after each round too; on any thread.</summary>
    public event Action? Changed;

    /// <summary>The rig that is connected, or null.</summary>
    public ConnectedRig? Connected => _connected;

    /// <summary>How far the work is.</summary>
    public RigStep Step => _connected is null || _desk.Rig is not { } rig ? RigStep.NotConnected
        : _desk.Run is { State: not RunState.Stopped } ? RigStep.Running
        : _isLive ? RigStep.Live
        : rig.HeldBy is null ? RigStep.Confirmed
        : _desk.Wiring is null ? RigStep.Found : RigStep.Checked;

    /// <summary>What each device says it is.</summary>
    public IReadOnlyList<(string Device, string Found)> Found => _desk.Found;

    /// <summary>The wiring check that waits for a confirmation or has it, or null.</summary>
    public WiringReport? Wiring => _desk.Wiring;

    /// <summary>The last wiring check with the supply on, or null. It confirms nothing: every output is off again after it.</summary>
    public WiringReport? LiveWiring { get; private set; }

    /// <summary>What the run is doing; stopped where there is none.</summary>
    public RunState State => _desk.Run?.State ?? RunState.Stopped;

    /// <summary>How well the run keeps its time, or null.</summary>
    public RunStatistics? Statistics => _desk.Run?.Statistics;

    /// <summary>The latest round, or null.</summary>
    public RunSample? Latest => _latest;

    /// <summary>The lines of the run, or null before its first round.</summary>
    public TrackShot? Shot => _track?.Shot();

    /// <summary>The run beside that of a sound unit, as far as it is worked out; null where it is none with the car. Asked for now and then it stays up to date.</summary>
    public DrivePair? Against => _against?.Pair;

    /// <summary>The last time that outputs were put into their safe state, also of a rig that is no longer connected; null before the first, and after a person cut the supply by hand.</summary>
    public SafeReport? LastStop { get; private set; }

    /// <summary>How the last run went, or null.</summary>
    public RunReport? Report { get; private set; }

    /// <summary>Number under which the last run is kept; null before, and while it goes on.</summary>
    public long? LastRun { get; private set; }

    /// <summary>What could not be kept of a run, in words, or null.</summary>
    public string? Trouble { get; private set; }

    /// <summary>Value that each output gives, by name, SI.</summary>
    public IReadOnlyDictionary<string, double> Given => _desk.Rig?.Given ?? new Dictionary<string, double>(StringComparer.Ordinal);

    /// <summary>Opens the devices of a rig and puts all outputs into their safe state.</summary>
    /// <param name="session">The session that it is for.</param>
    /// <param name="choice">The rig.</param>
    /// <exception cref="RefusedException">Another rig is connected, the rig file cannot be used, or a device has trouble; nothing is open then.</exception>
    public Task ConnectAsync(OpenSession session, RigChoice choice) => InTurnAsync(async () =>
    {
        ArgumentNullException.ThrowIfNull(session);
        ArgumentNullException.ThrowIfNull(choice);
        if (_connected is { } other) throw new RefusedException($"a rig is connected already, for the session {other.Session.Record.Title}; disconnect it first");
        UnitOnSheet unit = session.Unit;
        (RigBench rig, VirtualUnit? simulated) = choice.Assemble(unit);
        rig.Stopped += report => LastStop = report;
        await _desk.OpenAsync(rig, CancellationToken.None);
        (_simulated, _track, _against, _latest, LiveWiring, Report, LastRun, Trouble) = (simulated, null, null, null, null, null, null, null);
        _connected = new(session, unit, choice, rig.Definition);
    });

    /// <summary>Makes the wiring check, everything off.</summary>
    /// <exception cref="RefusedException">No rig is connected, or a run is under way.</exception>
    public Task CheckAsync() => InTurnAsync(async () =>
    {
        if (Step == RigStep.Running) throw new RefusedException("a run is under way; stop it first");
        await _desk.CheckAsync(CancellationToken.None);
    });

    /// <summary>The person has looked at each line of a wiring check and says that it is right.</summary>
    /// <param name="seen">The check that stood on the person's screen.</param>
    /// <exception cref="RefusedException">It is not the last one any more.</exception>
    public void Confirm(WiringReport seen)
    {
        try
        {
            _desk.Confirm(seen);
        }
        catch (RigException e)
        {
            throw new RefusedException(e.Message, e);
        }
    }

    /// <summary>Makes the wiring check with supply and pump on, and puts everything back into its safe state: the wiring has to be confirmed anew after it.</summary>
    /// <param name="panel">How the controls stand, by name and text.</param>
    /// <exception cref="RefusedException">The check with everything off is not confirmed, a run is under way, the panel cannot stand so, or it was stopped in the middle.</exception>
    public Task CheckLiveAsync(IReadOnlyList<(string Name, string Value)> panel) => InTurnAsync(async () =>
    {
        ConnectedRig rig = _connected ?? throw new RefusedException("no rig is connected");
        if (Step != RigStep.Confirmed) throw new RefusedException("the supply goes on only after the wiring was checked with everything off and confirmed, and not while a run is under way");
        SettingWords.Make(rig.Unit.Model, panel);
        _simulated?.Turn(panel);
        _isLive = true;
        Announce();
        try
        {
            LiveWiring = await _desk.CheckLiveAsync(panel, RigWords.LiveRest);
        }
        catch (OperationCanceledException e)
        {
            throw new RefusedException("the check with the supply on was stopped; nothing of it counts", e);
        }
        finally
        {
            _isLive = false;
            Announce();
        }
    });

    /// <summary>Starts a run; it goes on without anybody's page.</summary>
    /// <param name="order">What is played.</param>
    /// <param name="by">Who starts it.</param>
    /// <exception cref="RefusedException">The wiring is not confirmed, a run is under way, or the order cannot be carried out with this rig.</exception>
    public Task StartAsync(RunOrder order, string by) => InTurnAsync(async () =>
    {
        ArgumentNullException.ThrowIfNull(order);
        ConnectedRig rig = _connected ?? throw new RefusedException("no rig is connected");
        if (Step == RigStep.Running) throw new RefusedException("a run is under way; stop it first");
        if (Step != RigStep.Confirmed) throw new RefusedException("nothing may be switched on before the wiring was checked and confirmed");
        RunDrive? drive = order.Drive(rig.Definition, rig.Unit.Model, rig.Choice.IsSimulated);
        ISurroundings surroundings = order.Surroundings(rig.Definition, rig.Unit.Model, drive);
        RunOptions options = order.Options();
        await _finishing;
        _simulated?.Turn(order.Panel);
        var table = new RunTable(rig.Definition, rig.Unit.Model, order.Panel);
        var keeper = new RunKeeper(_store, new(rig.Session.Record.Id, rig.Definition.Name, rig.UnitWords, order.Words(), TimeProvider.System.GetLocalNow(), by, [], drive), table, Failed);
        (_track, _against, _latest, Report, LastRun, Trouble) = (null, null, null, null, null, null);
        RigRun run = await _desk.StartAsync(surroundings, options with { Heard = sample => Hear(sample, table, keeper, rig, drive) });
        _finishing = FinishAsync(run, keeper);
    });

    /// <summary>Lets time stand still for the car; outputs stay, and limits are watched.</summary>
    public void Pause() => InRun(run => run.Pause());

    /// <summary>Hands the outputs over to a person.</summary>
    public void TakeOver() => InRun(run => run.TakeOver());

    /// <summary>Lets the car go on and set the outputs again.</summary>
    public void Resume() => InRun(run => run.Resume());

    /// <summary>Sets an output by hand, in a run that was handed over.</summary>
    /// <param name="output">Its name.</param>
    /// <param name="text">The value: <c>12.1 kohm</c>, <c>30 degC</c>, <c>on</c>.</param>
    /// <returns>What it gives now.</returns>
    /// <exception cref="RefusedException">The run is not in a person's hand, or the value cannot be given.</exception>
    public async Task<OutputChange> SetAsync(string output, string text)
    {
        if (_connected is not { } connected || _desk.Rig is not { } rig || State != RunState.Manual) throw new RefusedException("the run sets the outputs now; take it in your hand first");
        try
        {
            (OutputDefinition definition, double value) = ScriptedSurroundings.Read(connected.Definition, connected.Unit.Model, output, text);
            return await rig.SetAsync(definition, value, CancellationToken.None);
        }
        catch (RigException e)
        {
            throw new RefusedException(e.Message, e);
        }
    }

    /// <summary>Puts all outputs into their safe state at once, whatever is under way. Waits for nobody's turn; null when no rig is connected.</summary>
    /// <param name="why">Why, in words.</param>
    public Task<SafeReport?> StopAsync(string why) => _desk.StopAsync(why);

    /// <summary>A person says that the supply was cut by hand: what a rig that is gone could not switch off needs no alarm any more.</summary>
    /// <exception cref="RefusedException">A rig is connected; its own stop tells whether the outputs are safe.</exception>
    public void SupplyIsCut()
    {
        if (_connected is not null) throw new RefusedException("a rig is connected; disconnect it first");
        LastStop = null;
        Announce();
    }

    /// <summary>Makes the rig safe and closes its devices.</summary>
    public Task DisconnectAsync() => InTurnAsync(async () =>
    {
        await _desk.CloseAsync();
        (_connected, _simulated) = (null, null);
    });

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        await _desk.DisposeAsync();
        await _finishing;
        _turn.Dispose();
    }

    private void Hear(RunSample sample, RunTable table, RunKeeper keeper, ConnectedRig rig, RunDrive? drive)
    {
        RunSample? before = _latest;
        _latest = sample;
        if (_simulated is { } unit)
        {
            foreach ((string name, string value) in sample.Panel.Except(before?.Panel ?? sample.Panel)) unit.Turn(name, value);
        }

        IReadOnlyList<string> row = keeper.Take(sample);
        (_track ??= new(table.Heads, rig.Unit.Model)).Add(row);
        if (drive is not null) (_against ??= new(rig.Unit.Simulator, drive, () => table.Heads)).Take(row);
    }

    private async Task FinishAsync(RigRun run, RunKeeper keeper)
    {
        RunReport report = await run.Completion;
        Report = report;
        Announce();
        keeper.End(report);
        long number = await keeper.Kept;
        if (number > 0) LastRun = number;
        Announce();
    }

    private void Failed(string why)
    {
        Trouble = $"the log of this run cannot be kept any further: {why}";
        _ = StopAsync("the log cannot be kept");
    }

    private void InRun(Action<RigRun> what)
    {
        if (_desk.Run is not { State: not RunState.Stopped } run) throw new RefusedException("no run is under way");
        what(run);
        Announce();
    }

    private async Task InTurnAsync(Func<Task> work)
    {
        await _turn.WaitAsync();
        try
        {
            await work();
        }
        catch (RigException e)
        {
            throw new RefusedException(e.Message, e);
        }
        finally
        {
            _turn.Release();
        }

        Announce();
    }

    private void Announce() => Changed?.Invoke();
}
