namespace Ventwright.Physics.Sensing;

/// <summary>Boiling point of water against air pressure, and air pressure against altitude.</summary>
public static class BoilingPoint
{
    /// <summary>Lowest pressure for which the boiling point is given, Pa: that of the triple point.</summary>
    public const double LowestPa = 611.657;

    /// <summary>Highest pressure for which it is given here, Pa: water in an open pot anywhere on land.</summary>
    public const double HighestPa = 120e3;

    private const double SeaLevelPa = 101325;

    /// <summary>
    /// Saturation temperature of water: backward equation of region 4 of the IAPWS Industrial Formulation 1997 (IAPWS R7-97, equation 31), coefficients
    /// from memory, held against a table of IAPWS-95 in the tests.
    /// </summary>
    /// <param name="pascal">Absolute pressure, Pa.</param>
    /// <returns>Temperature, K.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The pressure is outside <see cref="LowestPa"/> to <see cref="HighestPa"/>.</exception>
    public static double Kelvin(double pascal)
    {
        if (!(pascal >= LowestPa && pascal <= HighestPa)) throw new ArgumentOutOfRangeException(nameof(pascal), pascal, "no air pressure at which water boils in an open pot");
        double beta = Math.Pow(pascal / 1e6, 0.25);
        double e = (beta * beta) + (-17.073846940092 * beta) + 14.915108613530;
        double f = (1167.0521452767 * beta * beta) + (12020.824702470 * beta) - 4823.2657361591;
        double g = (-724213.16703206 * beta * beta) + (-3232555.0322333 * beta) + 405113.40542057;
        double d = 2 * g / (-f - Math.Sqrt((f * f) - (4 * e * g)));
        double sum = 650.17534844798 + d;
        return (sum - Math.Sqrt((sum * sum) - (4 * (-0.23855557567849 + (650.17534844798 * d))))) / 2;
    }

    /// <summary>Pressure of the ICAO standard atmosphere, as ASHRAE Fundamentals 2017, chapter 1, gives it (equation from memory; held against its table 1 in the tests).</summary>
    /// <param name="metres">Altitude above sea level, m; -500 to 11000.</param>
    /// <returns>Absolute pressure, Pa.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The altitude is outside that.</exception>
    public static double StandardPressurePa(double metres)
    {
        if (!(metres is >= -500 and <= 11000)) throw new ArgumentOutOfRangeException(nameof(metres), metres, "the standard atmosphere is given from -500 m to 11000 m");
        return SeaLevelPa * Math.Pow(1 - (2.25577e-5 * metres), 5.2559);
    }
}
