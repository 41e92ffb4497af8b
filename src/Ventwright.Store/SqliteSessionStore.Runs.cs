using System.Text.Json;
using Dapper;
using Microsoft.Data.Sqlite;
using Ventwright.Rig.Running;
using Ventwright.Workshop;
using Ventwright.Workshop.Rigs;

namespace Ventwright.Store;

/// <content>Runs of rigs with their samples.</content>
public sealed partial class SqliteSessionStore : IRunStore
{
    private const string RunColumns =
        """
        number, session_id AS SessionId, rig, unit, what, started, started_by AS StartedBy, heads, drive, ended, why, fault, outputs, statistics, notes,
        (SELECT COUNT(*) FROM rig_sample WHERE run = rig_run.number) AS Samples
        """;

    /// <inheritdoc/>
    public long BeginRun(RigRunStart start) => Do(transaction =>
    {
        string session = _connection.QuerySingleOrDefault<string>("SELECT id FROM session WHERE id = @id", new { id = start.Session.Trim() }, transaction)
            ?? throw new RefusedException($"there is no session '{start.Session}'; the list of sessions tells which there are");
        return _connection.ExecuteScalar<long>(
            """
            INSERT INTO rig_run (session_id, rig, unit, what, started, started_by, heads, drive) VALUES (@session, @Rig, @Unit, @What, @started, @By, @heads, @drive)
            RETURNING number
            """,
            new
            {
                session,
                start.Rig,
                start.Unit,
                start.What,
                started = TimeText.Write(start.Started),
                start.By,
                heads = JsonSerializer.Serialize(start.Heads),
                drive = start.Drive is null ? null : JsonSerializer.Serialize(start.Drive),
            },
            transaction);
    });

    /// <inheritdoc/>
    public void AddSamples(long run, int first, IReadOnlyList<IReadOnlyList<string>> rows) => Do(transaction => _connection.Execute(
        "INSERT INTO rig_sample (run, number, cells) VALUES (@run, @number, @cells)",
        rows.Select((row, i) => new { run, number = first + i, cells = JsonSerializer.Serialize(row) }), transaction));

    /// <inheritdoc/>
    public void EndRun(long run, RigRunEnd end) => Do(transaction => _connection.Execute(
        "UPDATE rig_run SET ended = @ended, why = @Why, fault = @fault, outputs = @Outputs, statistics = @statistics, notes = @notes WHERE number = @run",
        new
        {
            run,
            ended = TimeText.Write(end.Ended),
            end.Why,
            fault = end.IsFault ? 1 : 0,
            end.Outputs,
            statistics = JsonSerializer.Serialize(end.Statistics),
            notes = JsonSerializer.Serialize(end.Notes),
        },
        transaction));

    /// <inheritdoc/>
    public IReadOnlyList<RigRunRecord> Runs(string session) => Do(transaction =>
        _connection.Query<RunRow>($"SELECT {RunColumns} FROM rig_run WHERE session_id = @id ORDER BY number DESC", new { id = session.Trim() }, transaction)
            .Select(r => r.ToRun()).ToArray(), writes: false);

    /// <inheritdoc/>
    public RigRunRecord? FindRun(long run) => Do(transaction =>
        _connection.QuerySingleOrDefault<RunRow>($"SELECT {RunColumns} FROM rig_run WHERE number = @run", new { run }, transaction)?.ToRun(), writes: false);

    /// <inheritdoc/>
    public IReadOnlyList<IReadOnlyList<string>> Samples(long run) => Do(transaction =>
        _connection.Query<string>("SELECT cells FROM rig_sample WHERE run = @run ORDER BY number", new { run }, transaction).Select(RunRow.Texts).ToArray(), writes: false);
}

/// <summary>A row of the table <c>rig_run</c>.</summary>
internal sealed class RunRow
{
    public long Number { get; init; }

    public string SessionId { get; init; } = "";

    public string Rig { get; init; } = "";

    public string Unit { get; init; } = "";

    public string What { get; init; } = "";

    public string Started { get; init; } = "";

    public string StartedBy { get; init; } = "";

    public string Heads { get; init; } = "[]";

    public string? Drive { get; init; }

    public string? Ended { get; init; }

    public string? Why { get; init; }

    public long? Fault { get; init; }

    public string? Outputs { get; init; }

    public string? Statistics { get; init; }

    public string? Notes { get; init; }

    public long Samples { get; init; }

    internal static IReadOnlyList<string> Texts(string json) => JsonSerializer.Deserialize<string[]>(json) ?? [];

    internal RigRunRecord ToRun() => new(
        Number, new(SessionId, Rig, Unit, What, TimeText.Read(Started), StartedBy, Texts(Heads), Drive is null ? null : JsonSerializer.Deserialize<RunDrive>(Drive)),
        Ended is null ? null : new(TimeText.Read(Ended), Why ?? "", Fault == 1, Outputs ?? "", JsonSerializer.Deserialize<RunStatistics>(Statistics ?? "{}")!, Texts(Notes ?? "[]")),
        (int)Samples);
}
