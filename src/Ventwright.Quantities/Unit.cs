namespace Ventwright.Quantities;

/// <summary>A unit: SI value = <paramref name="Factor"/> * number + <paramref name="Offset"/>.</summary>
internal sealed record Unit(string Symbol, Dimension Dimension, double Factor, double Offset = 0, string? Alias = null)
{
    /// <summary>Number in this unit to SI.</summary>
    public double ToSi(double number) => Factor * number + Offset;

    /// <summary>SI to number in this unit.</summary>
    public double FromSi(double si) => (si - Offset) / Factor;
}

/// <summary>
/// All units. Factors are the exact definitions behind the tables of NIST Special Publication 811 (2008), appendix B: inch 25.4 mm,
/// pound 0.453 592 37 kg, standard gravity 9.806 65 m/s2, US gallon 231 in3; columns of mercury and water are the conventional ones
/// (13 595.1 kg/m3 and 1000 kg/m3).
/// </summary>
internal static class Units
{
    private const double Inch = 0.0254;
    private const double Foot = 12 * Inch;
    private const double Pound = 0.45359237;
    private const double Gravity = 9.80665;
    private const double MillimetreOfMercury = 13595.1 * Gravity * 1e-3;
    private const double InchOfWater = 1000 * Gravity * Inch;

    /// <summary>Units in order: where a symbol serves two dimensions, the first is the one meant when nothing else is known.</summary>
    public static readonly Unit[] All =
    [
        new("V", Dimension.Volt, 1), new("mV", Dimension.Volt, 1e-3), new("kV", Dimension.Volt, 1e3),
        new("A", Dimension.Ampere, 1), new("mA", Dimension.Ampere, 1e-3), new("uA", Dimension.Ampere, 1e-6),
        new("ohm", Dimension.Ohm, 1), new("mohm", Dimension.Ohm, 1e-3),
        new("kohm", Dimension.Ohm, 1e3), new("Mohm", Dimension.Ohm, 1e6),
        new("W", Dimension.Watt, 1), new("mW", Dimension.Watt, 1e-3), new("kW", Dimension.Watt, 1e3),
        new("s", Dimension.Second, 1), new("ms", Dimension.Second, 1e-3),
        new("min", Dimension.Second, 60), new("h", Dimension.Second, 3600),
        new("Hz", Dimension.Frequency, 1), new("kHz", Dimension.Frequency, 1e3), new("rpm", Dimension.Frequency, 1.0 / 60, Alias: "1/min"),
        new("Pa", Dimension.Pressure, 1), new("kPa", Dimension.Pressure, 1e3), new("bar", Dimension.Pressure, 1e5),
        new("mbar", Dimension.Pressure, 100, Alias: "hPa"), new("psi", Dimension.Pressure, Pound * Gravity / (Inch * Inch)),
        new("inHg", Dimension.Pressure, MillimetreOfMercury * 25.4), new("mmHg", Dimension.Pressure, MillimetreOfMercury),
        new("micron", Dimension.Pressure, MillimetreOfMercury * 1e-3, Alias: "umHg"), new("inH2O", Dimension.Pressure, InchOfWater),
        new("degC", Dimension.Temperature, 1, 273.15), new("degF", Dimension.Temperature, 5.0 / 9, 459.67 * 5 / 9),
        new("K", Dimension.Temperature, 1),
        new("K", Dimension.TemperatureDifference, 1), new("degC", Dimension.TemperatureDifference, 1),
        new("degF", Dimension.TemperatureDifference, 5.0 / 9),
        new("mm", Dimension.Length, 1e-3), new("cm", Dimension.Length, 1e-2), new("m", Dimension.Length, 1),
        new("in", Dimension.Length, Inch), new("ft", Dimension.Length, Foot),
        new("mm2", Dimension.Area, 1e-6), new("cm2", Dimension.Area, 1e-4), new("m2", Dimension.Area, 1),
        new("in2", Dimension.Area, Inch * Inch),
        new("ml", Dimension.Volume, 1e-6, Alias: "mL"), new("cm3", Dimension.Volume, 1e-6), new("l", Dimension.Volume, 1e-3, Alias: "L"),
        new("m3", Dimension.Volume, 1), new("in3", Dimension.Volume, Inch * Inch * Inch),
        new("gal", Dimension.Volume, 231 * Inch * Inch * Inch),
        new("l/s", Dimension.VolumeFlow, 1e-3, Alias: "L/s"), new("l/min", Dimension.VolumeFlow, 1e-3 / 60, Alias: "L/min"),
        new("m3/h", Dimension.VolumeFlow, 1.0 / 3600), new("m3/s", Dimension.VolumeFlow, 1),
        new("cfm", Dimension.VolumeFlow, Foot * Foot * Foot / 60),
        new("m3/(s.Pa)", Dimension.Conductance, 1, Alias: "m3/(s Pa)"),
        new("dm3/(s.bar)", Dimension.Conductance, 1e-8, Alias: "dm3/(s bar)"),
        new("cm3/(s.bar)", Dimension.Conductance, 1e-11, Alias: "cm3/(s bar)"),
        new("%", Dimension.Fraction, 0.01),
        new("m/s", Dimension.Speed, 1), new("km/h", Dimension.Speed, 1 / 3.6), new("mph", Dimension.Speed, 5280 * Foot / 3600),
        new("W/m2", Dimension.Irradiance, 1), new("W/K", Dimension.HeatConductance, 1), new("kJ/K", Dimension.HeatCapacity, 1e3), new("J/K", Dimension.HeatCapacity, 1),
        new("kg", Dimension.Mass, 1), new("g", Dimension.Mass, 1e-3), new("lb", Dimension.Mass, Pound), new("oz", Dimension.Mass, Pound / 16),
    ];

    private static readonly Dictionary<(string, Dimension), Unit> ByName = Index();

    /// <summary>All symbols, for suggestions.</summary>
    public static IEnumerable<string> Symbols => All.Select(u => u.Symbol);

    /// <summary>The unit of that symbol and dimension, or null.</summary>
    public static Unit? Find(string symbol, Dimension dimension) => ByName.GetValueOrDefault((symbol, dimension));

    /// <summary>The first unit of that symbol, whatever it measures, or null.</summary>
    public static Unit? FindAny(string symbol) => Array.Find(All, u => u.Symbol == symbol || u.Alias == symbol);

    private static Dictionary<(string, Dimension), Unit> Index()
    {
        var index = new Dictionary<(string, Dimension), Unit>();
        foreach (Unit unit in All)
        {
            index.Add((unit.Symbol, unit.Dimension), unit);
            if (unit.Alias is not null) index.Add((unit.Alias, unit.Dimension), unit);
        }

        return index;
    }
}
