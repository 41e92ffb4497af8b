using Dapper;
using Microsoft.Data.Sqlite;
using Ventwright.Store;
using Ventwright.Workshop;

namespace Ventwright.Tests.Store;

/// <summary>Opening the file: new, old, too new, foreign, unreadable. The program's own contract; no outside source.</summary>
public class StoreFileTests : StoreFolder
{
    [Fact]
    public void A_new_file_in_a_new_folder_is_made_at_the_latest_version()
    {
        string path = Path.Combine(Folder, "a", "b", "new.db");
        using var store = SqliteSessionStore.Open(path);
        Assert.Equal(path, store.Path);
        Assert.Empty(store.List());
        Assert.Equal(SchemaScripts.Latest, store.Connection.ExecuteScalar<int>("PRAGMA user_version"));
    }

    [Fact]
    public void A_file_of_any_older_version_is_brought_up_to_date_and_keeps_its_sessions()
    {
        for (int version = 1; version < SchemaScripts.Latest; version++)
        {
            string path = Path.Combine(Folder, $"version {version}.db");
            using (SqliteConnection old = Raw(path))
            {
                SchemaScripts.Upgrade(old, path, version);
                Assert.Equal(version, old.ExecuteScalar<int>("PRAGMA user_version"));
                old.Execute("INSERT INTO session VALUES ('b7k2', 'Old unit', 'a.yaml', 'sheet: 1', '2031-05-04T12:00:00.0000000+02:00')");
            }

            using var store = SqliteSessionStore.Open(path);
            Assert.Equal(new BenchSession("b7k2", "Old unit", "a.yaml", "sheet: 1", Noon), Assert.Single(store.List()));
            store.Append("b7k2", Noon, "me", SessionEventKind.Note, "{}");
            Assert.Single(store.Events("b7k2"));
        }

        Assert.True(SchemaScripts.Latest > 1);
    }

    [Fact]
    public void A_file_of_a_newer_program_is_refused_and_left_as_it_is()
    {
        SqliteSessionStore.Open(DatabasePath).Dispose();
        using (SqliteConnection newer = Raw(DatabasePath)) newer.Execute("PRAGMA user_version = 99");

        string message = Refusal(DatabasePath);
        Assert.Contains(DatabasePath, message, StringComparison.Ordinal);
        Assert.Contains("newer Ventwright (database version 99", message, StringComparison.Ordinal);
        using SqliteConnection after = Raw(DatabasePath);
        Assert.Equal(99, after.ExecuteScalar<int>("PRAGMA user_version"));
    }

    [Fact]
    public void A_file_that_is_no_database_is_refused_and_left_as_it_is()
    {
        string text = string.Concat(Enumerable.Repeat("sheet: 1\n", 200));
        File.WriteAllText(DatabasePath, text);
        string message = Refusal(DatabasePath);
        Assert.Contains($"{DatabasePath} is not a Ventwright database", message, StringComparison.Ordinal);
        Assert.Equal(text, File.ReadAllText(DatabasePath));
    }

    [Fact]
    public void Another_programs_database_is_refused_and_left_as_it_is()
    {
        using (SqliteConnection other = Raw(DatabasePath)) other.Execute("CREATE TABLE recipe (name TEXT)");
        byte[] before = File.ReadAllBytes(DatabasePath);
        Assert.Contains("another program", Refusal(DatabasePath), StringComparison.Ordinal);
        Assert.Equal(before, File.ReadAllBytes(DatabasePath));
    }

    [Fact]
    public void A_damaged_file_is_refused()
    {
        SqliteSessionStore.Open(DatabasePath).Dispose();
        byte[] bytes = File.ReadAllBytes(DatabasePath);
        Array.Fill(bytes, (byte)0xA5, 100, bytes.Length - 100);
        File.WriteAllBytes(DatabasePath, bytes);
        Assert.Contains($"{DatabasePath} is damaged", Refusal(DatabasePath), StringComparison.Ordinal);
    }

    [Fact]
    public void A_folder_that_cannot_be_made_is_named()
    {
        string file = Path.Combine(Folder, "a file");
        File.WriteAllText(file, "");
        string message = Refusal(Path.Combine(file, "sub", "x.db"));
        Assert.Contains("cannot be written", message, StringComparison.Ordinal);
        Assert.Contains("VENTWRIGHT_HOME", message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_folder_that_nobody_may_write_to_is_named()
    {
        Assert.SkipUnless(OperatingSystem.IsLinux(), "Only Linux has a folder that not even the administrator can write to.");
        string path = Path.Combine("/proc", "self", "ventwright.db");
        Assert.Contains("cannot be written", Refusal(path), StringComparison.Ordinal);
    }

    [Fact]
    public void A_folder_in_the_place_of_the_file_is_refused()
    {
        Directory.CreateDirectory(DatabasePath);
        Assert.Contains(DatabasePath, Refusal(DatabasePath), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Many_programs_may_open_a_new_file_at_once()
    {
        SqliteSessionStore[] stores = await Task.WhenAll(Enumerable.Range(0, 6).Select(_ => Task.Run(
            () => SqliteSessionStore.Open(DatabasePath), TestContext.Current.CancellationToken)));
        foreach (SqliteSessionStore store in stores)
        {
            store.Create("Unit", "a.yaml", "sheet: 1", Noon);
        }

        Assert.Equal(6, stores[0].List().Count);
        foreach (SqliteSessionStore store in stores) store.Dispose();
    }

    [Fact]
    public void A_closed_store_says_so()
    {
        var store = SqliteSessionStore.Open(DatabasePath);
        store.Dispose();
        Assert.Throws<ObjectDisposedException>(() => store.List());
        Assert.Throws<ObjectDisposedException>(() => store.Backup(Path.Combine(Folder, "copy.db")));
    }

    [Fact]
    public void The_usual_place_is_a_file_in_the_folder_of_the_environment_variable_or_of_the_user()
    {
        string? before = Environment.GetEnvironmentVariable("VENTWRIGHT_HOME");
        try
        {
            Environment.SetEnvironmentVariable("VENTWRIGHT_HOME", Folder);
            Assert.Equal(DatabasePath, SqliteSessionStore.DefaultPath);
            Environment.SetEnvironmentVariable("VENTWRIGHT_HOME", null);
            Assert.EndsWith(Path.Combine("ventwright", "ventwright.db"), SqliteSessionStore.DefaultPath, StringComparison.Ordinal);
            Assert.True(Path.IsPathFullyQualified(SqliteSessionStore.DefaultPath));
        }
        finally
        {
            Environment.SetEnvironmentVariable("VENTWRIGHT_HOME", before);
        }
    }

    private static string Refusal(string path) => Assert.Throws<StoreException>(() => SqliteSessionStore.Open(path).Dispose()).Message;

    private static SqliteConnection Raw(string path)
    {
        var connection = new SqliteConnection($"Data Source={path};Pooling=False");
        connection.Open();
        return connection;
    }
}
