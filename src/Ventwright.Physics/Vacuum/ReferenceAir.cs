namespace Ventwright.Physics.Vacuum;

/// <summary>Standard reference atmosphere ANR: 293.15 K, 100 kPa, relative humidity 65 %. Source: ISO 8778 (figures from memory).</summary>
public static class ReferenceAir
{
    /// <summary>Temperature T0, K.</summary>
    public const double TemperatureK = 293.15;

    /// <summary>Absolute pressure p0, Pa.</summary>
    public const double PressurePa = 100_000.0;

    /// <summary>Density rho0, kg/m3.</summary>
    public const double DensityKgPerM3 = 1.185;

    /// <summary>Gas constant that belongs to the three figures above, p0/(rho0 T0), J/(kg K).</summary>
    public const double GasConstant = PressurePa / (DensityKgPerM3 * TemperatureK);
}
