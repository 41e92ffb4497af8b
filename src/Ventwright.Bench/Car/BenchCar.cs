using Ventwright.Model.Kernel;
using Ventwright.Physics.Car;
using Ventwright.Physics.Moist;

namespace Ventwright.Bench.Car;

/// <summary>What the car needs to know of the unit at a moment, from a simulated unit or from a real one on the bench.</summary>
/// <param name="AirFlow">Flow of each air branch of the sheet, m3/s.</param>
/// <param name="Clutch">Whether the clutch is energised.</param>
/// <param name="Water">Share of the full coolant flow that the water valves let through, 0..1.</param>
public readonly ref struct UnitDoes(ReadOnlySpan<double> AirFlow, bool Clutch, double Water)
{
    /// <summary>Flow of each air branch of the sheet, m3/s.</summary>
    public ReadOnlySpan<double> AirFlow { get; } = AirFlow;

    /// <summary>Whether the clutch is energised.</summary>
    public bool Clutch { get; } = Clutch;

    /// <summary>Share of the full coolant flow, 0..1.</summary>
    public double Water { get; } = Water;
}

/// <summary>
/// The simulated car round a unit: takes what the unit does, gives what its sensors feel. The unit may be simulated or stand on the bench. Not thread-safe.
/// </summary>
public sealed class BenchCar
{
    private readonly UnitModel _model;
    private readonly AirTemperatures _air;

    /// <summary>Puts a car round a unit.</summary>
    /// <param name="model">The unit.</param>
    /// <param name="body">The car.</param>
    /// <param name="state">Its state at the start.</param>
    public BenchCar(UnitModel model, CarBody body, CarState state)
    {
        (_model, Body, State) = (model, body, state);
        _air = new(model);
    }

    /// <summary>The car.</summary>
    public CarBody Body { get; }

    /// <summary>Its state.</summary>
    public CarState State { get; private set; }

    /// <summary>What the unit brought at the end of the last step.</summary>
    public UnitHeat Heat { get; private set; }

    /// <summary>What the energy balance of the last step failed to close by, W.</summary>
    public double ImbalanceW { get; private set; }

    /// <summary>Moves the car on by Heun's method (order 2).</summary>
    /// <param name="seconds">Step, s; up to one second.</param>
    /// <param name="weather">What the world does.</param>
    /// <param name="unit">What the unit does.</param>
    public void Advance(double seconds, in Weather weather, UnitDoes unit)
    {
        CarState before = State;
        UnitHeat heat = _air.Carry(unit.AirFlow, Body, before, weather, unit.Water, unit.Clutch);
        CarState slope = CarHeat.Slope(Body, before, weather, heat), guess = before.Plus(slope, seconds);
        UnitHeat then = _air.Carry(unit.AirFlow, Body, guess, weather, unit.Water, unit.Clutch);
        State = before.Plus(CarState.Mean(slope, CarHeat.Slope(Body, guess, weather, then)), seconds);
        Heat = then;
        double crossed = (CarHeat.CrossingBorder(Body, before, weather, heat) + CarHeat.CrossingBorder(Body, guess, weather, then)) / 2;
        ImbalanceW = seconds > 0 ? (CarHeat.Stored(Body, before, State) / seconds) - crossed : 0;
    }

    /// <summary>Temperature of the air out of a vent, K.</summary>
    public double VentK(int branch, double flow) => _air.LeavingK(branch, flow, State);

    /// <summary>What a condition of the sheet is in the car now (K), or NaN for one that the car does not know. They go by their names: cabin, outside, evaporator, coolant.</summary>
    public double Condition(string name, in Weather weather) => name switch
    {
        "cabin" => State.Air,
        "outside" => weather.OutsideK + State.Soak,
        "evaporator" => State.Evaporator,
        "coolant" => State.Coolant,
        _ => double.NaN,
    };

    /// <summary>
    /// What surrounds an aspirated sensor, K: cabin air as far as it is drawn past, still air of the dash for the rest. Without a flow the sensor sits in the dash.
    /// </summary>
    /// <param name="flow">Flow past it, m3/s.</param>
    /// <param name="weather">What the world does.</param>
    public double AspiratedK(double flow, in Weather weather)
    {
        double share = Math.Max(0, flow) / (Math.Max(0, flow) + Body.AspirationHalf);
        return State.Air + ((1 - share) * Body.DashPerSun * weather.Sun);
    }

    /// <summary>Share of the full coolant flow that the unit's water valves let through.</summary>
    /// <param name="model">The unit.</param>
    /// <param name="variables">Its variables.</param>
    /// <param name="parameters">Its parameters with faults.</param>
    public static double Water(UnitModel model, ReadOnlySpan<double> variables, ReadOnlySpan<double> parameters)
    {
        double share = 1;
        foreach (WaterValveInfo valve in model.WaterValves)
        {
            double open = valve.OpenWhenPulled ? variables[valve.Variable] : 1 - variables[valve.Variable];
            share *= Math.Max(open, parameters[valve.PassingParameter]);
        }

        return share;
    }

    /// <summary>A car that has stood long enough for everything in it to be as warm as said.</summary>
    /// <param name="cabinK">Cabin air, K.</param>
    /// <param name="trimK">Trim, K.</param>
    /// <param name="coolantK">Engine and coolant, K.</param>
    /// <param name="weather">What the world does.</param>
    public static CarState Standing(double cabinK, double trimK, double coolantK, in Weather weather) =>
        new(cabinK, trimK, MoistAir.HumidityRatio(weather.OutsideK, weather.Humidity, 101325), coolantK, weather.OutsideK, 0);
}
