using Ventwright.Bench.Car;
using Ventwright.Quantities;
using Ventwright.Workshop.Automatic;

namespace Ventwright.Cli.Output;

/// <summary>Shows where a drive leaves that of a sound unit.</summary>
internal static class DriveView
{
    /// <summary>What differs, the earliest first.</summary>
    /// <param name="deviations">What differs.</param>
    /// <param name="here">What the drive in question is called.</param>
    /// <param name="units">Units to write.</param>
    public static void Deviations(IReadOnlyList<Deviation> deviations, string here, UnitSystem units) =>
        Screen.Table(["from", "what differs", "sound", here, "at most by"], deviations.Select(d => (string[])
            [DriveWords.Minutes(d.Seconds), $"{d.Series.Id} {d.Series.Name}", DriveWords.Of(d.Series, d.Sound, units), DriveWords.Of(d.Series, d.Suspect, units), DriveWords.Difference(d.Series, d.Largest, units)]));

    /// <summary>The same as JSON.</summary>
    public static IEnumerable<object> Json(IReadOnlyList<Deviation> deviations) =>
        deviations.Select(d => new { d.Series.Id, Group = d.Series.Group.ToString().ToLowerInvariant(), d.Seconds, Sound = Output.Json.Number(d.Sound), Here = Output.Json.Number(d.Suspect) });

    /// <summary>A run beside that of a sound unit.</summary>
    public static void Verdict(DrivePair pair, UnitSystem units)
    {
        Screen.Line(DriveWords.Verdict(pair));
        if (pair.Deviations.Count == 0) return;
        Screen.Line($"  {DriveWords.Of(pair.Deviations[0], units)}");
        if (pair.Deviations.Count > 1) Deviations(pair.Deviations, pair.Second, units);
    }

    /// <summary>The same as JSON; null where there is nothing to compare.</summary>
    public static object? Json(DrivePair? pair, UnitSystem units) => pair is null ? null : new
    {
        Agrees = pair.Deviations.Count == 0,
        First = pair.Deviations.Count == 0 ? null : DriveWords.Of(pair.Deviations[0], units),
        Deviations = Json(pair.Deviations),
    };
}
