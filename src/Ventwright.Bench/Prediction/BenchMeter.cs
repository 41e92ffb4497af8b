using Ventwright.Diagnosis;
using Ventwright.Model.Kernel;

namespace Ventwright.Bench;

/// <summary>The scale on which a kind of check is compared, and the range and accuracy of an ordinary workshop meter on it (common practice, no source).</summary>
public static class BenchMeter
{
    private const double LogLeadOhms = 0.3, LogOpen = 7.5;

    /// <summary>The number in which a check is compared, from SI: ohms as log10(ohm + 0.3), since they span seven decades; others as they are.</summary>
    public static double ToScale(ObservableKind kind, double si) =>
        kind != ObservableKind.Ohms ? si : double.IsPositiveInfinity(si) ? LogOpen : Math.Log10(Math.Max(0, si) + LogLeadOhms);

    /// <summary>The SI number behind a number in which a check is compared.</summary>
    public static double FromScale(ObservableKind kind, double value) =>
        kind != ObservableKind.Ohms ? value : value >= LogOpen - 0.1 ? double.PositiveInfinity : Math.Max(0, Math.Pow(10, value) - LogLeadOhms);

    /// <summary>Change of the compared number for a change of one SI unit.</summary>
    public static double SlopeAt(ObservableKind kind, double si) =>
        kind != ObservableKind.Ohms ? 1 : double.IsFinite(si) ? 1 / ((Math.Max(0, si) + LogLeadOhms) * Math.Log(10)) : 0;

    /// <summary>Unit of the compared number; empty for words.</summary>
    public static string UnitOf(ObservableKind kind) => kind switch
    {
        ObservableKind.Volts => "V",
        ObservableKind.Ohms => "log10 ohm",
        ObservableKind.Amps => "A",
        ObservableKind.Vacuum or ObservableKind.Loses or ObservableKind.Falls => "Pa",
        ObservableKind.Seconds => "s",
        _ => "",
    };

    /// <summary>Range and accuracy.</summary>
    public static (double Low, double High, MeterAccuracy Meter) Of(ObservableKind kind) => kind switch
    {
        ObservableKind.Volts => (-16, 16, new(0.005, 0.02, 0)),
        ObservableKind.Ohms => (-0.6, LogOpen, new(0, 0.015, 1)),
        ObservableKind.Amps => (0, 80, new(0.02, 0.05, 2)),
        ObservableKind.Vacuum => (0, 100e3, new(0.01, 1500, 3)),
        ObservableKind.Loses => (0, 60e3, new(0.01, 800, 3)),
        ObservableKind.Falls => (0, 100e3, new(0.01, 800, 3)),
        ObservableKind.Seconds => (0, 100, new(0, 0.7, 4)),
        _ => (0, 1, new(0, 1, 5)),
    };
}
