namespace Ventwright.Quantities;

/// <summary>What a number measures. Values are held in the SI unit named beside each member.</summary>
public enum Dimension
{
    /// <summary>A plain number without unit.</summary>
    None,

    /// <summary>Electric potential difference, V.</summary>
    Volt,

    /// <summary>Electric current, A.</summary>
    Ampere,

    /// <summary>Electric resistance, ohm.</summary>
    Ohm,

    /// <summary>Power, W.</summary>
    Watt,

    /// <summary>Time, s.</summary>
    Second,

    /// <summary>Frequency or rotational speed, Hz.</summary>
    Frequency,

    /// <summary>Pressure, gauge pressure or depression, Pa. Which of them is meant is up to the place where it stands.</summary>
    Pressure,

    /// <summary>Absolute temperature, K.</summary>
    Temperature,

    /// <summary>Difference of two temperatures, K.</summary>
    TemperatureDifference,

    /// <summary>Length, m.</summary>
    Length,

    /// <summary>Area, m2.</summary>
    Area,

    /// <summary>Volume, m3.</summary>
    Volume,

    /// <summary>Volume flow, m3/s.</summary>
    VolumeFlow,

    /// <summary>Sonic conductance of a pneumatic restriction (ISO 6358), m3/(s Pa).</summary>
    Conductance,

    /// <summary>A part of a whole, 1 = 100 %. May be written with or without <c>%</c>.</summary>
    Fraction,

    /// <summary>Mass, kg.</summary>
    Mass,

    /// <summary>Speed, m/s.</summary>
    Speed,

    /// <summary>Heat falling on an area, W/m2.</summary>
    Irradiance,

    /// <summary>Heat passed for each kelvin, W/K.</summary>
    HeatConductance,

    /// <summary>Heat stored for each kelvin, J/K.</summary>
    HeatCapacity,
}

/// <summary>The units a person wants to read.</summary>
public enum UnitSystem
{
    /// <summary>degC, kPa, m3/h.</summary>
    Metric,

    /// <summary>degF, inHg, cfm.</summary>
    US,
}

/// <summary>A number in SI with what it measures.</summary>
/// <param name="Si">The value in the SI unit of <paramref name="Dimension"/>.</param>
/// <param name="Dimension">What it measures.</param>
public readonly record struct Quantity(double Si, Dimension Dimension)
{
    /// <summary>The value in metric units, for people.</summary>
    public override string ToString() => QuantityText.Format(Si, Dimension, UnitSystem.Metric);
}
