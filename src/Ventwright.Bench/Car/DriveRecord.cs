using Ventwright.Quantities;

namespace Ventwright.Bench.Car;

/// <summary>What a series of a drive is about; pages and tables group by it.</summary>
public enum SeriesGroup
{
    /// <summary>Temperatures of car and air, K.</summary>
    Temperatures,

    /// <summary>Positions of servos, flaps and valves, 0..1.</summary>
    Positions,

    /// <summary>Speeds of blowers, 1 = rated.</summary>
    Blowers,

    /// <summary>Contacts that are made: clutch and relays, 0 or 1.</summary>
    Contacts,

    /// <summary>Signals of the module.</summary>
    Signals,
}

/// <summary>One quantity over a drive.</summary>
/// <param name="Id">Part, condition or signal.</param>
/// <param name="Name">Name in words.</param>
/// <param name="Group">What it is about.</param>
/// <param name="Dimension">What it measures.</param>
/// <param name="Values">A value for each time of the record, SI.</param>
public sealed record Series(string Id, string Name, SeriesGroup Group, Dimension Dimension, double[] Values);

/// <summary>A drive as it went.</summary>
/// <param name="Scenario">What the world did.</param>
/// <param name="Faults">Ids of the faults that were there.</param>
/// <param name="Seconds">Times, s.</param>
/// <param name="Series">Everything that was kept.</param>
/// <param name="Comfort">How comfortable it was.</param>
/// <param name="Sound">False if a network found no solution on the way.</param>
/// <param name="WorstImbalanceW">Largest gap in the car's energy balance, W.</param>
/// <param name="Unmoved">Conditions of the sheet that the car does not know and left as they were.</param>
public sealed record DriveRecord(
    Scenario Scenario, IReadOnlyList<string> Faults, double[] Seconds, IReadOnlyList<Series> Series, Comfort Comfort, bool Sound, double WorstImbalanceW,
    IReadOnlyList<string> Unmoved)
{
    /// <summary>A series by id and group, or null.</summary>
    public Series? Find(SeriesGroup group, string id) => Series.FirstOrDefault(s => s.Group == group && string.Equals(s.Id, id, StringComparison.Ordinal));
}

/// <summary>How a drive felt.</summary>
/// <param name="ReachedS">Seconds until the cabin was within one kelvin of what was wanted; null if never.</param>
/// <param name="Overshoot">How far it went past what was wanted after having reached it, K.</param>
/// <param name="MeanError">Mean distance from what was wanted over the last third, K.</param>
/// <param name="Offset">Mean of cabin minus wanted over the last third, K.</param>
/// <param name="Swing">Largest minus smallest cabin temperature over the last third, K.</param>
/// <param name="Reversals">How often the busiest servo turned round in the last third, per minute; null without servos.</param>
public sealed record Comfort(double? ReachedS, double Overshoot, double MeanError, double Offset, double Swing, double? Reversals)
{
    /// <summary>Distance within which the cabin counts as having reached what was wanted, K.</summary>
    public const double Near = 1;

    /// <summary>Works the figures out.</summary>
    /// <param name="seconds">Times.</param>
    /// <param name="cabin">Cabin air, K.</param>
    /// <param name="wanted">What was wanted, K.</param>
    /// <param name="servos">Positions of the servos.</param>
    public static Comfort Of(double[] seconds, double[] cabin, double[] wanted, IReadOnlyList<double[]> servos)
    {
        int reached = Array.FindIndex([.. cabin.Zip(wanted, (c, w) => Math.Abs(c - w))], d => d <= Near);
        double side = cabin.Length == 0 ? 0 : Math.Sign(wanted[0] - cabin[0]), overshoot = 0;
        for (int i = Math.Max(reached, 0); reached >= 0 && i < cabin.Length && wanted[i] == wanted[reached]; i++) overshoot = Math.Max(overshoot, side * (cabin[i] - wanted[i]));
        int last = seconds.Length * 2 / 3;
        double[] errors = [.. cabin.Skip(last).Zip(wanted.Skip(last), (c, w) => c - w)];
        if (errors.Length == 0) return new(null, 0, 0, 0, 0, null);
        double minutes = (seconds[^1] - seconds[last]) / 60;
        return new(
            reached < 0 ? null : seconds[reached], overshoot, errors.Average(Math.Abs), errors.Average(), cabin.Skip(last).Max() - cabin.Skip(last).Min(),
            servos.Count == 0 || minutes <= 0 ? null : servos.Max(s => Turns(s.AsSpan(last))) / minutes);
    }

    /// <summary>Turns of direction by more than a hundredth of the travel.</summary>
    private static int Turns(ReadOnlySpan<double> position)
    {
        const double least = 0.01;
        int turns = 0, way = 0;
        double turned = position.Length > 0 ? position[0] : 0;
        foreach (double p in position)
        {
            if (way >= 0 && p > turned) (turned, way) = (p, p - turned > 0 ? 1 : way);
            else if (way <= 0 && p < turned) (turned, way) = (p, -1);
            else if (Math.Abs(p - turned) > least) (turned, way, turns) = (p, -way, turns + 1);
        }

        return turns;
    }
}
