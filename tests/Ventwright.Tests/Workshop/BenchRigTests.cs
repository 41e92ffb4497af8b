using Ventwright.Bench.Car;
using Ventwright.Rig.Logs;
using Ventwright.Rig.Running;
using Ventwright.Store;
using Ventwright.Tests.Store;
using Ventwright.Workshop;
using Ventwright.Workshop.Automatic;
using Ventwright.Workshop.Rigs;

namespace Ventwright.Tests.Workshop;

/// <summary>The rig of a computer as its screens use it, on simulated units and on a supply on a real line. The program's own contract; no outside source.</summary>
public sealed class BenchRigTests : StoreFolder
{
    private const string Automatic = "twin-blower-automatic.yaml", Manual = "single-blower-manual.yaml";

    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Theory]
    [InlineData(Automatic, 2)]
    [InlineData(Manual, 1)]
    public void Rigs_on_the_shelf_are_offered_where_they_fit_and_every_sheet_has_a_simulated_one(string sheet, int fitting)
    {
        UnitOnSheet unit = Unit(sheet);
        Assert.Equal(fitting, RigShelf.Fitting(unit.Model).Count);
        var rig = new RigChoice("simulated.yaml", SimulatedRig.TextFor(unit.Simulator), true).Read(unit.Model);
        Assert.Contains(rig.Outputs, o => o.Wired.Name == "supply");
        Assert.True(rig.Inputs.Count > 3);
    }

    [Fact]
    public async Task A_held_run_is_kept_and_its_steady_moments_become_readings_once()
    {
        using SqliteSessionStore store = SqliteSessionStore.Open(DatabasePath);
        OpenSession session = Start(store, Automatic);
        await using var rig = new BenchRig(store);
        await ReadyAsync(rig, session, Simulated(session));
        await rig.StartAsync(new() { Rate = "20", Minutes = "0.11", Panel = RunOrder.PanelFor(session, null), Held = new Dictionary<string, string> { ["sensor-RT1"] = "30 degC" } }, "Ann");
        RigRunRecord run = await EndedAsync(rig, store);
        Assert.Equal(("Ann", false), (run.Start.By, run.End!.IsFault));
        Assert.Contains("sensor-RT1 at 30 degC", run.Start.What, StringComparison.Ordinal);
        Assert.Contains("safe state", run.End.Outputs, StringComparison.Ordinal);
        Assert.Equal(run.End.Statistics.Rounds, run.Samples);
        Assert.InRange(run.Samples, 60, 140);

        // What the module's sensor was made to show, from the log through the sensor's own curve.
        TrackShot shot = RunTrack.Of(run, store.Samples(run.Number), session.Unit.Model);
        Assert.InRange(shot.Of(TrackGroup.Given)[0].Values[^1], 303.1, 303.2);

        IReadOnlyList<LoggedReading> readings = LogReadings.Of(run, store.Samples(run.Number), session.Unit.Model);
        Assert.NotEmpty(readings);
        Assert.Contains(readings[0].Set, s => s.Name == "stand-in RT1");
        Assert.Equal(new(readings.Count, 0), LogReadings.Keep(session, readings, "Ann"));
        Assert.Equal(readings.Count, session.Evidence.Count);
        Assert.Equal(new(0, readings.Count), LogReadings.Keep(session, readings, "Ann"));
        Assert.All(session.Evidence, e => Assert.Equal(Fit.AsExpected, WrittenEntries.Judge(session.Unit, e)!.Fit));
    }

    [Fact]
    public async Task A_simulated_car_goes_faster_than_the_clock_round_a_simulated_unit_only()
    {
        using SqliteSessionStore store = SqliteSessionStore.Open(DatabasePath);
        OpenSession session = Start(store, Automatic);
        await using var rig = new BenchRig(store);
        await ReadyAsync(rig, session, Simulated(session));
        await rig.StartAsync(Pull(session) with { Times = 60, Minutes = "0.03" }, "bench");
        RigRunRecord run = await EndedAsync(rig, store);
        TrackShot shot = RunTrack.Of(run, store.Samples(run.Number), session.Unit.Model);
        int car = run.Start.Heads.ToList().IndexOf("car time [s]");
        Assert.InRange(double.Parse(store.Samples(run.Number)[^1][car], System.Globalization.CultureInfo.InvariantCulture), 60, 200);
        Assert.Equal(["Cabin air", "Asked for"], shot.Of(TrackGroup.Cabin).Select(l => l.Name));
        Assert.All(shot.Of(TrackGroup.Cabin), l => Assert.InRange(l.Values[^1], 280, 340));

        // Kept, the run can be held against a sound unit's, which goes the same way, and stayed so while it went on.
        DrivePair pair = RunAgainstSound.Of(run, store.Samples(run.Number), session.Unit)!;
        Assert.Empty(pair.Deviations);
        Assert.Equal(shot.Of(TrackGroup.Cabin)[0].Values[^1], pair.Suspect!.Find(SeriesGroup.Temperatures, "cabin")!.Values[^1], 1.0);
        await UntilAsync(() => rig.Against is { Deviations.Count: 0 });

        await using var supply = new SupplyOnALine();
        await rig.DisconnectAsync();
        await ReadyAsync(rig, session, new("supply.yaml", supply.RigFile("battery"), false));
        string message = (await Assert.ThrowsAsync<RefusedException>(() => rig.StartAsync(Pull(session) with { Times = 60 }, "bench"))).Message;
        Assert.Contains("its own time", message, StringComparison.Ordinal);
        Assert.False(supply.IsOn);
    }

    [Fact]
    public async Task Nothing_is_switched_on_before_the_wiring_is_confirmed_and_again_after_every_stop()
    {
        using SqliteSessionStore store = SqliteSessionStore.Open(DatabasePath);
        OpenSession session = Start(store, Manual);
        await using var supply = new SupplyOnALine();
        await using var rig = new BenchRig(store);
        await rig.ConnectAsync(session, new("supply.yaml", supply.RigFile("battery"), false));
        Assert.Equal(RigStep.Found, rig.Step);
        var order = new RunOrder { Panel = RunOrder.PanelFor(session, null) };
        await Assert.ThrowsAsync<RefusedException>(() => rig.StartAsync(order, "bench"));
        await rig.CheckAsync();
        Assert.Equal(RigStep.Checked, rig.Step);
        await Assert.ThrowsAsync<RefusedException>(() => rig.StartAsync(order, "bench"));
        Assert.DoesNotContain("OUTP ON", supply.Told);
        rig.Confirm(rig.Wiring!);
        Assert.DoesNotContain("OUTP ON", supply.Told);
        await rig.StartAsync(order, "bench");
        await UntilAsync(() => supply.IsOn);
        Assert.Equal(RigStep.Running, rig.Step);
        await Assert.ThrowsAsync<RefusedException>(() => rig.StartAsync(order, "bench"));
        await Assert.ThrowsAsync<RefusedException>(rig.CheckAsync);

        Assert.True((await rig.StopAsync("the red button"))!.IsSafe);
        Assert.False(supply.IsOn);
        Assert.Equal("the red button", (await EndedAsync(rig, store)).End!.Why);
        Assert.Equal(RigStep.Found, rig.Step);
        await Assert.ThrowsAsync<RefusedException>(() => rig.StartAsync(order, "bench"));
        Assert.False(supply.IsOn);
    }

    [Fact]
    public async Task The_wiring_is_checked_with_the_supply_on_only_after_it_was_confirmed_and_everything_is_off_after_it()
    {
        using SqliteSessionStore store = SqliteSessionStore.Open(DatabasePath);
        OpenSession session = Start(store, Automatic);
        await using var rig = new BenchRig(store);
        await Assert.ThrowsAsync<RefusedException>(() => rig.CheckLiveAsync([]));
        await rig.ConnectAsync(session, Simulated(session) with { Fault = "Y3:stuck-shut" });
        await rig.CheckAsync();
        await Assert.ThrowsAsync<RefusedException>(() => rig.CheckLiveAsync([]));
        rig.Confirm(rig.Wiring!);
        await Assert.ThrowsAsync<RefusedException>(() => rig.CheckLiveAsync([("mode", "sideways")]));
        Assert.Equal(RigStep.Confirmed, rig.Step);
        await rig.CheckLiveAsync([("mode", "screen")]);
        Assert.Contains("act.screen", Assert.Single(rig.LiveWiring!.Rows, r => r.Verdict == Ventwright.Rig.Wiring.WiringVerdict.Off).WiredTo, StringComparison.Ordinal);
        Assert.True(rig.LiveWiring.IsLive);
        Assert.Equal(0, rig.Given["supply"]);
        Assert.Equal(RigStep.Found, rig.Step);
        await Assert.ThrowsAsync<RefusedException>(() => rig.StartAsync(Pull(session), "bench"));
        await rig.DisconnectAsync();
        Assert.Equal(RigStep.NotConnected, rig.Step);
    }

    [Fact]
    public async Task A_check_with_the_supply_on_is_stopped_at_once_and_counts_for_nothing()
    {
        using SqliteSessionStore store = SqliteSessionStore.Open(DatabasePath);
        OpenSession session = Start(store, Manual);
        await using var supply = new SupplyOnALine();
        await using var rig = new BenchRig(store);
        await ReadyAsync(rig, session, new("supply.yaml", supply.RigFile("battery"), false));
        Task check = rig.CheckLiveAsync([]);
        await UntilAsync(() => supply.IsOn);
        Assert.Equal(RigStep.Live, rig.Step);
        await rig.StopAsync("the red button");
        Assert.False(supply.IsOn);
        Assert.Contains("stopped", (await Assert.ThrowsAsync<RefusedException>(() => check)).Message, StringComparison.Ordinal);
        Assert.Null(rig.LiveWiring);
        Assert.Equal(RigStep.Found, rig.Step);
        Assert.False(supply.IsOn);
    }

    [Fact]
    public async Task A_device_that_is_lost_ends_the_run_with_a_clear_word_and_leaves_the_session_whole()
    {
        using SqliteSessionStore store = SqliteSessionStore.Open(DatabasePath);
        OpenSession session = Start(store, Manual);
        session.Read([], "volts(feed.ctl)", "12.1 V", "Ann");
        await using var supply = new SupplyOnALine();
        await using var rig = new BenchRig(store);
        await ReadyAsync(rig, session, new("supply.yaml", supply.RigFile("battery"), false));
        await rig.StartAsync(new() { Rate = "20", Panel = RunOrder.PanelFor(session, null) }, "bench");
        await UntilAsync(() => rig.Latest?.Seconds > 0.3);
        supply.Pull();
        RigRunRecord run = await EndedAsync(rig, store);
        Assert.True(run.End!.IsFault);
        Assert.Contains("psu", run.End.Why, StringComparison.Ordinal);
        Assert.Contains("CUT THE 12 V SUPPLY BY HAND", run.End.Outputs, StringComparison.Ordinal);
        Assert.True(run.Samples > 3);
        Assert.Throws<RefusedException>(rig.SupplyIsCut);
        await rig.DisconnectAsync();
        Assert.False(rig.LastStop!.IsSafe);
        rig.SupplyIsCut();
        Assert.Null(rig.LastStop);
        Assert.Single(OpenSession.Open(store, session.Record.Id).Evidence);
    }

    [Fact]
    public async Task The_hand_sets_outputs_only_after_it_took_over()
    {
        using SqliteSessionStore store = SqliteSessionStore.Open(DatabasePath);
        OpenSession session = Start(store, Automatic);
        await using var rig = new BenchRig(store);
        await ReadyAsync(rig, session, Simulated(session));
        await rig.StartAsync(Pull(session), "bench");
        await UntilAsync(() => rig.Latest is not null);
        await Assert.ThrowsAsync<RefusedException>(() => rig.SetAsync("sensor-RT1", "30 degC"));
        rig.TakeOver();
        double ohms = (await rig.SetAsync("sensor-RT1", "25 degC")).Given;
        await UntilAsync(() => rig.Latest is { State: RunState.Manual } now && now.Given["sensor-RT1"] == ohms);
        Assert.True((await rig.SetAsync("sensor-RT1", "900 kohm")).IsClamped);
        foreach (string bad in (string[])["NaN ohm", "12 V", "", "warm", "-3 ohm<script>"]) await Assert.ThrowsAsync<RefusedException>(() => rig.SetAsync("sensor-RT1", bad));
        await Assert.ThrowsAsync<RefusedException>(() => rig.SetAsync("nothing", "1 ohm"));
        rig.Resume();
        await UntilAsync(() => rig.Latest is { State: RunState.Running } now && now.Given["sensor-RT1"] < 20e3);
        rig.Pause();
        await UntilAsync(() => rig.Latest is { State: RunState.Paused });
        await rig.StopAsync("done");
        await EndedAsync(rig, store);
    }

    [Fact]
    public async Task One_rig_at_a_time_and_what_cannot_be_is_refused_with_its_place()
    {
        using SqliteSessionStore store = SqliteSessionStore.Open(DatabasePath);
        OpenSession session = Start(store, Automatic), other = Start(store, Manual);
        await using var rig = new BenchRig(store);
        var refused = await Assert.ThrowsAsync<RigFileRefusedException>(() => rig.ConnectAsync(session, new("own.yaml", "rig: 1\ndevices:\n  a: { kind: virtul }\noutputs:\n  p: { device: b, gives: relay, wired-to: supply }\n", true)));
        Assert.Equal([3, 5], refused.Problems.Select(p => p.At.Line).Distinct());
        Assert.All(refused.Problems, p => Assert.True(p.At.Column > 1));
        foreach (string bad in (string[])["", "  \n", new string('x', RigChoice.LongestText + 1)]) await Assert.ThrowsAsync<RefusedException>(() => rig.ConnectAsync(session, new("own.yaml", bad, true)));
        await Assert.ThrowsAsync<RefusedException>(() => rig.ConnectAsync(session, Simulated(session) with { Fault = "RT1:haunted" }));
        await Assert.ThrowsAsync<RefusedException>(() => rig.ConnectAsync(session, Simulated(session) with { IsSimulated = false }));
        Assert.Equal(RigStep.NotConnected, rig.Step);

        await ReadyAsync(rig, session, Simulated(session));
        Assert.Contains("connected already", (await Assert.ThrowsAsync<RefusedException>(() => rig.ConnectAsync(other, Simulated(other)))).Message, StringComparison.Ordinal);
        RunOrder order = Pull(session);
        foreach (RunOrder bad in (RunOrder[])[order with { Rate = "0" }, order with { Rate = "1e9" }, order with { Minutes = "-1" }, order with { Minutes = "NaN" }, order with { World = new("../../x") }, order with { World = new("scenario", "scenario: 1\nlength: ten") }, order with { World = new("pull-down", Car: "car: [") },
            order with { Panel = [("mode", "sideways")] }, order with { World = null, Held = new Dictionary<string, string> { ["sensor-RT1"] = "hot" } }])
            await Assert.ThrowsAsync<RefusedException>(() => rig.StartAsync(bad, "bench"));
        Assert.Equal(RigStep.Confirmed, rig.Step);
        Assert.Empty(store.Runs(session.Record.Id));
    }

    [Fact]
    public async Task A_program_that_is_killed_in_the_middle_has_all_but_the_last_second_on_disk()
    {
        using SqliteSessionStore store = SqliteSessionStore.Open(DatabasePath);
        OpenSession session = Start(store, Automatic);
        await using var rig = new BenchRig(store);
        await ReadyAsync(rig, session, Simulated(session));
        await rig.StartAsync(Pull(session) with { Rate = "20" }, "bench");
        await UntilAsync(() => rig.Latest?.Seconds > 3);
        // The file as a killed program would leave it: copied while the run goes on, then opened by another.
        string copy = Path.Combine(Folder, "killed.db");
        foreach (string end in (string[])["", "-wal"]) File.Copy(DatabasePath + end, copy + end);
        // To the thousandth, as the log has it: the last round may be on disk already.
        double now = Math.Round(rig.Latest!.Seconds, 3);
        await rig.StopAsync("done");
        using SqliteSessionStore after = SqliteSessionStore.Open(copy);
        RigRunRecord run = Assert.Single(after.Runs(session.Record.Id));
        Assert.Null(run.End);
        double last = double.Parse(after.Samples(run.Number)[^1][run.Start.Heads.ToList().IndexOf("seconds")], System.Globalization.CultureInfo.InvariantCulture);
        Assert.InRange(now - last, 0, 2.5);
        await EndedAsync(rig, store);
    }

    [Fact]
    public void A_track_of_a_long_run_stays_short_and_ends_with_its_last_round()
    {
        var track = new RunTrack(["seconds", "volts(battery) [V]"], Unit(Automatic).Model);
        for (int i = 0; i <= 50_000; i++) track.Add([(0.2 * i).ToString("0.000", System.Globalization.CultureInfo.InvariantCulture), "12.5"]);
        TrackShot shot = track.Shot();
        Assert.InRange(shot.Seconds.Length, RunTrack.Most / 2, RunTrack.Most + 1);
        Assert.Equal((0, 10_000), (shot.Seconds[0], shot.Seconds[^1]));
        Assert.Equal(shot.Seconds.Order(), shot.Seconds);
    }

    [Fact]
    public void A_log_of_another_logger_is_mapped_on_a_form()
    {
        using SqliteSessionStore store = SqliteSessionStore.Open(DatabasePath);
        OpenSession session = Start(store, Automatic);
        string[] lines = ["Logger 7", "Time [s];Kanal 1;Knob", .. Enumerable.Range(0, 40).Select(i => $"{i},5;13{(i % 2 == 0 ? "1" : "2")}00,0;off")];
        ForeignLogMap map = ForeignLogMap.Guess("log.csv", lines, 1, session.Unit.Model);
        Assert.True(map.IsDecimalComma);
        Assert.Equal([ForeignLogMap.Time, "", ""], map.Columns.Select(c => c.Is));
        Assert.Throws<RefusedException>(() => LogReadings.Of("log.csv", lines, map, session.Unit.Model));
        map = map with { Columns = [map.Columns[0], new("Kanal 1", "volts(battery)", "mV"), new("Knob", "mode", "")] };
        LoggedReading reading = Assert.Single(LogReadings.Of("log.csv", lines, map, session.Unit.Model));
        Assert.Equal(13.15, reading.Si, 2);
        Assert.Equal([("mode", "off")], reading.Set);
        Assert.Contains("kPa", Assert.Throws<RefusedException>(() => LogReadings.Of("log.csv", lines, map with { Columns = [map.Columns[0], new("Kanal 1", "volts(battery)", "kPa")] }, session.Unit.Model)).Message, StringComparison.Ordinal);
        Assert.Throws<RefusedException>(() => LogReadings.Of("log.csv", lines, map with { SteadyFor = "NaN" }, session.Unit.Model));
        Assert.Throws<RefusedException>(() => ForeignLogMap.Guess("log.csv", ["", " "], 0, session.Unit.Model));
    }

    private static RunOrder Pull(OpenSession session) => new() { World = new("pull-down"), Panel = RunOrder.PanelFor(session, new("pull-down")) };

    private static RigChoice Simulated(OpenSession session) => new("simulated.yaml", SimulatedRig.TextFor(session.Unit.Simulator), true);

    private static async Task ReadyAsync(BenchRig rig, OpenSession session, RigChoice choice)
    {
        await rig.ConnectAsync(session, choice);
        await rig.CheckAsync();
        rig.Confirm(rig.Wiring!);
    }

    private static async Task<RigRunRecord> EndedAsync(BenchRig rig, SqliteSessionStore store)
    {
        await UntilAsync(() => rig.LastRun is not null);
        return store.FindRun(rig.LastRun!.Value)!;
    }

    private static async Task UntilAsync(Func<bool> what)
    {
        for (int i = 0; i < 1200 && !what(); i++) await Task.Delay(50, Cancel);
        Assert.True(what());
    }

    private static UnitOnSheet Unit(string sheet) => UnitOnSheet.Of(SheetShelf.Find(sheet)!, File.ReadAllText(SheetShelf.Find(sheet)!));

    private static OpenSession Start(SqliteSessionStore store, string sheet)
    {
        var desk = new SessionDesk(store);
        return desk.Open(desk.Start(null, SheetShelf.Find(sheet)!, File.ReadAllText(SheetShelf.Find(sheet)!)).Id);
    }
}
