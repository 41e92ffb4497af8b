using System.Data;
using Dapper;
using Microsoft.Data.Sqlite;
using FilePath = System.IO.Path;

namespace Ventwright.Store;

/// <content>The file itself: where it is, opening it, copying it.</content>
public sealed partial class SqliteSessionStore
{
    /// <summary>How long a call waits for another program to finish writing.</summary>
    private const int PatienceSeconds = 10;

    /// <summary>
    /// Where the database is when nobody says otherwise: <c>ventwright.db</c> in the folder named by the environment variable
    /// <c>VENTWRIGHT_HOME</c>, else in <c>ventwright</c> under the user's local application data folder.
    /// </summary>
    public static string DefaultPath
    {
        get
        {
            string? home = Environment.GetEnvironmentVariable("VENTWRIGHT_HOME");
            string folder = string.IsNullOrWhiteSpace(home)
                ? FilePath.Combine(
                    Environment.GetFolderPath(Environment.SpecialFolder.LocalApplicationData, Environment.SpecialFolderOption.DoNotVerify),
                    "ventwright")
                : home;
            return FilePath.GetFullPath(FilePath.Combine(folder, "ventwright.db"));
        }
    }

    /// <summary>Opens a database file; makes it, and its folder, when it is not there; brings an older one up to date.</summary>
    /// <param name="path">Path of the file.</param>
    /// <exception cref="StoreException">
    /// The file or folder cannot be written, the file is no database of this program, or a newer version of the program wrote it.
    /// </exception>
    public static SqliteSessionStore Open(string path)
    {
        string full = FilePath.GetFullPath(path);
        MakeFolder(full);
        var connection = new SqliteConnection(new SqliteConnectionStringBuilder
        {
            DataSource = full,
            ForeignKeys = true,
            Pooling = false,
            DefaultTimeout = PatienceSeconds,
        }.ToString());
        try
        {
            Prepare(connection, full);
            return new SqliteSessionStore(full, connection);
        }
        catch (SqliteException e)
        {
            connection.Dispose();
            throw StoreException.From(e, full);
        }
        catch
        {
            connection.Dispose();
            throw;
        }
    }

    /// <summary>Writes a copy of the whole database, as it is now, to a new file. The copy can be opened like any other.</summary>
    /// <param name="path">Path of the file to make; its folder is made when it is not there.</param>
    /// <exception cref="StoreException">The file is there already or cannot be written.</exception>
    public void Backup(string path)
    {
        string full = FilePath.GetFullPath(path);
        if (File.Exists(full)) throw new StoreException($"{full} is there already. Name a new file for the backup.");
        MakeFolder(full);
        string unfinished = $"{full}.{Guid.NewGuid():N}.part";
        try
        {
            lock (_turn)
            {
                ObjectDisposedException.ThrowIf(_connection.State != ConnectionState.Open, this);
                _connection.Execute("VACUUM INTO @unfinished", new { unfinished });
            }

            // SQLite does not flush what VACUUM INTO wrote (sqlite.org/lang_vacuum.html), so it is done here, before the name is final.
            using (var file = new FileStream(unfinished, FileMode.Open, FileAccess.ReadWrite)) file.Flush(flushToDisk: true);
            File.Move(unfinished, full);
        }
        catch (SqliteException e)
        {
            throw StoreException.From(e, full);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw StoreException.NotWritable(full, e);
        }
        finally
        {
            File.Delete(unfinished);
        }
    }

    private static void Prepare(SqliteConnection connection, string path)
    {
        connection.Open();

        // Another program's database is refused before anything is changed in it.
        SchemaScripts.Check(connection, path);

        // With a write-ahead log, synchronous = FULL flushes the log at each commit; NORMAL would not. The two fullfsync settings make
        // macOS flush the drive's own cache too; elsewhere they do nothing. Sources: sqlite.org/wal.html, sqlite.org/pragma.html.
        connection.Execute(
            $"""
            PRAGMA busy_timeout = {PatienceSeconds * 1000};
            PRAGMA journal_mode = WAL;
            PRAGMA synchronous = FULL;
            PRAGMA fullfsync = ON;
            PRAGMA checkpoint_fullfsync = ON;
            """);
        SchemaScripts.Upgrade(connection, path, SchemaScripts.Latest);
    }

    private static void MakeFolder(string path)
    {
        string folder = FilePath.GetDirectoryName(path) ?? path;
        try
        {
            Directory.CreateDirectory(folder);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw StoreException.NotWritable(folder, e);
        }
    }
}
