using System.Data;
using System.Text.Json;
using Dapper;
using Microsoft.Data.Sqlite;
using Ventwright.Workshop;

namespace Ventwright.Store;

/// <summary>
/// Bench sessions and sheets in one SQLite file. What a call has returned is on disk. Several programs may use the same file at once, and several
/// threads the same store.
/// </summary>
/// <remarks>Every member throws <see cref="StoreException"/> when the file cannot be read or written.</remarks>
public sealed partial class SqliteSessionStore : ISessionStore, IDisposable
{
    private const string SessionColumns = "id, title, sheet_path AS SheetPath, sheet_text AS SheetText, started";
    private const string EventColumns = "number, happened, entered_by AS EnteredBy, kind, body, undone";

    private readonly Lock _turn = new();
    private readonly SqliteConnection _connection;

    private SqliteSessionStore(string path, SqliteConnection connection)
    {
        Path = path;
        _connection = connection;
    }

    /// <summary>Full path of the database file.</summary>
    public string Path { get; }

    /// <summary>The one connection, for tests of its settings.</summary>
    internal SqliteConnection Connection => _connection;

    /// <inheritdoc/>
    public BenchSession Create(string title, string sheetPath, string sheetText, DateTimeOffset now) => Do(transaction =>
    {
        for (int attempt = 0; ; attempt++)
        {
            // A longer id only where the short ones have become scarce.
            var session = new BenchSession(SessionId.Draw(2 + (attempt / 16)), title, sheetPath, sheetText, now);
            int added = _connection.Execute(
                """
                INSERT INTO session (id, title, sheet_path, sheet_text, started)
                VALUES (@Id, @Title, @SheetPath, @SheetText, @Started) ON CONFLICT DO NOTHING
                """,
                new { session.Id, session.Title, session.SheetPath, session.SheetText, Started = TimeText.Write(now) },
                transaction);
            if (added == 1) return session;
        }
    });

    /// <inheritdoc/>
    public IReadOnlyList<BenchSession> List() => Do(transaction =>
        _connection.Query<SessionRow>($"SELECT {SessionColumns} FROM session ORDER BY rowid DESC", transaction: transaction)
            .Select(row => row.ToSession()).ToArray(), writes: false);

    /// <inheritdoc/>
    public BenchSession? Find(string id) => Do(transaction =>
        _connection.QuerySingleOrDefault<SessionRow>(
            $"SELECT {SessionColumns} FROM session WHERE id = @Id", new { Id = id.Trim() }, transaction)?.ToSession(), writes: false);

    /// <inheritdoc/>
    public IReadOnlyList<SessionEvent> Events(string id) => Do(transaction =>
        _connection.Query<EventRow>(
            $"SELECT {EventColumns} FROM event WHERE session_id = @Id ORDER BY number", new { Id = id.Trim() }, transaction)
            .Select(row => row.ToEvent()).ToArray(), writes: false);

    /// <inheritdoc/>
    /// <exception cref="StoreException">There is no such session, or the file cannot be written.</exception>
    public SessionEvent Append(string id, DateTimeOffset when, string by, SessionEventKind kind, string body) => Append(id, when, by, kind, [body])[0];

    /// <inheritdoc/>
    /// <exception cref="StoreException">There is no such session, or the file cannot be written.</exception>
    public IReadOnlyList<SessionEvent> Append(string id, DateTimeOffset when, string by, SessionEventKind kind, IReadOnlyList<string> bodies)
    {
        foreach (string body in bodies) RequireJsonObject(body);
        return Do(transaction =>
        {
            string session = _connection.QuerySingleOrDefault<string>(
                "SELECT id FROM session WHERE id = @Id", new { Id = id.Trim() }, transaction)
                ?? throw new StoreException($"There is no bench session '{id}' in {Path}. List the sessions and use one of their ids.");
            long number = 1 + _connection.ExecuteScalar<long>(
                "SELECT COALESCE(MAX(number), 0) FROM event WHERE session_id = @session", new { session }, transaction);
            SessionEvent[] entries = [.. bodies.Select((body, i) => new SessionEvent(number + i, when, by, kind, body, Undone: false))];
            _connection.Execute(
                """
                INSERT INTO event (session_id, number, happened, entered_by, kind, body)
                VALUES (@session, @Number, @Happened, @by, @Kind, @Body)
                """,
                entries.Select(e => new { session, e.Number, Happened = TimeText.Write(when), by, Kind = KindText.Write(kind), e.Body }),
                transaction);
            return entries;
        });
    }

    /// <inheritdoc/>
    public bool Undo(string id, long number) => Mark(id, number, undone: true);

    /// <inheritdoc/>
    public bool Redo(string id, long number) => Mark(id, number, undone: false);

    /// <summary>Closes the file.</summary>
    public void Dispose()
    {
        lock (_turn) _connection.Dispose();
    }

    private bool Mark(string id, long number, bool undone) => Do(transaction => 1 == _connection.Execute(
        "UPDATE event SET undone = @undone WHERE session_id = @Id AND number = @number AND undone <> @undone",
        new { Id = id.Trim(), number, undone = undone ? 1 : 0 },
        transaction));

    /// <summary>Runs one piece of work as one transaction and returns when it is committed, which is when it is on disk.</summary>
    private T Do<T>(Func<SqliteTransaction, T> work, bool writes = true)
    {
        lock (_turn)
        {
            ObjectDisposedException.ThrowIf(_connection.State != ConnectionState.Open, this);
            try
            {
                using SqliteTransaction transaction = _connection.BeginTransaction(deferred: !writes);
                T result = work(transaction);
                transaction.Commit();
                return result;
            }
            catch (SqliteException e)
            {
                throw StoreException.From(e, Path);
            }
            catch (FormatException e)
            {
                throw new StoreException(
                    $"{Path} holds an entry that cannot be read: {e.Message} Copy the file to a safe place, then put a backup in its stead.",
                    e);
            }
        }
    }

    private static void RequireJsonObject(string body)
    {
        try
        {
            using JsonDocument document = JsonDocument.Parse(body);
            if (document.RootElement.ValueKind == JsonValueKind.Object) return;
        }
        catch (JsonException e)
        {
            throw new ArgumentException($"An entry's body must be JSON: {e.Message}", nameof(body), e);
        }

        throw new ArgumentException("An entry's body must be a JSON object.", nameof(body));
    }
}
