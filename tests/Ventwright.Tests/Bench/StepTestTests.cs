using Ventwright.Bench;
using Ventwright.Bench.StepTest;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Tests.Bench;

/// <summary>The step test of automatic mode, worked out for the shipped automatic unit.</summary>
public sealed class StepTestTests
{
    private static readonly Simulator Unit = ShippedSheets.Automatic;
    private static readonly Lazy<IReadOnlyList<Threshold>> Found = new(() => new ThresholdFinder(Unit, StepAxis.Of(Unit.Model)).Find());
    private static readonly Lazy<AutomaticTest> Made = new(() => AutomaticTest.Make(Unit, new SheetPredictor(Unit))!);

    /// <summary>
    /// The sheet's own rules: clutch in above 4 degC and out below 1 at the evaporator, coolant warm above 40. The module sees a sensor through its input of 1
    /// Mohm beside it, so it reads a thermistor of 30 kohm some 0.6 K warm, one of 1.2 kohm not at all.
    /// </summary>
    [Theory]
    [InlineData("mod.26", "stand-in RT3", true, 3.4)]
    [InlineData("mod.26", "stand-in RT3", false, 0.4)]
    [InlineData("mod.29", "stand-in RT4", true, 40)]
    [InlineData("mod.29", "stand-in RT4", false, 40)]
    public void Thresholds_lie_where_the_rules_have_them(string output, string axis, bool rising, double celsius)
    {
        Threshold[] found = [.. Found.Value.Where(t => Unit.Model.Module!.Outputs[t.Output].Name == output && t.Axis.Word == axis && t.Rising == rising)];
        Assert.Contains(found, t => Math.Abs(((t.Before + t.After) / 2) - 273.15 - celsius) < 0.25);
    }

    /// <summary>The part at the end of the wire, as the sheet's own wiring has it: a coil through two plugs, a transistor stage by its control, a relay, a servo.</summary>
    [Theory]
    [InlineData("mod.21", "Y1")]
    [InlineData("mod.26", "K3")]
    [InlineData("mod.27", "TR1")]
    [InlineData("mod.29", "K1")]
    public void A_step_names_what_an_output_works(string output, string part)
    {
        ModuleOutput found = Unit.Model.Module!.Outputs.Single(o => o.Name == output);
        Assert.Equal($"{Unit.Model.Parts[Unit.Model.PartIndex(part)].Name} at {output}", OutputLoad.Name(Unit.Model, found));
    }

    [Fact]
    public void Recirculation_has_hysteresis_and_its_width_is_that_of_the_rule()
    {
        double At(bool rising) => Found.Value.Where(t => Unit.Model.Module!.Outputs[t.Output].Name == "mod.21" && t.Axis.Word == "stand-in RT1" && t.Rising == rising && t.Panel.Contains(("mode", "auto")) && t.Panel.Contains(("warmth", "0.5"))).Select(t => t.After).First();
        // Demand falls 10 for each kelvin: from -80 to -65 is 1.5 K.
        Assert.Equal(1.5, At(true) - At(false), 0.3);
    }

    [Fact]
    public void The_way_to_a_setting_decides_what_has_hysteresis()
    {
        Setting fromCold = ShippedSheets.Set(Unit, "mode=auto, stand-in RT1=5000 ohm, stand-in RT3=29000 ohm, after stand-in RT3=45000 ohm");
        Setting fromWarm = ShippedSheets.Set(Unit, "mode=auto, stand-in RT1=5000 ohm, stand-in RT3=29000 ohm, after stand-in RT3=15000 ohm");
        Assert.Equal(0, Unit.Settle(fromCold, []).Variable(Unit.Model, "K3"));
        Assert.Equal(1, Unit.Settle(fromWarm, []).Variable(Unit.Model, "K3"));
        Assert.NotEqual(fromCold.Key, fromWarm.Key);
    }

    [Fact]
    public void Few_steps_show_nearly_all_that_can_be_wrong_with_module_and_feedback()
    {
        AutomaticTest test = Made.Value;
        Assert.InRange(test.Steps.Count, 5, 25);
        Assert.InRange(test.ShownShare, 0.85, 1);
        // Every fault of the module itself that is not shown must be one that no step shows.
        Assert.DoesNotContain(test.NotShown, f => f.Name is "dead" or "stuck-on" or "reference-low");
    }

    /// <summary>Each kind of fault that the person must be able to tell apart has another set of answers in the steps.</summary>
    [Theory]
    [InlineData("mod.5:dead", "RT1:open")]
    [InlineData("mod.5:reads-wrong", "RT1:drifted@reads-8K-warm")]
    [InlineData("mod.21:dead", "mod.5:dead")]
    [InlineData("module:reference-low", "RT1:drifted@reads-8K-warm")]
    [InlineData("M3:feedback-high-end-open", "mod.11:reads-wrong")]
    [InlineData("mod.29:dead", "mod.30:dead")]
    public void Module_sensor_output_and_reference_are_told_apart(string one, string other)
    {
        int[] Answers(string id)
        {
            Fault fault = Unit.Model.FindFault(id)!;
            return [.. Made.Value.Steps.SelectMany(s => Told(s, [fault]))];
        }

        Assert.NotEqual(Answers(one), Answers(other));
    }

    [Fact]
    public void Each_look_says_when_it_must_be_there_and_a_servo_needs_longer_than_a_relay()
    {
        StepLook[] looks = [.. Made.Value.Steps.Where(s => s.Setting.State != PointState.Dead && !s.Restart).SelectMany(s => s.Looks)];
        Assert.All(looks, l => Assert.InRange(l.WithinS, 1, 120));
        Assert.Contains(looks, l => l.WithinS > 2);
    }

    [Fact]
    public void A_unit_without_a_module_has_no_step_test() => Assert.Null(AutomaticTest.Make(ShippedSheets.Manual, new SheetPredictor(ShippedSheets.Manual)));

    /// <summary>What a person would note at a step: the word, or how many half-widths of the sound unit's band the number lies off its middle.</summary>
    private static IEnumerable<int> Told(TestStep step, IReadOnlyList<Fault> faults)
    {
        Settled rest = Unit.Settle(step.Setting, faults);
        foreach (StepLook look in step.Looks)
        {
            Shown shown = Readings.Read(Unit, step.Setting, faults, rest, look.What);
            yield return shown.Word is { } word ? look.Band.Words.ToList().IndexOf(word) : shown.Unsteady ? 99
                : (int)Math.Clamp(Math.Round((shown.Value - look.Band.Nominal.Value) / Math.Max((look.Band.High - look.Band.Low) / 2, 0.1)), -20, 20);
        }
    }
}
