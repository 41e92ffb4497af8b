using System.Text.Json;
using Ventwright.Bench;
using Ventwright.Diagnosis;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Workshop;

/// <summary>
/// A session of the store with its unit, shared by all screens that show it. Entries are checked, then on disk, before a call returns. Several people may enter
/// at the same time.
/// </summary>
public sealed partial class OpenSession
{
    private readonly ISessionStore _store;
    private readonly Lock _lock = new();
    private SessionEvent[] _entries;
    private Tie _tie;

    private OpenSession(ISessionStore store, BenchSession record)
    {
        (_store, Record) = (store, record);
        _entries = [.. store.Events(record.Id)];
        _tie = TieTo(SheetIn(_entries));
    }

    /// <summary>Raised after anything changed: an entry, the findings. On any thread.</summary>
    public event Action? Changed;

    /// <summary>The session as the store has it.</summary>
    public BenchSession Record { get; }

    /// <summary>The unit, from the version of the sheet that the session is tied to: the text it began with, until it is moved.</summary>
    public UnitOnSheet Unit => Tied.Unit;

    /// <summary>All entries by number, undone ones included.</summary>
    public IReadOnlyList<SessionEvent> Entries => Volatile.Read(ref _entries);

    /// <summary>Entries that bear on the diagnosis, stand, and can be read with the present sheet.</summary>
    public IReadOnlyList<SessionEvent> Evidence => [.. Entries.Where(e => WrittenEntries.IsEvidence(e) && Misfit(e) is null)];

    /// <summary>The latest findings, or null before the first; those of an earlier list while <see cref="IsWorking"/>.</summary>
    public SessionFindings? Findings => Tied.Worker.Latest;

    /// <summary>Whether findings are being worked out.</summary>
    public bool IsWorking => Tied.Worker.IsWorking;

    /// <summary>Why findings cannot be worked out, or null.</summary>
    public string? FindingsProblem => Tied.Worker.Problem;

    /// <summary>Opens a session.</summary>
    /// <exception cref="RefusedException">There is no such session, or its sheet no longer compiles.</exception>
    public static OpenSession Open(ISessionStore store, string id)
    {
        BenchSession record = store.Find(id) ?? throw new RefusedException($"there is no session '{id}'; the list of sessions tells which there are");
        return new(store, record);
    }

    /// <summary>Starts working out findings in the background; <see cref="Changed"/> tells when they are there.</summary>
    public void WakeFindings() => Tied.Worker.Wake();

    /// <summary>Checks and keeps a reading. The panel then stands as the reading says.</summary>
    /// <param name="set">How the unit stood, by name and text.</param>
    /// <param name="at">The check.</param>
    /// <param name="got">What was read.</param>
    /// <param name="by">Who entered it; the name of the computer's user unless told.</param>
    /// <param name="accuracy">Accuracy of the meter, such as <c>0.5 % + 2 mV</c>; null for an ordinary one.</param>
    /// <param name="turn">The turn of a slow drive that it answers, or null.</param>
    /// <exception cref="RefusedException">Something about it cannot be; nothing was kept.</exception>
    public SessionEvent Read(IEnumerable<(string Name, string Value)> set, string at, string got, string? by = null, string? accuracy = null, SlowTurnMark? turn = null)
    {
        (string Name, string Value)[] words = [.. set];
        (Setting setting, Observable what, Outcome outcome) = WrittenEntries.Check(Unit.Model, words, at, got);
        if (accuracy is not null) WrittenEntries.Meter(new(), accuracy, what, outcome);
        return Keep(SessionEventKind.Reading, new ReadingBody(Words(setting), what.ToString(), got.Trim(), accuracy?.Trim(), turn), by);
    }

    /// <summary>Checks and keeps what was seen at one look round, all of it or nothing. The panel then stands as it says.</summary>
    /// <param name="set">How the unit stood, by name and text.</param>
    /// <param name="seen">What was looked at, and what was seen.</param>
    /// <param name="by">Who entered it; the name of the computer's user unless told.</param>
    /// <exception cref="RefusedException">Something about it cannot be; nothing was kept.</exception>
    public IReadOnlyList<SessionEvent> ReadRound(IEnumerable<(string Name, string Value)> set, IEnumerable<(string At, string Got)> seen, string? by = null)
    {
        (string Name, string Value)[] words = [.. set];
        ReadingBody[] bodies = [.. seen.Select(s =>
        {
            (Setting setting, Observable what, _) = WrittenEntries.Check(Unit.Model, words, s.At, s.Got);
            return new ReadingBody(Words(setting), what.ToString(), s.Got.Trim());
        })];
        if (bodies.Length == 0) throw new RefusedException("nothing was answered: tap what is seen, at one thing at least");
        return Keep(SessionEventKind.Reading, bodies, by);
    }

    /// <summary>Checks and keeps a symptom that names a check: what somebody noticed before the bench. The panel stays as it stands.</summary>
    /// <param name="set">How the unit stood, by name and text.</param>
    /// <param name="at">The check; one that is told in words.</param>
    /// <param name="got">The word.</param>
    /// <param name="by">Who told it.</param>
    /// <exception cref="RefusedException">Something about it cannot be; nothing was kept.</exception>
    public SessionEvent Tell(IEnumerable<(string Name, string Value)> set, string at, string got, string? by = null)
    {
        (Setting setting, Observable what, _) = WrittenEntries.CheckSymptom(Unit.Model, set, at, got);
        return Keep(SessionEventKind.Symptom, new ReadingBody(Words(setting), what.ToString(), got.Trim()), by);
    }

    /// <summary>The entry that tells a symptom, or null when nobody told it.</summary>
    /// <param name="setting">How the unit stood.</param>
    /// <param name="what">The check.</param>
    /// <param name="got">The word.</param>
    public SessionEvent? ToldAs(Setting setting, Observable what, string got) => Entries.LastOrDefault(e =>
        !e.Undone && WrittenEntries.Told(e) is { } told && told.At == what.ToString() && told.Got == got
        && SettingWords.KeyOf(Unit.Model, told.Set) == setting.Key);

    /// <summary>Keeps that a part was repaired or swapped.</summary>
    /// <exception cref="RefusedException">There is no such part.</exception>
    public SessionEvent Renewed(string part, SessionEventKind kind, string? by = null)
    {
        if (CheckNames.Unknown("part", part, [.. Unit.Model.Parts.Select(p => p.Id)]) is { } problem) throw new RefusedException(problem);
        return Keep(kind, new PartBody(part), by);
    }

    /// <summary>Keeps a symptom or a note in the person's own words.</summary>
    /// <exception cref="RefusedException">The text is empty or longer than 2,000 characters.</exception>
    public SessionEvent Say(SessionEventKind kind, string text, string? by = null)
    {
        const int longest = 2000;
        string clean = string.Concat((text ?? "").Trim().Where(c => !char.IsControl(c) || c == '\n'));
        if (clean.Length == 0) throw new RefusedException("there is nothing to keep: write a few words first");
        if (clean.Length > longest) throw new RefusedException($"the text has {clean.Length} characters; up to {longest} are kept");
        return Keep(kind, new TextBody(clean), by);
    }

    /// <summary>Takes an entry back; later ones stay.</summary>
    /// <returns>False when there is no such entry that stands.</returns>
    public bool Undo(long number) => Mark(() => _store.Undo(Record.Id, number));

    /// <summary>Makes an entry that was taken back count again, in its old place.</summary>
    /// <returns>False when there is no such entry that was taken back.</returns>
    public bool Redo(long number) => Mark(() => _store.Redo(Record.Id, number));

    /// <summary>Takes the last standing entry back.</summary>
    public bool UndoLast() => Entries.LastOrDefault(e => !e.Undone) is { } last && Undo(last.Number);

    /// <summary>A diagnosis of its own with all entries that stand; it asks for nothing that is not on the bench now.</summary>
    public BenchDiagnosis Replay() => Replay(Evidence);

    /// <summary>A diagnosis of its own with these entries.</summary>
    internal BenchDiagnosis Replay(IReadOnlyList<SessionEvent> evidence)
    {
        BenchDiagnosis bench = Unit.NewDiagnosis(OnBench);
        foreach (SessionEvent entry in evidence) WrittenEntries.Apply(bench, Unit.Model, entry);
        return bench;
    }

    /// <summary>Looks whether another program added entries to the store.</summary>
    public void Refresh()
    {
        lock (_lock)
        {
            IReadOnlyList<SessionEvent> now = _store.Events(Record.Id);
            if (now.SequenceEqual(_entries)) return;
            Volatile.Write(ref _entries, [.. now]);
            FollowSheet();
        }

        Announce();
    }

    private static Dictionary<string, string> Words(Setting setting) => setting.Words.ToDictionary(w => w.Key, w => w.Value, StringComparer.Ordinal);

    private SessionEvent Keep<T>(SessionEventKind kind, T body, string? by) => Keep(kind, [body], by)[0];

    private IReadOnlyList<SessionEvent> Keep<T>(SessionEventKind kind, T[] bodies, string? by)
    {
        IReadOnlyList<SessionEvent> added;
        lock (_lock)
        {
            added = _store.Append(Record.Id, TimeProvider.System.GetLocalNow(), by ?? Environment.UserName, kind, [.. bodies.Select(b => JsonSerializer.Serialize(b))]);

            // Another program may have added entries of its own in between: then the number leaps, and the whole list is read again.
            bool isNext = added[0].Number == (_entries.Length == 0 ? 1 : _entries[^1].Number + 1);
            Volatile.Write(ref _entries, isNext ? [.. _entries, .. added] : [.. _store.Events(Record.Id)]);
            FollowSheet();
        }

        Announce();
        return added;
    }

    private bool Mark(Func<bool> mark)
    {
        lock (_lock)
        {
            if (!mark()) return false;
            Volatile.Write(ref _entries, [.. _store.Events(Record.Id)]);
            FollowSheet();
        }

        Announce();
        return true;
    }

    private void Announce()
    {
        if (Changed is null) return;
        Tied.Worker.Wake();
        Changed.Invoke();
    }
}
