using Ventwright.Bench.Car;
using Ventwright.Model.Kernel;
using Ventwright.Physics.Car;
using Ventwright.Simulation;
using Ventwright.Workshop.Automatic;

namespace Ventwright.Workshop.Rigs;

/// <summary>
/// A run with the simulated car made again from the rows of its table: what was measured moves a car as it did in the run, and sound units are driven in step with it: the nominal one, and some with parts at random within their tolerances. Not thread-safe.
/// </summary>
internal sealed class RunReplay
{
    /// <summary>Most moments that are kept of a whole scenario.</summary>
    private const int MostMoments = 600;

    /// <summary>Sound units with parts at random within their tolerances, and where their chances come from.</summary>
    private const int Others = 7, Seed = 41;

    private readonly MeasuredCar _measured;
    private readonly SoundUnit[] _sound;
    private readonly RunColumn[] _columns;
    private readonly RunColumn? _time;
    private readonly double _every;
    private double _last = double.NaN, _kept = double.NegativeInfinity;

    /// <summary>Begins.</summary>
    /// <param name="simulator">The unit.</param>
    /// <param name="drive">What the run is about.</param>
    /// <param name="heads">Heads of the run's table.</param>
    /// <exception cref="RefusedException">The run cannot be made again: scenario or car cannot be read, or the unit is another one now.</exception>
    public RunReplay(Simulator simulator, RunDrive drive, IReadOnlyList<string> heads)
    {
        Scenario world = drive.World.World();
        CarBody body = drive.World.Body();
        RunColumn[] columns = [.. heads.Select(RunColumn.Of).OfType<RunColumn>()];
        try
        {
            var random = new Random(Seed);
            MeasuredCar Car() => new(simulator, world, body, [.. columns.Select(c => c.Check).OfType<Observable>()], drive.HandWords);
            IEnumerable<Simulator> others = Enumerable.Range(0, Others).Select(_ => new Simulator(ToleranceSample.Drawn(simulator.Model, random)));
            (_measured, _sound) = (Car(), [.. others.Prepend(simulator).Select(unit => new SoundUnit(unit, drive, Car()))]);
        }
        catch (ArgumentException e)
        {
            throw new RefusedException($"this run cannot be held against a sound unit: {e.Message}", e);
        }

        _time = Array.Find(columns, c => c.Name == "car time");
        _columns = [.. columns.Where(c => _measured.Needs.Contains(c.Name))];
        _every = Math.Max(1, Math.Ceiling(world.Seconds / MostMoments));
    }

    /// <summary>Goes on by a round. The car's own time tells for how long: it stands still in a run that is paused or in hand.</summary>
    /// <param name="cells">Its cells, one for each head.</param>
    public void GoOn(IReadOnlyList<string> cells)
    {
        double now = _time?.Value(cells) ?? double.NaN;
        bool isFirst = double.IsNaN(_last);
        if (!double.IsFinite(now) || (!isFirst && now <= _last)) return;
        double seconds = isFirst ? 0 : now - _last;
        _last = now;
        bool keeps = now - _kept >= _every - 1e-6;
        if (keeps) _kept = now;
        _measured.Step(_columns.ToDictionary(c => c.Name, c => c.Value(cells), StringComparer.Ordinal), seconds);
        if (keeps) _measured.Keep();
        Parallel.ForEach(_sound, unit => unit.Advance(seconds, keeps));
    }

    /// <summary>Both runs as far as they came, or null while there is nothing to compare.</summary>
    public DrivePair? Pair()
    {
        DriveRecord measured = _measured.Record();
        DriveRecord[] sound = [.. _sound.Select(s => s.Record())];
        return measured.Seconds.Length < 2 ? null : new(sound[0], measured, Deviation.Between(sound, measured, DriveTolerance.Measured), "here");
    }
}
