using System.Globalization;
using Ventwright.Model.Kernel;
using Ventwright.Physics.Sensing;
using Ventwright.Quantities;
using Ventwright.Simulation;

namespace Ventwright.Bench.Sensors;

/// <summary>One thing that the sweep of a track is tried for.</summary>
/// <param name="Title">What is tried, in words.</param>
/// <param name="Passed">Whether it is good; null when it cannot be told.</param>
/// <param name="Found">What was found, in words.</param>
/// <param name="Limit">What is allowed, in words.</param>
public sealed record TrackFinding(string Title, bool? Passed, string Found, string Limit);

/// <summary>Limits of a sweep. Those of the track's resistance are on the sheet; the others are common practice, no source.</summary>
/// <param name="Linearity">Largest distance from the straight line, as a share of the travel.</param>
/// <param name="End">How far the reading at an end of the travel may be from the end of the track, as a share of it.</param>
/// <param name="Jump">Least step beyond the straight line that counts as a jump, as a share of the track.</param>
/// <param name="Noise">Largest spread of the steps, as a share of the track.</param>
public sealed record TrackLimits(double Linearity = 0.03, double End = 0.05, double Jump = 0.02, double Noise = 0.01);

/// <summary>A reading of a sweep as it stands in a file.</summary>
/// <param name="Place">Position 0..1, or time in seconds.</param>
/// <param name="Value">Ohms or volts; NaN where nothing is shown.</param>
public readonly record struct SweepReading(double Place, double Value);

/// <summary>A sweep as it was taken.</summary>
/// <param name="Readings">The readings.</param>
/// <param name="ByTime">Whether places are seconds of a run at even speed from the low end to the high end.</param>
/// <param name="Volts">Whether values are volts with the track on its supply; else ohms from the low end to the wiper.</param>
/// <param name="EndToEndOhms">Ohms over the whole track as measured, or null.</param>
public sealed record SweepData(IReadOnlyList<SweepReading> Readings, bool ByTime, bool Volts, double? EndToEndOhms = null);

/// <summary>The sweep test of a track.</summary>
/// <param name="Part">The track.</param>
/// <param name="Sweep">The numbers.</param>
/// <param name="Points">The points, as shares of travel and track.</param>
/// <param name="Findings">What was tried.</param>
/// <param name="Notes">What else is to be said.</param>
public sealed record TrackTest(TrackPart Part, TrackSweep Sweep, IReadOnlyList<TrackPoint> Points, IReadOnlyList<TrackFinding> Findings, IReadOnlyList<string> Notes)
{
    /// <summary>What to do, in order.</summary>
    public static IReadOnlyList<string> Steps { get; } =
    [
        "Supply off and the plug off: measure ohms from the low end of the track to the wiper. Or leave it plugged in and measure volts there while the unit runs.",
        "Move from the low end to the high end in 20 or more even steps, or slowly at even speed with a reading at least every half second. Write down where the meter shows nothing (OL).",
        "Measure end to end as well.",
        "Go back the other way where something jumped: a worn place shows both ways, a bad lead anywhere.",
    ];

    /// <summary>Cautions.</summary>
    public static IReadOnlyList<string> Cautions { get; } =
    [
        "Servos and flaps pinch: fingers out of the linkage before it moves. Never force a geared servo by its output shaft unless its maker says so.",
        "Ohms only with the supply off; the maker's own test goes first.",
    ];

    /// <summary>Whether everything that could be told is good; null when nothing is bad but something could not be told.</summary>
    public bool? Passed => Findings.Any(f => f.Passed == false) ? false : Findings.Any(f => f.Passed is null) ? null : true;

    /// <summary>Judges a sweep.</summary>
    /// <param name="simulator">The unit.</param>
    /// <param name="id">Id of the servo or potentiometer.</param>
    /// <param name="data">The sweep.</param>
    /// <param name="meter">Accuracy of the ohmmeter.</param>
    /// <param name="limits">Limits.</param>
    /// <param name="problem">What is wrong, in words, or null.</param>
    public static TrackTest? TryMake(Simulator simulator, string id, SweepData data, OhmmeterAccuracy meter, TrackLimits limits, out string? problem)
    {
        ArgumentNullException.ThrowIfNull(simulator);
        ArgumentNullException.ThrowIfNull(data);
        ArgumentNullException.ThrowIfNull(limits);
        if (TrackPart.TryFind(simulator.Model, id, out problem) is not { } part) return null;
        double[] good = [.. data.Readings.Where(r => double.IsFinite(r.Value)).Select(r => r.Value)];
        if (good.Length < 5) problem = $"a sweep needs at least five readings; {good.Length} of {data.Readings.Count} are numbers";
        else if (good.Any(v => v < 0)) problem = "ohms and volts of a track are not negative; are the meter's leads exchanged?";
        if (problem is not null) return null;
        var notes = new List<string>();
        double whole = data.Volts ? TrackVolts(simulator, part) : data.EndToEndOhms ?? good.Max();
        if (!(whole > 0)) problem = data.Volts ? $"the sheet puts no voltage over the track of {id}; give ohms" : "all readings are 0";
        if (problem is not null) return null;
        TrackPoint[] points = Places(data, whole, part, notes);
        if (points.Count(p => !double.IsNaN(p.Share)) < 5 || points.Max(p => p.Place) - points.Min(p => p.Place) < 0.5)
        {
            problem = "the sweep covers less than half the travel; go from end to end";
            return null;
        }

        var sweep = new TrackSweep(points, limits.Jump);
        List<TrackFinding> findings = [Total(part, data, whole, meter), Ends(sweep, limits), Linearity(sweep, limits), Dead(simulator, part, sweep, notes), Jumps(sweep, limits), Noise(sweep, limits)];
        TrackPoint farthest = points.Where(p => !double.IsNaN(p.Share)).MaxBy(p => Math.Abs(p.Share - p.Place));
        if (part.Input is { Reads: InputReads.Fraction } reads && sweep.Slope > 0 && Math.Abs(farthest.Share - farthest.Place) > 0.02)
            notes.Add($"the module takes what the wiper shows for the place (input {reads.Name}): it is off by up to {Share(Math.Abs(farthest.Share - farthest.Place))} of the travel, at {Share(farthest.Place)}");
        if (sweep.LargestGap > 0.1) notes.Add($"neighbouring points lie up to {Share(sweep.LargestGap)} of the travel apart; a worn place narrower than that may be missed");
        return new(part, sweep, points, findings, notes);
    }

    private static double TrackVolts(Simulator simulator, TrackPart part)
    {
        Setting setting = Setting.Default(simulator.Model);
        Settled rest = simulator.Settle(setting, []);
        return Readings.Read(simulator, setting, [], rest, new(ObservableKind.Volts, part.HighNet, part.LowNet)).Value;
    }

    private static TrackPoint[] Places(SweepData data, double whole, TrackPart part, List<string> notes)
    {
        SweepReading[] all = [.. data.Readings];
        // Volts of a wiper that touches nothing are pulled to 0 by the module; a true 0 stands at the low end alone.
        double Share(double value) => double.IsFinite(value) ? value / whole : double.NaN;
        if (!data.ByTime) return [.. all.Select(r => new TrackPoint(r.Place, Share(r.Value)))];
        notes.Add("places are worked out from the times, taking the speed as even from the first move to the last; a servo that slows makes the track look bent");
        double[] shares = [.. all.Select(r => Share(r.Value))];
        double first = shares.First(s => !double.IsNaN(s)), last = shares.Last(s => !double.IsNaN(s));
        int from = 0, to = all.Length - 1;
        while (from < to && Math.Abs(shares[from + 1] - first) < 0.005) from++;
        while (to > from && Math.Abs(shares[to - 1] - last) < 0.005) to--;
        double start = all[from].Place, span = all[to].Place - start;
        if (first > last) notes.Add($"the run goes down: it is taken as one from the high end of {part.Id} to the low end");
        return [.. Enumerable.Range(from, to - from + 1).Select(i => (Place: span > 0 ? (all[i].Place - start) / span : 0, Value: shares[i])).Select(p => new TrackPoint(first > last ? 1 - p.Place : p.Place, p.Value))];
    }

    private static TrackFinding Total(TrackPart part, SweepData data, double whole, OhmmeterAccuracy meter)
    {
        double low = part.Ohms * (1 - part.Tolerance), high = part.Ohms * (1 + part.Tolerance);
        string limit = $"{Ohms(low)} .. {Ohms(high)}";
        if (data.Volts) return new("track resistance", null, "not measured (volts were)", limit);
        double half = (meter.Share * whole) + meter.Ohms;
        bool? passed = whole - half >= low && whole + half <= high ? true : whole + half < low || whole - half > high ? false : null;
        return new("track resistance", passed, $"{Ohms(whole)}{(data.EndToEndOhms is null ? " (highest reading of the sweep)" : "")}", limit);
    }

    private static TrackFinding Ends(TrackSweep sweep, TrackLimits limits)
    {
        bool passed = sweep.First.Share <= limits.End + sweep.First.Place && sweep.Last.Share >= 1 - limits.End - (1 - sweep.Last.Place);
        string found = $"{Share(sweep.First.Share)} at the low end, {Share(sweep.Last.Share)} at the high end";
        if (sweep.Slope < 0) found += "; it runs backward: ends exchanged, or measured from the other end";
        return new("ends", passed, found, $"below {Share(limits.End)} and above {Share(1 - limits.End)}");
    }

    private static TrackFinding Linearity(TrackSweep sweep, TrackLimits limits) =>
        new("straightness", sweep.Linearity <= limits.Linearity, $"{Share(sweep.Linearity)} off the straight line at {Share(sweep.Worst.Place)} of the travel", Share(limits.Linearity));

    private static TrackFinding Jumps(TrackSweep sweep, TrackLimits limits) => new(
        "jumps", sweep.Jumps.Count == 0,
        sweep.Jumps.Count == 0 ? "none" : string.Join(", ", sweep.Jumps.Take(3).Select(j => $"{Share(j.Size)} at {Share(j.Place)}")) + (sweep.Jumps.Count > 3 ? $" and {sweep.Jumps.Count - 3} more" : ""),
        $"none above {Share(limits.Jump)}");

    private static TrackFinding Noise(TrackSweep sweep, TrackLimits limits) => new("steadiness of the steps", sweep.Noise <= limits.Noise, Share(sweep.Noise), Share(limits.Noise));

    private static TrackFinding Dead(Simulator simulator, TrackPart part, TrackSweep sweep, List<string> notes)
    {
        foreach (TrackStretch dead in sweep.Dead) if (Reads(simulator, part, dead) is { } reads) notes.Add(reads);
        return new("dead spots", sweep.Dead.Count == 0, sweep.Dead.Count == 0 ? "none" : string.Join(", ", sweep.Dead.Select(d => $"{Share(d.From)} .. {Share(d.To)} of the travel")), "none");
    }

    /// <summary>What the module reads while the wiper stands in a dead spot, by the model.</summary>
    private static string? Reads(Simulator simulator, TrackPart part, TrackStretch dead)
    {
        if (part.Input is not { } input) return null;
        UnitModel model = simulator.Model;
        int owner = model.PartIndex(part.Id);
        int gap = Array.FindIndex(model.Variables, v => v.Part == owner && v.Law == VariableLaw.Gap);
        if (gap < 0) return null;
        int shaft = model.Variables[gap].Input;
        double middle = (dead.From + dead.To) / 2;
        var fault = new Fault(
            "worn", "worn", owner, "worn", 1, "", [new(model.Variables[gap].Parameter + 1, EditKind.Set, dead.From), new(model.Variables[gap].Parameter + 2, EditKind.Set, dead.To), new(model.Variables[shaft].Parameter, EditKind.Set, middle)], []);
        double Read(IReadOnlyList<Fault> faults) => simulator.Settle(Setting.Default(model), faults).Signals[input.Signal];
        double bad = Read([fault]), sound = Read([fault with { Edits = [fault.Edits[2]] }]);
        return string.Create(CultureInfo.InvariantCulture, $"in the dead spot the module reads {bad:0.00} instead of {sound:0.00} (input {input.Name}){(part.IsFeedback ? ": it drives on as if the shaft stood there, and the flap hunts or runs to its end" : " and acts on that")}");
    }

    private static string Share(double share) => string.Create(CultureInfo.InvariantCulture, $"{share * 100:0.#} %");

    private static string Ohms(double ohms) => QuantityText.Format(ohms, Dimension.Ohm, UnitSystem.Metric);
}
