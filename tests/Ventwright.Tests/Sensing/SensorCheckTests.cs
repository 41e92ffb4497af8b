using Ventwright.Bench.Sensors;
using Ventwright.Model.Kernel;
using Ventwright.Quantities;
using Ventwright.Simulation;

namespace Ventwright.Tests.Sensing;

public class SensorCheckTests
{
    private static readonly OhmmeterAccuracy Good = new(0.001, 0.5);

    private static SensorPart Sensor(string id) => SensorPart.TryFind(ShippedSheets.Automatic.Model, id, out _)!;

    /// <summary>Readings of a sensor that reads some kelvins warm everywhere, at temperatures in degC known to a tenth of a kelvin or as told.</summary>
    private static SensorReading[] ReadsWarm(string id, double kelvins, double thermometer, params double[] celsius) =>
        [.. celsius.Select(c => new SensorReading(Bath.At(c + 273.15, thermometer), Sensor(id).Curve.Ohms(c + 273.15 + kelvins)))];

    private static SensorCheck Check(string id, SensorReading[] readings, (double, double)? range = null)
    {
        SensorCheck? check = SensorCheck.TryMake(ShippedSheets.Automatic, id, readings, Good, range, [], out string? problem);
        Assert.True(check is not null, problem);
        return check;
    }

    [Fact]
    public void A_sound_sensor_is_good_and_changes_nothing()
    {
        SensorCheck check = Check("RT1", ReadsWarm("RT1", 0, 0.1, 0, 12, 25, 37, 50));
        Assert.Equal(SensorVerdict.Good, check.Verdict);
        Assert.Empty(check.Consequences);
        Assert.True(check.FitHolds);
    }

    [Fact]
    public void A_sensor_three_kelvins_warm_is_out_of_tolerance_by_three_kelvins()
    {
        SensorCheck check = Check("RT1", ReadsWarm("RT1", 3, 0.2, 0, 12, 25, 37, 50));
        Assert.Equal(SensorVerdict.OutOfTolerance, check.Verdict);
        Assert.All(check.Over, a => Assert.Equal(3, a.ReadsWarmK, 0.1));
        Assert.Contains("warm", check.Say(UnitSystem.Metric), StringComparison.Ordinal);
    }

    [Fact]
    public void A_poor_thermometer_cannot_tell_what_a_good_one_can()
    {
        Assert.Equal(SensorVerdict.CannotTell, Check("RT1", ReadsWarm("RT1", 0.3, 1.5, 0, 12, 25, 37, 50)).Verdict);
        Assert.Equal(SensorVerdict.Good, Check("RT1", ReadsWarm("RT1", 0.3, 0.1, 0, 12, 25, 37, 50)).Verdict);
    }

    /// <summary>The uncertainty is honest: of many sound sensors read with random errors of the stated size, nineteen in twenty deviations lie within it, and hardly a sensor is called bad.</summary>
    [Fact]
    public void Stated_uncertainty_holds_for_random_errors()
    {
        var random = new Random(3);
        double[] celsius = [0, 20, 45];
        int inside = 0, bad = 0;
        const int trials = 60;
        for (int i = 0; i < trials; i++)
        {
            double shift = Even(0.5), gain = 1 + Even(0.001);
            SensorReading[] readings = [.. celsius.Select(c => new SensorReading(
                c == 0 ? Bath.Ice : Bath.At(c + 273.15, 0.5), Sensor("RT4").Curve.Ohms(c + 273.15 + Even(0.2) + (c == 0 ? 0 : shift)) * gain))];
            SensorCheck? check = SensorCheck.TryMake(ShippedSheets.Automatic, "RT4", readings, Good, (273.15, 318.15), [("mode", "off")], out string? problem);
            Assert.True(check is not null, problem);
            inside += check.Over.Count(a => Math.Abs(a.ReadsWarmK) <= a.UncertaintyK);
            if (check.Verdict == SensorVerdict.OutOfTolerance) bad++;
        }

        Assert.InRange(inside / (21.0 * trials), 0.93, 1);
        Assert.Equal(0, bad);
        double Even(double half) => half * ((2 * random.NextDouble()) - 1);
    }

    [Fact]
    public void A_reading_before_rest_is_found_out()
    {
        SensorReading[] readings = ReadsWarm("RT1", 0, 0.1, 0, 10, 20, 30, 50);
        readings[3] = readings[3] with { Ohms = Sensor("RT1").Curve.Ohms(296.15) };
        SensorCheck check = Check("RT1", readings);
        Assert.False(check.FitHolds);
        Assert.Contains(check.Notes(UnitSystem.Metric), n => n.Contains("30.0 degC", StringComparison.Ordinal));
    }

    /// <summary>The sheet's rule is demand = 10 (want - cabin) + (want - outside): a cabin sensor 2 K warm costs 2 K of cabin, an outside sensor 5 K warm half a kelvin.</summary>
    [Theory]
    [InlineData("RT1", 2, -2)]
    [InlineData("RT1", -3, 3)]
    [InlineData("RT2", 5, -0.5)]
    public void Regulation_moves_by_what_the_rule_of_the_sheet_says(string id, double warm, double shift)
    {
        SensorConsequence regulation = Check(id, ReadsWarm(id, warm, 0.1, 0, 12, 25, 37, 50)).Consequences.Single(c => c.Kind == ConsequenceKind.Regulation);
        Assert.Equal("cabin", regulation.Condition);
        Assert.Equal(shift, regulation.ShiftK, 0.05);
    }

    /// <summary>Put back into the model: with the sheet's own drift fault the servo stands at the found cabin temperature where it stands at the usual one with a sound sensor.</summary>
    [Fact]
    public void The_found_cabin_temperature_does_the_same_on_the_faulty_unit()
    {
        SensorConsequence found = Check("RT1", ReadsWarm("RT1", 4, 0.1, 0, 12, 25, 37, 50)).Consequences.Single(c => c.Kind == ConsequenceKind.Regulation);
        Fault drifted = ShippedSheets.Automatic.Model.FindFault("RT1:drifted@reads-4K-warm")!;
        Assert.Equal(Seen([], found.SoundKelvin), Seen([drifted], found.ActualKelvin), 0.01);
        Assert.True(Math.Abs(Seen([], found.SoundKelvin) - Seen([drifted], found.SoundKelvin)) > 0.1);

        double Seen(Fault[] faults, double kelvin)
        {
            Simulator unit = ShippedSheets.Automatic;
            Setting setting = Setting.TryMake(unit.Model, [.. found.Set, ControlPoint.Word("cabin", kelvin)], out _)!;
            return unit.Settle(setting, faults).Signals[Array.IndexOf(unit.Model.Module!.SignalNames, "blend")];
        }
    }

    /// <summary>The clutch is let go below 1 degC as the module reads it; the evaporator sensor reads 2 K warm, so that it goes 2 K lower.</summary>
    [Fact]
    public void The_clutch_cuts_out_as_much_colder_as_the_evaporator_sensor_reads_warm()
    {
        SensorConsequence[] clutch = [.. Check("RT3", ReadsWarm("RT3", 2, 0.1, -8, 0, 10, 25, 40)).Consequences.Where(c => c.Part == "CL1")];
        SensorConsequence off = clutch.Single(c => !c.SwitchesOn);
        Assert.Equal(-2, off.ShiftK, 0.15);
        Assert.False(off.Rising);
        Assert.InRange(off.SoundKelvin - 273.15, 0, 1.1);
    }

    [Theory]
    [InlineData("RT9", "no part")]
    [InlineData("K1", "not a thermistor")]
    public void Other_parts_are_refused(string id, string says)
    {
        Assert.Null(SensorCheck.TryMake(ShippedSheets.Automatic, id, ReadsWarm("RT1", 0, 0.1, 0, 30), Good, null, [], out string? problem));
        Assert.Contains(says, problem, StringComparison.Ordinal);
    }

    [Fact]
    public void Readings_that_make_no_curve_are_refused()
    {
        Simulator unit = ShippedSheets.Automatic;
        Assert.Null(SensorCheck.TryMake(unit, "RT1", ReadsWarm("RT1", 0, 0.1, 20, 22), Good, null, [], out string? near));
        Assert.Contains("5 K apart", near, StringComparison.Ordinal);
        Assert.Null(SensorCheck.TryMake(unit, "RT1", [new(Bath.Ice, 10e3), new(Bath.At(298.15, 0.5), 32e3)], Good, null, [], out string? backward));
        Assert.Contains("does not fall", backward, StringComparison.Ordinal);
        Assert.Null(SensorCheck.TryMake(unit, "RT1", [new(Bath.Ice, 0), new(Bath.At(298.15, 0.5), 10e3)], Good, null, [], out string? zero));
        Assert.Contains("above 0 ohm", zero, StringComparison.Ordinal);
    }
}
