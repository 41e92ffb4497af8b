using System.Globalization;

namespace Ventwright.Quantities;

public static partial class QuantityText
{
    private const int MostDecimals = 3;

    /// <summary>
    /// Writes a quantity for people: the prefix an engineer would choose and three significant digits (four from 1000 up), such as
    /// <c>2.31 V</c>, <c>480 mV</c>, <c>12.1 kohm</c>, <c>40.2 kPa</c> or <c>11.9 inHg</c>. Temperatures have one decimal in degC and none in
    /// degF. What is below the resolution of the smallest unit is written as 0. Infinity is "infinite", NaN is "unknown".
    /// </summary>
    /// <param name="si">Value in SI.</param>
    /// <param name="dimension">What it measures.</param>
    /// <param name="system">Metric or US.</param>
    public static string Format(double si, Dimension dimension, UnitSystem system)
    {
        if (double.IsNaN(si)) return "unknown";
        if (double.IsInfinity(si)) return si > 0 ? "infinite" : "minus infinite";
        if (dimension == Dimension.None) return Digits3(si);
        if (dimension == Dimension.Temperature) return FormatTemperature(si, system);
        Unit unit = Rung(dimension, system, Math.Abs(si));
        string text = Digits3(unit.FromSi(si));
        return $"{text} {(text == "0" ? Unit(dimension, system) : unit.Symbol)}";
    }

    /// <summary>The symbol of the one unit in which numbers of a dimension are exported, such as "kPa" or "inHg"; "" for a plain number.</summary>
    public static string Unit(Dimension dimension, UnitSystem system) => ExportUnit(dimension, system)?.Symbol ?? "";

    /// <summary>The number in the unit that <see cref="Unit(Dimension, UnitSystem)"/> names.</summary>
    public static double ToUnit(double si, Dimension dimension, UnitSystem system) => ExportUnit(dimension, system)?.FromSi(si) ?? si;

    private static string FormatTemperature(double si, UnitSystem system)
    {
        Unit unit = ExportUnit(Dimension.Temperature, system)!;
        int decimals = system == UnitSystem.US ? 0 : 1;
        double rounded = Math.Round(unit.FromSi(si), decimals) + 0.0; // adding 0 turns -0 into 0
        return $"{rounded.ToString(decimals == 0 ? "F0" : "F1", CultureInfo.InvariantCulture)} {unit.Symbol}";
    }

    private static string Digits3(double number)
    {
        if (Math.Abs(number) >= 1e6) return number.ToString("0.##e0", CultureInfo.InvariantCulture);
        double rounded = Math.Round(number, Decimals(number));
        return rounded == 0 ? "0" : rounded.ToString("F" + Decimals(rounded).ToString(CultureInfo.InvariantCulture), CultureInfo.InvariantCulture);
    }

    private static int Decimals(double number) =>
        number == 0 ? 0 : Math.Clamp(2 - (int)Math.Floor(Math.Log10(Math.Abs(number))), 0, MostDecimals);

    /// <summary>The unit that suits the size.</summary>
    private static Unit Rung(Dimension dimension, UnitSystem system, double size)
    {
        const double justUnder = 0.9995; // what rounds to 1.00 of a unit belongs to that unit
        (string Symbol, double FromSi)[] rungs = Rungs(dimension, system);
        int at = Array.FindLastIndex(rungs, r => size >= r.FromSi * justUnder);
        return Units.Find(rungs[Math.Max(at, 0)].Symbol, dimension)!;
    }

    private static Unit? ExportUnit(Dimension dimension, UnitSystem system)
    {
        bool us = system == UnitSystem.US;
        string symbol = dimension switch
        {
            Dimension.Volt => "V",
            Dimension.Ampere => "A",
            Dimension.Ohm => "ohm",
            Dimension.Watt => "W",
            Dimension.Second => "s",
            Dimension.Frequency => "Hz",
            Dimension.Pressure => us ? "inHg" : "kPa",
            Dimension.Temperature => us ? "degF" : "degC",
            Dimension.TemperatureDifference => us ? "degF" : "K",
            Dimension.Length => us ? "in" : "mm",
            Dimension.Area => us ? "in2" : "cm2",
            Dimension.Volume => us ? "in3" : "l",
            Dimension.VolumeFlow => us ? "cfm" : "m3/h",
            Dimension.Conductance => "dm3/(s.bar)",
            Dimension.Fraction => "%",
            Dimension.Mass => us ? "lb" : "kg",
            Dimension.Speed => us ? "mph" : "km/h",
            Dimension.Irradiance => "W/m2",
            Dimension.HeatConductance => "W/K",
            Dimension.HeatCapacity => "kJ/K",
            _ => "",
        };
        return Units.Find(symbol, dimension);
    }

    /// <summary>Units from small to large, each with the size in SI from which it is used.</summary>
    private static (string Symbol, double FromSi)[] Rungs(Dimension dimension, UnitSystem system) => (dimension, system) switch
    {
        (Dimension.Volt, _) => [("mV", 0), ("V", 1), ("kV", 10e3)],
        (Dimension.Ampere, _) => [("uA", 0), ("mA", 1e-3), ("A", 1)],
        (Dimension.Ohm, _) => [("mohm", 0), ("ohm", 1), ("kohm", 1e3), ("Mohm", 1e6)],
        (Dimension.Watt, _) => [("mW", 0), ("W", 1), ("kW", 1e3)],
        (Dimension.Second, _) => [("ms", 0), ("s", 1), ("min", 120), ("h", 7200)],
        (Dimension.Frequency, _) => [("Hz", 0), ("kHz", 1e3)],
        (Dimension.Pressure, UnitSystem.Metric) => [("Pa", 0), ("kPa", 1e3)],
        (Dimension.Pressure, _) => [("inH2O", 0), ("inHg", 2.5e3), ("psi", 110e3)],
        (Dimension.Length, UnitSystem.Metric) => [("mm", 0), ("m", 1)],
        (Dimension.Length, _) => [("in", 0), ("ft", 0.9144)],
        (Dimension.Area, UnitSystem.Metric) => [("mm2", 0), ("cm2", 1e-4), ("m2", 1)],
        (Dimension.Volume, UnitSystem.Metric) => [("ml", 0), ("l", 1e-3), ("m3", 1)],
        (Dimension.Volume, _) => [("in3", 0), ("gal", 0.02)],
        (Dimension.VolumeFlow, UnitSystem.Metric) => [("l/min", 0), ("m3/h", 1.0 / 3600)],
        (Dimension.Conductance, _) => [("cm3/(s.bar)", 0), ("dm3/(s.bar)", 1e-8)],
        (Dimension.Mass, UnitSystem.Metric) => [("g", 0), ("kg", 1)],
        (Dimension.Mass, _) => [("oz", 0), ("lb", 0.45359237)],
        (Dimension.HeatCapacity, _) => [("J/K", 0), ("kJ/K", 1e3)],
        _ => [(Unit(dimension, system), 0)],
    };
}
