using System.Diagnostics;
using System.Globalization;
using Ventwright.Quantities;
using Ventwright.Rig.Channels;
using Ventwright.Rig.Definition;

namespace Ventwright.Rig.Running;

/// <summary>
/// A run: reads all inputs, lets the surroundings go on, sets the outputs, logs, again and again. Whatever goes wrong, a device, a limit, the surroundings, the
/// log or the loop itself, ends it with all outputs in their safe state.
/// </summary>
public sealed class RigRun : IAsyncDisposable
{
    private readonly RigBench _rig;
    private readonly ISurroundings _surroundings;
    private readonly RunOptions _options;
    private readonly RunLog _log;
    private readonly RoundTimes _times;
    private readonly Stopwatch _clock = Stopwatch.StartNew();
    private readonly CancellationTokenSource _ending = new();
    private readonly HashSet<string> _notes = new(StringComparer.Ordinal);
    private readonly Lock _gate = new();
    private readonly Timer _watchdog;
    private readonly TaskCompletionSource<RunReport> _completion = new(TaskCreationOptions.RunContinuationsAsynchronously);
    private volatile RunState _state = RunState.Running;
    private volatile RunSample? _latest;
    private (string Why, bool IsFault)? _end;
    private int _finishing;
    private double _lastRoundS, _lastStepS = double.NaN;

    private RigRun(RigBench rig, ISurroundings surroundings, RunOptions options)
    {
        (_rig, _surroundings, _options) = (rig, surroundings, options);
        _log = new(rig.Definition, rig.Model, options);
        _times = new(options.Period.TotalSeconds);
        TimeSpan beat = options.WatchdogAfter / 4;
        _rig.Stopped += OnStopped;
        _watchdog = new(_ => Watch(), null, beat, beat);
        _ = Task.Run(LoopAsync);
    }

    /// <summary>Called after each round, on the run's own thread; be quick.</summary>
    public event Action<RunSample>? Sampled;

    /// <summary>What it is doing.</summary>
    public RunState State => _state;

    /// <summary>The latest round, or null before the first.</summary>
    public RunSample? Latest => _latest;

    /// <summary>How well it keeps its time so far.</summary>
    public RunStatistics Statistics
    {
        get
        {
            lock (_gate) return _times.Statistics;
        }
    }

    /// <summary>Ends with the run; never fails.</summary>
    public Task<RunReport> Completion => _completion.Task;

    /// <summary>Starts a run on a rig whose wiring check is confirmed.</summary>
    /// <exception cref="RigException">The wiring check is not confirmed, the rig lacks an output or input that the surroundings want, or the log cannot be written.</exception>
    public static RigRun Start(RigBench rig, ISurroundings surroundings, RunOptions options)
    {
        if (rig.HeldBy is { } why) throw new RigException(RigTrouble.NotConfirmed, rig.Definition.Name, $"a run cannot start: {why}. Run the wiring check and confirm it first");
        string[] outputs = [.. surroundings.Sets.Except(rig.Definition.Outputs.Select(rig.Definition.KeyOf))];
        if (outputs.Length > 0) throw new RigException(RigTrouble.NotPossible, rig.Definition.Name, $"the run sets {string.Join(", ", outputs)}; the rig has no output wired there");
        string[] inputs = [.. surroundings.Needs.Except(rig.Definition.Inputs.Select(Key))];
        if (inputs.Length > 0) throw new RigException(RigTrouble.NotPossible, rig.Definition.Name, $"the run needs {string.Join(", ", inputs)}; the rig has no input wired there");
        return new(rig, surroundings, options);
    }

    /// <summary>Lets time stand still for the surroundings.</summary>
    public void Pause() => Change(RunState.Paused);

    /// <summary>Hands the outputs over to a person, who sets them with <see cref="RigBench.SetAsync"/>.</summary>
    public void TakeOver() => Change(RunState.Manual);

    /// <summary>Lets the surroundings go on from where they stand; they set all their outputs again.</summary>
    public void Resume() => Change(RunState.Running);

    /// <summary>Ends the run with all outputs in their safe state.</summary>
    /// <param name="why">Why, in words.</param>
    public async Task<RunReport> StopAsync(string why)
    {
        End(why, isFault: false);
        // Not through the loop: it may be waiting for a device.
        await _rig.HeldSafeAsync(why);
        return await _completion.Task;
    }

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        await StopAsync("the run was closed");
    }

    /// <summary>Name under which the surroundings are told an input.</summary>
    private static string Key(InputDefinition input) => input.Wired.ToString() is { Length: > 0 } wired ? wired : input.Name;

    private void Change(RunState state)
    {
        lock (_gate)
        {
            if (_state == RunState.Stopped || _end is not null) return;
            if (state == RunState.Running && _state != RunState.Running) _lastStepS = _clock.Elapsed.TotalSeconds;
            _state = state;
        }
    }

    private void End(string why, bool isFault)
    {
        lock (_gate)
        {
            if (_end is not null) return;
            _end = (why, isFault);
        }

        _ending.Cancel();
    }

    /// <summary>Somebody else stopped the rig: a signal, the screen, another program part.</summary>
    private void OnStopped(SafeReport report) => End(report.Why, isFault: false);

    private void Watch()
    {
        double silent;
        lock (_gate) silent = _clock.Elapsed.TotalSeconds - _lastRoundS;
        if (_state == RunState.Stopped || silent < _options.WatchdogAfter.TotalSeconds) return;
        End(string.Create(CultureInfo.InvariantCulture, $"watchdog: no round has ended for {silent:0.0} s"), isFault: true);
        // The loop may never come back: the run is brought to its end without it.
        _ = FinishAsync();
    }

    private async Task LoopAsync()
    {
        try
        {
            await PowerOnAsync();
            while (!_ending.IsCancellationRequested)
            {
                double began = _clock.Elapsed.TotalSeconds;
                await RoundAsync(began);
                lock (_gate)
                {
                    _lastRoundS = _clock.Elapsed.TotalSeconds;
                    _times.Take(began, _lastRoundS);
                }

                if (_options.EndsAfter is { } limit && began >= limit.TotalSeconds) End("its time is over", isFault: false);
                TimeSpan wait = TimeSpan.FromSeconds(_times.NextS - _clock.Elapsed.TotalSeconds);
                if (wait > TimeSpan.Zero) await Task.Delay(wait, _ending.Token);
            }
        }
        catch (OperationCanceledException)
        {
            End("it was stopped", isFault: false);
        }
#pragma warning disable CA1031 // Nothing may keep the outputs from their safe state.
        catch (Exception e)
#pragma warning restore CA1031
        {
            // Whoever stops the rig takes the outputs away in the middle of a round: what the round says of it is no fault.
            if (_rig.HeldBy is { } why) End(why, isFault: false);
            else End(e is IOException ? $"the log cannot be written: {e.Message}" : e.Message, isFault: true);
        }

        await FinishAsync();
    }

    /// <summary>Supply and pump on, unless that is for the surroundings to do.</summary>
    private async Task PowerOnAsync()
    {
        double volts = _rig.Model.Parameters[_rig.Model.Electric[_rig.Model.SupplyBranch].Parameter];
        foreach (OutputDefinition output in _rig.Definition.Outputs.Where(o => o.Wired.Role is OutputRole.Supply or OutputRole.Pump && !_surroundings.Sets.Contains(_rig.Definition.KeyOf(o))))
            await _rig.SetAsync(output, output.Kind == ChannelKind.Relay ? 1 : volts, _ending.Token);
    }

    private async Task RoundAsync(double now)
    {
        IReadOnlyDictionary<string, double> measured = await _rig.ReadAllAsync(_ending.Token);
        if (Beyond(measured) is { } why) throw new RigException(RigTrouble.OutOfLimits, why.Name, why.What);
        IReadOnlyList<ShownValue> shows = _latest?.Shows ?? [];
        var notes = new List<string>();
        bool isOver = false;
        bool steps;
        double seconds;
        lock (_gate)
        {
            steps = _state == RunState.Running;
            seconds = double.IsNaN(_lastStepS) ? 0 : now - _lastStepS;
            if (steps) _lastStepS = now;
        }

        if (steps)
        {
            SurroundingsStep step = _surroundings.Step(Told(measured), Math.Max(0, seconds));
            (shows, isOver) = (step.Shows, step.IsOver);
            foreach ((string name, double value) in step.Wanted) await GiveAsync(name, value, notes);
        }

        var sample = new RunSample(DateTimeOffset.Now, now, _state, _rig.Given, measured, shows, notes) { Panel = Panel() };
        _log.Write(sample);
        _options.Heard?.Invoke(sample);
        _latest = sample;
        Sampled?.Invoke(sample);
        if (isOver) End("there is nothing more to play", isFault: false);
    }

    private IReadOnlyList<(string Name, string Value)> Panel()
    {
        IReadOnlyList<(string Name, string Value)> wanted = _surroundings.Panel;
        return [.. _options.Panel.Where(p => wanted.All(w => w.Name != p.Name)), .. wanted];
    }

    private async Task GiveAsync(string name, double value, List<string> notes)
    {
        OutputDefinition output = _rig.Definition.Outputs.First(o => _rig.Definition.KeyOf(o) == name);
        // Taken over or stopped in the middle of the round: the person's hand, or the safe state, has the last word.
        if (_state != RunState.Running || _ending.IsCancellationRequested) return;
        OutputChange change = await _rig.SetAsync(output, value, _ending.Token);
        if (!change.IsClamped) return;
        notes.Add($"{output.Name}: {output.Kind.Text(value, UnitSystem.Metric)} was wanted, its limits hold it at {output.Kind.Text(change.Given, UnitSystem.Metric)}");
        lock (_gate) _notes.Add($"{output.Name} was held at its limit of {output.Kind.Text(change.Given, UnitSystem.Metric)}");
    }

    private Dictionary<string, double> Told(IReadOnlyDictionary<string, double> measured)
    {
        var told = new Dictionary<string, double>(StringComparer.Ordinal);
        foreach (InputDefinition input in _rig.Definition.Inputs) told[Key(input)] = measured[input.Name];
        return told;
    }

    private (string Name, string What)? Beyond(IReadOnlyDictionary<string, double> measured)
    {
        foreach (InputDefinition input in _rig.Definition.Inputs)
        {
            double value = measured[input.Name];
            if (value >= input.Low && value <= input.High) continue;
            if (double.IsNaN(value) || double.IsInfinity(value)) return (input.Name, "it is over its range, so the run was stopped; look at its lead");
            string limit = input.Kind.Text(value < input.Low ? input.Low : input.High, UnitSystem.Metric);
            return (input.Name, $"{input.Kind.Text(value, UnitSystem.Metric)} is beyond its safe limit of {limit}, so the run was stopped; let the unit cool and look for the cause first");
        }

        return null;
    }

    private async Task FinishAsync()
    {
        if (Interlocked.Exchange(ref _finishing, 1) == 1) return;
        (string why, bool isFault) = _end ?? ("it ended", false);
        _rig.Stopped -= OnStopped;
        SafeReport safe = await _rig.HeldSafeAsync(why);
        _state = RunState.Stopped;
        await _watchdog.DisposeAsync();
        _log.Dispose();
        RunReport report;
        lock (_gate) report = new(why, isFault || !safe.IsSafe, safe, _times.Statistics, [.. _notes]);
        _completion.TrySetResult(report);
    }
}
