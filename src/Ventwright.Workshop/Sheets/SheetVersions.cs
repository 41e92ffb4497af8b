using Ventwright.Model.Build;
using Ventwright.Model.Sheet.Text;

namespace Ventwright.Workshop;

/// <summary>A sheet of the workshop in the list.</summary>
/// <param name="Id">Its id.</param>
/// <param name="Title">Title of the unit, from the latest text.</param>
/// <param name="Latest">Number of the latest version; 0 when none was saved yet.</param>
/// <param name="Touched">When it was last saved or written on.</param>
/// <param name="HasDraft">Whether there is text that is not a version yet.</param>
public sealed record ListedSheet(string Id, string Title, int Latest, DateTimeOffset Touched, bool HasDraft);

/// <summary>A sheet as it is opened for writing.</summary>
/// <param name="Id">Its id.</param>
/// <param name="Text">The draft, or the latest version.</param>
/// <param name="Versions">Its versions by number.</param>
/// <param name="HasDraft">Whether the text is a draft.</param>
/// <param name="Touched">When it was last saved or written on.</param>
public sealed record OpenSheet(string Id, string Text, IReadOnlyList<SheetVersion> Versions, bool HasDraft, DateTimeOffset Touched);

/// <summary>The workshop's own sheets: written as drafts, saved as versions that never change.</summary>
public sealed class SheetVersions(ISheetStore store)
{
    /// <summary>Raised after a sheet was made or a version saved. On any thread.</summary>
    public event Action? Changed;

    /// <summary>All sheets, the latest first.</summary>
    public IReadOnlyList<ListedSheet> List() => [.. store.SheetIds().Select(Line)];

    /// <summary>Makes a sheet from a text, which need not be sound.</summary>
    /// <returns>Its id.</returns>
    /// <exception cref="RefusedException">The text is larger than a sheet may be.</exception>
    public string Create(string text)
    {
        RequireSize(text);
        string id = store.CreateSheet(text, Now());
        Changed?.Invoke();
        return id;
    }

    /// <summary>Opens a sheet for writing.</summary>
    /// <exception cref="RefusedException">There is no such sheet.</exception>
    public OpenSheet Open(string id)
    {
        SheetDraft? draft = store.Draft(id);
        IReadOnlyList<SheetVersion> versions = store.Versions(id);
        if (draft is null && versions.Count == 0) throw new RefusedException($"there is no sheet '{id}' in this workshop; the list of sheets tells which there are");
        return new(id.Trim(), draft?.Text ?? versions[^1].Text, versions, draft is not null, draft?.Kept ?? versions[^1].Saved);
    }

    /// <summary>Keeps what is being written, sound or not.</summary>
    /// <exception cref="RefusedException">There is no such sheet, or the text is larger than a sheet may be.</exception>
    public SheetDraft Keep(string id, string text)
    {
        RequireSize(text);
        return store.KeepDraft(id, text, Now());
    }

    /// <summary>Saves a text as a new version. The very text of the latest version gives that version again.</summary>
    /// <exception cref="RefusedException">The text does not compile; it is kept as the draft.</exception>
    public SheetVersion Save(string id, string text, string by)
    {
        OpenSheet sheet = Open(id);
        if (sheet.Versions is [.., { } latest] && latest.Text == text && !sheet.HasDraft) return latest;
        Keep(id, text);
        UnitOnSheet.Of(PathOf(id), text);
        SheetVersion version = store.AddVersion(id, text, Now(), by);
        Changed?.Invoke();
        return version;
    }

    /// <summary>A version of a sheet.</summary>
    /// <exception cref="RefusedException">There is no such version.</exception>
    public SheetVersion Version(string id, int number) =>
        store.Versions(id).FirstOrDefault(v => v.Number == number) ?? throw new RefusedException($"sheet '{id}' has no version {number}");

    /// <summary>
    /// The name under which a sheet of the workshop is read: as if it lay among the shipped sheets, so that <c>like:</c> finds those.
    /// </summary>
    public static string PathOf(string id) => Path.Combine(SheetShelf.Folder ?? "", $"{id}.yaml");

    /// <summary>Everything that is wrong with a text, with the unit when nothing is.</summary>
    public static SheetReading Read(string id, string text)
    {
        var problems = new ProblemList();
        var model = SheetFile.Read(PathOf(id), text, problems);
        return new(problems.HasErrors ? null : model, problems.Sorted);
    }

    private static void RequireSize(string text)
    {
        if (text.Length > SheetText.LargestBytes)
            throw new RefusedException($"the text has {text.Length / 1e6:0.0} million characters; a sheet has up to {SheetText.LargestBytes / 1e6:0.0} million. What was kept before stays as it was");
    }

    private static DateTimeOffset Now() => TimeProvider.System.GetLocalNow();

    private ListedSheet Line(string id)
    {
        OpenSheet sheet = Open(id);
        return new(id, SheetShelf.TitleIn(sheet.Text) ?? $"Sheet {id}", sheet.Versions.Count, sheet.Touched, sheet.HasDraft);
    }
}

/// <summary>What reading a text gave.</summary>
/// <param name="Model">The unit, or null when there is any error.</param>
/// <param name="Problems">Everything found, by line and column; warnings too.</param>
public sealed record SheetReading(Model.Kernel.UnitModel? Model, IReadOnlyList<Problem> Problems);
