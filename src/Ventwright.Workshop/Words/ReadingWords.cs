using System.Globalization;
using Ventwright.Bench;
using Ventwright.Diagnosis;
using Ventwright.Model.Kernel;
using Ventwright.Quantities;
using Ventwright.Simulation;

namespace Ventwright.Workshop;

/// <summary>Readings and bands in words, in the units that the person wants.</summary>
public static class ReadingWords
{
    /// <summary>From where on a band is told as a value with exceptions: one side so many times the other, and so large a share of its values.</summary>
    private const double LopsidedRatio = 4, WideShare = 0.3;

    /// <summary>What is shown: a word, a number with unit, or "unsteady".</summary>
    public static string Of(Shown shown, Observable what, UnitSystem units)
    {
        if (shown.Unsteady) return "unsteady";
        if (shown.Word is not null) return shown.Word;
        return double.IsPositiveInfinity(shown.Value) ? "no connection" : QuantityText.Format(shown.Value, what.Dimension(), units);
    }

    /// <summary>
    /// The band: its ends, one where they read the same, or the words that a sound unit may show. Where a few units end in another state the usual range or the nominal value
    /// comes first: <c>9.79 A .. 11.3 A, in some units 13.1 A .. 14.8 A</c>, <c>80 mV, in some units up to 13.9 V</c>.
    /// </summary>
    public static string Of(Band band, UnitSystem units)
    {
        if (band.Nominal.Word is not null) return string.Join(" or ", band.Words);
        if (!double.IsFinite(band.Low)) return "";
        string Text(double si) => QuantityText.Format(si, band.What.Dimension(), units);
        string Ends((double Low, double High) range) => Text(range.Low) == Text(range.High) ? Text(range.Low) : $"{Text(range.Low)} .. {Text(range.High)}";
        if (band.Ranges.Count > 1) return $"{Ends(band.Usual)}, in some units {string.Join(" or ", band.Ranges.Where(r => r != band.Usual).Select(Ends))}";
        if (Text(band.Low) == Text(band.High)) return Text(band.Low);
        double below = band.Nominal.Value - band.Low, above = band.High - band.Nominal.Value, wide = WideShare * Math.Max(Math.Abs(band.Low), Math.Abs(band.High));
        if (above > LopsidedRatio * below && above > wide) return $"{Text(band.Nominal.Value)}, in some units up to {Text(band.High)}";
        if (below > LopsidedRatio * above && below > wide) return $"{Text(band.Nominal.Value)}, in some units down to {Text(band.Low)}";
        return Ends(band.Usual);
    }

    /// <summary>What a manual states.</summary>
    public static string Stated(StatedRow row, UnitSystem units) =>
        row.Word ?? $"{QuantityText.Format(row.Low, row.What.Dimension(), units)} .. {QuantityText.Format(row.High, row.What.Dimension(), units)}";

    /// <summary>A value of a parameter; a plain number where it has no unit.</summary>
    public static string Of(double si, Dimension dimension, UnitSystem units) => dimension switch
    {
        Dimension.None => si.ToString("G4", CultureInfo.InvariantCulture),
        Dimension.Conductance => si.ToString("G3", CultureInfo.InvariantCulture) + " m3/(s Pa)",
        _ => QuantityText.Format(si, dimension, units),
    };

    /// <summary>An outcome as a person would write it down; what it gives can be read again.</summary>
    public static string Written(UnitModel model, Observable what, Outcome outcome)
    {
        if (outcome.Kind == OutcomeKind.Unsteady) return "unsteady";
        if (outcome.Kind == OutcomeKind.Word) return Readings.WordsOf(model, what)[outcome.WordIndex];
        double si = BenchMeter.FromScale(what.Kind, outcome.Value);
        return double.IsInfinity(si) ? "OL" : Of(si, what.Dimension(), UnitSystem.Metric);
    }
}
