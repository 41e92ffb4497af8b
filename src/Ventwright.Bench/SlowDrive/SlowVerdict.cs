namespace Ventwright.Bench.SlowDrive;

/// <summary>What a slow drive has shown.</summary>
/// <param name="Regulates">Whether everything moved that moves in a sound unit, and the cabin came to where a sound unit takes it.</param>
/// <param name="CabinK">Cabin at the end, K.</param>
/// <param name="SoundCabinK">Cabin at the end of the same drive with a sound unit, K.</param>
/// <param name="First">What was outside what a sound unit shows first, in words, or null.</param>
/// <param name="OutsideTurns">In how many turns something was outside.</param>
public sealed record SlowVerdict(bool Regulates, double CabinK, double SoundCabinK, string? First, int OutsideTurns)
{
    private const double Near = 2.5, Moves = 0.3;

    /// <summary>Judges a drive against the same drive with a sound unit.</summary>
    /// <param name="drive">The drive, at its end or as far as it came.</param>
    /// <param name="sound">The same drive with a sound unit.</param>
    public static SlowVerdict Of(SlowTrack drive, SlowTrack sound)
    {
        if (drive.Answers.Count == 0) return new(false, double.NaN, double.NaN, null, 0);
        SlowTurn last = drive.Answers[^1].Turn, same = sound.Answers[Math.Min(drive.Answers.Count, sound.Answers.Count) - 1].Turn;
        // What moves in a sound unit has to move here as well: a servo that stands still regulates nothing.
        bool answered = Enumerable.Range(0, drive.Looks.Count).All(i => Range(sound, i) < Moves || Range(drive, i) > Moves / 2);
        int outside = drive.Answers.Count(a => a.Outside.Any(o => o));
        string? first = drive.FirstOutside() is { } f
            ? string.Create(System.Globalization.CultureInfo.InvariantCulture, $"turn {f.Answer.Turn.Number} ({f.Answer.Turn.Seconds / 60:0.0} min of car time): {f.Look.Text}") : null;
        return new(answered && Math.Abs(last.Car.Air - same.Car.Air) < Near, last.Car.Air, same.Car.Air, first, outside);
    }

    private static double Range(SlowTrack drive, int look)
    {
        double[] seen = [.. drive.Answers.Select(a => a.Seen[look].Word is { } word ? (word == "clicks" ? 1 : 0) : a.Seen[look].Value).Where(double.IsFinite)];
        return seen.Length == 0 ? 0 : seen.Max() - seen.Min();
    }
}
