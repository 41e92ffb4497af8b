using System.Globalization;
using Ventwright.Workshop;
using Ventwright.Workshop.Automatic;
using Ventwright.Workshop.Sensors;

namespace Ventwright.Web.Cards;

/// <summary>An entry of a session in words.</summary>
/// <param name="Title">What happened.</param>
/// <param name="Detail">When, by whom, how the unit stood.</param>
/// <param name="Fit">How a reading compares with a sound unit.</param>
internal sealed record HistoryLine(string Title, string Detail, Fit Fit)
{
    /// <summary>Whether an entry has a line: settings of the panel, ticks of the chart and single steps of a sweep have none.</summary>
    public static bool IsShown(SessionEvent entry) =>
        entry.Kind is not (SessionEventKind.Panel or SessionEventKind.Ticked) && !(entry.Kind == SessionEventKind.Sweep && WrittenEntries.Body<SweepBody>(entry).IsStep);

    /// <summary>The line of an entry.</summary>
    public static HistoryLine Of(OpenSession session, SessionEvent entry, Preferences preferences)
    {
        string detail = $"{entry.When.ToString("HH:mm", CultureInfo.InvariantCulture)} {entry.By}";
        if (entry.Kind == SessionEventKind.Reading) return Reading(session, entry, preferences, detail);
        return new(TitleOf(session, entry), detail, Fit.NotKnown);
    }

    private static string TitleOf(OpenSession session, SessionEvent entry)
    {
        string Part() => SettingWords.PartName(session.Unit.Model, WrittenEntries.Body<PartBody>(entry).Part);
        string Check() => CheckAnswer.Title(session.Unit.Model, WrittenEntries.Body<CheckBody>(entry).At);
        return entry.Kind switch
        {
            SessionEventKind.Repaired => $"{Part()} repaired",
            SessionEventKind.Swapped => $"{Part()} swapped",
            SessionEventKind.Symptom when WrittenEntries.Told(entry) is { } told => $"Symptom: {CheckAnswer.Of(session.Unit.Model, told.At, told.Got)}",
            SessionEventKind.Symptom => $"Symptom: {WrittenEntries.Body<TextBody>(entry).Text}",
            SessionEventKind.Note => WrittenEntries.Body<TextBody>(entry).Text,
            SessionEventKind.Bench => Bench(session, WrittenEntries.Body<BenchBody>(entry)),
            SessionEventKind.Sheet => $"On version {WrittenEntries.Body<SheetBody>(entry).Version} of the sheet from here on",
            SessionEventKind.SensorPoint => SensorPoints.Title(session.Unit.Model, WrittenEntries.Body<SensorPointBody>(entry)),
            SessionEventKind.Sweep => Sweeps.Title(session.Unit.Model, WrittenEntries.Body<SweepBody>(entry)),
            SessionEventKind.SlowDrive => DriveWords.Begun(WrittenEntries.Body<SlowDriveBody>(entry)),
            SessionEventKind.Skipped => $"Skipped: {Check()}",
            _ => $"Cannot be reached: {Check()}",
        };
    }

    private static string Bench(OpenSession session, BenchBody body) => SettingWords.Text(session.Unit.Model, body.Name, body.Value ?? "");

    private static HistoryLine Reading(OpenSession session, SessionEvent entry, Preferences preferences, string detail)
    {
        ReadingBody body = WrittenEntries.Body<ReadingBody>(entry);
        Judgement? judged = session.Judged(entry);
        string expected = judged is { Fit: Fit.Differs } ? $"≠ {judged.Expected(preferences.Units)} expected, " : "";
        string set = body.Set.Count == 0 ? "" : $", {string.Join(", ", body.Set.Select(s => $"{s.Key} {s.Value}"))}";
        return new(preferences.Show(CheckAnswer.Of(session.Unit.Model, body.At, body.Got)), preferences.Show($"{expected}{detail}{set}"), judged?.Fit ?? Fit.NotKnown);
    }
}
