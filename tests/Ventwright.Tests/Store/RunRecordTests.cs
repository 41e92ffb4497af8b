using Dapper;
using Microsoft.Data.Sqlite;
using Ventwright.Store;
using Ventwright.Workshop;
using Ventwright.Workshop.Rigs;

namespace Ventwright.Tests.Store;

/// <summary>Runs of rigs in the store. The program's own contract; no outside source.</summary>
public class RunRecordTests : StoreFolder
{
    private static readonly string[] Heads = ["seconds", "volts(mod.7) [V]", "a \"head\", with comma"];

    [Fact]
    public void What_was_kept_of_a_run_is_there_after_the_file_was_closed()
    {
        RigRunStart start;
        var end = new RigRunEnd(Noon.AddMinutes(2), "stopped by Ann", true, "CUT THE 12 V SUPPLY BY HAND NOW. board was not reached.", new(61, 3, 12, 0.05, 0.002, 0.004, 0.2), ["cabin was held at its limit"]);
        long run;
        using (var store = SqliteSessionStore.Open(DatabasePath))
        {
            start = new(store.Create("Unit", "a.yaml", "sheet: 1", Noon).Id, "Rig", "the unit on the bench", "Pull-down", Noon, "Ann", Heads);
            run = store.BeginRun(start);
            store.AddSamples(run, 1, [["0.000", "1.5", ""], ["0.200", "", "x,\"y\"\nz"]]);
            store.AddSamples(run, 3, [["0.400", "OL", "-1"]]);
            Assert.Null(store.FindRun(run)!.End);
            store.EndRun(run, end);
        }

        using var again = SqliteSessionStore.Open(DatabasePath);
        RigRunRecord kept = again.FindRun(run)!;
        Assert.Equal(Heads, kept.Start.Heads);
        Assert.Equal(start with { Heads = kept.Start.Heads }, kept.Start);
        Assert.Equal(end with { Notes = kept.End!.Notes }, kept.End);
        Assert.Equal(end.Notes, kept.End.Notes);
        Assert.Equal(3, kept.Samples);
        Assert.Equal([["0.000", "1.5", ""], ["0.200", "", "x,\"y\"\nz"], ["0.400", "OL", "-1"]], again.Samples(run).Select(r => r.ToArray()));
    }

    [Fact]
    public void What_a_drive_was_about_is_kept_with_its_run()
    {
        using var store = SqliteSessionStore.Open(DatabasePath);
        var drive = new RunDrive(new("scenario", "scenario: 1 # 'own'", "car: 1"), new Dictionary<string, string> { ["mode"] = "auto" }, new Dictionary<string, double[]> { ["RT1"] = [0, 45e3] }, true);
        long run = store.BeginRun(new(store.Create("One", "a.yaml", "sheet: 1", Noon).Id, "Rig", "unit", "what", Noon, "me", Heads, drive));
        RunDrive kept = store.FindRun(run)!.Start.Drive!;
        Assert.Equal((drive.World, true), (kept.World, kept.IsAtRest));
        Assert.Equal(drive.Hands, kept.Hands);
        Assert.Equal([0, 45e3], kept.Sensors["RT1"]);
    }

    [Fact]
    public void Runs_belong_to_their_session_and_the_latest_comes_first()
    {
        using var store = SqliteSessionStore.Open(DatabasePath);
        string one = store.Create("One", "a.yaml", "sheet: 1", Noon).Id, two = store.Create("Two", "a.yaml", "sheet: 1", Noon).Id;
        long[] runs = [.. ((string[])[one, two, one]).Select(s => store.BeginRun(new(s.ToUpperInvariant(), "Rig", "unit", "what", Noon, "me", Heads)))];
        Assert.Equal([runs[2], runs[0]], store.Runs(one).Select(r => r.Number));
        Assert.Equal([runs[1]], store.Runs(two).Select(r => r.Number));
        Assert.Null(store.FindRun(99));
        Assert.Empty(store.Samples(99));
        Assert.Contains("no session 'zz99'", Assert.Throws<RefusedException>(() => store.BeginRun(new("zz99", "Rig", "unit", "what", Noon, "me", Heads))).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_sample_is_kept_once_and_only_for_a_run_that_is_there()
    {
        using var store = SqliteSessionStore.Open(DatabasePath);
        long run = store.BeginRun(new(store.Create("One", "a.yaml", "sheet: 1", Noon).Id, "Rig", "unit", "what", Noon, "me", Heads));
        store.AddSamples(run, 1, [["0", "", ""]]);
        Assert.Throws<StoreException>(() => store.AddSamples(run, 1, [["1", "", ""], ["2", "", ""]]));
        Assert.Single(store.Samples(run));
        Assert.Throws<StoreException>(() => store.AddSamples(run + 1, 1, [["1", "", ""]]));
    }

    [Fact]
    public void A_file_of_the_version_before_runs_takes_them_and_keeps_what_it_had()
    {
        const int before = 3;
        using (var old = new SqliteConnection($"Data Source={DatabasePath};Pooling=False"))
        {
            old.Open();
            SchemaScripts.Upgrade(old, DatabasePath, before);
            Assert.Equal(0, old.ExecuteScalar<long>("SELECT COUNT(*) FROM sqlite_schema WHERE name LIKE 'rig_%'"));
            old.Execute("INSERT INTO session VALUES ('b7k2', 'Old unit', 'a.yaml', 'sheet: 1', '2031-05-04T12:00:00.0000000+02:00')");
            old.Execute("INSERT INTO event VALUES ('b7k2', 1, '2031-05-04T12:00:00.0000000+02:00', 'me', 'note', '{\"Text\":\"old\"}', 0)");
        }

        using var store = SqliteSessionStore.Open(DatabasePath);
        Assert.Empty(store.Runs("b7k2"));
        long run = store.BeginRun(new("b7k2", "Rig", "unit", "what", Noon, "me", Heads));
        store.AddSamples(run, 1, [["0", "", ""]]);
        Assert.Equal(1, Assert.Single(store.Runs("b7k2")).Samples);
        Assert.Equal("{\"Text\":\"old\"}", Assert.Single(store.Events("b7k2")).Body);
        string copy = Path.Combine(Folder, "copy.db");
        store.Backup(copy);
        using var backup = SqliteSessionStore.Open(copy);
        Assert.Single(backup.Samples(run));
    }
}
