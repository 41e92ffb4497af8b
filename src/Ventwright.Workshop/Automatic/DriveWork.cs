using Ventwright.Bench.Car;
using Ventwright.Model.Kernel;
using Ventwright.Model.Sheet.Text;
using Ventwright.Physics.Car;

namespace Ventwright.Workshop.Automatic;

/// <summary>A drive of a sound unit and, when faults were named or a unit was measured, the same drive with these.</summary>
/// <param name="Sound">The sound unit.</param>
/// <param name="Suspect">With the faults, or as it was measured; null without any.</param>
/// <param name="Deviations">Where the second leaves the first, the earliest first.</param>
/// <param name="Second">What the second is called beside the sound one.</param>
public sealed record DrivePair(DriveRecord Sound, DriveRecord? Suspect, IReadOnlyList<Deviation> Deviations, string Second = "suspect");

/// <summary>Drives in the background, with how far they are. Thread-safe.</summary>
public sealed class DriveWork
{
    private const int MostMoments = 600;
    private const double LongestMinutes = 120;
    private double _share;

    private DriveWork(UnitOnSheet unit, Scenario world, CarBody body, DriveOptions options, CancellationToken stop) => Result = Task.Factory.StartNew(
        () =>
        {
            int drives = options.Faults.Count > 0 ? 2 : 1;
            DriveRecord sound = Run(unit, world, body, options with { Faults = [] }, s => Volatile.Write(ref _share, s / drives), stop);
            DriveRecord? suspect = drives == 1 ? null : Run(unit, world, body, options, s => Volatile.Write(ref _share, (1 + s) / drives), stop);
            return new DrivePair(sound, suspect, suspect is null ? [] : Deviation.Between(sound, suspect));
        },
        stop, TaskCreationOptions.LongRunning, TaskScheduler.Default);

    /// <summary>The drives once they are over.</summary>
    public Task<DrivePair> Result { get; }

    /// <summary>Share that is driven, 0..1.</summary>
    public double Share => Volatile.Read(ref _share);

    /// <summary>A shipped scenario by its key.</summary>
    /// <exception cref="RefusedException">There is none of that name.</exception>
    public static Scenario World(string key)
    {
        var problems = new ProblemList();
        if (!ScenarioFile.Shipped.Contains(key, StringComparer.Ordinal)) throw new RefusedException($"there is no scenario '{key}': {string.Join(", ", ScenarioFile.Shipped)}");
        return ScenarioFile.Load(key, problems) ?? throw new RefusedException(string.Join('\n', problems.Sorted));
    }

    /// <summary>The car that is driven unless a file says otherwise.</summary>
    /// <exception cref="RefusedException">It cannot be read.</exception>
    public static CarBody Car()
    {
        var problems = new ProblemList();
        return ScenarioFile.LoadCar(null, problems) ?? throw new RefusedException(string.Join('\n', problems.Sorted));
    }

    /// <summary>Sets out.</summary>
    /// <param name="unit">The unit.</param>
    /// <param name="scenario">Key of a shipped scenario.</param>
    /// <param name="minutes">Length in minutes as typed; empty for the scenario's own.</param>
    /// <param name="faults">Faults of the second drive; none for one drive only.</param>
    /// <param name="stop">Breaks it off.</param>
    /// <exception cref="RefusedException">No such scenario, or minutes that make no sense.</exception>
    public static DriveWork Start(UnitOnSheet unit, string scenario, string minutes, IReadOnlyList<Fault> faults, CancellationToken stop)
    {
        Scenario world = World(scenario);
        double seconds = world.Seconds;
        if (!string.IsNullOrWhiteSpace(minutes))
        {
            if (!double.TryParse(minutes, System.Globalization.NumberStyles.Float, System.Globalization.CultureInfo.InvariantCulture, out double typed) || !(typed >= 1 && typed <= LongestMinutes))
                throw new RefusedException($"the length wants minutes from 1 to {LongestMinutes:0}; leave it empty for the scenario's own");
            seconds = typed * 60;
        }

        return new(unit, world, Car(), new() { Faults = faults, Seconds = seconds, Every = Math.Max(1, Math.Ceiling(seconds / MostMoments)) }, stop);
    }

    private static DriveRecord Run(UnitOnSheet unit, Scenario world, CarBody body, DriveOptions options, Action<double> progress, CancellationToken stop) =>
        Drive.Run(unit.Simulator, world, body, options, out string? problem, progress, stop) ?? throw new RefusedException(problem ?? "the drive cannot be run");
}
