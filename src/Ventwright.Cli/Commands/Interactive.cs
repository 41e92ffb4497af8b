using Ventwright.Bench;
using Ventwright.Cli.Output;
using Ventwright.Model.Kernel;
using Ventwright.Store;
using Ventwright.Workshop;

namespace Ventwright.Cli.Commands;

/// <summary>A session at the terminal or from standard input: proposes a check, takes the answer, keeps it, proposes the next.</summary>
internal static class Interactive
{
    private const string Help = "Answer with what you see (2.31 V, weak, OL, unsteady), or: skip, expect (shows the band), status, undo, repaired PART, swapped PART, at CHECK [name=value ...] GOT, symptom CHECK [name=value ...] GOT, quit.";

    /// <summary>Runs until the input ends or the person quits.</summary>
    public static int Run(SqliteSessionStore store, string id)
    {
        OpenSession session = BenchCommand.Open(store, id);
        BenchDiagnosis bench = session.Replay();
        Screen.Line($"{session.Record.Title}. {Help}");
        int skipped = 0;
        while (true)
        {
            Advice? advice = bench.Next(bench.Explain(), 5).Skip(skipped).FirstOrDefault();
            if (advice is not null) Ask(session.Unit.Model, advice);
            else Screen.Line("No check tells anything more. Say status, at CHECK ..., or quit.");
            Screen.Flush();
            string? line = Console.ReadLine()?.Trim();
            if (line is null or "quit" or "q") return ExitCodes.Fine;
            if (line.Length == 0) continue;
            skipped = line == "skip" ? skipped + 1 : 0;
            if (line == "skip") continue;
            try
            {
                bench = Answer(session, bench, advice, line);
            }
            catch (RefusedException e)
            {
                Screen.Line(e.Message);
            }
        }
    }

    private static void Ask(UnitModel model, Advice advice)
    {
        Screen.Line();
        Screen.Line($"Set: {FindingsView.Set(advice.Setting)}");
        Screen.Line($"Look at {advice.What}, {PlaceWords.WithWay(advice.Place)}: {advice.Why}.");
        string title = CheckTitles.Of(model, advice.What);
        Screen.Line($"{title}{(title.EndsWith('?') ? "" : ".")} {CheckTitles.How(advice.What.Kind, CheckTitles.PointOf(model, advice.What)?.When ?? advice.Setting.State)}");
        if (advice.Place.Caution is { } caution) Screen.Line($"Caution: {caution}.");
        if (CheckTitles.Caution(advice.What.Kind) is { } own) Screen.Line($"Caution: {own}");
    }

    private static BenchDiagnosis Answer(OpenSession session, BenchDiagnosis bench, Advice? advice, string line)
    {
        string[] words = line.Split(' ', StringSplitOptions.RemoveEmptyEntries);
        switch (words[0])
        {
            case "status":
                FindingsView.Show(session.Unit.Model, bench, bench.Find(), json: false, Quantities.UnitSystem.Metric);
                return bench;
            case "expect" when advice is not null:
                Screen.Line($"{advice.What}: {ReadingWords.Of(bench.Predictor.Sound(bench.Predictor.Check(advice.Setting, advice.What)), Quantities.UnitSystem.Metric)}");
                return bench;
            case "undo":
                Screen.Line(session.UndoLast() ? "taken back" : "there is nothing to take back");
                return session.Replay();
            case "repaired" or "swapped" when words.Length == 2:
                return Kept(session, bench, session.Renewed(words[1], words[0] == "repaired" ? SessionEventKind.Repaired : SessionEventKind.Swapped), $"{words[1]} {words[0]}");
            case "at" or "symptom" when words.Length >= 3:
                int last = Array.FindLastIndex(words, w => w.Contains('=', StringComparison.Ordinal));
                int from = Math.Max(last + 1, 2);
                var set = SettingText.Words(string.Join(' ', words[2..from]));
                string got = string.Join(' ', words[from..]);
                return Kept(session, bench, words[0] == "at" ? session.Read([.. set, .. session.OnBench], words[1], got) : session.Tell(set, words[1], got), $"{words[1]} {got}");
            default:
                if (advice is null) throw new BadInputException($"there is no check to answer. {Help}");
                SessionEvent entry = session.Read([.. advice.Setting.Words.Select(w => (w.Key, w.Value))], advice.What.ToString(), line);
                Kept(session, bench, entry, $"{advice.What} {line}");
                Screen.Line($"expected of a sound unit: {ReadingWords.Of(bench.Predictor.Sound(bench.Predictor.Check(advice.Setting, advice.What)), Quantities.UnitSystem.Metric)}");
                return bench;
        }
    }

    private static BenchDiagnosis Kept(OpenSession session, BenchDiagnosis bench, SessionEvent entry, string what)
    {
        Screen.Line($"kept as number {entry.Number}: {what}");
        Screen.Flush();
        WrittenEntries.Apply(bench, session.Unit.Model, entry);
        return bench;
    }
}
