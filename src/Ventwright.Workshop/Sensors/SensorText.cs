using System.Globalization;
using Ventwright.Bench.Sensors;
using Ventwright.Physics.Sensing;
using Ventwright.Quantities;

namespace Ventwright.Workshop.Sensors;

/// <summary>Reads what a person writes down while a sensor is measured. Every message begins with the name of the field or option.</summary>
public static class SensorText
{
    /// <summary>Reads a quantity.</summary>
    /// <param name="what">Name of the field or option, for the message.</param>
    /// <param name="text">What was written.</param>
    /// <param name="dimension">What must be measured.</param>
    /// <returns>The value in SI.</returns>
    /// <exception cref="RefusedException">It is no such quantity.</exception>
    public static double Quantity(string what, string text, Dimension dimension) =>
        QuantityText.TryParse(text, dimension, out double si, out string? problem) ? si : throw new RefusedException($"{what}: {problem}");

    /// <summary>Reads a resistance, ohm.</summary>
    /// <exception cref="RefusedException">It is none.</exception>
    public static double Ohms(string what, string text) => Quantity(what, text, Dimension.Ohm);

    /// <summary>Reads a temperature, K.</summary>
    /// <exception cref="RefusedException">It is none.</exception>
    public static double Temperature(string what, string text) =>
        TemperatureText.TryParse(text, out double kelvin, out string? problem) ? kelvin : throw new RefusedException($"{what}: {problem}");

    /// <summary>Reads the accuracy of a thermometer, K; nothing is the usual one.</summary>
    /// <exception cref="RefusedException">It is none.</exception>
    public static double Thermometer(string what, string? text)
    {
        if (string.IsNullOrWhiteSpace(text)) return Bath.UsualThermometerK;
        double kelvins = Quantity(what, text, Dimension.TemperatureDifference);
        return kelvins > 0 ? kelvins : throw new RefusedException($"{what}: an accuracy is above 0");
    }

    /// <summary>Reads the accuracy of an ohmmeter: <c>0.5 %</c>, <c>1 ohm</c> or both with a plus between; nothing is the usual one.</summary>
    /// <exception cref="RefusedException">It is neither.</exception>
    public static OhmmeterAccuracy Meter(string what, string? text)
    {
        if (string.IsNullOrWhiteSpace(text)) return OhmmeterAccuracy.Usual;
        double share = 0, ohms = 0;
        foreach (string part in text.Split('+', StringSplitOptions.TrimEntries))
        {
            bool isShare = part.EndsWith('%');
            double value = Quantity(what, part, isShare ? Dimension.Fraction : Dimension.Ohm);
            if (!(value > 0) || (isShare && value >= 1)) throw new RefusedException($"{what}: an accuracy of '{part}' makes no sense");
            if (isShare) share = value;
            else ohms = value;
        }

        return new(share, ohms);
    }

    /// <summary>Boiling water at an air pressure of the place itself.</summary>
    /// <exception cref="RefusedException">It is no air pressure.</exception>
    public static Bath BoilingByPressure(string what, string text)
    {
        double pascal = Quantity(what, text, Dimension.Pressure);
        return Boiling(what, () => Bath.Boiling(pascal, Bath.BarometerPa));
    }

    /// <summary>Boiling water at an altitude.</summary>
    /// <exception cref="RefusedException">It is no altitude on land.</exception>
    public static Bath BoilingByAltitude(string what, string text)
    {
        double metres = Quantity(what, text, Dimension.Length);
        return Boiling(what, () => Bath.Boiling(BoilingPoint.StandardPressurePa(metres), Bath.WeatherPa));
    }

    /// <summary>Boiling water at an altitude or an air pressure, whichever the unit says.</summary>
    /// <exception cref="RefusedException">It is neither.</exception>
    public static Bath BoilingAt(string what, string text) =>
        QuantityText.TryParse(text, Dimension.Pressure, out _, out _) ? BoilingByPressure(what, text) : BoilingByAltitude(what, text);

    /// <summary>A number as it is written into a record: it can be read again and gives the very same.</summary>
    internal static string Exact(double number) => number.ToString("R", CultureInfo.InvariantCulture);

    private static Bath Boiling(string what, Func<Bath> make)
    {
        try
        {
            return make();
        }
        catch (ArgumentOutOfRangeException e)
        {
            throw new RefusedException($"{what}: {e.Message.Split(" (Parameter", StringSplitOptions.None)[0]}", e);
        }
    }
}
