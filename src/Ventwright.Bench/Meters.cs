using Ventwright.Diagnosis;
using Ventwright.Model.Kernel;
using Ventwright.Quantities;

namespace Ventwright.Bench;

/// <summary>
/// Meters by the accuracy that is written beside a reading: <c>0.5 %</c>, <c>10 mV</c>, <c>0.5 % + 2 mV</c>. Readings of one kind with the same text are taken
/// with one meter and share its gain error.
/// </summary>
public sealed class Meters
{
    private const int FirstId = 100;

    /// <summary>Even without a fixed part a reading is rounded: this share of what an ordinary meter leaves uncertain.</summary>
    private const double LeastShare = 0.01;

    /// <summary>Standard deviation over half-width of an even spread (JCGM 100:2008, 4.3.7).</summary>
    private static readonly double EvenSpread = 1 / Math.Sqrt(3);

    private readonly Dictionary<(ObservableKind Kind, string Text), int> _ids = [];

    /// <summary>Reads an accuracy.</summary>
    /// <param name="text">The text.</param>
    /// <param name="what">The check that was read.</param>
    /// <param name="outcome">What was read, numbers as <see cref="BenchMeter.ToScale"/> has them.</param>
    /// <param name="meter">The meter, in the unit in which the check is compared.</param>
    /// <param name="problem">What is wrong, in words.</param>
    /// <returns>Whether it could be read.</returns>
    public bool TryRead(string text, Observable what, Outcome outcome, out MeterAccuracy meter, out string? problem)
    {
        ArgumentNullException.ThrowIfNull(text);
        MeterAccuracy usual = BenchMeter.Of(what.Kind).Meter;
        meter = usual;
        if (!TryParts(text, what, out double share, out double si, out problem)) return false;
        (ObservableKind, string) key = (what.Kind, string.Concat(text.Where(c => !char.IsWhiteSpace(c))));
        if (!_ids.TryGetValue(key, out int id)) _ids[key] = id = FirstId + _ids.Count;
        meter = what.Kind == ObservableKind.Ohms
            ? OnLogScale(share, si, outcome, usual, id)
            : new(share * EvenSpread, Math.Max(si * EvenSpread, LeastShare * usual.Absolute), id);
        return true;
    }

    /// <summary>Ohms are compared on a log scale: both parts go through its slope at the reading, so that none is left that grows with the number.</summary>
    private static MeterAccuracy OnLogScale(double share, double si, Outcome outcome, MeterAccuracy usual, int id)
    {
        double ohms = outcome.Kind == OutcomeKind.Number ? BenchMeter.FromScale(ObservableKind.Ohms, outcome.Value) : double.PositiveInfinity;
        if (!double.IsFinite(ohms)) return usual;
        double width = Math.Sqrt(Math.Pow(share * ohms, 2) + (si * si)), slope = BenchMeter.SlopeAt(ObservableKind.Ohms, ohms);
        return new(0, Math.Max(width * slope * EvenSpread, LeastShare * usual.Absolute), id);
    }

    private static bool TryParts(string text, Observable what, out double share, out double si, out string? problem)
    {
        (share, si, problem) = (0, 0, null);
        Dimension dimension = what.Dimension();
        if (dimension == Dimension.None)
        {
            problem = $"{what} is told in words; an accuracy belongs to numbers";
            return false;
        }

        string[] parts = text.Split('+', StringSplitOptions.TrimEntries);
        if (parts.Length > 2) problem = $"'{text}' is no accuracy; write a share, a fixed part or both, such as 0.5 % + 2 {QuantityText.Unit(dimension, UnitSystem.Metric)}";
        foreach (string part in parts)
        {
            if (problem is not null) break;
            bool isShare = part.EndsWith('%');
            double value = 0;
            if (!QuantityText.TryParse(part, isShare ? Dimension.Fraction : dimension, out value, out string? wrong)) problem = $"accuracy: {wrong}";
            else if (!(value > 0)) problem = $"an accuracy of '{part}' makes no sense; it is above 0";
            else if (isShare ? share > 0 : si > 0) problem = $"'{text}' has two parts of one kind";
            else if (isShare && value >= 1) problem = $"an accuracy of {part} makes no sense";
            else if (isShare) share = value;
            else si = value;
        }

        return problem is null;
    }
}
