using Ventwright.Physics.Sensing;
using Ventwright.Quantities;
using Ventwright.Simulation;

namespace Ventwright.Bench.Sensors;

/// <summary>What the readings say about a sensor.</summary>
public enum SensorVerdict
{
    /// <summary>Within the tolerance, the uncertainty counted in.</summary>
    Good,

    /// <summary>Outside the tolerance, the uncertainty counted in.</summary>
    OutOfTolerance,

    /// <summary>The uncertainty reaches across the edge of the tolerance.</summary>
    CannotTell,
}

/// <summary>The sensor against the sheet's curve at a temperature.</summary>
/// <param name="Kelvin">Temperature, K.</param>
/// <param name="Ohms">Resistance by the readings, ohm.</param>
/// <param name="SheetOhms">Resistance by the sheet, ohm.</param>
/// <param name="ReadsWarmK">How much too warm the module reads through it, K; negative is too cold.</param>
/// <param name="UncertaintyK">Expanded uncertainty of that (coverage factor 2), K.</param>
/// <param name="Verdict">Verdict at this temperature.</param>
public sealed record SensorAt(double Kelvin, double Ohms, double SheetOhms, double ReadsWarmK, double UncertaintyK, SensorVerdict Verdict);

/// <summary>A reading beside curve and sheet.</summary>
/// <param name="Reading">The reading.</param>
/// <param name="LeftOverK">Temperature by the fitted curve less the temperature of the bath, K.</param>
/// <param name="ReadsWarmK">Temperature by the sheet's curve less the temperature of the bath, K.</param>
public sealed record ReadingBesideCurve(SensorReading Reading, double LeftOverK, double ReadsWarmK);

/// <summary>A sensor characterised from readings at known temperatures and compared with the sheet.</summary>
/// <param name="Sensor">The sensor.</param>
/// <param name="Fit">The fitted curve.</param>
/// <param name="Readings">The readings.</param>
/// <param name="LowKelvin">Start of the working range, K.</param>
/// <param name="HighKelvin">End of the working range, K.</param>
/// <param name="Over">The comparison over the working range.</param>
/// <param name="Verdict">Verdict over the whole range.</param>
/// <param name="Consequences">What the sensor as measured changes, worked out by the model; empty when it reads right.</param>
/// <param name="FitHolds">Whether what the fit leaves over is what the stated uncertainties allow (5 % level); true when nothing is left over.</param>
public sealed record SensorCheck(
    SensorPart Sensor, ThermistorFit Fit, IReadOnlyList<ReadingBesideCurve> Readings, double LowKelvin, double HighKelvin, IReadOnlyList<SensorAt> Over, SensorVerdict Verdict,
    IReadOnlyList<SensorConsequence> Consequences, bool FitHolds)
{
    /// <summary>Usual working range of a sensor, K (common practice, no source): 0 to 50 degC.</summary>
    private const double UsualLow = 273.15, UsualHigh = 323.15;

    private const double Level = 0.05, Coverage = 2;

    /// <summary>Where it reads farthest off, the uncertainty left out.</summary>
    public SensorAt Worst => Over.MaxBy(a => Math.Abs(a.ReadsWarmK))!;

    /// <summary>Characterises a sensor.</summary>
    /// <param name="simulator">The unit.</param>
    /// <param name="id">Id of the sensor.</param>
    /// <param name="readings">Readings at two or more temperatures.</param>
    /// <param name="meter">Accuracy of the ohmmeter.</param>
    /// <param name="range">Working range in K; null for 0 to 50 degC, widened to where the sheet has its condition.</param>
    /// <param name="set">Controls and conditions that are held while consequences are looked for; the rest is tried.</param>
    /// <param name="problem">What is wrong, in words, or null.</param>
    public static SensorCheck? TryMake(
        Simulator simulator, string id, IReadOnlyList<SensorReading> readings, OhmmeterAccuracy meter, (double Low, double High)? range, IReadOnlyList<(string Name, string Value)> set, out string? problem)
    {
        ArgumentNullException.ThrowIfNull(simulator);
        ArgumentNullException.ThrowIfNull(readings);
        if (SensorPart.TryFind(simulator.Model, id, out problem) is not { } sensor) return null;
        if (Setting.TryMake(simulator.Model, set, out problem) is null) return null;
        problem = Wrong(readings, range);
        if (problem is not null) return null;
        double low = range?.Low ?? Math.Min(UsualLow, sensor.UsualKelvin), high = range?.High ?? Math.Max(UsualHigh, sensor.UsualKelvin);
        CalibrationPoint[] points = [.. readings.Select(r => Point(r, meter))];
        if (BestFit(points, low, high, out problem) is not { } fit) return null;
        SensorAt[] over = [.. Enumerable.Range(0, 21).Select(i => At(sensor, fit, low + ((high - low) * i / 20)))];
        SensorVerdict verdict = over.Any(a => a.Verdict == SensorVerdict.OutOfTolerance) ? SensorVerdict.OutOfTolerance
            : over.All(a => a.Verdict == SensorVerdict.Good) ? SensorVerdict.Good : SensorVerdict.CannotTell;
        IReadOnlyList<SensorConsequence> changes = new ConsequenceSearch(simulator, sensor, set).Find(fit.Curve.Ohms, low - 10, high + 10);
        ReadingBesideCurve[] beside = [.. readings.Select((r, i) => new ReadingBesideCurve(r, fit.ResidualsK[i], sensor.Curve.Kelvin(r.Ohms) - r.Bath.Kelvin))];
        return new(sensor, fit, beside, low, high, over, verdict, changes, !(fit.Probability < Level));
    }

    /// <summary>The comparison at any temperature; beyond the readings the curve is carried on, and the uncertainty says how far that goes.</summary>
    /// <param name="kelvin">Temperature, K.</param>
    public SensorAt At(double kelvin) => At(Sensor, Fit, kelvin);

    /// <summary>The verdict in a sentence, with kelvins.</summary>
    public string Say(UnitSystem units)
    {
        string tolerance = ControlPoint.Kelvins(Sensor.ToleranceK, units);
        SensorAt worst = Worst;
        string off = $"it reads {Off(worst, units)} at {ControlPoint.Degrees(worst.Kelvin, units)}";
        switch (Verdict)
        {
            case SensorVerdict.Good:
                return $"good: over the working range {off} at most, within the {tolerance} that the sheet allows, the uncertainty counted in";
            case SensorVerdict.OutOfTolerance:
                SensorAt clear = Over.Where(a => a.Verdict == SensorVerdict.OutOfTolerance).MaxBy(a => Math.Abs(a.ReadsWarmK) - a.UncertaintyK)!;
                return $"out of tolerance: it reads {Off(clear, units)} at {ControlPoint.Degrees(clear.Kelvin, units)}, the sheet allows {tolerance}";
            default:
                SensorAt[] open = [.. Over.Where(a => a.Verdict == SensorVerdict.CannotTell)];
                double widest = open.Max(a => a.UncertaintyK);
                return $"cannot tell: {off}, and with an uncertainty of up to {ControlPoint.Kelvins(widest, units)} that may lie on either side of the {tolerance} that the sheet allows "
                    + $"({ControlPoint.Degrees(open[0].Kelvin, units)} .. {ControlPoint.Degrees(open[^1].Kelvin, units)}); {Advice(open)}";
        }
    }

    /// <summary>What else is to be said about the readings.</summary>
    public IReadOnlyList<string> Notes(UnitSystem units)
    {
        var notes = new List<string>();
        if (!FitHolds)
        {
            ReadingBesideCurve odd = Readings.MaxBy(r => Math.Abs(r.LeftOverK))!;
            notes.Add($"the readings do not lie on one curve within the stated accuracies; {odd.Reading.Bath.Title} at {ControlPoint.Degrees(odd.Reading.Bath.Kelvin, units)} is off most ({ControlPoint.Kelvins(odd.LeftOverK, units)}): had it come to rest? The verdict is not safe until they agree");
        }

        if (Fit.Constants == 2)
        {
            double bend = Math.Max(Math.Abs(Fit.BendK(LowKelvin)), Over.Max(a => Math.Abs(Fit.BendK(a.Kelvin))));
            notes.Add($"two constants (Beta form): real sensors bend by up to {ControlPoint.Kelvins(bend, units)} between and beyond such readings, which is counted in; three temperatures well apart settle it");
        }

        double coldest = Readings.Min(r => r.Reading.Bath.Kelvin), warmest = Readings.Max(r => r.Reading.Bath.Kelvin);
        if (LowKelvin < coldest - 1 || HighKelvin > warmest + 1) notes.Add($"beyond {ControlPoint.Degrees(coldest, units)} .. {ControlPoint.Degrees(warmest, units)} the curve is carried on from the readings; the uncertainty there says how far that can be trusted");
        return notes;
    }

    /// <summary>"2.8 K warm, +- 0.6 K".</summary>
    private static string Off(SensorAt at, UnitSystem units) =>
        $"{ControlPoint.Kelvins(at.ReadsWarmK, units)} {(at.ReadsWarmK < 0 ? "cold" : "warm")} (+- {ControlPoint.Kelvins(at.UncertaintyK, units)})";

    private string Advice(SensorAt[] open)
    {
        double coldest = Readings.Min(r => r.Reading.Bath.Kelvin), warmest = Readings.Max(r => r.Reading.Bath.Kelvin);
        if (open[^1].Kelvin > warmest + 5 && Over.First(a => a.Kelvin > warmest - 1).Verdict == SensorVerdict.Good) return "add a reading at the warm end";
        if (open[0].Kelvin < coldest - 5 && Over.Last(a => a.Kelvin < coldest + 1).Verdict == SensorVerdict.Good) return "add a reading at the cold end, such as an ice bath";
        return "a better thermometer or meter, or fixed points (ice bath, boiling water) in place of a thermometer, would tell";
    }

    private static string? Wrong(IReadOnlyList<SensorReading> readings, (double Low, double High)? range)
    {
        if (range is { } r && !(r.High > r.Low)) return "the working range runs backwards; write the colder end first";
        if (readings.Any(x => !(x.Ohms > 0) || !double.IsFinite(x.Ohms))) return "a sensor's resistance is above 0 ohm; an open or shorted one has no curve";
        double[] kelvins = [.. readings.Select(x => x.Bath.Kelvin).Order()];
        if (kelvins.Length < 2 || kelvins[^1] - kelvins[0] < 5) return "a curve needs readings at two or more temperatures at least 5 K apart, such as an ice bath and the room";
        SensorReading[] warmer = [.. readings.OrderBy(x => x.Bath.Kelvin)];
        for (int i = 1; i < warmer.Length; i++)
        {
            if (warmer[i].Bath.Kelvin - warmer[i - 1].Bath.Kelvin > 2 && warmer[i].Ohms >= warmer[i - 1].Ohms)
                return $"the resistance does not fall from {ControlPoint.Degrees(warmer[i - 1].Bath.Kelvin, UnitSystem.Metric)} to {ControlPoint.Degrees(warmer[i].Bath.Kelvin, UnitSystem.Metric)}, as that of a thermistor must: are two readings exchanged, or ohm and kohm?";
        }

        return null;
    }

    private static CalibrationPoint Point(SensorReading reading, OhmmeterAccuracy meter)
    {
        double even = 1 / Math.Sqrt(3); // standard deviation over half-width of an even spread (JCGM 100:2008, 4.3.7)
        // A meter's last digit is never nothing; without it three readings of one perfect meter would weigh infinitely.
        return new(reading.Bath.Kelvin, reading.Ohms, reading.Bath.HalfWidthK * even, Math.Max(meter.Ohms / reading.Ohms, 1e-5) * even, meter.Share * even, reading.Bath.ThermometerK * even);
    }

    /// <summary>Three constants where the readings carry them, else two.</summary>
    private static ThermistorFit? BestFit(CalibrationPoint[] points, double low, double high, out string? problem)
    {
        problem = null;
        ThermistorFit? two = Try(points, 2), three = points.Select(p => Math.Round(p.Kelvin)).Distinct().Count() >= 3 ? Try(points, 3) : null;
        if (two is null) problem = "no curve goes through these readings: are temperatures and resistances in the right order?";
        if (two is null || three is null || !three.Curve.Falls(three.Curve.Ohms(high), three.Curve.Ohms(low))) return two;
        double[] ends = [low, (low + high) / 2, high];
        bool loose = ends.Max(three.UncertaintyK) > 2 * ends.Max(k => Standard(two, k));
        return loose && !(two.Probability < Level) ? two : three;
    }

    private static ThermistorFit? Try(CalibrationPoint[] points, int constants)
    {
        try
        {
            ThermistorFit fit = ThermistorFit.Fit(points, constants);
            return fit.Curve.Slope(points.Min(p => p.Ohms)) > 0 && fit.Curve.Slope(points.Max(p => p.Ohms)) > 0 ? fit : null;
        }
        catch (ArgumentException)
        {
            return null;
        }
    }

    private static double Standard(ThermistorFit fit, double kelvin)
    {
        double spread = fit.UncertaintyK(kelvin), bend = fit.BendK(kelvin);
        return Math.Sqrt((spread * spread) + (bend * bend / 3));
    }

    private static SensorAt At(SensorPart sensor, ThermistorFit fit, double kelvin)
    {
        double ohms = fit.Curve.Ohms(kelvin), warm = sensor.Curve.Kelvin(ohms) - kelvin, uncertainty = Coverage * Standard(fit, kelvin), size = Math.Abs(warm);
        SensorVerdict verdict = size - uncertainty > sensor.ToleranceK ? SensorVerdict.OutOfTolerance : size + uncertainty <= sensor.ToleranceK ? SensorVerdict.Good : SensorVerdict.CannotTell;
        return new(kelvin, ohms, sensor.Curve.Ohms(kelvin), warm, uncertainty, verdict);
    }
}
