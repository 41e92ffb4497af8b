using Ventwright.Bench;
using Ventwright.Bench.Car;
using Ventwright.Bench.SlowDrive;
using Ventwright.Simulation;

namespace Ventwright.Workshop.Automatic;

/// <summary>A slow drive as far as the record has it.</summary>
/// <param name="Name">Name of the scenario.</param>
/// <param name="Track">Looks, and the turns that were answered.</param>
/// <param name="Turn">The turn that waits for an answer, or null when the drive is over.</param>
public sealed record SlowStanding(string Name, SlowTrack Track, SlowTurn? Turn);

/// <summary>
/// The slow drive of a session. It holds nothing of its own: turns are answered by readings that name them, so it stands after the end of the program where it stood
/// before, and is the same on every device. The car is driven again through the answers in the background. Thread-safe.
/// </summary>
public sealed class SlowDriveInHand
{
    private readonly Lock _lock = new();
    private readonly OpenSession _session;
    private readonly UnitOnSheet _unit;
    private readonly long _number;
    private readonly SlowDriveBody _begun;
    private readonly string[] _checks;
    private readonly Action _changed;
    private readonly Lazy<Task<SlowTrack>> _sound;
    private readonly Lazy<Scenario> _world;
    private List<SessionEvent[]> _driven = [];
    private SlowCar? _car;
    private volatile bool _isWriting;
    private SlowStanding? _standing;

    internal SlowDriveInHand(OpenSession session, UnitOnSheet unit, long number, SlowDriveBody begun, Action changed)
    {
        (_session, _unit, _number, _begun, _changed) = (session, unit, number, begun, changed);
        _checks = [.. SlowCar.LooksOf(unit.Simulator).Select(l => l.What.ToString())];
        _world = new(begun.World.World);
        _sound = new(() =>
        {
            Task<SlowTrack> drive = Task.Factory.StartNew(() => New().Simulate([]), CancellationToken.None, TaskCreationOptions.LongRunning, TaskScheduler.Default);
            _ = drive.ContinueWith(_ => changed(), TaskScheduler.Default);
            return drive;
        });
    }

    /// <summary>Where the drive stands, or stood before the car moved on (<see cref="IsMoving"/>); null before it came there for the first time.</summary>
    public SlowStanding? Standing => Volatile.Read(ref _standing);

    /// <summary>Whether the car is on its way to where the record has it; <see cref="OpenSession.Changed"/> tells when it is there.</summary>
    public bool IsMoving => _isWriting || !Moving.IsCompleted;

    /// <summary>Ends when the car has caught up with the record, or fails with the reason.</summary>
    public Task Moving { get; private set; } = Task.CompletedTask;

    /// <summary>Why the drive cannot go on, in words; null when it can.</summary>
    public string? Problem => Moving.IsFaulted ? $"the drive cannot go on: {Moving.Exception.GetBaseException().Message} Begin it anew." : null;

    /// <summary>The same drive with a sound unit, simulated in the background from the first time that it is asked for.</summary>
    public Task<SlowTrack> Sound => _sound.Value;

    /// <summary>The verdict on the turns so far, or null before the first answer and while the sound unit still drives.</summary>
    public SlowVerdict? Verdict => !IsMoving && Standing is { Track: { Answers.Count: > 0 } track } && Sound.IsCompletedSuccessfully ? SlowVerdict.Of(track, Sound.Result) : null;

    /// <summary>Readings by their check that answer the waiting turn in part: the program was ended between them, or one was taken back.</summary>
    public IReadOnlyDictionary<string, SessionEvent> Begun =>
        !IsMoving && Standing is { Turn: { } turn, Track: { } track } ? Latest(Marked(), turn.Number, track.Answers.Count == 0 ? 0 : _driven[^1].Max(e => e.Number)) : new Dictionary<string, SessionEvent>();

    /// <summary>Takes what was seen in a turn and keeps each look as a reading of the session; the car then moves on in the background.</summary>
    /// <param name="number">Number of the turn that is answered; another one means that somebody else was quicker.</param>
    /// <param name="seen">What was seen, as it was written, in the order of the looks.</param>
    /// <param name="by">Who saw it.</param>
    /// <exception cref="RefusedException">Something cannot be read, or the turn was answered meanwhile; nothing was kept.</exception>
    public void Answer(int number, IReadOnlyList<string> seen, string? by)
    {
        ArgumentNullException.ThrowIfNull(seen);
        lock (_lock)
        {
            if (IsMoving || Standing is not { Turn: { } turn, Track.Looks: { } looks } || turn.Number != number) throw new RefusedException("this turn was answered on another device meanwhile; look at what stands here now");
            foreach ((SlowLook look, string text) in looks.Zip(seen)) Read(look, text);
            Setting setting = _session.OnThisBench(turn.Setting);
            IReadOnlyDictionary<string, SessionEvent> begun = Begun;
            Write(() =>
            {
                foreach ((SlowLook look, string text) in looks.Zip(seen))
                {
                    string at = look.What.ToString();
                    if (begun.TryGetValue(at, out SessionEvent? before))
                    {
                        if (WrittenEntries.Body<ReadingBody>(before).Got == text.Trim()) continue;
                        _session.Undo(before.Number);
                    }

                    _session.Read(SettingWords.Pairs(setting), at, text, by, turn: new(_number, number));
                }
            });
        }
    }

    /// <summary>Takes the last turn that was answered back, with its readings; what was begun of the turn after it too.</summary>
    /// <param name="number">Number of the turn that is taken back; another one means that somebody else was quicker.</param>
    /// <exception cref="RefusedException">It is not the last one that was answered.</exception>
    public void TakeBack(int number)
    {
        lock (_lock)
        {
            if (Standing is { Track.Answers.Count: 0 }) throw new RefusedException("no turn was answered yet");
            if (IsMoving || Standing is not { Track.Answers: [.., { Turn.Number: var last }] } || last != number) throw new RefusedException("the drive went on or back on another device meanwhile; look at what stands here now");
            SessionEvent[] readings = [.. Begun.Values, .. _driven[^1]];
            Write(() =>
            {
                foreach (SessionEvent reading in readings) _session.Undo(reading.Number);
            });
        }
    }

    /// <summary>Whether the drive is the one that was begun by an entry, on this version of the sheet.</summary>
    internal bool IsOf(UnitOnSheet unit, long number) => _unit == unit && _number == number;

    /// <summary>Sees to it that the car comes to where the record has it.</summary>
    internal void Follow()
    {
        lock (_lock)
        {
            if (IsMoving) return;
            List<SessionEvent[]> wanted = Answered();
            if ((_standing is not null || Moving.IsFaulted) && IsSame(wanted, _driven)) return;
            Moving = Task.Factory.StartNew(() => MoveTo(wanted), CancellationToken.None, TaskCreationOptions.LongRunning, TaskScheduler.Default);

            // Whoever shows the drive asks again, also for what came in meanwhile.
            _ = Moving.ContinueWith(_ => _changed(), TaskScheduler.Default);
        }
    }

    /// <summary>Changes the record; the car does not follow before all of it is there.</summary>
    private void Write(Action change)
    {
        _isWriting = true;
        try
        {
            change();
        }
        finally
        {
            _isWriting = false;
            Follow();
        }

        _changed();
    }

    private static bool IsSame(List<SessionEvent[]> one, List<SessionEvent[]> other) => one.Count == other.Count && one.Zip(other).All(t => t.First.SequenceEqual(t.Second));

    private SlowCar New() => new(_unit.Simulator, _unit.Predictor, _world.Value, _begun.World.Body(), [.. _begun.Hands.Select(h => (h.Key, h.Value))]);

    /// <summary>Drives on where answers were only added; else from the start.</summary>
    private void MoveTo(List<SessionEvent[]> wanted)
    {
        bool isLonger = _car is not null && wanted.Count >= _driven.Count && IsSame(wanted[.._driven.Count], _driven);
        (int from, SlowCar? kept) = isLonger ? (_driven.Count, _car) : (0, null);
        (_car, _driven) = (null, wanted);
        SlowCar car = kept ?? New();
        foreach (SessionEvent[] readings in wanted.Skip(from).TakeWhile(_ => car.Turn is not null))
            car.Answer([.. car.Looks.Zip(readings, (look, reading) => Read(look, WrittenEntries.Body<ReadingBody>(reading).Got))]);
        _car = car;
        Volatile.Write(ref _standing, new(_world.Value.Name, car.Track, car.Turn));
    }

    /// <summary>For each turn from the first on, as long as they are whole: its readings in the order of the looks. What was seen before the turn before it was answered is of another way there.</summary>
    private List<SessionEvent[]> Answered()
    {
        (SessionEvent Entry, ReadingBody Body)[] marked = Marked();
        List<SessionEvent[]> answered = [];
        for (long after = 0; ;)
        {
            Dictionary<string, SessionEvent> latest = Latest(marked, answered.Count + 1, after);
            if (_checks.Length == 0 || !_checks.All(latest.ContainsKey)) return answered;
            answered.Add([.. _checks.Select(c => latest[c])]);
            after = answered[^1].Max(e => e.Number);
        }
    }

    /// <summary>The latest reading of each check that names a turn.</summary>
    private static Dictionary<string, SessionEvent> Latest((SessionEvent Entry, ReadingBody Body)[] marked, int turn, long after)
    {
        Dictionary<string, SessionEvent> latest = new(StringComparer.Ordinal);
        foreach ((SessionEvent entry, ReadingBody body) in marked.Where(m => m.Body.Turn!.Number == turn && m.Entry.Number > after)) latest[body.At] = entry;
        return latest;
    }

    /// <summary>The standing readings that name a turn of this drive.</summary>
    private (SessionEvent Entry, ReadingBody Body)[] Marked() =>
        [.. _session.Evidence.Where(e => e.Kind == SessionEventKind.Reading && e.Number > _number).Select(e => (e, WrittenEntries.Body<ReadingBody>(e))).Where(m => m.Item2.Turn?.Drive == _number)];

    private Shown Read(SlowLook look, string text) =>
        ReadingText.TrySee(_unit.Model, look.What, text, out Shown shown, out string? problem) ? shown : throw new RefusedException($"{look.Text}: {problem}");
}
