using Ventwright.Bench.Car;
using Ventwright.Model.Build;
using Ventwright.Model.Kernel;
using Ventwright.Model.Sheet.Text;
using Ventwright.Physics.Car;
using Ventwright.Simulation;

namespace Ventwright.Reference.Tests.Bench;

/// <summary>
/// A small unit with a simple module, closed round the bench car, against a co-simulation of the same unit and car that was written down again in Python and
/// is integrated by scipy.integrate.solve_ivp.
/// </summary>
public class ClosedLoopAgainstScipyTests
{
    private const string Sheet = """
        sheet: 1
        unit: One blower, one blend flap
        supply: { volts: 13.2 V, tolerance: 0.1 V, source: 5 mohm }
        controls:
          power: { positions: [off, on] }
        conditions:
          cabin: 5 degC
          outside: 5 degC
          coolant: 40 degC
        spaces: { open: [outside, cabin] }
        places:
          bench: { minutes: 1 }
        parts:
          S1: { switch: power, joins: { off: none, on: [[battery, feed]] } }
          M1: { blower: 10 A, from: feed, to: gnd, at: 12 V, free-area: 60 cm2, pressure: 400 Pa, inlet: outside, outlet: plenum }
          RT1: { thermistor: [mod.3, gnd], at: cabin, r25: 10 kohm, beta: 3950, tolerance: 1 K, lag: 15 s }
          M3: { servo: [mod.6, mod.7], current: 120 mA, stalled: 800 mA, travel: 12 s, moves: FL1, feedback: { track: 5 kohm, ends: [gnd, mod.2], wiper: mod.4 } }
          FL1: { flap: [cold, hot] }
        module:
          supply: feed
          ground: gnd
          samples: 5 Hz
          set-point: want
          reference: { pin: mod.2, volts: 5 V, source: 1 mohm }
          inputs:
            cabin: { pin: mod.3, pull-up: 10 kohm to mod.2, sensor: RT1 }
            place: { pin: mod.4, reads: fraction of mod.2, input: 1000 Mohm }
          signals:
            want: 22 + 0 * cabin
          outputs:
            M3: { pins: [mod.6, mod.7], seeks: "clamp(0.5 + 0.15 * (want - cabin), 0, 1)", reads: place, dead-band: 0.02 }
        air:
          cold: { from: plenum, to: duct, area: 80 cm2, gate: FL1 cold }
          hot:  { from: plenum, to: duct, area: 80 cm2, gate: FL1 hot, exchanger: heater }
          vent: { from: duct, to: cabin, area: 70 cm2, vent: Centre }
        """;

    [Fact]
    public void Cabin_and_flap_follow_the_co_simulation_for_half_an_hour()
    {
        var problems = new ProblemList();
        UnitModel? model = SheetFile.Read("small.yaml", Sheet, problems);
        Assert.True(model is not null && !problems.HasErrors, string.Join('\n', problems.Sorted));
        var simulator = new Simulator(model);
        var weather = new Weather(278.15, 0.5, 200, 25, 15, 1);
        var scenario = new Scenario("small", "Small", 1800, 278.15, 278.15, 313.15, 295.15, [new(0, weather, [new("power", ["on"])])]);
        var car = new CarBody();
        DriveRecord drive = Drive.Run(simulator, scenario, car, new() { Every = 1, Step = 0.05 }, out string? problem, null, TestContext.Current.CancellationToken)!;
        Assert.True(drive is not null && drive.Sound, problem);
        double[] cabin = drive.Find(SeriesGroup.Temperatures, "cabin")!.Values, flap = drive.Find(SeriesGroup.Positions, "M3")!.Values, blower = drive.Find(SeriesGroup.Blowers, "M1")!.Values;
        double rate = Rate(flap);
        double[][] reference = Scipy.Run<double[][]>("closed_loop.py", new
        {
            car = new
            {
                air = car.AirCapacity,
                trim = car.TrimCapacity,
                airToTrim = car.AirToTrim,
                shell = car.ShellStanding,
                shellPerSpeed = car.ShellPerSpeed,
                trimToOutside = car.TrimToOutside,
                sunArea = car.SunArea,
                sunToAir = car.SunToAir,
                person = car.PersonHeat,
                gaps = car.GapsStanding,
                gapsPerSpeed = car.GapsPerSpeed,
                coolant = car.CoolantCapacity,
                perTurn = car.EngineHeatPerTurn,
                loss = car.EngineLoss,
                opens = car.ThermostatOpens,
                full = car.ThermostatFull,
                radiator = car.Radiator,
                heater = car.HeaterSize,
                rated = car.RatedAir,
            },
            outside = 278.15,
            people = 1,
            speed = 15,
            sun = 200,
            engine = 25,
            start = 278.15,
            coolantStart = 313.15,
            place = flap[0],
            minutes = 30,
            fan = 400,
            wheel = 60e-4,
            mix = 80e-4,
            vent = 70e-4,
            blower = blower[^1],
            lag = 15,
            r25 = 1e4,
            beta = 3950,
            gain = 0.15,
            set = 22,
            servoRate = rate,
        });
        for (int minute = 2; minute <= 30; minute++)
        {
            Assert.Equal(reference[minute][0], cabin[minute * 60], 0.3);
            Assert.Equal(reference[minute][1], flap[minute * 60], 0.03);
        }

        // Heat comes from mixing: not at an end once the cabin is warm.
        Assert.InRange(flap[^1], 0.05, 0.95);
        Assert.InRange(cabin[^1] - 273.15, 19, 25);
    }

    /// <summary>Travel each second, from the steepest second of the run.</summary>
    private static double Rate(double[] flap) => flap.Zip(flap.Skip(1), (a, b) => Math.Abs(b - a)).Max();
}
