using System.Globalization;
using Ventwright.Quantities;
using Ventwright.Rig.Definition;
using Ventwright.Rig.Running;
using Ventwright.Rig.Wiring;

namespace Ventwright.Workshop.Rigs;

/// <summary>What a rig does, in words and in the units that the person wants.</summary>
public static class RigWords
{
    /// <summary>Time for servos to travel from end to end before the table with the supply on is made.</summary>
    public static TimeSpan LiveRest { get; } = TimeSpan.FromSeconds(15);

    /// <summary>A verdict of the wiring check: a sign and words, so that nothing hangs on a colour.</summary>
    public static (string Sign, string Words) Of(WiringVerdict verdict) => verdict switch
    {
        WiringVerdict.Agrees => ("✓", "right"),
        WiringVerdict.CannotTell => ("–", "cannot tell"),
        WiringVerdict.Off => ("✗", "wrong"),
        _ => ("✗", "no answer"),
    };

    /// <summary>What a line of the wiring check expects.</summary>
    public static string Expected(WiringRow row, UnitSystem units)
    {
        ArgumentNullException.ThrowIfNull(row);
        if (double.IsNaN(row.Low)) return "-";
        string low = row.Channel.Kind.Text(row.Low, units), high = row.Channel.Kind.Text(row.High, units);
        return low == high ? low : $"{low} .. {high}";
    }

    /// <summary>How well a run keeps its time, name and text.</summary>
    public static IReadOnlyList<(string Name, string Value)> Of(RunStatistics statistics)
    {
        ArgumentNullException.ThrowIfNull(statistics);
        return
        [
            ("Rounds a second", Text(statistics.RateHz, "0.00")),
            ("Rounds", Text(statistics.Rounds, "0")),
            ("Missed", Text(statistics.Missed, "0")),
            ("Begun late, at most", Text(1e3 * statistics.LatestS, "0.0") + " ms"),
            ("Jitter", Text(1e3 * statistics.JitterS, "0.0") + " ms"),
            ("A round takes, at most", Text(1e3 * statistics.LongestWorkS, "0.0") + " ms"),
        ];
    }

    /// <summary>What a run is doing.</summary>
    public static string Of(RunState state) => state switch
    {
        RunState.Running => "Running",
        RunState.Paused => "Paused: the car stands still, outputs stay",
        RunState.Manual => "In your hand: you set the outputs",
        _ => "Stopped",
    };

    /// <summary>Why a run ended and how its outputs stand; what both say is said once.</summary>
    /// <param name="why">Why it ended.</param>
    /// <param name="outputs">How the outputs stand.</param>
    public static string Ended(string why, string outputs) => outputs.Contains(why, StringComparison.Ordinal) ? outputs : $"{why}. {outputs}";

    /// <summary>A time by the clock: <c>2:05</c>.</summary>
    public static string Clock(double seconds) => !double.IsFinite(seconds) ? "-" : string.Create(CultureInfo.InvariantCulture, $"{Math.Floor(seconds / 60):0}:{Math.Floor(seconds % 60):00}");

    /// <summary>Heading of a plot.</summary>
    public static string Title(TrackGroup group) => group switch
    {
        TrackGroup.Cabin => "Cabin, computed, and what is asked for",
        TrackGroup.Given => "What the sensors are made to show",
        TrackGroup.Volts => "Measured voltages",
        TrackGroup.Amps => "Measured currents",
        TrackGroup.Vacuum => "Measured vacuum",
        TrackGroup.Warmth => "Measured temperatures",
        _ => "Car, computed",
    };

    private static string Text(double value, string format) => value.ToString(format, CultureInfo.InvariantCulture);
}
