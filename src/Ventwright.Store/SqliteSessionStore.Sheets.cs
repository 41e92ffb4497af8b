using Dapper;
using Microsoft.Data.Sqlite;
using Ventwright.Workshop;

namespace Ventwright.Store;

/// <content>The workshop's sheets: versions and drafts.</content>
public sealed partial class SqliteSessionStore : ISheetStore
{
    /// <inheritdoc/>
    public string CreateSheet(string draft, DateTimeOffset now) => Do(transaction =>
    {
        for (int attempt = 0; ; attempt++)
        {
            string id = SessionId.Draw(2 + (attempt / 16));
            if (_connection.Execute("INSERT INTO sheet (id, made) VALUES (@id, @made) ON CONFLICT DO NOTHING", new { id, made = TimeText.Write(now) }, transaction) == 0) continue;
            WriteDraft(id, draft, now, transaction);
            return id;
        }
    });

    /// <inheritdoc/>
    public IReadOnlyList<string> SheetIds() => Do(transaction => _connection.Query<string>("SELECT id FROM sheet ORDER BY rowid DESC", transaction: transaction).ToArray(), writes: false);

    /// <inheritdoc/>
    public IReadOnlyList<SheetVersion> Versions(string sheet) => Do(transaction =>
        _connection.Query<VersionRow>(
            "SELECT sheet_id AS SheetId, number, text, saved, saved_by AS SavedBy FROM sheet_version WHERE sheet_id = @id ORDER BY number", new { id = sheet.Trim() }, transaction)
            .Select(row => row.ToVersion()).ToArray(), writes: false);

    /// <inheritdoc/>
    public SheetDraft? Draft(string sheet) => Do(transaction =>
        _connection.QuerySingleOrDefault<DraftRow>("SELECT text, kept FROM sheet_draft WHERE sheet_id = @id", new { id = sheet.Trim() }, transaction)?.ToDraft(), writes: false);

    /// <inheritdoc/>
    public SheetDraft KeepDraft(string sheet, string text, DateTimeOffset now) => Do(transaction => WriteDraft(IdOf(sheet, transaction), text, now, transaction));

    /// <inheritdoc/>
    public SheetVersion AddVersion(string sheet, string text, DateTimeOffset now, string by) => Do(transaction =>
    {
        string id = IdOf(sheet, transaction);
        int number = 1 + _connection.ExecuteScalar<int>("SELECT COALESCE(MAX(number), 0) FROM sheet_version WHERE sheet_id = @id", new { id }, transaction);
        _connection.Execute(
            "INSERT INTO sheet_version (sheet_id, number, text, saved, saved_by) VALUES (@id, @number, @text, @saved, @by)",
            new { id, number, text, saved = TimeText.Write(now), by }, transaction);
        _connection.Execute("DELETE FROM sheet_draft WHERE sheet_id = @id", new { id }, transaction);
        return new SheetVersion(id, number, text, now, by);
    });

    private SheetDraft WriteDraft(string id, string text, DateTimeOffset now, SqliteTransaction transaction)
    {
        _connection.Execute(
            "INSERT INTO sheet_draft (sheet_id, text, kept) VALUES (@id, @text, @kept) ON CONFLICT DO UPDATE SET text = excluded.text, kept = excluded.kept",
            new { id, text, kept = TimeText.Write(now) }, transaction);
        return new(text, now);
    }

    private string IdOf(string sheet, SqliteTransaction transaction) =>
        _connection.QuerySingleOrDefault<string>("SELECT id FROM sheet WHERE id = @id", new { id = sheet.Trim() }, transaction)
        ?? throw new RefusedException($"there is no sheet '{sheet}' in this workshop; the list of sheets tells which there are");
}
