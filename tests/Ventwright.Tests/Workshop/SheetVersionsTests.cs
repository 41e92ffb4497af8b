using Ventwright.Model.Sheet.Text;
using Ventwright.Store;
using Ventwright.Tests.Store;
using Ventwright.Workshop;

namespace Ventwright.Tests.Workshop;

/// <summary>Sheets of the workshop and sessions that move between their versions, against their own contract: no outside source.</summary>
public sealed class SheetVersionsTests : StoreFolder
{
    private const string Broken = "sheet: 1\nunit: Broken\nsupply: { volts: 13 V }\nparts:\n  F1: { fuse: 10 A, from: battery\n";

    [Fact]
    public void A_saved_version_never_changes_and_the_draft_is_gone()
    {
        using SqliteSessionStore store = SqliteSessionStore.Open(DatabasePath);
        var sheets = new SheetVersions(store);
        string id = sheets.Create(Text());
        Assert.True(sheets.Open(id).HasDraft);
        Assert.Equal(1, sheets.Save(id, Text(), "a").Number);
        Assert.False(sheets.Open(id).HasDraft);
        Assert.Equal(1, sheets.Save(id, Text(), "a").Number);
        SheetVersion two = sheets.Save(id, Text().Replace("20 mohm", "30 mohm", StringComparison.Ordinal), "b");
        Assert.Equal([1, 2], sheets.Open(id).Versions.Select(v => v.Number));
        Assert.Equal(Text(), sheets.Version(id, 1).Text);
        Assert.Equal(two.Text, sheets.Open(id).Text);
        Assert.Equal("b", sheets.Version(id, 2).By);
        Assert.Contains("no version 3", Assert.Throws<RefusedException>(() => sheets.Version(id, 3)).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_broken_text_is_no_version_but_nothing_of_it_is_lost()
    {
        string id;
        using (SqliteSessionStore store = SqliteSessionStore.Open(DatabasePath))
        {
            var sheets = new SheetVersions(store);
            id = sheets.Create(Text());
            sheets.Save(id, Text(), "a");
            Assert.Contains("cannot be used", Assert.Throws<RefusedException>(() => sheets.Save(id, Broken, "a")).Message, StringComparison.Ordinal);
        }

        using SqliteSessionStore again = SqliteSessionStore.Open(DatabasePath);
        OpenSheet sheet = new SheetVersions(again).Open(id);
        Assert.Equal(Broken, sheet.Text);
        Assert.True(sheet.HasDraft);
        Assert.Single(sheet.Versions);
        Assert.Equal("Broken", new SheetVersions(again).List().Single().Title);
    }

    [Fact]
    public void A_text_that_is_too_large_is_refused_and_the_draft_before_it_stays()
    {
        using SqliteSessionStore store = SqliteSessionStore.Open(DatabasePath);
        var sheets = new SheetVersions(store);
        string id = sheets.Create(Broken), huge = new('x', SheetText.LargestBytes + 1);
        Assert.Contains("million", Assert.Throws<RefusedException>(() => sheets.Keep(id, huge)).Message, StringComparison.Ordinal);
        Assert.Throws<RefusedException>(() => sheets.Create(huge));
        Assert.Equal(Broken, sheets.Open(id).Text);
    }

    [Fact]
    public void A_sheet_that_is_not_there_is_refused()
    {
        using SqliteSessionStore store = SqliteSessionStore.Open(DatabasePath);
        var sheets = new SheetVersions(store);
        Assert.Throws<RefusedException>(() => sheets.Open("b2c3"));
        Assert.Throws<RefusedException>(() => sheets.Keep("b2c3", "x"));
        Assert.Throws<RefusedException>(() => sheets.Save("b2c3", "x", "a"));
        Assert.Empty(sheets.List());
    }

    [Fact]
    public void A_sheet_of_the_workshop_may_start_from_a_shipped_one()
    {
        using SqliteSessionStore store = SqliteSessionStore.Open(DatabasePath);
        var sheets = new SheetVersions(store);
        string id = sheets.Create("like: single-blower-manual.yaml\nunit: Own\n");
        Assert.Equal(1, sheets.Save(id, sheets.Open(id).Text, "a").Number);
    }

    [Fact]
    public void A_session_stays_on_its_version_until_it_is_moved_and_moving_can_be_taken_back()
    {
        using SqliteSessionStore store = SqliteSessionStore.Open(DatabasePath);
        var sheets = new SheetVersions(store);
        string id = sheets.Create(Text());
        SheetVersion one = sheets.Save(id, Text(), "a"), two = sheets.Save(id, Text().Replace("F3: { fuse: 10 A", "F3: { fuse: 7.5 A", StringComparison.Ordinal), "a");
        var desk = new SessionDesk(store);
        OpenSession session = desk.Open(desk.Start("bench", one).Id);
        Assert.Equal((id, 1), (session.Sheet!.Sheet, session.Sheet.Version));
        session.Read([], "volts(feed.ctl)", "12.9 V");
        var before = session.Unit;
        SessionEvent moved = session.MoveTo(two, "a");
        Assert.Equal(2, session.Sheet.Version);
        Assert.Equal(two.Text, session.SheetText);
        Assert.NotSame(before, session.Unit);
        Assert.Equal(two.Text, OpenSession.Open(store, session.Record.Id).SheetText);
        Assert.True(session.Undo(moved.Number));
        Assert.Equal(1, session.Sheet.Version);
        Assert.Same(before, session.Unit);
        Assert.True(session.Redo(moved.Number));
        Assert.Equal(2, session.Sheet.Version);
    }

    [Fact]
    public async Task Moving_judges_readings_anew_and_keeps_and_names_those_that_can_no_longer_be_read()
    {
        using SqliteSessionStore store = SqliteSessionStore.Open(DatabasePath);
        var sheets = new SheetVersions(store);
        string id = sheets.Create(Text());
        SheetVersion one = sheets.Save(id, Text(), "a");
        string other = Text().Replace("feed.lights", "feed.dim", StringComparison.Ordinal).Replace("volts: 13.2 V", "volts: 9 V", StringComparison.Ordinal);
        SheetVersion two = sheets.Save(id, other, "a");
        var desk = new SessionDesk(store);
        OpenSession session = desk.Open(desk.Start("bench", one).Id);
        session.Turn("lights", "on");
        SessionEvent lost = session.Read([], "volts(feed.lights)", "13.1 V"), stays = session.Read([("mode", "vent")], "volts(feed.ctl)", "13.1 V");
        UnitOnSheet to = UnitOnSheet.Of(SheetVersions.PathOf(id), two.Text);

        SheetMove move = SheetMove.Of(session, to);
        Assert.Equal([lost.Number], move.Lost.Select(r => r.Entry.Number));
        Assert.Contains("no net `feed.lights`", move.Lost[0].Reason, StringComparison.Ordinal);
        MovedReading changed = Assert.Single(move.Other);
        Assert.Equal((stays.Number, Fit.AsExpected, Fit.Differs), (changed.Entry.Number, changed.Before!.Fit, changed.After!.Fit));
        Assert.Equal([stays.Number], move.Evidence.Select(e => e.Number));

        session.MoveTo(two, "a");
        Assert.Equal([stays.Number], session.Evidence.Select(e => e.Number));
        Assert.Equal(lost.Number, Assert.Single(session.Misfits).Entry.Number);
        Assert.Equal("mode=vent", session.Stands.Key);
        Assert.Equal(4, session.Entries.Count(e => !e.Undone && e.Kind != SessionEventKind.Panel));
        SessionFindings found = await Task.Run(() => SessionFindings.Of(session.Unit, session.Evidence), TestContext.Current.CancellationToken);
        Assert.NotEmpty(found.Suspects);
    }

    [Fact]
    public void What_the_panel_said_on_another_version_does_not_keep_a_session_from_opening()
    {
        using SqliteSessionStore store = SqliteSessionStore.Open(DatabasePath);
        var sheets = new SheetVersions(store);
        string id = sheets.Create(Text());
        SheetVersion one = sheets.Save(id, Text(), "a"), two = sheets.Save(id, Text().Replace("cold", "cool", StringComparison.Ordinal), "a");
        var desk = new SessionDesk(store);
        OpenSession session = desk.Open(desk.Start("bench", one).Id);
        session.Turn("mode", "cold");
        session.SetAbsent("M1", true);
        session.MoveTo(two, "a");
        Assert.Equal("absent M1=yes", session.Stands.Key);
        session.Turn("fan", "2");
        Assert.Equal("absent M1=yes fan=2", session.Stands.Key);
        Assert.Empty(session.Ticks);
    }

    private static string Text() => File.ReadAllText(SheetShelf.Find("single-blower-manual.yaml")!);
}
