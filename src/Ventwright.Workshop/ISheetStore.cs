namespace Ventwright.Workshop;

/// <summary>A version of a sheet. It never changes.</summary>
/// <param name="Sheet">Id of the sheet.</param>
/// <param name="Number">1, 2, 3 ... within the sheet.</param>
/// <param name="Text">The sheet.</param>
/// <param name="Saved">When it was saved.</param>
/// <param name="By">Who saved it.</param>
public sealed record SheetVersion(string Sheet, int Number, string Text, DateTimeOffset Saved, string By);

/// <summary>What somebody is writing on a sheet.</summary>
/// <param name="Text">The text, whether it is sound or not.</param>
/// <param name="Kept">When it was put on disk.</param>
public sealed record SheetDraft(string Text, DateTimeOffset Kept);

/// <summary>Keeps the workshop's sheets as versions and drafts. What a call has returned is on disk. Safe to use from several threads.</summary>
public interface ISheetStore
{
    /// <summary>Makes an empty sheet: no version yet, and a draft.</summary>
    /// <param name="draft">Text of the draft.</param>
    /// <param name="now">When.</param>
    /// <returns>Its id, which no other sheet of this store has.</returns>
    string CreateSheet(string draft, DateTimeOffset now);

    /// <summary>Ids of all sheets, the latest first.</summary>
    IReadOnlyList<string> SheetIds();

    /// <summary>Versions of a sheet by number; empty when there is none, or no such sheet.</summary>
    IReadOnlyList<SheetVersion> Versions(string sheet);

    /// <summary>The draft of a sheet, or null.</summary>
    SheetDraft? Draft(string sheet);

    /// <summary>Keeps a draft in place of the one before.</summary>
    /// <exception cref="RefusedException">There is no such sheet.</exception>
    SheetDraft KeepDraft(string sheet, string text, DateTimeOffset now);

    /// <summary>Adds a version and drops the draft.</summary>
    /// <exception cref="RefusedException">There is no such sheet.</exception>
    SheetVersion AddVersion(string sheet, string text, DateTimeOffset now, string by);
}
