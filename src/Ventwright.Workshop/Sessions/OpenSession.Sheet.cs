using System.Collections.Concurrent;
using Ventwright.Bench;

namespace Ventwright.Workshop;

/// <content>The version of the sheet that the session is tied to.</content>
public sealed partial class OpenSession
{
    /// <summary>The last entry about the sheet that stands, or null: then the session is on the text that it was started with.</summary>
    public SheetBody? Sheet => Tied.Sheet;

    /// <summary>The text of the sheet that the session is tied to.</summary>
    public string SheetText => Tied.Sheet?.Text ?? Record.SheetText;

    private Tie Tied => Volatile.Read(ref _tie);

    /// <summary>Evidence that stands but cannot be read with the present sheet, with the reason in words. It is kept, and counts again when the sheet has what it names.</summary>
    public IReadOnlyList<(SessionEvent Entry, string Reason)> Misfits =>
        [.. Entries.Where(WrittenEntries.IsEvidence).Select(e => (Entry: e, Reason: Misfit(e))).Where(m => m.Reason is not null).Select(m => (m.Entry, m.Reason!))];

    /// <summary>Ties the session to a version of a sheet. Readings stay as they were written and are judged anew. Taking the entry back moves the session back.</summary>
    /// <exception cref="RefusedException">The version does not compile; nothing was kept.</exception>
    public SessionEvent MoveTo(SheetVersion version, string? by = null) => TieTo(new(version.Sheet, version.Number, version.Text), by);

    /// <summary>Keeps what the session is tied to from here on.</summary>
    internal SessionEvent TieTo(SheetBody sheet, string? by)
    {
        TieTo(sheet);
        return Keep(SessionEventKind.Sheet, sheet, by);
    }

    private static SheetBody? SheetIn(IEnumerable<SessionEvent> entries) =>
        entries.LastOrDefault(e => e is { Kind: SessionEventKind.Sheet, Undone: false }) is { } last ? WrittenEntries.Body<SheetBody>(last) : null;

    private Tie TieTo(SheetBody? sheet)
    {
        string path = sheet is null ? Record.SheetPath : SheetVersions.PathOf(sheet.Sheet);
        UnitOnSheet unit = UnitOnSheet.Of(path, sheet?.Text ?? Record.SheetText);
        return new(sheet, unit, new(unit, () => Evidence, () => [.. OnBench.Where(w => Presence.IsPresence(w.Name))], () => Changed?.Invoke()));
    }

    /// <summary>After the entries changed: another unit where they tie the session to another version.</summary>
    private void FollowSheet()
    {
        SheetBody? sheet = SheetIn(_entries);
        if (sheet != Tied.Sheet) Volatile.Write(ref _tie, TieTo(sheet));
    }

    private string? Misfit(SessionEvent entry)
    {
        Tie tie = Tied;
        return tie.Misfits.GetOrAdd(entry.Number, _ => WrittenEntries.Misfit(tie.Unit.Model, entry));
    }

    /// <summary>A version of the sheet with all that is worked out on it.</summary>
    private sealed record Tie(SheetBody? Sheet, UnitOnSheet Unit, FindingsWorker Worker)
    {
        public ConcurrentDictionary<long, Judgement?> Judged { get; } = [];

        public ConcurrentDictionary<long, string?> Misfits { get; } = [];
    }
}
