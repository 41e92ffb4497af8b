using Ventwright.Physics.Moist;

namespace Ventwright.Physics.Car;

/// <summary>
/// Heat and moisture balances of a car: cabin air and trim as two nodes, engine with coolant, evaporator. Every term is a flow of heat between two of
/// them or across the car's border, so the balance closes by its form; <see cref="Stored"/> and <see cref="CrossingBorder"/> show it.
/// </summary>
public static class CarHeat
{
    /// <summary>Slopes of the state, per second.</summary>
    /// <param name="car">The car.</param>
    /// <param name="state">Its state.</param>
    /// <param name="weather">What the world does.</param>
    /// <param name="unit">What the unit does.</param>
    public static CarState Slope(CarBody car, in CarState state, in Weather weather, in UnitHeat unit)
    {
        HeatFlows q = Flows(car, state, weather, unit);
        double dryMass = car.AirCapacity / MoistAir.DryHeat, moisture = (weather.People * car.PersonMoisture) + (unit.BlownKgPerS * (unit.BlownRatio - state.Ratio));
        double outsideRatio = MoistAir.HumidityRatio(weather.OutsideK, weather.Humidity, 101325);
        return new(
            (q.Blown + q.SunToAir + q.People + q.Gaps + q.Shell + q.TrimToAir) / car.AirCapacity,
            (q.SunToTrim + q.TrimFromOutside - q.TrimToAir) / car.TrimCapacity,
            (moisture + (GapFlow(car, weather, unit) * (outsideRatio - state.Ratio))) / dryMass,
            (q.Engine - unit.HeaterW - q.Radiator - q.EngineLoss) / car.CoolantCapacity,
            (unit.EvaporatorW - q.Refrigerant) / car.EvaporatorCapacity,
            SoakSlope(car, state, weather));
    }

    /// <summary>Heat flows at a moment, W.</summary>
    public static HeatFlows Flows(CarBody car, in CarState state, in Weather weather, in UnitHeat unit)
    {
        double sun = weather.Sun * car.SunArea, shell = car.ShellStanding + (car.ShellPerSpeed * weather.Speed);
        double opening = Math.Clamp((state.Coolant - car.ThermostatOpens) / (car.ThermostatFull - car.ThermostatOpens), 0, 1);
        return new(
            unit.BlownKgPerS * MoistAir.DryHeat * (unit.BlownK - state.Air), sun * car.SunToAir, sun * (1 - car.SunToAir), weather.People * car.PersonHeat,
            GapFlow(car, weather, unit) * MoistAir.DryHeat * (weather.OutsideK - state.Air), shell * (weather.OutsideK - state.Air),
            car.AirToTrim * (state.Trim - state.Air), car.TrimToOutside * (weather.OutsideK - state.Trim),
            weather.EngineHz * car.EngineHeatPerTurn, opening * car.Radiator * (state.Coolant - weather.OutsideK), car.EngineLoss * (state.Coolant - weather.OutsideK),
            unit.Clutch ? Cooling(car, state.Evaporator, weather) : 0);
    }

    /// <summary>
    /// Cooling of the refrigerant circuit, W: a straight line in the evaporator's and the outside temperature, rising less than in proportion with the
    /// engine. A stand-in for the circuit itself; shape and slopes are common practice, no source.
    /// </summary>
    public static double Cooling(CarBody car, double evaporatorK, in Weather weather)
    {
        double turns = weather.EngineHz / (weather.EngineHz + 12) * (37.0 / 25);
        return Math.Max(0, car.RatedCooling * turns * (1 + (0.035 * (evaporatorK - 278.15))) * (1 - (0.01 * (weather.OutsideK - 308.15))));
    }

    /// <summary>Share of the way to the wall's temperature that air goes in an exchanger: 1 - exp(-NTU), with a size that grows with the 0.6th power of the flow.</summary>
    /// <param name="size">Size at the rated flow, W/K.</param>
    /// <param name="ratedKgPerS">Rated flow, kg/s.</param>
    /// <param name="kgPerS">Flow, kg/s.</param>
    public static double Effectiveness(double size, double ratedKgPerS, double kgPerS) =>
        kgPerS <= 0 ? 0 : 1 - Math.Exp(-size * Math.Pow(kgPerS / ratedKgPerS, 0.6) / (kgPerS * MoistAir.DryHeat));

    /// <summary>Heat that is stored for a change of state, J; the sum over the nodes.</summary>
    public static double Stored(CarBody car, in CarState from, in CarState to) =>
        (car.AirCapacity * (to.Air - from.Air)) + (car.TrimCapacity * (to.Trim - from.Trim)) + (car.CoolantCapacity * (to.Coolant - from.Coolant))
        + (car.EvaporatorCapacity * (to.Evaporator - from.Evaporator));

    /// <summary>Heat that crosses the car's border or is carried by the unit at a moment, W; what is stored must equal it.</summary>
    public static double CrossingBorder(CarBody car, in CarState state, in Weather weather, in UnitHeat unit)
    {
        HeatFlows q = Flows(car, state, weather, unit);
        return q.Blown + q.SunToAir + q.SunToTrim + q.People + q.Gaps + q.Shell + q.TrimFromOutside + q.Engine - q.Radiator - q.EngineLoss - unit.HeaterW + unit.EvaporatorW - q.Refrigerant;
    }

    /// <summary>Air through gaps, kg/s: what the blower pushes in from outside keeps as much from coming in by itself.</summary>
    private static double GapFlow(CarBody car, in Weather weather, in UnitHeat unit) =>
        Math.Max(0, car.GapsStanding + (car.GapsPerSpeed * weather.Speed) - unit.FreshKgPerS);

    /// <summary>A hot engine warms the sensor in some ten minutes of standing; the wind cools it in one (common practice, no source).</summary>
    private static double SoakSlope(CarBody car, in CarState state, in Weather weather)
    {
        double hot = Math.Clamp((state.Coolant - 323.15) / 40, 0, 1) * car.OutsideSoak, standing = Math.Clamp(1 - (weather.Speed / 5), 0, 1);
        double goal = hot * standing;
        return (goal - state.Soak) / (goal > state.Soak ? 600 : 60);
    }
}

/// <summary>Heat flows of a car at a moment, W.</summary>
/// <param name="Blown">Brought to the cabin air by the unit.</param>
/// <param name="SunToAir">Sun, to the air.</param>
/// <param name="SunToTrim">Sun, to the trim.</param>
/// <param name="People">From people.</param>
/// <param name="Gaps">Through gaps.</param>
/// <param name="Shell">Through the shell.</param>
/// <param name="TrimToAir">From trim to air.</param>
/// <param name="TrimFromOutside">From outside to trim.</param>
/// <param name="Engine">From the engine to the coolant.</param>
/// <param name="Radiator">From the coolant through the radiator.</param>
/// <param name="EngineLoss">From the engine to the air round it.</param>
/// <param name="Refrigerant">Taken from the evaporator by the refrigerant.</param>
public readonly record struct HeatFlows(
    double Blown, double SunToAir, double SunToTrim, double People, double Gaps, double Shell, double TrimToAir, double TrimFromOutside, double Engine,
    double Radiator, double EngineLoss, double Refrigerant);
