namespace Ventwright.Physics.Moist;

/// <summary>
/// Moist air as an ideal mixture. Source: ASHRAE Handbook Fundamentals 2017, chapter 1: equations for saturation pressure (Hyland and Wexler 1983), humidity
/// ratio and enthalpy (equation forms from memory, checked against tabulated values).
/// </summary>
public static class MoistAir
{
    /// <summary>Specific heat of dry air, J/(kg K).</summary>
    public const double DryHeat = 1006;

    /// <summary>Specific heat of water vapour, J/(kg K).</summary>
    public const double VapourHeat = 1860;

    /// <summary>Heat of evaporation of water at 0 degC, J/kg.</summary>
    public const double EvaporationHeat = 2.501e6;

    /// <summary>Molar mass of water over that of dry air.</summary>
    public const double MolarRatio = 0.621945;

    private const double TriplePointK = 273.16;

    /// <summary>Pressure of saturated vapour over ice (below the triple point) or water, Pa.</summary>
    /// <param name="kelvin">Temperature, K; 173 to 473.</param>
    public static double SaturationPa(double kelvin)
    {
        double t = kelvin;
        // The two curves meet at the triple point: a switch at 0 degC would leave a step.
        return t < TriplePointK
            ? Math.Exp((-5.6745359e3 / t) + 6.3925247 + (t * (-9.677843e-3 + (t * (6.2215701e-7 + (t * (2.0747825e-9 + (t * -9.484024e-13))))))) + (4.1635019 * Math.Log(t)))
            : Math.Exp((-5.8002206e3 / t) + 1.3914993 + (t * (-4.8640239e-2 + (t * (4.1764768e-5 + (t * -1.4452093e-8))))) + (6.5459673 * Math.Log(t)));
    }

    /// <summary>Humidity ratio, kg water for each kg of dry air.</summary>
    /// <param name="kelvin">Temperature, K.</param>
    /// <param name="relative">Relative humidity, 0..1.</param>
    /// <param name="pressurePa">Absolute pressure, Pa.</param>
    public static double HumidityRatio(double kelvin, double relative, double pressurePa)
    {
        double vapour = relative * SaturationPa(kelvin);
        return MolarRatio * vapour / (pressurePa - vapour);
    }

    /// <summary>Relative humidity, 0..1 (above 1 for air that would shed water).</summary>
    /// <param name="kelvin">Temperature, K.</param>
    /// <param name="ratio">Humidity ratio.</param>
    /// <param name="pressurePa">Absolute pressure, Pa.</param>
    public static double Relative(double kelvin, double ratio, double pressurePa) => pressurePa * ratio / ((MolarRatio + ratio) * SaturationPa(kelvin));

    /// <summary>Enthalpy, J for each kg of dry air; 0 for dry air at 0 degC.</summary>
    /// <param name="kelvin">Temperature, K.</param>
    /// <param name="ratio">Humidity ratio.</param>
    public static double Enthalpy(double kelvin, double ratio)
    {
        double celsius = kelvin - 273.15;
        return (DryHeat * celsius) + (ratio * (EvaporationHeat + (VapourHeat * celsius)));
    }
}
