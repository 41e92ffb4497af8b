using CsCheck;
using Ventwright.Physics.Car;

namespace Ventwright.Tests.Physics;

/// <summary>The car's heat: closed forms of the same equations, order of the method, balance.</summary>
public sealed class CarHeatTests
{
    private static readonly CarBody Car = new();
    private static readonly Weather Shade = new(293.15, 0.5, 0, 0, 0, 0);
    private static readonly UnitHeat Off = new(0, 293.15, 0.007, 0, 0, 0, false);

    /// <summary>Air and trim left alone are a linear system of two nodes: solved here by its eigenvalues.</summary>
    [Fact]
    public void Air_and_trim_cool_as_the_closed_form_of_two_nodes_says()
    {
        const double cp = 1006;
        double shell = Car.ShellStanding + (Car.GapsStanding * cp);
        double a = -(Car.AirToTrim + shell) / Car.AirCapacity, b = Car.AirToTrim / Car.AirCapacity, c = Car.AirToTrim / Car.TrimCapacity, d = -(Car.AirToTrim + Car.TrimToOutside) / Car.TrimCapacity;
        double half = (a + d) / 2, root = Math.Sqrt((((a - d) / 2) * ((a - d) / 2)) + (b * c)), fast = half - root, slow = half + root;
        // x' = A x, x(0) = (20, 30): x1 = p exp(fast t) + q exp(slow t), from the start and its slope.
        double slope = (a * 20) + (b * 30), p = (slope - (slow * 20)) / (fast - slow), q = 20 - p, t = 900;
        double expected = (p * Math.Exp(fast * t)) + (q * Math.Exp(slow * t));
        CarState end = Run(new(313.15, 323.15, 0.007, 293.15, 293.15, 0), Shade, t, 0.1);
        Assert.Equal(expected, end.Air - 293.15, 4);
    }

    [Fact]
    public void Halving_the_step_quarters_the_error()
    {
        var start = new CarState(323.15, 313.15, 0.012, 300, 300, 0);
        Weather sun = new(303.15, 0.4, 800, 20, 10, 2);
        double exact = Run(start, sun, 60, 0.005).Air, coarse = Run(start, sun, 60, 4).Air - exact, fine = Run(start, sun, 60, 2).Air - exact;
        Assert.InRange(coarse / fine, 3.3, 5.0);
    }

    /// <summary>Conservation of energy.</summary>
    [Fact]
    public void What_is_stored_is_what_crosses_the_border() =>
        Gen.Select(Gen.Double[250, 340], Gen.Double[250, 340], Gen.Double[250, 370], Gen.Double[0, 1000], Gen.Double[0, 60], Gen.Double[0, 0.15]).Sample((air, trim, coolant, sun, turns, blown) =>
        {
            var state = new CarState(air, trim, 0.008, coolant, 285, 3);
            Weather weather = new(298, 0.5, sun, turns, 12, 3);
            UnitHeat unit = new(blown, 310, 0.006, blown / 2, 2500, 1800, true);
            CarState slope = CarHeat.Slope(Car, state, weather, unit);
            double stored = (slope.Air * Car.AirCapacity) + (slope.Trim * Car.TrimCapacity) + (slope.Coolant * Car.CoolantCapacity) + (slope.Evaporator * Car.EvaporatorCapacity);
            Assert.Equal(CarHeat.CrossingBorder(Car, state, weather, unit), stored, 1e-6);
        });

    /// <summary>Common practice, no source: a thermostat holds a running engine between opening and fully open, also without the heater.</summary>
    [Fact]
    public void The_thermostat_holds_the_coolant()
    {
        CarState end = Run(new(293, 293, 0.007, 293, 293, 0), new(293.15, 0.5, 0, 30, 20, 1), 3600, 1);
        Assert.InRange(end.Coolant, Car.ThermostatOpens, Car.ThermostatFull);
    }

    /// <summary>An exchanger of endless size brings the air to the wall's temperature, one of no size leaves it.</summary>
    [Fact]
    public void Effectiveness_goes_from_nothing_to_all()
    {
        Assert.Equal(0, CarHeat.Effectiveness(0, 0.1, 0.1), 12);
        Assert.Equal(1, CarHeat.Effectiveness(1e6, 0.1, 0.1), 12);
        Assert.Equal(1 - Math.Exp(-1), CarHeat.Effectiveness(100.6, 0.1, 0.1), 12);
    }

    private static CarState Run(CarState state, Weather weather, double seconds, double step)
    {
        for (int i = 0; i < (int)Math.Round(seconds / step); i++)
        {
            CarState slope = CarHeat.Slope(Car, state, weather, Off), then = CarHeat.Slope(Car, state.Plus(slope, step), weather, Off);
            state = state.Plus(CarState.Mean(slope, then), step);
        }

        return state;
    }
}
