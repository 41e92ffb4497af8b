using Ventwright.Numerics;

namespace Ventwright.Physics.Vacuum;

/// <summary>
/// Mass flow through a pneumatic restriction by sonic conductance C and critical pressure ratio b. Source: ISO 6358:
/// choked (p2/p1 at most b) m = C rho0 p1 sqrt(T0/T1); else times sqrt(1 - ((p2/p1 - b)/(1 - b))^2).
/// </summary>
/// <remarks>
/// With y = (1 - p2/p1)/(1 - b) the second factor is sqrt(y (2 - y)). Below y = <see cref="LinearPart"/> the root of y is the cubic piece of
/// <see cref="SmoothRoot"/>, so the slope at equal pressures is finite. There the flow is too small by at most
/// <see cref="LargestError"/> of the choked flow; everywhere else the law is exact.
/// </remarks>
public static class Iso6358
{
    /// <summary>Width of the regularised piece in y: pressure ratio above 1 - 1e-4 (1 - b), 7 Pa at atmosphere for b = 0.3.</summary>
    public const double LinearPart = 1e-4;

    /// <summary>Largest error of the regularised piece, as a part of the choked flow: 0.2013 sqrt(2 * 1e-4).</summary>
    public const double LargestError = 0.00285;

    /// <summary>Mass flow from p1 to p2, kg/s; negative when p2 is the higher one.</summary>
    /// <param name="conductance">Sonic conductance C, m3/(s Pa), 0 or more.</param>
    /// <param name="criticalRatio">Critical pressure ratio b, 0 or more and below 1.</param>
    /// <param name="p1Pa">Absolute pressure at the start, Pa.</param>
    /// <param name="p2Pa">Absolute pressure at the end, Pa.</param>
    /// <param name="temperatureK">Gas temperature before the restriction, K.</param>
    public static double FlowKgPerS(
        double conductance, double criticalRatio, double p1Pa, double p2Pa, double temperatureK = ReferenceAir.TemperatureK)
    {
        double massFactor = MassFactor(temperatureK) * conductance;
        return p1Pa >= p2Pa
            ? Forward(massFactor, criticalRatio, p1Pa, p2Pa, out _, out _)
            : -Forward(massFactor, criticalRatio, p2Pa, p1Pa, out _, out _);
    }

    /// <summary>rho0 sqrt(T0/T), kg/m3: choked mass flow per conductance and pressure.</summary>
    internal static double MassFactor(double temperatureK) =>
        ReferenceAir.DensityKgPerM3 * Math.Sqrt(ReferenceAir.TemperatureK / temperatureK);

    /// <summary>Flow from the higher to the lower pressure and its slopes; c is C rho0 sqrt(T0/T).</summary>
    internal static double Forward(double c, double b, double high, double low, out double slopeHigh, out double slopeLow)
    {
        if (high <= 0.0)
        {
            (slopeHigh, slopeLow) = (c, 0.0);
            return 0.0;
        }

        double inverse = 1.0 / (high * (1.0 - b));
        double y = (high - low) * inverse;
        if (y >= 1.0)
        {
            (slopeHigh, slopeLow) = (c, 0.0);
            return c * high;
        }

        double root = SmoothRoot.Signed(y, LinearPart, out double rootSlope);
        double rest = Math.Sqrt(2.0 - y);
        double factor = root * rest;
        double factorSlope = rootSlope * rest - 0.5 * root / rest;
        slopeLow = -c * high * inverse * factorSlope;
        slopeHigh = c * (factor + low * inverse * factorSlope);
        return c * high * factor;
    }
}
