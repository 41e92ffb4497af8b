using Ventwright.Model.Kernel;
using Ventwright.Simulation;
using Ventwright.Simulation.Time;

namespace Ventwright.Tests.Simulation;

/// <summary>The unit in time: it comes to rest where settling says, and on the way each lag follows its closed form.</summary>
public sealed class UnitRunTests
{
    public static TheoryData<string, string> Selectors()
    {
        var rows = new TheoryData<string, string>();
        foreach ((string sheet, Simulator unit) in (ReadOnlySpan<(string, Simulator)>)[("automatic", ShippedSheets.Automatic), ("manual", ShippedSheets.Manual)])
        {
            foreach (Control control in unit.Model.Controls)
            {
                foreach (string position in control.Positions.Length > 0 ? control.Positions : ["0", "0.3", "0.7", "1"]) rows.Add(sheet, $"{control.Name}={position}");
            }
        }

        return rows;
    }

    [Theory]
    [MemberData(nameof(Selectors))]
    public void A_long_run_ends_where_settling_says(string sheet, string selector)
    {
        Simulator unit = sheet == "automatic" ? ShippedSheets.Automatic : ShippedSheets.Manual;
        Settled start = unit.Settle(Setting.Default(unit.Model), []);
        foreach (string around in (string[])["coolant=20 degC, cabin=22 degC", "coolant=80 degC, cabin=10 degC", "coolant=80 degC, cabin=35 degC"])
        {
            string others = sheet == "automatic" && !selector.StartsWith("mode", StringComparison.Ordinal) ? "mode=auto, " : "";
            Setting setting = ShippedSheets.Set(unit, $"{others}{selector}, {around}");
            var run = new UnitRun(unit, Setting.Default(unit.Model), [], start);
            run.Set(setting);
            run.Advance(90);
            Same(unit.Model, unit.Settle(setting, [], start), run.Now());
        }
    }

    [Fact]
    public void A_servo_takes_as_long_from_end_to_end_as_its_motor_needs_at_the_volts_it_gets()
    {
        Simulator unit = ShippedSheets.Automatic;
        UnitRun run = new(unit, ShippedSheets.Set(unit, "mode=off"), []);
        run.Advance(30);
        int servo = unit.Model.VariableIndex("M3"), motor = unit.Model.Electric.Index().First(b => b.Item.Law == ElectricLaw.Motor && unit.Model.Parts[b.Item.Part].Id == "M3").Index;
        Assert.Equal(0, run.Variables[servo], 2);
        run.Set(ShippedSheets.Set(unit, "mode=screen"));
        run.Advance(2);
        double before = run.Variables[servo];
        run.Advance(4);
        double rate = (run.Variables[servo] - before) / 4;
        // Motor law of docs/physics.md solved here by bisection: v = i R + k w, i = i0 + ic w w.
        int p = unit.Model.Electric[motor].Parameter;
        double[] q = unit.Model.Parameters;
        double volts = Math.Abs(run.Volts(unit.Model.Electric[motor].A) - run.Volts(unit.Model.Electric[motor].B)), low = 0, high = 2;
        for (int i = 0; i < 60; i++)
        {
            double w = (low + high) / 2;
            if (((q[p + 2] + (q[p + 3] * w * w)) * q[p]) + (q[p + 1] * w) < volts) low = w;
            else high = w;
        }

        Assert.Equal(low / 12, rate, 4);
    }

    [Fact]
    public void A_sensor_follows_a_step_as_a_first_order_lag()
    {
        Simulator unit = ShippedSheets.Automatic;
        UnitRun run = new(unit, ShippedSheets.Set(unit, "mode=auto, cabin=20 degC"), []);
        int cabin = unit.Model.VariableIndex("cabin"), signal = Array.IndexOf(unit.Model.Module!.SignalNames, "cabin");
        run.Feel(cabin, 273.15 + 30);
        run.Advance(20);
        double lag = unit.Model.Parameters[unit.Model.Electric.First(b => b.Law == ElectricLaw.Thermistor && unit.Model.Parts[b.Part].Id == "RT1").Parameter + 4];
        // What the module makes of that temperature at rest: its own input loads the sensor a little. It looks five times a second, and nets follow in steps of 0.05 K.
        Assert.Equal(Seen(unit, "cabin", 30 - (10 * Math.Exp(-20 / lag)))[signal], run.Signals[signal], 0.12);
    }

    [Fact]
    public void An_input_with_a_slow_rise_creeps_up_and_drops_at_once()
    {
        Simulator unit = ShippedSheets.Automatic;
        UnitRun run = new(unit, ShippedSheets.Set(unit, "mode=auto, outside=20 degC"), []);
        int outside = unit.Model.VariableIndex("outside"), signal = Array.IndexOf(unit.Model.Module!.SignalNames, "outside");
        run.Feel(outside, 273.15 + 40);
        run.Advance(600);
        // First order lag of ten minutes after the sensor's own lag: the response of two lags in a row (closed form).
        double lag = 15, slow = 600, expected = 40 - (20 * ((slow * Math.Exp(-600 / slow)) - (lag * Math.Exp(-600 / lag))) / (slow - lag));
        Assert.Equal(Seen(unit, "outside", expected)[signal], run.Signals[signal], 0.12);
        run.Feel(outside, 273.15 + 10);
        run.Advance(150);
        Assert.Equal(Seen(unit, "outside", 10)[signal], run.Signals[signal], 0.12);
    }

    [Fact]
    public void A_blower_runs_up_as_a_first_order_lag()
    {
        Simulator unit = ShippedSheets.Manual;
        UnitRun run = new(unit, ShippedSheets.Set(unit, "mode=vent, fan=4"), []);
        int speed = unit.Model.MainVariable[unit.Model.PartIndex("M1")];
        run.Advance(1.4);
        double early = run.Variables[speed];
        run.Advance(60);
        // The first step has no length: it only closes contacts.
        Assert.Equal(1 - Math.Exp(-1.4 / 0.7), early / run.Variables[speed], 0.01);
    }

    [Fact]
    public void The_same_steps_give_the_same_run()
    {
        double[] Once()
        {
            UnitRun run = new(ShippedSheets.Automatic, ShippedSheets.Set(ShippedSheets.Automatic, "mode=auto, warmth=0.2"), []);
            run.Advance(37.3);
            return [.. run.Variables, .. run.AirFlow];
        }

        Assert.Equal(Once(), Once());
    }

    [Fact]
    public void A_flap_moves_later_when_its_hose_is_long_than_when_it_is_vented_at_once()
    {
        Simulator unit = ShippedSheets.Automatic;
        UnitRun run = new(unit, ShippedSheets.Set(unit, "mode=off"), []);
        run.Advance(20);
        int flap = unit.Model.VariableIndex("FL3");
        run.Set(ShippedSheets.Set(unit, "mode=screen"));
        run.Advance(0.1);
        double atOnce = run.Variables[flap];
        run.Advance(10);
        Assert.InRange(atOnce, 0, 0.9);
        Assert.Equal(1, run.Variables[flap], 6);
    }

    private static double[] Seen(Simulator unit, string condition, double celsius) =>
        unit.Settle(ShippedSheets.Set(unit, string.Create(System.Globalization.CultureInfo.InvariantCulture, $"mode=auto, {condition}={celsius} degC")), []).Signals;

    private static void Same(UnitModel model, Settled rest, Settled run)
    {
        Assert.Equal(rest.Verdict, run.Verdict);
        // A servo stops where the module last looked: within its dead band and one look's travel.
        const double servo = 0.02 + 0.02;
        for (int i = 0; i < model.Variables.Length; i++)
        {
            Variable v = model.Variables[i];
            double allowed = v.Law is VariableLaw.Servo or VariableLaw.Linkage ? servo : 0.005;
            Assert.True(Math.Abs(rest.Variables[i] - run.Variables[i]) <= allowed, $"{v.Name}: at rest {rest.Variables[i]}, in time {run.Variables[i]}");
        }

        for (int i = 0; i < model.Hoses.Length; i++) Assert.Equal(rest.DepressionPa[i], run.DepressionPa[i], 300.0);
        for (int i = 0; i < model.Air.Length; i++) Assert.Equal(rest.AirFlow[i], run.AirFlow[i], 0.004);
    }
}
