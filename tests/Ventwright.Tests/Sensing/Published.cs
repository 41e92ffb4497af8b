using System.Globalization;

namespace Ventwright.Tests.Sensing;

/// <summary>Figures of <c>tests/data</c>.</summary>
internal static class Published
{
    /// <summary>Points of a curve of <c>thermistors.csv</c>, K and ohm.</summary>
    public static (double Kelvin, double Ohms)[] Thermistor(string curve) =>
        [.. Rows("thermistors.csv").Where(r => r[0] == curve).Select(r => (Number(r[1]) + 273.15, Number(r[2])))];

    /// <summary>Temperature and pressure of <c>water-saturation.csv</c>, K and Pa.</summary>
    public static (double Kelvin, double Pascal)[] WaterSaturation() =>
        [.. Rows("water-saturation.csv").Where(r => r[0] == "liquid").Select(r => (Number(r[1]) + 273.15, Number(r[2]) * 1000))];

    private static string[][] Rows(string file) =>
        [.. File.ReadLines(Path.Combine(ShippedSheets.Root(), "tests", "data", file)).Where(l => !l.StartsWith('#')).Skip(1).Select(l => l.Split(','))];

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);
}
