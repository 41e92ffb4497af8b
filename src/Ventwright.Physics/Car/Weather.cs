namespace Ventwright.Physics.Car;

/// <summary>What the world does to the car at a moment.</summary>
/// <param name="OutsideK">Outside air, K.</param>
/// <param name="Humidity">Relative humidity outside, 0..1.</param>
/// <param name="Sun">Sun on the glass, W/m2.</param>
/// <param name="EngineHz">Engine, turns a second; 0 = off.</param>
/// <param name="Speed">Speed, m/s.</param>
/// <param name="People">People in the cabin.</param>
public readonly record struct Weather(double OutsideK, double Humidity, double Sun, double EngineHz, double Speed, int People);

/// <summary>What the unit does to the car at a moment.</summary>
/// <param name="BlownKgPerS">Air blown into the cabin, kg/s.</param>
/// <param name="BlownK">Its mixed temperature, K.</param>
/// <param name="BlownRatio">Its humidity ratio.</param>
/// <param name="FreshKgPerS">Part of it that came from outside, kg/s.</param>
/// <param name="HeaterW">Heat taken from the coolant, W.</param>
/// <param name="EvaporatorW">Heat given to the evaporator by the air, latent heat included, W.</param>
/// <param name="Clutch">Whether the compressor is driven.</param>
public readonly record struct UnitHeat(
    double BlownKgPerS, double BlownK, double BlownRatio, double FreshKgPerS, double HeaterW, double EvaporatorW, bool Clutch);
