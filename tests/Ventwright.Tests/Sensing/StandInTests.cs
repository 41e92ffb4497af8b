using Ventwright.Bench.StandIns;
using Ventwright.Model.Build;
using Ventwright.Model.Kernel;
using Ventwright.Model.Sheet.Text;
using Ventwright.Simulation;

namespace Ventwright.Tests.Sensing;

public class StandInTests
{
    private static readonly Drawer E24 = Drawer.OfSeries(24);

    private static T Make<T>(string id, string value, StandInOptions? options = null, Drawer? drawer = null)
        where T : StandIn
    {
        StandIn? made = StandInSearch.TryMake(ShippedSheets.Automatic, id, value, drawer ?? E24, options ?? new(), out string? problem);
        Assert.True(made is not null, problem);
        return Assert.IsType<T>(made);
    }

    [Fact]
    public void A_sensors_resistance_is_that_of_its_curve_and_the_box_shows_it()
    {
        SensorStandIn made = Make<SensorStandIn>("RT1", "30C");
        Assert.Equal(10000 * Math.Exp(3950 * ((1 / 303.15) - (1 / 298.15))), made.Ohms, 1e-6);
        Assert.Equal(made.Ohms, made.Box.Sum(b => b.Position * b.StepOhms), 0.5);
        Assert.Equal(-303.15 * 303.15 / 3950 * 0.01, made.ForOnePercentK, 1e-4);
        Assert.All(made.Choices, c => Assert.InRange(c.WorstK.Cold, -5, c.ErrorK));
        Assert.True(Math.Abs(made.Choices[0].ErrorK) <= made.Choices.Min(c => Math.Abs(c.ErrorK)) + 0.005);
        Assert.Contains(made.Choices, c => c.Network.Parts.Count == 1);
    }

    /// <summary>Put into the model, the best resistors make the module read the temperature; what is left is the module's own input beside the sensor.</summary>
    [Fact]
    public void The_model_reads_the_temperature_through_the_resistors()
    {
        SensorStandIn made = Make<SensorStandIn>("RT1", "30C");
        Simulator unit = ShippedSheets.Automatic;
        double Reads(double ohms)
        {
            Setting setting = Setting.TryMake(unit.Model, [("stand-in RT1", FormattableString.Invariant($"{ohms:R} ohm"))], out _)!;
            return unit.Settle(setting, []).Signals[Array.IndexOf(unit.Model.Module!.SignalNames, "cabin")];
        }

        Assert.Equal(30, Reads(made.Choices[0].Network.Ohms), 0.25);
        Assert.Equal(made.Load.ModuleReadsKelvin - 273.15, Reads(made.Ohms), 1e-6);
        // 1 Mohm beside 8 kohm is 0.8 % less, which is 0.18 K warmer.
        Assert.Equal(0.18, made.Load.ModuleReadsKelvin - made.Kelvin, 0.03);
        // A meter in place sees the pull-up to the dead reference as well: less than the resistor alone.
        Assert.InRange(made.Load.OhmsInPlace, 0.3 * made.Ohms, 0.99 * made.Ohms);
    }

    /// <summary>Component sheets: 5 V through 10 kohm into 10 kohm is 0.625 mW, 0.42 K at 1.5 mW/K and 0.16 K at 4 mW/K.</summary>
    [Fact]
    public void Self_heating_is_power_over_dissipation()
    {
        double Warmer(double dissipation) => Make<SensorStandIn>("RT1", "25C", new(dissipation)).Load.SelfHeatingK;
        Assert.Equal(0.42, Warmer(1.5e-3), 0.01);
        Assert.Equal(0.16, Warmer(4e-3), 0.01);
        SensorStandIn counted = Make<SensorStandIn>("RT1", "25C", new(1.5e-3, CountSelfHeating: true));
        Assert.Equal(25 + counted.Load.SelfHeatingK, counted.Sensor.Curve.Kelvin(counted.Ohms) - 273.15, 1e-6);
    }

    [Fact]
    public void An_own_drawer_is_not_used_up_beyond_its_counts()
    {
        Drawer? own = Drawer.TryParse("drawer.csv", "value, tolerance, count\n10 kohm, 1 %, 1\n47 kohm,,2\n100 ohm, 5 %\n", out string? problem);
        Assert.True(own is not null, problem);
        Assert.Equal([1, 2, int.MaxValue], own.Resistors.Select(r => r.Count));
        SensorStandIn made = Make<SensorStandIn>("RT1", "25C", new(Choices: 20), own);
        Assert.Equal(10000, made.Choices[0].Network.Ohms);
        Assert.DoesNotContain(made.Choices, c => c.Network.Values.Count(v => v == 10e3) > 1);
    }

    [Theory]
    [InlineData("10 kV, 5 %", "drawer:1")]
    [InlineData("10 kohm, 5 %, none", "count")]
    [InlineData("0 ohm", "more than 0")]
    [InlineData("", "lists no resistor")]
    public void A_drawer_that_cannot_be_read_says_where(string text, string says)
    {
        Assert.Null(Drawer.TryParse("drawer", text, out string? problem));
        Assert.Contains(says, problem, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("E7", "no series")]
    [InlineData("E24@0ohm..10kohm", "decades")]
    [InlineData("no-such-file", "no such file")]
    public void A_series_that_does_not_exist_is_refused(string text, string says)
    {
        Assert.Null(Drawer.TryRead(text, out string? problem));
        Assert.Contains(says, problem, StringComparison.Ordinal);
    }

    [Fact]
    public void Two_resistors_make_a_position_that_the_module_reads()
    {
        PositionStandIn made = Make<PositionStandIn>("M3", "0.4");
        Assert.Equal((2000, 3000), (Math.Round(made.LowerOhms), Math.Round(made.UpperOhms)));
        // 1 Mohm of the module's input on 1.2 kohm of source: about a thousandth low.
        Assert.All(made.Choices, c => Assert.InRange(c.Reads, 0.3975, 0.4));
    }

    [Theory]
    [InlineData("1 bar", false)]
    [InlineData("5 bar", true)]
    [InlineData("closed", true)]
    [InlineData("open", false)]
    public void A_switch_is_open_or_closed_as_its_thresholds_say(string value, bool closed) => Assert.Equal(closed, Make<SwitchStandIn>("PS1", value).Closed);

    /// <summary>The sheet's actuators start at 10 kPa and are through at 30 kPa: half way is 20 kPa, 5.91 inHg.</summary>
    [Fact]
    public void Vacuum_for_a_position_is_between_start_and_full()
    {
        VacuumStandIn made = Make<VacuumStandIn>("A1", "0.5");
        HoseDepression hose = Assert.Single(made.Hoses);
        Assert.Equal(("act.recirc-left", 20e3), (hose.Hose, hose.Pascal));
        Assert.Contains(made.Steps, s => s.Contains("5.91 inHg", StringComparison.Ordinal));
        Assert.Equal(0, Make<VacuumStandIn>("A1", "released").Hoses[0].Pascal);
    }

    /// <summary>A two-stage actuator gives half its travel by the first hose alone: three quarters are all of the first and half of the second.</summary>
    [Fact]
    public void A_two_stage_actuator_gets_its_second_hose_after_the_first()
    {
        var problems = new ProblemList();
        UnitModel? model = SheetFile.Read("two.yaml", """
            sheet: 1
            unit: Two stages
            supply: { volts: 12 V }
            spare: [vac.one, vac.two]
            parts:
              P1: { vacuum-source: vac.one }
              R1: { resistor: 1 kohm, from: battery, to: gnd }
              A2: { vacuum-actuator: [vac.one, vac.two], starts: 10 kPa, full: 30 kPa, moves: FL2 }
              FL2: { flap: [shut, open] }
            """, problems);
        Assert.True(model is not null, string.Join('\n', problems.Sorted));
        double[] Pascals(string value) => [.. Assert.IsType<VacuumStandIn>(StandInSearch.TryMake(new(model), "A2", value, E24, new(), out _)).Hoses.Select(h => h.Pascal)];
        Assert.Equal([30e3, 20e3], Pascals("0.75"));
        Assert.Equal([20e3, 0], Pascals("0.25"));
        Assert.Equal([30e3, 30e3], Pascals("1"));
    }

    [Theory]
    [InlineData("RT1", "12V", "expected")]
    [InlineData("RT1", "900C", "outside")]
    [InlineData("M3", "1.4", "no position")]
    [InlineData("K1", "on", "nothing can stand in")]
    [InlineData("PS1", "perhaps", "open, closed")]
    [InlineData("A1", "-3 kPa", "not negative")]
    [InlineData("RT11", "3C", "did you mean")]
    public void What_cannot_be_stood_in_for_is_refused(string id, string value, string says)
    {
        Assert.Null(StandInSearch.TryMake(ShippedSheets.Automatic, id, value, E24, new(), out string? problem));
        Assert.Contains(says, problem, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_part_that_is_listed_has_a_stand_in()
    {
        UnitModel model = ShippedSheets.Automatic.Model;
        foreach (string id in StandInSearch.All(model))
        {
            string value = model.Parts[model.PartIndex(id)].Kind switch { "thermistor" => "10 degC", "pressure-switch" or "thermostatic-switch" => "closed", "vacuum-source" => "on", _ => "0.5" };
            StandIn? made = StandInSearch.TryMake(ShippedSheets.Automatic, id, value, E24, new(), out string? problem);
            Assert.True(made is { Cautions.Count: > 0, Steps.Count: > 0 }, problem);
        }
    }
}
