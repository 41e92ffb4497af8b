namespace Ventwright.Physics.Car;

/// <summary>What a car is, as far as its climate unit feels it. All numbers SI; where they come from is written beside them in the car's file.</summary>
public sealed record CarBody
{
    /// <summary>Air in the cabin with the thin things that follow it at once, J/K.</summary>
    public double AirCapacity { get; init; } = 5e3;

    /// <summary>Trim, seats and dash, J/K.</summary>
    public double TrimCapacity { get; init; } = 100e3;

    /// <summary>Between cabin air and trim, W/K.</summary>
    public double AirToTrim { get; init; } = 90;

    /// <summary>Through shell and glass between cabin air and outside, standing, W/K.</summary>
    public double ShellStanding { get; init; } = 35;

    /// <summary>More of it for each m/s of speed, W s/(K m).</summary>
    public double ShellPerSpeed { get; init; } = 1.2;

    /// <summary>Between trim and outside (floor, doors), W/K.</summary>
    public double TrimToOutside { get; init; } = 8;

    /// <summary>Glass that the sun comes through, times its transmittance, m2.</summary>
    public double SunArea { get; init; } = 0.9;

    /// <summary>Share of the sun that the air takes at once; the trim takes the rest.</summary>
    public double SunToAir { get; init; } = 0.15;

    /// <summary>Sensible heat of a person, W.</summary>
    public double PersonHeat { get; init; } = 70;

    /// <summary>Moisture of a person, kg/s.</summary>
    public double PersonMoisture { get; init; } = 4e-5;

    /// <summary>Air through gaps, standing, kg/s.</summary>
    public double GapsStanding { get; init; } = 0.003;

    /// <summary>More of it for each m/s, kg/m.</summary>
    public double GapsPerSpeed { get; init; } = 4e-4;

    /// <summary>How much hotter still air in the dash is than the cabin for each W/m2 of sun, K m2/W.</summary>
    public double DashPerSun { get; init; } = 0.014;

    /// <summary>Flow past an aspirated sensor at which half of what it feels is the dash, m3/s.</summary>
    public double AspirationHalf { get; init; } = 5e-5;

    /// <summary>How much hotter a standing car's outside sensor gets behind a hot engine, K.</summary>
    public double OutsideSoak { get; init; } = 12;

    /// <summary>Engine and coolant, J/K.</summary>
    public double CoolantCapacity { get; init; } = 70e3;

    /// <summary>Heat to the coolant for each turn of the engine, J (W for each turn a second).</summary>
    public double EngineHeatPerTurn { get; init; } = 360;

    /// <summary>Engine to the air round it, W/K.</summary>
    public double EngineLoss { get; init; } = 25;

    /// <summary>Thermostat starts to open, K.</summary>
    public double ThermostatOpens { get; init; } = 355.15;

    /// <summary>Thermostat is fully open, K.</summary>
    public double ThermostatFull { get; init; } = 368.15;

    /// <summary>Radiator with the thermostat fully open, W/K.</summary>
    public double Radiator { get; init; } = 700;

    /// <summary>Heater core at <see cref="RatedAir"/>, W/K.</summary>
    public double HeaterSize { get; init; } = 140;

    /// <summary>Air flow at which the sizes of heater and evaporator are given, kg/s.</summary>
    public double RatedAir { get; init; } = 0.1;

    /// <summary>Evaporator's air side at <see cref="RatedAir"/>, W/K.</summary>
    public double EvaporatorSize { get; init; } = 190;

    /// <summary>Evaporator's metal and refrigerant, J/K.</summary>
    public double EvaporatorCapacity { get; init; } = 4e3;

    /// <summary>Cooling at 25 turns a second, 5 degC in the evaporator and 35 degC outside, W.</summary>
    public double RatedCooling { get; init; } = 5000;

    /// <summary>Whose car it is meant to be, in words.</summary>
    public string Name { get; init; } = "Mid-size saloon";
}
