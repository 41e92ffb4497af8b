using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Workshop;

/// <summary>A line of the printed check list, to be typed in.</summary>
/// <param name="Number">Its number on the list, from 1.</param>
/// <param name="Setting">How the unit was to stand.</param>
/// <param name="What">What was to be looked at.</param>
/// <param name="Words">Words to answer with; empty when a number was written.</param>
public sealed record PaperRow(int Number, Setting Setting, Observable What, IReadOnlyList<string> Words)
{
    /// <summary>The lines of a plan, numbered as on the printed list.</summary>
    public static IReadOnlyList<PaperRow> Of(UnitModel model, PlannedTest plan)
    {
        int number = 0;
        return [.. plan.Groups.SelectMany(g => g.Checks.Select(what => new PaperRow(++number, g.Setting, what, Readings.WordsOf(model, what))))];
    }

    /// <summary>The latest reading of this line that stands, or null.</summary>
    public SessionEvent? Kept(OpenSession session)
    {
        string wanted = session.OnThisBench(Setting).Key;
        return session.Evidence.LastOrDefault(e => e.Kind == SessionEventKind.Reading && WrittenEntries.Body<ReadingBody>(e) is var body && body.At == What.ToString() && SettingWords.KeyOf(session.Unit.Model, body.Set) == wanted);
    }

    /// <summary>Keeps a reading of this line; one that was there before is taken back once the new one is on disk. The very same text is not kept twice.</summary>
    /// <exception cref="RefusedException">It is no reading for this check; nothing was kept.</exception>
    public SessionEvent Keep(OpenSession session, string got, string by)
    {
        SessionEvent? before = Kept(session);
        if (before is not null && WrittenEntries.Body<ReadingBody>(before).Got == got.Trim()) return before;
        SessionEvent now = session.Read(SettingWords.Pairs(session.OnThisBench(Setting)), What.ToString(), got, by);
        if (before is not null) session.Undo(before.Number);
        return now;
    }
}
