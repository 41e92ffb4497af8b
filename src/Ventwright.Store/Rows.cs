using System.Globalization;
using Ventwright.Workshop;

namespace Ventwright.Store;

/// <summary>A row of the table <c>session</c>.</summary>
internal sealed record SessionRow(string Id, string Title, string SheetPath, string SheetText, string Started)
{
    internal BenchSession ToSession() => new(Id, Title, SheetPath, SheetText, TimeText.Read(Started));
}

/// <summary>A row of the table <c>event</c>.</summary>
internal sealed record EventRow(long Number, string Happened, string EnteredBy, string Kind, string Body, long Undone)
{
    internal SessionEvent ToEvent() => new(Number, TimeText.Read(Happened), EnteredBy, KindText.Read(Kind), Body, Undone != 0);
}

/// <summary>Times as ISO 8601 text, exact to the tick, offset kept.</summary>
internal static class TimeText
{
    internal static string Write(DateTimeOffset time) => time.ToString("O", CultureInfo.InvariantCulture);

    internal static DateTimeOffset Read(string text) => DateTimeOffset.ParseExact(text, "O", CultureInfo.InvariantCulture);
}

/// <summary>The words for kinds in the file. They must never change, whatever the enum's names become.</summary>
internal static class KindText
{
    private static readonly (SessionEventKind Kind, string Text)[] Words =
    [
        (SessionEventKind.Reading, "reading"), (SessionEventKind.Repaired, "repaired"), (SessionEventKind.Swapped, "swapped"),
        (SessionEventKind.Symptom, "symptom"), (SessionEventKind.Note, "note"), (SessionEventKind.Panel, "panel"),
        (SessionEventKind.Bench, "bench"), (SessionEventKind.Skipped, "skipped"), (SessionEventKind.Unreachable, "unreachable"),
        (SessionEventKind.Ticked, "ticked"), (SessionEventKind.Sheet, "sheet"), (SessionEventKind.SensorPoint, "sensor-point"), (SessionEventKind.Sweep, "sweep"),
        (SessionEventKind.SlowDrive, "slow-drive"),
    ];

    internal static string Write(SessionEventKind kind) => Array.Find(Words, w => w.Kind == kind).Text
        ?? throw new ArgumentOutOfRangeException(nameof(kind), kind, "There is no such kind of entry.");

    internal static SessionEventKind Read(string text)
    {
        int index = Array.FindIndex(Words, w => w.Text == text);
        return index < 0 ? throw new FormatException($"'{text}' is no kind of entry.") : Words[index].Kind;
    }
}

/// <summary>A row of the table <c>sheet_version</c>.</summary>
internal sealed record VersionRow(string SheetId, long Number, string Text, string Saved, string SavedBy)
{
    internal SheetVersion ToVersion() => new(SheetId, (int)Number, Text, TimeText.Read(Saved), SavedBy);
}

/// <summary>A row of the table <c>sheet_draft</c>.</summary>
internal sealed record DraftRow(string Text, string Kept)
{
    internal SheetDraft ToDraft() => new(Text, TimeText.Read(Kept));
}
