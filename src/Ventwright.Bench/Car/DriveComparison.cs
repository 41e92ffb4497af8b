namespace Ventwright.Bench.Car;

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
    public static IReadOnlyList<Deviation> Between(DriveRecord sound, DriveRecord suspect)
    {
        var found = new List<Deviation>();
        foreach (Series other in suspect.Series.Where(s => s.Group != SeriesGroup.Signals))
        {
            if (sound.Find(other.Group, other.Id) is not { } one) continue;
            if (First(one, other, suspect.Seconds) is { } deviation) found.Add(deviation);
        }

        return [.. found.OrderBy(d => d.Seconds).ThenBy(d => d.Series.Group)];
    }

    /// <summary>What a person would call a difference: a kelvin, a twentieth of a travel or speed, a contact.</summary>
    private static double Least(SeriesGroup group) => group switch
    {
        SeriesGroup.Temperatures => 1,
        SeriesGroup.Contacts => 0.5,
        _ => 0.05,
    };

    private static Deviation? First(Series one, Series other, double[] seconds)
    {
        double least = Least(other.Group), longEnough = 5, since = double.NaN, largest = 0;
        int first = -1;
        for (int i = 0; i < Math.Min(one.Values.Length, other.Values.Length); i++)
        {
            double gap = Math.Abs(other.Values[i] - one.Values[i]);
            if (!(gap > least))
            {
                since = double.NaN;
                continue;
            }

            if (double.IsNaN(since)) since = seconds[i];
            largest = Math.Max(largest, gap);
            // A servo that is a moment late or a contact that clicks a second later is not yet a difference.
            if (first < 0 && seconds[i] - since >= longEnough) first = Array.IndexOf(seconds, since);
        }

        return first < 0 ? null : new(other, seconds[first], one.Values[first], other.Values[first], largest);
    }
}
