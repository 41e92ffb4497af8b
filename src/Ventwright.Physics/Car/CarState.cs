namespace Ventwright.Physics.Car;

/// <summary>What a car remembers: temperatures in K and the humidity ratio of its air.</summary>
/// <param name="Air">Cabin air.</param>
/// <param name="Trim">Trim, seats and dash.</param>
/// <param name="Ratio">Humidity ratio of the cabin air, kg/kg.</param>
/// <param name="Coolant">Engine with its coolant.</param>
/// <param name="Evaporator">Evaporator's surface.</param>
/// <param name="Soak">How much hotter than the air the outside sensor has become, K.</param>
public readonly record struct CarState(double Air, double Trim, double Ratio, double Coolant, double Evaporator, double Soak)
{
    /// <summary>The state moved on along a slope.</summary>
    public CarState Plus(in CarState slope, double seconds) => new(
        Air + (slope.Air * seconds), Trim + (slope.Trim * seconds), Ratio + (slope.Ratio * seconds), Coolant + (slope.Coolant * seconds),
        Evaporator + (slope.Evaporator * seconds), Soak + (slope.Soak * seconds));

    /// <summary>The mean of two.</summary>
    public static CarState Mean(in CarState a, in CarState b) => new(
        (a.Air + b.Air) / 2, (a.Trim + b.Trim) / 2, (a.Ratio + b.Ratio) / 2, (a.Coolant + b.Coolant) / 2, (a.Evaporator + b.Evaporator) / 2, (a.Soak + b.Soak) / 2);
}
