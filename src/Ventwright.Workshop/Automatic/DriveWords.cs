using System.Globalization;
using Ventwright.Bench.Car;
using Ventwright.Quantities;

namespace Ventwright.Workshop.Automatic;

/// <summary>What a drive kept, in words and in the units that the person wants.</summary>
public static class DriveWords
{
    private static readonly string[] MainTemperatures = ["cabin", "wanted", "blown", "evaporator"];

    /// <summary>A value of a series.</summary>
    public static string Of(Series series, double value, UnitSystem units) => !double.IsFinite(value) ? "-"
        : series.Group == SeriesGroup.Temperatures ? QuantityText.Format(value, Dimension.Temperature, units)
        : series.Group == SeriesGroup.Contacts ? (value > 0.5 ? "on" : "off") : value.ToString("0.00", CultureInfo.InvariantCulture);

    /// <summary>A difference between two values of a series; empty for contacts.</summary>
    public static string Difference(Series series, double value, UnitSystem units) => series.Group switch
    {
        SeriesGroup.Temperatures => Kelvin(value, units),
        SeriesGroup.Contacts => "",
        _ => value.ToString("0.00", CultureInfo.InvariantCulture),
    };

    /// <summary>A difference of temperatures.</summary>
    public static string Kelvin(double kelvin, UnitSystem units) => QuantityText.Format(kelvin, Dimension.TemperatureDifference, units);

    /// <summary>The beginning of a slow drive.</summary>
    public static string Begun(SlowDriveBody body)
    {
        ArgumentNullException.ThrowIfNull(body);
        return $"Slow car begun: {body.World.Title}";
    }

    /// <summary>A time in minutes.</summary>
    public static string Minutes(double seconds) => (seconds / 60).ToString("0.0", CultureInfo.InvariantCulture) + " min";

    /// <summary>Figures of comfort, name and text.</summary>
    public static IReadOnlyList<(string Name, string Value)> Of(Comfort comfort, UnitSystem units) =>
    [
        ("Near what was asked for", comfort.ReachedS is { } s ? "after " + Minutes(s) : "never"),
        ("Overshoot", Kelvin(comfort.Overshoot, units)),
        ("Last third, on average", $"{Kelvin(Math.Abs(comfort.Offset), units)} too {(comfort.Offset > 0 ? "warm" : "cold")}"),
        ("Last third, swing", Kelvin(comfort.Swing, units)),
        ("Hunting: busiest servo turns round", comfort.Reversals is { } r ? r.ToString("0.0", CultureInfo.InvariantCulture) + " times a minute" : "-"),
    ];

    /// <summary>A deviation in one sentence: what, from when, how, and by how much at most.</summary>
    public static string Of(Deviation deviation, UnitSystem units)
    {
        ArgumentNullException.ThrowIfNull(deviation);
        string most = Difference(deviation.Series, deviation.Largest, units);
        return $"{deviation.Series.Name}, from {Minutes(deviation.Seconds)} of car time: {Of(deviation.Series, deviation.Suspect, units)} where a sound unit has {Of(deviation.Series, deviation.Sound, units)}{(most.Length == 0 ? "" : $"; at most {most} off")}.";
    }

    /// <summary>The verdict on a drive beside that of a sound unit.</summary>
    public static string Verdict(DrivePair pair)
    {
        ArgumentNullException.ThrowIfNull(pair);
        return pair.Deviations.Count == 0 ? "It goes as with a sound unit." : $"It leaves what a sound unit does, in {(pair.Deviations.Count == 1 ? "one thing" : $"{pair.Deviations.Count} things")}. First:";
    }

    /// <summary>Heading of a group.</summary>
    public static string Title(SeriesGroup group) => group switch
    {
        SeriesGroup.Temperatures => "Temperatures",
        SeriesGroup.Positions => "Positions of servos, flaps and valves",
        SeriesGroup.Blowers => "Blowers",
        SeriesGroup.Contacts => "Clutch and relays",
        _ => "Signals of the module",
    };

    /// <summary>Series of a group that are worth a line: those that move in either drive; of the temperatures those of cabin and air.</summary>
    public static IReadOnlyList<Series> Shown(DrivePair pair, SeriesGroup group)
    {
        ArgumentNullException.ThrowIfNull(pair);
        return [.. pair.Sound.Series.Where(s => s.Group == group
            && (group == SeriesGroup.Temperatures ? MainTemperatures.Contains(s.Id, StringComparer.Ordinal) : Moves(s) || (pair.Suspect?.Find(group, s.Id) is { } other && Moves(other))))];
    }

    private static bool Moves(Series series)
    {
        double[] finite = [.. series.Values.Where(double.IsFinite)];
        return finite.Length > 0 && finite.Max() - finite.Min() > 1e-3;
    }
}
