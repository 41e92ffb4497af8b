using System.Globalization;
using Ventwright.Bench.Sensors;
using Ventwright.Physics.Sensing;
using Ventwright.Quantities;

namespace Ventwright.Workshop.Sensors;

/// <summary>Sensors, sweeps and stand-ins in words and figures, the same on the command line and on the pages.</summary>
public static class SensorWords
{
    /// <summary>What is to be known before a measured curve goes into a sheet.</summary>
    public static string WriteCaution(string sensor) =>
        $"the sheet's curve is also what the module takes {sensor} to have. Write it for a sensor that is believed sound, not for one that has drifted.";

    /// <summary>A temperature.</summary>
    public static string Degrees(double kelvin, UnitSystem units) => QuantityText.Format(kelvin, Dimension.Temperature, units);

    /// <summary>A resistance with four digits: three would hide a tenth of a kelvin.</summary>
    public static string Ohms(double ohms)
    {
        if (!double.IsFinite(ohms)) return "no connection";
        (double divisor, string unit) = ohms >= 1e6 ? (1e6, "Mohm") : ohms >= 1e3 ? (1e3, "kohm") : (1.0, "ohm");
        double shown = ohms / divisor;
        return shown.ToString(shown >= 100 ? "0.0" : shown >= 10 ? "0.00" : "0.000", CultureInfo.InvariantCulture) + " " + unit;
    }

    /// <summary>A resistance as it is on its colour rings, without more digits than it has: <c>8.2kohm</c>.</summary>
    public static string Plain(double ohms)
    {
        (double divisor, string unit) = ohms >= 1e6 ? (1e6, "Mohm") : ohms >= 1e3 ? (1e3, "kohm") : (1.0, "ohm");
        return string.Create(CultureInfo.InvariantCulture, $"{ohms / divisor:0.######}{unit}");
    }

    /// <summary>A difference of temperatures without sign.</summary>
    public static string Difference(double kelvins, UnitSystem units) =>
        string.Create(CultureInfo.InvariantCulture, $"{Math.Abs(QuantityText.ToUnit(kelvins, Dimension.TemperatureDifference, units)):0.0#} {QuantityText.Unit(Dimension.TemperatureDifference, units)}");

    /// <summary>A difference of temperatures with its sign.</summary>
    public static string Signed(double kelvins, UnitSystem units) => $"{(kelvins < 0 ? "-" : "+")}{Difference(kelvins, units)}";

    /// <summary>How much too warm or cold something reads.</summary>
    public static string Side(double kelvins, UnitSystem units) => Math.Abs(kelvins) < 0.005 ? "right" : $"{Difference(kelvins, units)} {(kelvins < 0 ? "cold" : "warm")}";

    /// <summary>A small difference with its sign, in thousandths below a tenth.</summary>
    public static string Small(double kelvins, UnitSystem units)
    {
        double shown = QuantityText.ToUnit(kelvins, Dimension.TemperatureDifference, units);
        string unit = QuantityText.Unit(Dimension.TemperatureDifference, units);
        return Math.Abs(shown) < 5e-4 ? $"0.000 {unit}"
            : string.Create(CultureInfo.InvariantCulture, $"{(shown < 0 ? "-" : "+")}{Math.Abs(shown).ToString(Math.Abs(shown) < 0.1 ? "0.000" : "0.00", CultureInfo.InvariantCulture)} {unit}");
    }

    /// <summary>A verdict over a sensor.</summary>
    public static string Verdict(SensorVerdict verdict) => verdict switch
    {
        SensorVerdict.Good => "good",
        SensorVerdict.OutOfTolerance => "out of tolerance",
        _ => "cannot tell",
    };

    /// <summary>An answer of a sweep.</summary>
    public static string Answer(bool? passed) => passed switch { true => "good", false => "bad", _ => "cannot tell" };

    /// <summary>The verdict over a sweep.</summary>
    public static string Sweep(TrackTest test) => test.Passed switch
    {
        true => "good",
        false => $"bad: {string.Join(", ", test.Findings.Where(f => f.Passed == false).Select(f => f.Title))}",
        _ => $"nothing bad; {string.Join(", ", test.Findings.Where(f => f.Passed is null).Select(f => f.Title))} cannot be told",
    };

    /// <summary>The fitted curve.</summary>
    public static string Curve(ThermistorFit fit)
    {
        (double beta, double spread) = fit.Beta();
        return fit.Constants == 2
            ? string.Create(CultureInfo.InvariantCulture, $"curve: {Ohms(fit.Curve.Ohms(298.15))} at 25 degC, Beta {beta:0} K +- {2 * spread:0} K")
            : string.Create(CultureInfo.InvariantCulture, $"curve (Steinhart-Hart): A {fit.Curve.A:0.0000000e0}, B {fit.Curve.B:0.0000000e0}, C {fit.Curve.C:0.0000000e0}; {Ohms(fit.Curve.Ohms(298.15))} at 25 degC, Beta {beta:0} K over the readings");
    }

    /// <summary>How well a bath's temperature is known, K: its own unevenness with the thermometer.</summary>
    public static double BathHalfWidthK(Bath bath) => Math.Sqrt((bath.HalfWidthK * bath.HalfWidthK) + (bath.ThermometerK * bath.ThermometerK));

    /// <summary>Resistors as a formula: <c>4.70 kohm + (1.00 kohm || 2.20 kohm)</c>.</summary>
    public static string Joined(ResistorNetwork network)
    {
        string[] v = Values(network);
        return network.Joint switch
        {
            ResistorJoint.Single => v[0],
            ResistorJoint.Series => string.Join(" + ", v),
            ResistorJoint.Parallel => string.Join(" || ", v),
            ResistorJoint.SeriesWithPair => $"{v[0]} + ({v[1]} || {v[2]})",
            _ => $"{v[0]} || ({v[1]} + {v[2]})",
        };
    }

    /// <summary>Resistors as one would say it: <c>4.70 kohm, in line with 1.00 kohm and 2.20 kohm side by side</c>.</summary>
    public static string JoinedInWords(ResistorNetwork network)
    {
        string[] v = Values(network);
        return network.Joint switch
        {
            ResistorJoint.Single => $"{v[0]} alone",
            ResistorJoint.Series => $"{string.Join(" and ", v)} in line",
            ResistorJoint.Parallel => $"{string.Join(" and ", v)} side by side",
            ResistorJoint.SeriesWithPair => $"{v[0]}, in line with {v[1]} and {v[2]} side by side",
            _ => $"{v[0]}, side by side with {v[1]} and {v[2]} in line",
        };
    }

    /// <summary>A depression on both scales: gauges have either, whatever the person reads elsewhere.</summary>
    public static string Both(double pascal) => $"{QuantityText.Format(pascal, Dimension.Pressure, UnitSystem.Metric)} ({QuantityText.Format(pascal, Dimension.Pressure, UnitSystem.US)})";

    /// <summary>A setting as words of the command line: <c>mode=auto warmth=0.5</c>.</summary>
    public static string Set(IReadOnlyList<(string Name, string Value)> set) => set.Count == 0 ? "as it stands" : string.Join(" ", set.Select(s => $"{s.Name}={s.Value}"));

    /// <summary>A speed of air.</summary>
    public static string Speed(double metresPerSecond) => string.Create(CultureInfo.InvariantCulture, $"{metresPerSecond:0.0#} m/s");

    private static string[] Values(ResistorNetwork network) => [.. network.Values.Select(x => QuantityText.Format(x, Dimension.Ohm, UnitSystem.Metric))];
}
