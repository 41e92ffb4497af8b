using System.Text.Json;
using CsCheck;
using Dapper;
using Ventwright.Store;
using Ventwright.Workshop;

namespace Ventwright.Tests.Store;

/// <summary>What goes into the store comes out of it. Settings are checked against sqlite.org/pragma.html; the rest is its own contract.</summary>
public class SessionRecordTests : StoreFolder
{
    private static readonly Gen<string> Text = Gen.Char[' ', '\uD7FF'].Array[0, 40].Select(c => new string(c));

    [Fact]
    public void What_is_stored_is_there_after_reopening()
    {
        Gen<DateTimeOffset> time = Gen.Select(Gen.Long[0, DateTimeOffset.MaxValue.AddDays(-1).Ticks], Gen.Int[-14 * 60, 14 * 60])
            .Where((ticks, _) => ticks > TimeSpan.TicksPerDay)
            .Select((ticks, minutes) => new DateTimeOffset(ticks, TimeSpan.FromMinutes(minutes)));
        Gen<SessionEventKind> kind = Gen.Int[0, Enum.GetValues<SessionEventKind>().Length - 1].Select(i => Enum.GetValues<SessionEventKind>()[i]);
        Gen.Select(Text, Text, time, Gen.Select(time, Text, kind, Text).Array[0, 5]).Sample(
            (title, sheet, started, entries) =>
            {
                BenchSession session;
                List<SessionEvent> events = [];
                using (var store = SqliteSessionStore.Open(DatabasePath))
                {
                    session = store.Create(title, "sheets/twin.yaml", sheet, started);
                    foreach ((DateTimeOffset when, string by, SessionEventKind k, string body) in entries)
                    {
                        events.Add(store.Append(session.Id, when, by, k, JsonSerializer.Serialize(new { body })));
                    }
                }

                using var again = SqliteSessionStore.Open(DatabasePath);
                Assert.Equal(session, again.Find(session.Id));
                Assert.Equal(session, again.List()[0]);
                Assert.Equal(started.Offset, again.Find(session.Id)!.Started.Offset);
                Assert.Equal(events, again.Events(session.Id));
                Assert.Equal(Enumerable.Range(1, entries.Length), events.Select(e => (int)e.Number));
            },
            iter: 20,
            threads: 1);
    }

    [Fact]
    public void Ids_are_short_differ_and_are_found_however_they_are_typed()
    {
        using var store = SqliteSessionStore.Open(DatabasePath);
        string[] ids = [.. Enumerable.Range(0, 100).Select(i => store.Create($"Unit {i}", "a.yaml", "sheet: 1", Noon).Id)];
        Assert.Equal(100, ids.Distinct(StringComparer.OrdinalIgnoreCase).Count());
        Assert.All(ids, id => Assert.Matches("^([a-hj-km-np-z][2-9]){2,3}$", id));
        Assert.Equal("Unit 7", store.Find($" {ids[7].ToUpperInvariant()} ")!.Title);
        Assert.Null(store.Find("a1"));
        Assert.Equal("Unit 99", store.List()[0].Title);
    }

    [Fact]
    public void Undoing_one_entry_leaves_the_later_ones_and_redoing_puts_it_back_in_its_place()
    {
        using var store = SqliteSessionStore.Open(DatabasePath);
        string id = store.Create("Unit", "a.yaml", "sheet: 1", Noon).Id;
        SessionEvent[] all = [.. Enumerable.Range(0, 4).Select(i => Note(store, id, i))];

        Assert.True(store.Undo(id, 2));
        Assert.False(store.Undo(id, 2));
        Assert.Equal([all[0], all[1] with { Undone = true }, all[2], all[3]], store.Events(id));
        Assert.Equal(5, Note(store, id, 4).Number);

        Assert.True(store.Redo(id, 2));
        Assert.False(store.Redo(id, 2));
        Assert.Equal(all, store.Events(id).Take(4));
        Assert.False(store.Undo(id, 99));
        Assert.False(store.Undo("a1", 1));
    }

    [Fact]
    public void The_number_of_an_undone_last_entry_is_not_given_again()
    {
        using var store = SqliteSessionStore.Open(DatabasePath);
        string id = store.Create("Unit", "a.yaml", "sheet: 1", Noon).Id;
        store.Undo(id, Note(store, id, 0).Number);
        Assert.Equal(2, Note(store, id, 1).Number);
    }

    [Fact]
    public void An_entry_needs_a_session_and_a_JSON_object()
    {
        using var store = SqliteSessionStore.Open(DatabasePath);
        string id = store.Create("Unit", "a.yaml", "sheet: 1", Noon).Id;
        StoreException e = Assert.Throws<StoreException>(() => Note(store, "a1", 0));
        Assert.Contains("no bench session 'a1'", e.Message, StringComparison.Ordinal);
        Assert.Throws<ArgumentException>(() => store.Append(id, Noon, "me", SessionEventKind.Note, "[1]"));
        Assert.Throws<ArgumentException>(() => store.Append(id, Noon, "me", SessionEventKind.Note, "{"));
        Assert.Empty(store.Events(id));
    }

    [Fact]
    public void An_entry_is_in_a_copy_of_the_files_taken_as_soon_as_Append_has_returned()
    {
        using var store = SqliteSessionStore.Open(DatabasePath);
        string id = store.Create("Unit", "a.yaml", "sheet: 1", Noon).Id;
        SessionEvent entry = Note(store, id, 0);
        string other = Directory.CreateDirectory(Path.Combine(Folder, "after the plug was pulled")).FullName;
        foreach (string file in new[] { DatabasePath, DatabasePath + "-wal" })
        {
            File.Copy(file, Path.Combine(other, Path.GetFileName(file)));
        }

        using var rescued = SqliteSessionStore.Open(Path.Combine(other, Path.GetFileName(DatabasePath)));
        Assert.Equal([entry], rescued.Events(id));
    }

    [Fact]
    public void Each_commit_is_flushed_to_disk_and_references_are_enforced()
    {
        using var store = SqliteSessionStore.Open(DatabasePath);
        Assert.Equal("wal", store.Connection.ExecuteScalar<string>("PRAGMA journal_mode"));
        Assert.Equal(2, store.Connection.ExecuteScalar<int>("PRAGMA synchronous")); // 2 is FULL
        Assert.Equal(1, store.Connection.ExecuteScalar<int>("PRAGMA foreign_keys"));
        Assert.Equal(10_000, store.Connection.ExecuteScalar<int>("PRAGMA busy_timeout"));
    }

    [Fact]
    public async Task Two_stores_on_one_file_lose_nothing_when_they_write_at_once()
    {
        const int Each = 25;
        using var first = SqliteSessionStore.Open(DatabasePath);
        using var second = SqliteSessionStore.Open(DatabasePath);
        string id = first.Create("Unit", "a.yaml", "sheet: 1", Noon).Id;

        // Two threads on each store: the threads of one store and the stores of one file must both take turns.
        SqliteSessionStore[] writers = [first, second, first, second];
        await Task.WhenAll(writers.Select((store, writer) => Task.Run(
            () =>
            {
                for (int i = 0; i < Each; i++) Note(store, id, (writer * Each) + i);
            },
            TestContext.Current.CancellationToken)));

        IReadOnlyList<SessionEvent> events = second.Events(id);
        Assert.Equal(Enumerable.Range(1, 4 * Each), events.Select(e => (int)e.Number));
        Assert.Equal(Enumerable.Range(0, 4 * Each), events.Select(e => Value(e)).Order());
        Assert.Equal(events, first.Events(id));
    }

    [Fact]
    public void A_backup_holds_everything_and_never_overwrites_a_file()
    {
        string copy = Path.Combine(Folder, "backups", "it's a copy.db");
        using var store = SqliteSessionStore.Open(DatabasePath);
        string id = store.Create("Unit", "a.yaml", "sheet: 1", Noon).Id;
        SessionEvent entry = Note(store, id, 0);
        store.Backup(copy);
        Note(store, id, 1);

        using (var opened = SqliteSessionStore.Open(copy))
        {
            Assert.Equal(store.List(), opened.List());
            Assert.Equal([entry], opened.Events(id));
        }

        StoreException e = Assert.Throws<StoreException>(() => store.Backup(copy));
        Assert.Contains(copy, e.Message, StringComparison.Ordinal);
        Assert.Equal([copy], Directory.GetFiles(Path.GetDirectoryName(copy)!));
    }

    private static SessionEvent Note(SqliteSessionStore store, string id, int value) =>
        store.Append(id, Noon.AddMinutes(value), "me", SessionEventKind.Note, $$"""{"value":{{value}}}""");

    private static int Value(SessionEvent e) => JsonDocument.Parse(e.Body).RootElement.GetProperty("value").GetInt32();
}
