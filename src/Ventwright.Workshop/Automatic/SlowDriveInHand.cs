using Ventwright.Bench;
using Ventwright.Bench.SlowDrive;
using Ventwright.Simulation;

namespace Ventwright.Workshop.Automatic;

/// <summary>A slow drive that a session has in hand; kept only while the program runs. Its readings are kept with the session. Thread-safe.</summary>
public sealed class SlowDriveInHand
{
    private readonly Lock _lock = new();
    private readonly SlowCar _drive;
    private readonly UnitOnSheet _unit;

    internal SlowDriveInHand(UnitOnSheet unit, string scenario)
    {
        _unit = unit;
        _drive = New();
        Name = DriveWork.World(scenario).Name;
        Looks = _drive.Looks;
        (Turn, Answers) = (_drive.Turn, []);
        Sound = Task.Factory.StartNew(() => New().Simulate([]), CancellationToken.None, TaskCreationOptions.LongRunning, TaskScheduler.Default);

        SlowCar New() => new(unit.Simulator, unit.Predictor, DriveWork.World(scenario), DriveWork.Car());
    }

    /// <summary>Name of the scenario.</summary>
    public string Name { get; }

    /// <summary>What is reported in each turn.</summary>
    public IReadOnlyList<SlowLook> Looks { get; }

    /// <summary>The turn that waits for an answer, or null when the drive is over.</summary>
    public SlowTurn? Turn { get; private set; }

    /// <summary>Turns that were answered.</summary>
    public IReadOnlyList<SlowAnswer> Answers { get; private set; }

    /// <summary>The same drive with a sound unit, simulated in the background.</summary>
    public Task<SlowCar> Sound { get; }

    /// <summary>The verdict so far, or null before the first answer and while the sound unit still drives.</summary>
    public SlowVerdict? Verdict
    {
        get
        {
            lock (_lock) return Answers.Count > 0 && Sound.IsCompletedSuccessfully ? SlowVerdict.Of(_drive, Sound.Result) : null;
        }
    }

    /// <summary>Whether the drive is one of this version of the sheet.</summary>
    internal bool IsOf(UnitOnSheet unit) => _unit == unit;

    /// <summary>Takes what was seen in a turn, keeps each look as a reading of the session, and moves the car on.</summary>
    /// <param name="session">The session.</param>
    /// <param name="number">Number of the turn that is answered; another one means that somebody else was quicker.</param>
    /// <param name="seen">What was seen, as it was written, in the order of the looks.</param>
    /// <param name="by">Who saw it.</param>
    /// <exception cref="RefusedException">Something cannot be read, or the turn was answered meanwhile; nothing was kept.</exception>
    public void Answer(OpenSession session, int number, IReadOnlyList<string> seen, string? by)
    {
        ArgumentNullException.ThrowIfNull(session);
        lock (_lock)
        {
            if (Turn is not { } turn || turn.Number != number) throw new RefusedException("this turn was answered on another device meanwhile; look at what stands here now");
            Shown[] shown = [.. Looks.Select((l, i) => Read(l, seen[i]))];
            Setting setting = session.OnThisBench(turn.Setting);
            for (int i = 0; i < shown.Length; i++) session.Read(SettingWords.Pairs(setting), Looks[i].What.ToString(), seen[i], by);
            _drive.Answer(shown);
            (Turn, Answers) = (_drive.Turn, [.. _drive.Answers]);
        }
    }

    private Shown Read(SlowLook look, string text) =>
        ReadingText.TrySee(_unit.Model, look.What, text, out Shown shown, out string? problem) ? shown : throw new RefusedException($"{look.Text}: {problem}");
}
