using System.Globalization;
using Ventwright.Bench.Sensors;
using Ventwright.Model.Kernel;
using Ventwright.Physics.Sensing;
using Ventwright.Simulation;

namespace Ventwright.Bench.StandIns;

/// <summary>Resistances in place of temperature sensors.</summary>
internal static class SensorStandIns
{
    private const double VoltmeterOhms = 10e6, Same = 0.005;

    private static readonly double[] PotValues = [1, 2, 5];

    public static SensorStandIn? TryMake(Simulator simulator, string id, string value, Drawer drawer, StandInOptions options, out string? problem)
    {
        if (SensorPart.TryFind(simulator.Model, id, out problem) is not { } sensor) return null;
        if (!TemperatureText.TryParse(value, out double kelvin, out problem)) return null;
        if (!(options.DissipationWPerK > 0)) problem = "a dissipation constant is above 0";
        else if (kelvin is < 200 or > 450) problem = $"{value} is outside what a thermistor of a climate unit is for (-73 .. 177 degC)";
        if (problem is not null) return null;
        double heating = SelfHeating(simulator, sensor, kelvin, options), felt = options.CountSelfHeating ? kelvin + heating : kelvin;
        double ohms = sensor.Curve.Ohms(felt);
        double Error(double r) => sensor.Curve.Kelvin(r) - felt;
        SensorLoad load = Load(simulator, sensor, kelvin, ohms, options) with { SelfHeatingK = heating };
        (BoxDecade[] box, double set) = Box(ohms);
        PotentiometerSetting pot = Pot(ohms, r => Error(r));
        return new(
            sensor, kelvin, ohms, options.CountSelfHeating, (Error(ohms * 1.005) - Error(ohms * 0.995)), Error(ohms + 0.5) - Error(ohms - 0.5), box, Error(set), pot,
            Choices(new(drawer.Resistors), ohms, options, Error, load.Amps), load, options.DissipationWPerK, sensor.Name, Steps(sensor), Cautions(), ($"stand-in {id}", string.Create(CultureInfo.InvariantCulture, $"{ohms:G6} ohm")));
    }

    private static List<string> Steps(SensorPart sensor)
    {
        string where = sensor.Pins.Count > 0 ? $" ({string.Join(", ", sensor.Pins)})" : "";
        return
        [
            "Supply off.",
            $"Unplug {sensor.Id}{where} and put the stand-in on the lead that goes to the unit, between {sensor.Nets.A} and {sensor.Nets.B}; which way round does not matter.",
            "Set or measure it before it is plugged in: fitted, the meter reads the module as well.",
            "Leave no voltmeter on the pin while the unit is judged.",
            "Move a box in small steps while the unit runs: between two positions a box may be open or shorted for a moment, and the module sees that.",
        ];
    }

    private static string[] Cautions() =>
    [
        "Nothing but resistances goes on a sensor's lead: never 12 V, and no ohmmeter while the supply is on.",
        "The unit then believes what is not there: blowers, servos and the clutch may start at once. Hands, hair and sleeves away; a clutch or heater is left unplugged unless its own test wants it.",
        "The maker's own procedure and limits go first.",
    ];

    private static Settled Settle(Simulator simulator, SensorPart sensor, double kelvin, double ohms, StandInOptions options, string supply = "on")
    {
        (string, string)[] supplied = supply == "on" ? [] : [("supply", supply)];
        Setting setting = Setting.TryMake(simulator.Model, [.. options.Set ?? [], ControlPoint.Word(sensor.Condition, kelvin), sensor.StandIn(ohms), .. supplied], out _)!;
        return simulator.Settle(setting, []);
    }

    private static SensorLoad Load(Simulator simulator, SensorPart sensor, double kelvin, double ohms, StandInOptions options)
    {
        UnitModel model = simulator.Model;
        Settled rest = Settle(simulator, sensor, kelvin, ohms, options);
        double amps = Math.Abs(rest.Amps[sensor.Branch]);
        double Reads(Settled settled) => sensor.Signal < 0 || model.Module is not { } module || settled.Variables[module.Powered] < 0.5 ? double.NaN : settled.Signals[sensor.Signal] + 273.15;
        double both = 1 / ((1 / ohms) + (1 / VoltmeterOhms)), read = Reads(rest);
        Setting dead = Setting.TryMake(model, [.. options.Set ?? [], sensor.StandIn(ohms), ("supply", "off")], out _)!;
        double inPlace = simulator.Ohms(dead, [], sensor.Nets.A, sensor.Nets.B);
        double meter = double.IsNaN(read) ? sensor.Curve.Kelvin(both) - sensor.Curve.Kelvin(ohms) : Reads(Settle(simulator, sensor, kelvin, both, options)) - read;
        return new(amps * ohms, amps, amps * amps * ohms, read, inPlace, meter, 0);
    }

    /// <summary>Kelvins by which the module's current warms the sensor in air of a temperature: power at its own temperature over the dissipation constant.</summary>
    private static double SelfHeating(Simulator simulator, SensorPart sensor, double kelvin, StandInOptions options)
    {
        double warmer = 0;
        for (int i = 0; i < 6; i++)
        {
            double ohms = sensor.Curve.Ohms(kelvin + warmer), amps = Settle(simulator, sensor, kelvin, ohms, options).Amps[sensor.Branch];
            double next = amps * amps * ohms / options.DissipationWPerK;
            if (Math.Abs(next - warmer) < 1e-6) break;
            warmer = next;
        }

        return warmer;
    }

    /// <summary>Decades of a box down to an ohm, or to a tenth below 100 ohm.</summary>
    private static (BoxDecade[] Decades, double Ohms) Box(double ohms)
    {
        double step = ohms < 100 ? 0.1 : 1;
        long left = (long)Math.Round(ohms / step);
        double set = left * step;
        var decades = new List<BoxDecade>();
        int top = Math.Clamp((int)Math.Floor(Math.Log10(Math.Max(ohms, 1))), 0, 6);
        for (int decade = top; decade >= (step < 1 ? -1 : 0); decade--)
        {
            long size = (long)Math.Round(Math.Pow(10, decade) / step);
            decades.Add(new(size * step, (int)(left / size)));
            left %= size;
        }

        return ([.. decades], set);
    }

    /// <summary>The smallest usual potentiometer that is at least a quarter larger, as a variable resistor.</summary>
    private static PotentiometerSetting Pot(double ohms, Func<double, double> error)
    {
        double decade = Math.Pow(10, Math.Floor(Math.Log10(ohms)));
        double whole = new[] { decade, decade * 10 }.SelectMany(d => PotValues.Select(v => v * d)).First(v => v >= 1.25 * ohms), turn = ohms / whole;
        return new(whole, turn, Math.Abs(error(ohms + (0.005 * whole)) - error(ohms - (0.005 * whole))));
    }

    /// <summary>The best of all, and the best of fewer resistors that are not among them. What is within 5 mK is the same to anybody: fewer first.</summary>
    private static List<ResistorChoice> Choices(ResistorSearch search, double ohms, StandInOptions options, Func<double, double> error, double amps)
    {
        List<ResistorNetwork> found = [.. search.Closest(ohms, options.MostResistors, options.Choices)];
        for (int fewer = options.MostResistors - 1; fewer >= 1; fewer--)
        {
            if (found.TrueForAll(n => n.Parts.Count != fewer)) found.AddRange(search.Closest(ohms, fewer, fewer == 1 ? 1 : 2, only: true));
        }

        return [.. found.Select(n => Choice(n, error, amps)).OrderBy(c => Math.Round(Math.Abs(c.ErrorK) / Same)).ThenBy(c => c.Network.Parts.Count).ThenBy(c => Math.Abs(c.ErrorK))];
    }

    private static ResistorChoice Choice(ResistorNetwork network, Func<double, double> error, double amps)
    {
        (double low, double high) = network.WorstOhms();
        double whole = network.Ohms, spread = network.RootSumSquare();
        double rss = Math.Abs(error(whole * (1 + spread)) - error(whole * (1 - spread))) / 2;
        return new(network, error(whole), (error(high), error(low)), rss, [.. network.Shares().Select(s => s * amps * amps * whole)]);
    }
}
