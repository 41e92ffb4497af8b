using Ventwright.Bench;
using Ventwright.Cli.Output;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;
using Ventwright.Store;
using Ventwright.Workshop;

namespace Ventwright.Cli.Commands;

/// <summary>A session at the terminal or from standard input: proposes a check, takes the answer, keeps it, proposes the next.</summary>
internal sealed class Interactive
{
    private const string Help = "Answer with what you see (2.31 V, weak, OL, unsteady), or: skip, expect (shows the band), status, undo, repaired PART, swapped PART, at CHECK [name=value ...] GOT, symptom CHECK [name=value ...] GOT, quit.";
    private readonly OpenSession _session;
    private readonly Queue<Observable> _looks = [];
    private BenchDiagnosis _bench;
    private Advice? _advice;
    private int _skipped;
    private bool _isAnswered;

    private Interactive(OpenSession session) => (_session, _bench) = (session, session.Replay());

    private UnitModel Model => _session.Unit.Model;

    /// <summary>Runs until the input ends or the person quits.</summary>
    public static int Run(SqliteSessionStore store, string id)
    {
        OpenSession session = BenchCommand.Open(store, id);
        Screen.Line($"{session.Record.Title}. {Help}");
        new Interactive(session).Run();
        return ExitCodes.Fine;
    }

    private void Run()
    {
        while (true)
        {
            if (_looks.Count == 0) Propose();
            if (_advice is not null) Ask(_advice, _looks.Peek());
            else Screen.Line("No check tells anything more. Say status, at CHECK ..., or quit.");
            Screen.Flush();
            string? line = Console.ReadLine()?.Trim();
            if (line is null or "quit" or "q") return;
            try
            {
                if (line.Length > 0) Take(line);
            }
            catch (RefusedException e)
            {
                Screen.Line(e.Message);
            }
        }
    }

    /// <summary>Takes the next suggestion up; the looks of a round are asked for one by one.</summary>
    private void Propose()
    {
        _advice = _bench.Next(_bench.Explain(), 5).Skip(_skipped).FirstOrDefault();
        _isAnswered = false;
        foreach (Observable look in _advice?.Looks ?? []) _looks.Enqueue(look);
        if (_advice is null) return;
        Screen.Line();
        Screen.Line($"Set: {FindingsView.Set(_advice.Setting)}");
        Screen.Line($"Why: {_advice.Why}.");
        if (_looks.Count > 1) Screen.Line($"A look round: {_looks.Count} things to see, hear or feel in this setting.");
    }

    private void Ask(Advice advice, Observable what)
    {
        Place place = (what == advice.What ? null : CheckTitles.PlaceOf(Model, what)) ?? advice.Place;
        Screen.Line($"Look at {what}, {PlaceWords.WithWay(place)}.");
        string title = CheckTitles.Of(Model, what);
        Screen.Line($"{title}{(title.EndsWith('?') ? "" : ".")} {CheckTitles.How(what.Kind, CheckTitles.PointOf(Model, what)?.When ?? advice.Setting.State)}");
        if (place.Caution is { } caution) Screen.Line($"Caution: {caution}.");
        if (CheckTitles.Caution(what.Kind) is { } own) Screen.Line($"Caution: {own}");
    }

    private void Take(string line)
    {
        string[] words = line.Split(' ', StringSplitOptions.RemoveEmptyEntries);
        switch (words[0])
        {
            case "skip":
                _ = _looks.TryDequeue(out _);
                if (_looks.Count == 0 && !_isAnswered) _skipped++;
                return;
            case "status":
                FindingsView.Show(Model, _bench, _bench.Find(), json: false, Quantities.UnitSystem.Metric);
                return;
            case "expect" when _advice is not null:
                Screen.Line($"{_looks.Peek()}: {Expected(_advice.Setting, _looks.Peek())}");
                return;
            case "undo":
                Screen.Line(_session.UndoLast() ? "taken back" : "there is nothing to take back");
                _bench = _session.Replay();
                ProposeAnew();
                return;
            case "repaired" or "swapped" when words.Length == 2:
                Keep(_session.Renewed(words[1], words[0] == "repaired" ? SessionEventKind.Repaired : SessionEventKind.Swapped), $"{words[1]} {words[0]}");
                ProposeAnew();
                return;
            case "at" or "symptom" when words.Length >= 3:
                TakeNamed(words);
                ProposeAnew();
                return;
            default:
                Answer(line);
                return;
        }
    }

    private void TakeNamed(string[] words)
    {
        int last = Array.FindLastIndex(words, w => w.Contains('=', StringComparison.Ordinal));
        int from = Math.Max(last + 1, 2);
        var set = SettingText.Words(string.Join(' ', words[2..from]));
        string got = string.Join(' ', words[from..]);
        Keep(words[0] == "at" ? _session.Read([.. set, .. _session.OnBench], words[1], got) : _session.Tell(set, words[1], got), $"{words[1]} {got}");
    }

    private void Answer(string line)
    {
        if (_advice is null) throw new BadInputException($"there is no check to answer. {Help}");
        Observable what = _looks.Peek();
        Keep(_session.Read([.. _advice.Setting.Words.Select(w => (w.Key, w.Value))], what.ToString(), line), $"{what} {line}");
        Screen.Line($"expected of a sound unit: {Expected(_advice.Setting, what)}");
        _looks.Dequeue();
        (_skipped, _isAnswered) = (0, true);
    }

    private string Expected(Setting setting, Observable what) => ReadingWords.Of(_bench.Predictor.Sound(_bench.Predictor.Check(setting, what)), Quantities.UnitSystem.Metric);

    private void ProposeAnew()
    {
        _looks.Clear();
        _skipped = 0;
    }

    private void Keep(SessionEvent entry, string what)
    {
        Screen.Line($"kept as number {entry.Number}: {what}");
        Screen.Flush();
        WrittenEntries.Apply(_bench, Model, entry);
    }
}
