namespace Ventwright.Physics.Air;

/// <summary>Quadratic resistances k of p = k q|q|.</summary>
public static class AirResistance
{
    /// <summary>Resistance of an opening, k = rho / (2 (Cd A)^2), Pa/(m3/s)^2; infinite for a closed one. Source: orifice equation.</summary>
    /// <param name="areaM2">Area A, m2, 0 or more.</param>
    /// <param name="dischargeCoefficient">Discharge coefficient Cd, above 0.</param>
    /// <param name="densityKgPerM3">Air density rho, kg/m3, above 0.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is out of range.</exception>
    public static double FromArea(double areaM2, double dischargeCoefficient, double densityKgPerM3)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(areaM2);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(dischargeCoefficient);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(densityKgPerM3);
        double effectiveM2 = dischargeCoefficient * areaM2;
        return densityKgPerM3 / (2.0 * effectiveM2 * effectiveM2);
    }
}
