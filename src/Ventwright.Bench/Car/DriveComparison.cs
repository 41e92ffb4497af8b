namespace Ventwright.Bench.Car;

/// <summary>What counts as a difference between two drives: smaller ones, shorter ones, and the same thing a little sooner or later are passed over.</summary>
/// <param name="Kelvin">Least difference of a temperature, K.</param>
/// <param name="Share">Least difference of a position or a speed.</param>
/// <param name="Seconds">How long it has to last, s.</param>
/// <param name="LateShare">By what share of the time since the start the same thing may come sooner or later; more where several sound units differ by more.</param>
/// <param name="MostLate">To how many seconds that share grows, s.</param>
public sealed record DriveTolerance(double Kelvin, double Share, double Seconds, double LateShare, double MostLate)
{
    /// <summary>Between two simulated units: a kelvin, a twentieth of a travel or speed. A servo that is a moment late or a contact that clicks a second later is not yet a difference.</summary>
    public static DriveTolerance Simulated { get; } = new(1, 0.05, 5, 0, 0);

    /// <summary>
    /// Between a unit that is measured and a handful of sound ones with parts at random within their tolerances, for what these few do not reach (common practice, no source).
    /// </summary>
    public static DriveTolerance Measured { get; } = new(1.5, 0.05, 15, 0.15, 60);

    /// <summary>How much sooner or later the same thing may come at least, s.</summary>
    /// <param name="seconds">Time since the start, s.</param>
    public double Late(double seconds) => Math.Min(LateShare * seconds, MostLate);

    /// <summary>Least difference of a series.</summary>
    public double Least(SeriesGroup group) => group switch
    {
        SeriesGroup.Temperatures => Kelvin,
        SeriesGroup.Contacts => 0.5,
        _ => Share,
    };
}

/// <summary>Where one drive leaves another.</summary>
/// <param name="Series">What differs, as it went in the second drive.</param>
/// <param name="Seconds">When it first did, s.</param>
/// <param name="Sound">What the first drive had then, SI.</param>
/// <param name="Suspect">What the second had, SI.</param>
/// <param name="Largest">Largest difference later on.</param>
public sealed record Deviation(Series Series, double Seconds, double Sound, double Suspect, double Largest)
{
    /// <summary>Deviations of a drive from another in the order in which they begin.</summary>
    /// <param name="sound">The drive to compare with.</param>
    /// <param name="suspect">The drive in question, kept at the same times.</param>
    /// <param name="tolerance">What counts; that between simulated units unless told.</param>
    public static IReadOnlyList<Deviation> Between(DriveRecord sound, DriveRecord suspect, DriveTolerance? tolerance = null) => Between([sound], suspect, tolerance);

    /// <summary>Deviations of a drive from all that several sound units do, in the order in which they begin.</summary>
    /// <param name="sound">Drives of sound units, the nominal one first.</param>
    /// <param name="suspect">The drive in question, kept at the same times.</param>
    /// <param name="tolerance">What counts; that between simulated units unless told.</param>
    public static IReadOnlyList<Deviation> Between(IReadOnlyList<DriveRecord> sound, DriveRecord suspect, DriveTolerance? tolerance = null)
    {
        ArgumentNullException.ThrowIfNull(sound);
        ArgumentNullException.ThrowIfNull(suspect);
        var found = new List<Deviation>();
        foreach (Series other in suspect.Series.Where(s => s.Group != SeriesGroup.Signals))
        {
            Series[] each = [.. sound.Select(s => s.Find(other.Group, other.Id)).OfType<Series>()];
            if (each.Length == 0) continue;
            if (First(each, other, suspect.Seconds, tolerance ?? DriveTolerance.Simulated) is { } deviation) found.Add(deviation);
        }

        return [.. found.OrderBy(d => d.Seconds).ThenBy(d => d.Series.Group)];
    }

    private static Deviation? First(Series[] sound, Series other, double[] seconds, DriveTolerance tolerance)
    {
        double least = tolerance.Least(other.Group);
        SoundEnvelope envelope = SoundEnvelope.Of([.. sound.Select(s => s.Values)], seconds, tolerance, least);
        if (envelope.FirstOutside(other.Values, tolerance.Seconds, least) is not { } first) return null;
        double[] one = sound[0].Values;
        double largest = Enumerable.Range(0, Math.Min(other.Values.Length, envelope.Moments)).Where(i => envelope.Gap(i, other.Values[i]) > least)
            .Max(i => Math.Abs(other.Values[i] - one[i]));
        return new(other, seconds[first], one[first], other.Values[first], largest);
    }
}
