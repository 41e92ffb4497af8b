using Ventwright.Bench;
using Ventwright.Model.Kernel;
using Ventwright.Quantities;
using Ventwright.Store;
using Ventwright.Tests.Store;
using Ventwright.Workshop;

namespace Ventwright.Tests.Workshop;

/// <summary>Open sessions against their own contract: what is entered stands, whoever enters it. No outside source.</summary>
public sealed class OpenSessionTests : StoreFolder
{
    private const string Automatic = "twin-blower-automatic.yaml", Manual = "single-blower-manual.yaml";

    [Fact]
    public async Task Several_people_entering_at_once_lose_nothing()
    {
        using SqliteSessionStore store = SqliteSessionStore.Open(DatabasePath);
        OpenSession session = Start(store, Manual);
        const int people = 4, each = 12;
        await Task.WhenAll(Enumerable.Range(0, people).Select(p => Task.Run(() =>
        {
            for (int i = 0; i < each; i++) session.Read([("mode", "vent")], "volts(feed.ctl)", $"12.{p}{i:00} V", $"person {p}");
        })));

        Assert.Equal(Enumerable.Range(1, people * each).Select(n => (long)n), session.Entries.Select(e => e.Number));
        Assert.Equal(store.Events(session.Record.Id), session.Entries);
        Assert.Equal(people * each, session.Entries.Select(e => WrittenEntries.Body<ReadingBody>(e).Got).Distinct().Count());
    }

    [Fact]
    public void A_look_round_is_kept_wholly_or_not_at_all_and_each_look_can_be_taken_back()
    {
        using SqliteSessionStore store = SqliteSessionStore.Open(DatabasePath);
        OpenSession session = Start(store, Manual);
        (string, string)[] set = [("mode", "vent"), ("fan", "2")];
        int told = 0;
        session.Changed += () => told++;
        Assert.Contains("purple", Assert.Throws<RefusedException>(() => session.ReadRound(set, [("airflow(fresh)", "strong"), ("sound(CL1)", "purple")])).Message, StringComparison.Ordinal);
        Assert.Throws<RefusedException>(() => session.ReadRound(set, []));
        Assert.Empty(store.Events(session.Record.Id));
        Assert.Equal(0, told);

        Assert.Equal([1L, 2L], session.ReadRound(set, [("airflow(fresh)", "strong"), ("sound(CL1)", "silent")]).Select(e => e.Number));
        Assert.Equal(1, told);
        Assert.Equal(store.Events(session.Record.Id), session.Entries);
        Assert.Equal("vent", session.Stands.Words["mode"]);
        Assert.True(session.Undo(1));
        Assert.Equal([2L], session.Evidence.Select(e => e.Number));
    }

    [Fact]
    public void An_entry_that_another_program_added_is_seen_with_the_next_one()
    {
        using SqliteSessionStore store = SqliteSessionStore.Open(DatabasePath), other = SqliteSessionStore.Open(DatabasePath);
        OpenSession session = Start(store, Manual);
        OpenSession.Open(other, session.Record.Id).Say(SessionEventKind.Note, "from elsewhere");
        session.Say(SessionEventKind.Note, "from here");
        Assert.Equal(["from elsewhere", "from here"], session.Entries.Select(e => WrittenEntries.Body<TextBody>(e).Text));
    }

    [Fact]
    public void Undoing_one_entry_keeps_later_ones_and_redoing_puts_it_back_in_its_place()
    {
        using SqliteSessionStore store = SqliteSessionStore.Open(DatabasePath);
        OpenSession session = Start(store, Manual);
        foreach (string got in (string[])["12.1 V", "12.2 V", "12.3 V"]) session.Read([], "volts(feed.ctl)", got);
        Assert.True(session.Undo(2));
        Assert.False(session.Undo(2));
        Assert.Equal([1L, 3L], session.Evidence.Select(e => e.Number));
        Assert.True(session.Redo(2));
        Assert.Equal([1L, 2L, 3L], session.Evidence.Select(e => e.Number));
        Assert.False(session.Undo(17));
    }

    [Theory]
    [InlineData("volts(feed.ctl)", "NaN V")]
    [InlineData("volts(feed.ctl)", "12 ohm")]
    [InlineData("volts(nowhere)", "12 V")]
    [InlineData("ohms(feed.ctl, gnd)", "-5 ohm")]
    public void What_cannot_be_is_refused_and_nothing_is_kept(string at, string got)
    {
        using SqliteSessionStore store = SqliteSessionStore.Open(DatabasePath);
        OpenSession session = Start(store, Manual);
        Assert.Throws<RefusedException>(() => session.Read([], at, got));
        Assert.Throws<RefusedException>(() => session.Turn("mode", "sideways"));
        Assert.Throws<RefusedException>(() => session.SetAbsent("nothing", true));
        Assert.Throws<RefusedException>(() => session.Feed("feed.ctl", "12 ohm"));
        Assert.Throws<RefusedException>(() => session.Renewed("nothing", SessionEventKind.Swapped));
        Assert.Throws<RefusedException>(() => session.Say(SessionEventKind.Note, " \n "));
        Assert.Empty(store.Events(session.Record.Id));
    }

    [Fact]
    public void The_panel_stands_as_last_set_or_read_and_the_bench_is_added_to_it()
    {
        using SqliteSessionStore store = SqliteSessionStore.Open(DatabasePath);
        OpenSession session = Start(store, Automatic);
        session.Turn("mode", "auto");
        session.SetAbsent("M1", true);
        session.Feed("feed.left", "12 V");
        Assert.Equal("absent M1=yes feed feed.left=12 V mode=auto", session.Stands.Key);
        session.Read(SettingWords.Pairs(session.OnThisBench(SettingWords.Make(session.Unit.Model, [("mode", "screen")]))), "volts(mod.16)", "12.4 V");
        Assert.Equal("absent M1=yes feed feed.left=12 V mode=screen", session.Stands.Key);
        session.SetAbsent("M1", false);
        session.Feed("feed.left", null);
        Assert.Equal("mode=screen", session.Stands.Key);
        session.UndoLast();
        Assert.Equal("feed feed.left=12 V mode=screen", session.Stands.Key);
        Assert.Equal(session.Stands.Key, OpenSession.Open(store, session.Record.Id).Stands.Key);
    }

    [Fact]
    public void Ticks_of_the_function_chart_are_kept_and_cleared()
    {
        using SqliteSessionStore store = SqliteSessionStore.Open(DatabasePath);
        OpenSession session = Start(store, Manual);
        ChartSetting column = session.Unit.Chart.Settings[0];
        Observable what = session.Unit.Chart.Looks[0];
        session.Tick(column.Setting, what, true);
        Assert.Contains((column.Setting.Key, what.ToString()), OpenSession.Open(store, session.Record.Id).Ticks);
        session.Tick(column.Setting, what, false);
        Assert.Empty(session.Ticks);
    }

    [Fact]
    public async Task Findings_come_in_the_background_and_skipped_checks_are_passed_over()
    {
        using SqliteSessionStore store = SqliteSessionStore.Open(DatabasePath);
        OpenSession session = Start(store, Manual);
        session.Read([], "volts(feed.ctl)", "0 V");
        await FoundAsync(session);
        Assert.Contains(session.Findings!.Suspects, s => s.Parts.Contains("F3"));
        Assert.Contains(session.Findings!.Suspects.Take(1), s => s.Faults[0].Reason(session.Unit.Model, UnitSystem.Metric).Contains("Volts at feed.ctl", StringComparison.Ordinal));

        var first = session.Next[0];
        session.Pass(first.Setting, first.What, unreachable: false);
        Assert.DoesNotContain(session.Next, a => a.What == first.What && a.Setting.Key == first.Setting.Key);
        var second = session.Next[0];
        session.Pass(second.Setting, second.What, unreachable: true);
        Assert.DoesNotContain(session.Next, a => a.What == second.What);
        session.UndoLast();
        Assert.Contains(session.Next, a => a.What == second.What);

        SessionFindings before = session.Findings!;
        session.Undo(1);
        await FoundAsync(session);
        Assert.NotSame(before, session.Findings);
        session.Redo(1);
        Assert.False(session.IsWorking);
        Assert.Same(before, session.Findings);
    }

    [Fact]
    public void The_demo_workshop_has_readings_of_a_unit_with_faults_in_it()
    {
        using SqliteSessionStore store = SqliteSessionStore.Open(DatabasePath);
        OpenSession session = DemoWorkshop.Fill(new SessionDesk(store));
        Assert.Equal(2, store.List().Count);
        Assert.Equal(3, DemoWorkshop.Faults.Count);
        Fit[] fits = [.. session.Evidence.Select(WrittenEntries.Body<ReadingBody>).Select(b => WrittenEntries.Check(session.Unit.Model, b.Set.Select(s => (s.Key, s.Value)), b.At, b.Got))
            .Select(r => Judgement.Of(session.Unit, r.Setting, r.What, r.Outcome).Fit)];
        Assert.Contains(Fit.AsExpected, fits);
        Assert.Contains(Fit.Differs, fits);
    }

    private static OpenSession Start(SqliteSessionStore store, string sheet)
    {
        var desk = new SessionDesk(store);
        string path = SheetShelf.Find(sheet)!;
        return desk.Open(desk.Start("bench", path, File.ReadAllText(path)).Id);
    }

    private static async Task FoundAsync(OpenSession session)
    {
        var done = new TaskCompletionSource();
        void Look()
        {
            if (!session.IsWorking) done.TrySetResult();
        }

        session.Changed += Look;
        session.WakeFindings();
        Look();
        await done.Task.WaitAsync(TimeSpan.FromMinutes(5), TestContext.Current.CancellationToken);
        Assert.Null(session.FindingsProblem);
    }
}
