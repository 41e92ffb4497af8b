using Ventwright.Rig.Channels;
using Ventwright.Rig.Running;
using Ventwright.Rig.Virtual;
using Ventwright.Rig.Wiring;
using Ventwright.Simulation;

namespace Ventwright.Rig.Tests;

/// <summary>Nothing is switched on before the wiring is confirmed; whatever goes wrong, all outputs end in their safe state and the log is whole.</summary>
public class SafetyTests
{
    private static readonly RunOptions Fast = new() { Period = TimeSpan.FromMilliseconds(20), WatchdogAfter = TimeSpan.FromSeconds(60) };

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task NothingIsSetBeforeTheWiringIsConfirmed()
    {
        await using RigBench rig = await OpenAsync();
        Assert.Equal(RigTrouble.NotConfirmed, (await Assert.ThrowsAsync<RigException>(() => rig.SetAsync(rig.Output("power"), 1, Cancel))).Trouble);
        Assert.Throws<RigException>(() => RigRun.Start(rig, new Sine(), Fast));
        WiringReport old = await new WiringCheck(rig).OffAsync(Cancel);
        WiringReport last = await new WiringCheck(rig).OffAsync(Cancel);
        Assert.Throws<RigException>(() => rig.Confirm(old));
        rig.Confirm(last);
        await rig.SetAsync(rig.Output("power"), 1, Cancel);
        await rig.MakeSafeAsync("the screen said stop");
        AssertSafe(rig);
        Assert.Contains("the screen said stop", (await Assert.ThrowsAsync<RigException>(() => rig.SetAsync(rig.Output("power"), 1, Cancel))).Message, StringComparison.Ordinal);
        Assert.Throws<RigException>(() => rig.Confirm(last));
    }

    [Fact]
    public async Task ASoundWiringAgreesAndAVoltageWhereNoneBelongsIsOff()
    {
        await using RigBench rig = await OpenAsync();
        WiringReport report = await new WiringCheck(rig).OffAsync(Cancel);
        Assert.True(report.IsGood);
        Assert.All(report.Rows, r => Assert.Equal(WiringVerdict.Agrees, r.Verdict));

        // Somebody left another supply on the lamp's wire.
        var unit = new VirtualUnit(new Simulator(Rigs.Model));
        unit.Turn("feed load", "12 V");
        await using RigBench other = RigBench.Virtual(Rigs.Small, unit);
        await other.OpenAsync(Cancel);
        WiringRow row = Assert.Single((await new WiringCheck(other).OffAsync(Cancel)).Rows, r => r.Verdict == WiringVerdict.Off);
        Assert.Equal("lamp", row.Channel.Name);
        Assert.Contains("another supply", row.Look, StringComparison.Ordinal);
        Assert.Contains("L1", row.Look, StringComparison.Ordinal);
    }

    [Fact]
    public async Task TheLiveCheckFindsSwappedLeadsAndEndsSafe()
    {
        // The panel stands at off, the check is told that it stands at on: the lamp's wire shows 0 V instead of the supply.
        await using RigBench rig = await ConfirmedAsync();
        WiringReport report = await new WiringCheck(rig).LiveAsync([("mode", "on")], TimeSpan.Zero, Cancel);
        Assert.Equal("lamp", Assert.Single(report.Rows, r => r.Verdict == WiringVerdict.Off).Channel.Name);
        Assert.Equal(WiringVerdict.Agrees, report.Rows.Single(r => r.Channel.Name == "sensor").Verdict);
        AssertSafe(rig);
    }

    [Fact]
    public async Task LimitsHoldAndReport()
    {
        await using RigBench rig = await ConfirmedAsync();
        OutputChange change = await rig.SetAsync(rig.Output("RT1"), 90e3, Cancel);
        Assert.True(change.IsClamped);
        Assert.Equal(40e3, change.Given);
        Assert.False((await rig.SetAsync(rig.Output("RT1"), 12.344e3, Cancel)).IsClamped);
        Assert.Equal(12.34e3, rig.Given["cabin"]); // a register of 10 ohm steps
        await Assert.ThrowsAsync<RigException>(() => rig.SetAsync(rig.Output("RT1"), double.NaN, Cancel));
    }

    [Fact]
    public async Task ARunClosesTheLoopAndLogsAllChannels()
    {
        string log = Peer.TemporaryPath("log.csv");
        await using RigBench rig = await ConfirmedAsync();
        await using RigRun run = RigRun.Start(rig, new Divider(), Fast with { LogPath = log, Panel = [("mode", "on")] });
        await Waiting.UntilAsync(() => run.Statistics.Rounds >= 30 && Math.Abs(run.Latest!.Measured["sensor"] - 4) < 0.05, run);
        RunReport report = await run.StopAsync("enough");
        Assert.False(report.IsFault);
        Assert.Equal("enough", report.Why);
        Assert.Equal(RunState.Stopped, run.State);
        AssertSafe(rig);
        string[] lines = await File.ReadAllLinesAsync(log, Cancel);
        Assert.Equal("time,seconds,state,mode,supply,output power,pump,stand-in RT1 [ohm],volts(load) [V],volts(sense) [V],vacuum(vac.end) [kPa],target [V]", lines[0]);
        Assert.True(lines.Length >= 31);
        Assert.All(lines, l => Assert.Equal(12, l.Split(',').Length));
        File.Delete(log);
    }

    [Fact]
    public async Task PausedTheSurroundingsStandStillAndInHandAPersonSets()
    {
        await using RigBench rig = await ConfirmedAsync();
        var surroundings = new Sine();
        await using RigRun run = RigRun.Start(rig, surroundings, Fast);
        await Waiting.UntilAsync(() => surroundings.Steps > 3);
        run.Pause();
        await Waiting.UntilAsync(() => run.Latest!.State == RunState.Paused, run);
        int steps = surroundings.Steps, rounds = run.Statistics.Rounds;
        await Waiting.UntilAsync(() => run.Statistics.Rounds > rounds + 5, run);
        Assert.Equal(steps, surroundings.Steps);
        run.TakeOver();
        await rig.SetAsync(rig.Output("RT1"), 5e3, Cancel);
        rounds = run.Statistics.Rounds;
        await Waiting.UntilAsync(() => run.Statistics.Rounds > rounds + 3, run);
        Assert.Equal(5e3, run.Latest!.Given["cabin"]);
        run.Resume();
        await Waiting.UntilAsync(() => surroundings.Steps > steps + 3);
        Assert.True(surroundings.LongestStep < 30, "time in hand does not count for the surroundings");
        Assert.NotEqual(5e3, run.Latest!.Given["cabin"]);
    }

    [Theory]
    [InlineData(RigTrouble.LostContact)]
    [InlineData(RigTrouble.NoAnswer)]
    [InlineData(RigTrouble.Garbage)]
    public async Task TroubleWithADeviceEndsTheRunSafe(RigTrouble trouble)
    {
        string log = Peer.TemporaryPath("log.csv");
        await using RigBench rig = await ConfirmedAsync();
        await using RigRun run = RigRun.Start(rig, new Sine(), Fast with { LogPath = log });
        await Waiting.UntilAsync(() => run.Statistics.Rounds > 5, run);
        int left = 1;
        ((VirtualDevice)rig.Device("box")).Trouble = _ => Interlocked.Decrement(ref left) == 0 ? throw new RigException(trouble, "box", "the cable is out") : Task.CompletedTask;
        RunReport report = await run.Completion.WaitAsync(Waiting.Patience, Cancel);
        Assert.True(report.IsFault);
        Assert.Contains("the cable is out", report.Why, StringComparison.Ordinal);
        Assert.True(report.Safe.IsSafe);
        AssertSafe(rig);
        string[] lines = await File.ReadAllLinesAsync(log, Cancel);
        Assert.True(lines.Length > 6);
        Assert.EndsWith("\n", await File.ReadAllTextAsync(log, Cancel), StringComparison.Ordinal);
        File.Delete(log);
    }

    [Fact]
    public async Task WhatCannotBeReachedIsToldWithWhatToDo()
    {
        await using RigBench rig = await ConfirmedAsync();
        await using RigRun run = RigRun.Start(rig, new Sine(), Fast);
        await Waiting.UntilAsync(() => run.Statistics.Rounds > 5, run);
        ((VirtualDevice)rig.Device("box")).Trouble = _ => throw new RigException(RigTrouble.LostContact, "box", "the cable is out");
        RunReport report = await run.Completion.WaitAsync(Waiting.Patience, Cancel);
        Assert.True(report.IsFault);
        Assert.Equal(3, report.Safe.Unreached.Count);
        Assert.StartsWith("CUT THE 12 V SUPPLY BY HAND NOW", report.Safe.ToString(), StringComparison.Ordinal);
        ((VirtualDevice)rig.Device("box")).Trouble = null;
    }

    [Fact]
    public async Task SurroundingsThatThrowOrHangEndTheRunSafe()
    {
        await using RigBench rig = await ConfirmedAsync();
        await using (RigRun run = RigRun.Start(rig, new Broken(hangs: false), Fast))
        {
            RunReport report = await run.Completion.WaitAsync(Waiting.Patience, Cancel);
            Assert.Equal((true, "the model blew up"), (report.IsFault, report.Why));
            AssertSafe(rig);
        }

        await using RigBench other = await ConfirmedAsync();
        using var hung = new Broken(hangs: true);
        await using RigRun waiting = RigRun.Start(other, hung, Fast with { WatchdogAfter = TimeSpan.FromSeconds(1) });
        RunReport stopped = await waiting.Completion.WaitAsync(Waiting.Patience, Cancel);
        Assert.Contains("watchdog", stopped.Why, StringComparison.Ordinal);
        Assert.True(stopped.IsFault);
        AssertSafe(other);
    }

    [Fact]
    public async Task AReadingBeyondItsSafeLimitEndsTheRun()
    {
        var unit = new VirtualUnit(new Simulator(Rigs.Model));
        unit.Turn("mode", "on");
        await using RigBench rig = RigBench.Virtual(Rigs.Small, unit);
        await rig.OpenAsync(Cancel);
        rig.Confirm(await new WiringCheck(rig).OffAsync(Cancel));
        await using RigRun run = RigRun.Start(rig, new Sine(), Fast);
        await Waiting.UntilAsync(() => run.Statistics.Rounds > 3, run);
        unit.Turn("feed load", "24 V");
        RunReport report = await run.Completion.WaitAsync(Waiting.Patience, Cancel);
        Assert.Contains("beyond its safe limit of 16.0 V", report.Why, StringComparison.Ordinal);
        AssertSafe(rig);
    }

    [Fact]
    public async Task AStopInTheMiddleOfASettingHasTheLastWord()
    {
        await using RigBench rig = await ConfirmedAsync();
        var device = (VirtualDevice)rig.Device("box");
        var reached = new TaskCompletionSource();
        var go = new TaskCompletionSource();
        device.Trouble = async _ =>
        {
            device.Trouble = null;
            reached.SetResult();
            await go.Task;
        };
        Task<OutputChange> setting = rig.SetAsync(rig.Output("power"), 1, Cancel);
        await reached.Task.WaitAsync(Cancel);
        await rig.MakeSafeAsync("stop");
        go.SetResult();
        await setting;
        Assert.Equal(0, await rig.ReadBackAsync(rig.Output("power"), Cancel));
        AssertSafe(rig);
    }

    /// <summary>A round meets a stop that is still on its way to the device: it must neither call that a fault, nor let the run or the program end before the outputs are safe.</summary>
    [Fact]
    public async Task ARunEndsAfterTheStopThatEndsIt()
    {
        await using RigBench rig = await ConfirmedAsync();
        var surroundings = new Sine();
        await using RigRun run = RigRun.Start(rig, surroundings, Fast);
        await Waiting.UntilAsync(() => run.Statistics.Rounds > 3, run);
        using var goesOn = new ManualResetEventSlim();
        var inRound = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        surroundings.Before = () =>
        {
            inRound.TrySetResult();
            goesOn.Wait(Waiting.Patience);
        };
        await inRound.Task.WaitAsync(Waiting.Patience, Cancel);
        var reaches = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        ((VirtualDevice)rig.Device("box")).Trouble = _ => reaches.Task;
        Task<SafeReport> stop = rig.MakeSafeAsync("the red button");
        goesOn.Set();
        Task program = rig.DisposeAsync().AsTask();
        await Task.Delay(200, Cancel); // ten rounds
        Assert.False(run.Completion.IsCompleted, "the run ended while an output was not safe yet");
        Assert.False(program.IsCompleted, "the rig was closed while an output was not safe yet");
        reaches.SetResult();
        RunReport report = await run.Completion.WaitAsync(Waiting.Patience, Cancel);
        Assert.Equal((false, "the red button"), (report.IsFault, report.Why));
        Assert.Same(await stop, report.Safe);
        await program;
        AssertSafe(rig);
    }

    [Fact]
    public void RoundsThatComeLateAreCounted()
    {
        // Five rounds due at 0, 1, 2, ... s: the third begins 0.1 s late and takes until 4.5 s, so that the moments 3 and 4 pass.
        var times = new RoundTimes(1);
        foreach ((double began, double ended) in ((double, double)[])[(0, 0.2), (1, 1.2), (2.1, 4.5), (5, 5.1), (6.1, 6.3)]) times.Take(began, ended);
        RunStatistics s = times.Statistics;
        Assert.Equal((5, 2), (s.Rounds, s.Missed));
        Assert.Equal(0.1, s.LatestS, 9);
        Assert.Equal(2.4, s.LongestWorkS, 9);
        // Standard deviation of 0, 0, 0.1, 0, 0.1 (n - 1): by hand, sqrt(0.012 / 4).
        Assert.Equal(Math.Sqrt(0.012 / 4), s.JitterS, 9);
        Assert.Equal(4 / 6.1, s.RateHz, 9);
    }

    private static async Task<RigBench> OpenAsync()
    {
        RigBench rig = RigBench.Virtual(Rigs.Small, new VirtualUnit(new Simulator(Rigs.Model)));
        await rig.OpenAsync(Cancel);
        return rig;
    }

    private static async Task<RigBench> ConfirmedAsync()
    {
        RigBench rig = await OpenAsync();
        rig.Confirm(await new WiringCheck(rig).OffAsync(Cancel));
        return rig;
    }

    private static void AssertSafe(RigBench rig)
    {
        Assert.NotNull(rig.HeldBy);
        Assert.Equal(0, rig.Given["power"]);
        Assert.Equal(0, rig.Given["pump"]);
        Assert.Equal(10e3, rig.Given["cabin"]);
    }

    /// <summary>The sensor swings; nothing is measured.</summary>
    private sealed class Sine : ISurroundings
    {
        private double _now;

        public int Steps { get; private set; }

        public double LongestStep { get; private set; }

        public Action? Before { get; set; }

        public IReadOnlyList<string> Sets => ["RT1"];

        public IReadOnlyList<string> Needs => ["volts(sense)"];

        public SurroundingsStep Step(IReadOnlyDictionary<string, double> measured, double seconds)
        {
            Before?.Invoke();
            Steps++;
            LongestStep = Math.Max(LongestStep, seconds);
            _now += seconds;
            return new(new Dictionary<string, double> { ["RT1"] = 12e3 + (4e3 * Math.Sin(_now)) }, []);
        }
    }

    /// <summary>Brings the sensor's wire to 4 V by what it measures there: an integrating loop through the rig.</summary>
    private sealed class Divider : ISurroundings
    {
        private double _ohms = 10e3;

        public IReadOnlyList<string> Sets => ["RT1"];

        public IReadOnlyList<string> Needs => ["volts(sense)"];

        public SurroundingsStep Step(IReadOnlyDictionary<string, double> measured, double seconds)
        {
            if (seconds > 0) _ohms *= 1 + (0.1 * Math.Clamp(4 - measured["volts(sense)"], -1, 1));
            return new(new Dictionary<string, double> { ["RT1"] = _ohms }, [new("target", 4, Quantities.Dimension.Volt)]);
        }
    }

    private sealed class Broken(bool hangs) : ISurroundings, IDisposable
    {
        private readonly ManualResetEventSlim _never = new();

        public IReadOnlyList<string> Sets => ["RT1"];

        public IReadOnlyList<string> Needs => [];

        public SurroundingsStep Step(IReadOnlyDictionary<string, double> measured, double seconds)
        {
            if (hangs) _never.Wait(TimeSpan.FromMinutes(5));
            throw new InvalidOperationException("the model blew up");
        }

        public void Dispose() => _never.Set();
    }
}
