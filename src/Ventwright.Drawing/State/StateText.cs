using System.Globalization;
using Ventwright.Quantities;

namespace Ventwright.Drawing;

/// <summary>Quantities as a drawing writes them: short, with the signs of the trade.</summary>
internal static class StateText
{
    public static string Of(double si, Dimension dimension, UnitSystem units) => Signs(QuantityText.Format(si, dimension, units));

    /// <summary>Volts in volts whatever their size, so that pins stand in one column.</summary>
    public static string Volts(double volts) => (Math.Round(volts, 2) + 0.0).ToString(Math.Abs(volts) >= 9.995 ? "0.0" : "0.00", CultureInfo.InvariantCulture) + " V";

    /// <summary>A depression in the one unit of its system.</summary>
    public static string Depression(double pa, UnitSystem units) => InUnit(pa, Dimension.Pressure, units, units == UnitSystem.US ? "0.0" : "0");

    /// <summary>An air flow in the one unit of its system.</summary>
    public static string Flow(double m3PerS, UnitSystem units) => InUnit(m3PerS, Dimension.VolumeFlow, units, Math.Abs(m3PerS) < 10.0 / 3600 ? "0.0" : "0");

    public static string FlowUnit(UnitSystem units) => Signs(QuantityText.Unit(Dimension.VolumeFlow, units));

    public static string Percent(double share) => Math.Round(share * 100).ToString("0", CultureInfo.InvariantCulture) + " %";

    private static string InUnit(double si, Dimension dimension, UnitSystem units, string format)
    {
        string number = (Math.Round(QuantityText.ToUnit(si, dimension, units), 1) + 0.0).ToString(format, CultureInfo.InvariantCulture);
        return Signs($"{(number is "0.0" or "-0" ? "0" : number)} {QuantityText.Unit(dimension, units)}");
    }

    private static string Signs(string text) => text
        .Replace("ohm", "\u03A9", StringComparison.Ordinal).Replace("degC", "\u00B0C", StringComparison.Ordinal)
        .Replace("degF", "\u00B0F", StringComparison.Ordinal).Replace("m3/h", "m\u00B3/h", StringComparison.Ordinal);
}
