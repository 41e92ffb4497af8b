using System.Globalization;
using Ventwright.Model.Kernel;
using Ventwright.Quantities;
using Ventwright.Reports.Page;
using Ventwright.Simulation;

namespace Ventwright.Reports;

/// <summary>Quantities and bands as they are printed: with the signs of print (ohm sign, degree sign, true minus) instead of those of the keyboard.</summary>
public static class PaperText
{
    /// <summary>Below these a workshop meter or gauge hardly tells a reading from nothing (common practice, no source).</summary>
    private const double HardlyOhms = 0.5, HardlyVolts = 0.05, HardlyAmps = 0.02, HardlyPa = 800;

    private static readonly Dictionary<string, string> Symbols = new(StringComparer.Ordinal)
    {
        ["ohm"] = "\u03A9",
        ["mohm"] = "m\u03A9",
        ["kohm"] = "k\u03A9",
        ["Mohm"] = "M\u03A9",
        ["uA"] = "\u00B5A",
        ["degC"] = "\u00B0C",
        ["degF"] = "\u00B0F",
        ["cm2"] = "cm\u00B2",
        ["m3/h"] = "m\u00B3/h",
    };

    /// <summary>A quantity with its unit, such as <c>12.1 kΩ</c>.</summary>
    /// <param name="si">Value in SI.</param>
    /// <param name="dimension">What it measures.</param>
    /// <param name="units">Metric or US.</param>
    public static string Quantity(double si, Dimension dimension, UnitSystem units)
    {
        (string number, string unit) = Split(QuantityText.Format(si, dimension, units));
        return unit.Length == 0 ? number : $"{number}{LineBreaker.NoBreak}{unit}";
    }

    /// <summary>What a sound unit shows: a band with its unit, words, or that there is no connection.</summary>
    public static string Band(Band band, UnitSystem units)
    {
        ArgumentNullException.ThrowIfNull(band);
        if (band.Nominal.Unsteady) return "nothing steady";
        if (band.Nominal.Word is not null) return string.Join(" or ", band.Words);
        if (double.IsPositiveInfinity(band.Nominal.Value)) return "no connection";
        if (!double.IsFinite(band.Low)) return "nothing steady";
        if (band.What.Kind == ObservableKind.Seconds && band.Low >= Readings.Never) return "never gets there";
        Dimension dimension = band.What.Dimension();
        bool hardly = Math.Max(Math.Abs(band.Low), Math.Abs(band.High)) < Hardly(dimension);
        if (hardly) return $"next to 0{LineBreaker.NoBreak}{Unit(dimension, units)}";
        string[] ranges = [.. band.Ranges.Select(r => Range(r.Low, r.High, dimension, units))];
        return ranges.Length == 1 ? ranges[0] : string.Join(" or ", ranges.Select(r => r.Replace(' ', LineBreaker.NoBreak)));
    }

    /// <summary>What "next to 0" means, as a sentence.</summary>
    internal static string NextToNothing(UnitSystem units, params Dimension[] dimensions)
    {
        IEnumerable<string> limits = dimensions.Select(d => QuantityText.ToUnit(Hardly(d), d, units).ToString("0.##", CultureInfo.InvariantCulture) + LineBreaker.NoBreak + Unit(d, units));
        return $"Next to 0 means less than {string.Join(" or ", limits)}: what a workshop meter or gauge hardly tells from nothing.";
    }

    /// <summary>Two ends of a band; a unit that both have stands once.</summary>
    public static string Range(double low, double high, Dimension dimension, UnitSystem units)
    {
        (string from, string unit) = Split(QuantityText.Format(low, dimension, units));
        (string to, string other) = Split(QuantityText.Format(high, dimension, units));
        if (from == to && unit == other) return Quantity(low, dimension, units);
        string between = low < 0 ? "to" : "\u2013";
        bool once = unit == other || from == "0";
        return $"{from}{(once ? "" : LineBreaker.NoBreak + unit)}{LineBreaker.NoBreak}{between} {to}{LineBreaker.NoBreak}{other}";
    }

    /// <summary>The unit that stands at the end of a line to write on; ohms have several, of which one is ringed.</summary>
    internal static string WritingUnit(Observable what, UnitSystem units) =>
        what.Kind == ObservableKind.Ohms ? "\u03A9 k\u03A9 M\u03A9" : Unit(what.Dimension(), units);

    /// <summary>A text that a person or a setting gives, such as <c>12100 ohm</c>, with the signs of print if it is a quantity.</summary>
    internal static string Given(string text, UnitSystem units)
    {
        bool read = QuantityText.TryParseAny(text, out Quantity quantity, out _) && quantity.Dimension != Dimension.None;
        return read ? Quantity(quantity.Si, quantity.Dimension, units) : text;
    }

    private static double Hardly(Dimension dimension) => dimension switch
    {
        Dimension.Ohm => HardlyOhms,
        Dimension.Volt => HardlyVolts,
        Dimension.Ampere => HardlyAmps,
        Dimension.Pressure => HardlyPa,
        _ => 0,
    };

    private static string Unit(Dimension dimension, UnitSystem units) => Split("0 " + QuantityText.Unit(dimension, units)).Unit;

    private static (string Number, string Unit) Split(string text)
    {
        int blank = text.IndexOf(' ', StringComparison.Ordinal);
        if (blank < 0) return (text, "");
        string number = text[..blank].Replace('-', '\u2212'), unit = text[(blank + 1)..];
        return (number, Symbols.TryGetValue(unit, out string? sign) ? sign : unit);
    }
}
