using Ventwright.Bench;
using Ventwright.Diagnosis;
using Ventwright.Model.Kernel;
using Ventwright.Quantities;
using Ventwright.Simulation;

namespace Ventwright.Workshop;

/// <summary>How a reading compares with what a sound unit would show.</summary>
public enum Fit
{
    /// <summary>Within the band, as far as an ordinary meter can tell.</summary>
    AsExpected,

    /// <summary>Outside the band.</summary>
    Differs,

    /// <summary>The model expects nothing steady or knows no number.</summary>
    NotKnown,
}

/// <summary>A reading held against the band of the sound unit.</summary>
/// <param name="Fit">How it compares.</param>
/// <param name="Band">The band.</param>
public sealed record Judgement(Fit Fit, Band Band)
{
    /// <summary>Part of the value, and part of the largest value of the kind, that an ordinary meter may be off (common practice, no source).</summary>
    private const double MeterShare = 0.02;

    /// <summary>Holds a reading against the sound unit.</summary>
    public static Judgement Of(UnitOnSheet unit, Setting setting, Observable what, Outcome outcome)
    {
        Band band = unit.Expect(setting, what);
        return new(FitOf(unit.Model, band, outcome), band);
    }

    /// <summary>The band in words.</summary>
    public string Expected(UnitSystem units) => Text(Band, units);

    /// <summary>What a band expects, in words.</summary>
    public static string Text(Band band, UnitSystem units) =>
        band.Nominal.Unsteady ? "nothing steady" : double.IsPositiveInfinity(band.Nominal.Value) ? "no connection (OL)" : ReadingWords.Of(band, units);

    private static Fit FitOf(UnitModel model, Band band, Outcome outcome)
    {
        if (band.Nominal.Unsteady) return outcome.Kind == OutcomeKind.Unsteady ? Fit.AsExpected : Fit.NotKnown;
        if (outcome.Kind == OutcomeKind.Unsteady) return Fit.Differs;
        if (outcome.Kind == OutcomeKind.Word)
            return band.Words.Contains(Readings.WordsOf(model, band.What)[outcome.WordIndex], StringComparer.Ordinal) ? Fit.AsExpected : Fit.Differs;
        double si = BenchMeter.FromScale(band.What.Kind, outcome.Value);
        if (double.IsPositiveInfinity(band.Nominal.Value)) return double.IsPositiveInfinity(si) ? Fit.AsExpected : Fit.Differs;
        if (!double.IsFinite(band.Low)) return Fit.NotKnown;
        double slack = (MeterShare * Math.Abs(si)) + Resolution(band.What.Kind);
        return band.Holds(si, slack) ? Fit.AsExpected : Fit.Differs;
    }

    private static double Resolution(ObservableKind kind) => kind switch
    {
        ObservableKind.Volts => 0.05,
        ObservableKind.Ohms => 0.5,
        ObservableKind.Amps => 0.1,
        ObservableKind.Vacuum or ObservableKind.Loses or ObservableKind.Falls => 2000,
        ObservableKind.Seconds => 1,
        _ => 0,
    };
}
