using Ventwright.Bench.Sensors;

namespace Ventwright.Workshop.Sensors;

/// <summary>A measured curve in a new version of a sheet.</summary>
/// <param name="Version">The version.</param>
/// <param name="Curve">What was changed in it.</param>
public sealed record WrittenCurve(SheetVersion Version, SheetCurve Curve);

/// <summary>Writes measured curves into the workshop's sheets. Sessions stay on the version that they are tied to until they are moved.</summary>
public static class SensorSheets
{
    /// <summary>
    /// Writes the curve of a sensor into a new version of the session's sheet. A session that is on a text of its own gets a copy of that in the workshop first,
    /// with the text as version 1; the same copy is used the next time.
    /// </summary>
    /// <exception cref="RefusedException">The sheet has a draft that is not saved, or the curve cannot be written; no version was added.</exception>
    public static WrittenCurve Write(OpenSession session, SheetVersions sheets, SensorCheck check, string by)
    {
        ArgumentNullException.ThrowIfNull(session);
        ArgumentNullException.ThrowIfNull(sheets);
        string? id = session.Sheet?.Sheet ?? CopyOf(session, sheets);
        string text = id is null ? session.SheetText : TextOf(sheets.Open(id));
        SheetCurve curve = SheetCurve.TryWrite(SheetVersions.PathOf(id ?? session.Record.Id), text, check, out string? problem) ?? throw new RefusedException(problem!);
        if (id is null)
        {
            id = sheets.Create(text);
            sheets.Save(id, text, by);
        }

        return new(sheets.Save(id, curve.Text, by), curve);
    }

    private static string TextOf(OpenSheet sheet) => !sheet.HasDraft && sheet.Versions is [.., { } latest] ? latest.Text
        : throw new RefusedException("somebody is writing on this sheet, and what was written is not a version yet; save it on the sheet's page first, then write the curve");

    private static string? CopyOf(OpenSession session, SheetVersions sheets) =>
        sheets.List().Select(l => l.Id).FirstOrDefault(i => sheets.Open(i) is { HasDraft: false, Versions: [{ } first, ..] } && first.Text == session.SheetText);
}
