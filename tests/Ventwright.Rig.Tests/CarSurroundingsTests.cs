using Ventwright.Bench.Car;
using Ventwright.Model.Build;
using Ventwright.Model.Kernel;
using Ventwright.Model.Sheet.Text;
using Ventwright.Rig.Definition;
using Ventwright.Rig.Running;
using Ventwright.Simulation;

namespace Ventwright.Rig.Tests;

/// <summary>The bench car closed round a unit through a rig's channels, without waiting for the clock.</summary>
public sealed class CarSurroundingsTests
{
    private const string Rig = """
        rig: 1
        name: Car round the unit
        devices:
          any: { kind: virtual }
        outputs:
          cabin:      { device: any, gives: resistance, wired-to: RT1, limits: 300 ohm .. 200 kohm, safe: 11 kohm }
          outside:    { device: any, gives: resistance, wired-to: RT2, limits: 300 ohm .. 200 kohm, safe: 11 kohm }
          evaporator: { device: any, gives: resistance, wired-to: RT3, limits: 300 ohm .. 200 kohm, safe: 11 kohm }
          coolant:    { device: any, gives: resistance, wired-to: RT4, limits: 100 ohm .. 20 kohm, safe: 2 kohm }
        inputs:
          upper: { device: any, reads: voltage, wired-to: mod.11 }
          lower: { device: any, reads: voltage, wired-to: mod.12 }
          left:  { device: any, reads: voltage, wired-to: left.plus }
          right: { device: any, reads: voltage, wired-to: right.plus }
          clutch: { device: any, reads: current, wired-to: CL1 }
        """;

    private static readonly Simulator Unit = new(Load());

    [Fact]
    public void A_sound_unit_pulls_the_cabin_down_as_in_the_drive()
    {
        double cabin = Close([], 900);
        DriveRecord drive = Drive.Run(Unit, Scenario(), ScenarioFile.LoadCar(null, new())!, new() { Seconds = 900 }, out _, null, TestContext.Current.CancellationToken)!;
        Assert.Equal(drive.Find(SeriesGroup.Temperatures, "cabin")!.Values[^1], cabin, 1.5);
    }

    /// <summary>A clutch that never gets its current cools nothing, though nobody told the car of the fault.</summary>
    [Fact]
    public void A_clutch_without_current_leaves_the_cabin_hot()
    {
        double sound = Close([], 600), without = Close([Unit.Model.FindFault("F5:blown")!], 600);
        Assert.True(without > sound + 8, $"{without - 273.15} and {sound - 273.15} degC");
    }

    [Fact]
    public void A_rig_that_stands_in_for_nothing_is_refused()
    {
        RigDefinition rig = Define(Rig.Replace("RT1", "mod.3", StringComparison.Ordinal).Split("outputs:")[0] + "inputs:" + Rig.Split("inputs:")[1]);
        RigException e = Assert.Throws<RigException>(() => CarSurroundings.Of(rig, Unit.Model, Scenario(), ScenarioFile.LoadCar(null, new())!, []));
        Assert.Contains("in place of a sensor", e.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_rig_that_measures_nothing_the_car_needs_is_told_what_would_do()
    {
        RigException e = Assert.Throws<RigException>(() => CarSurroundings.Of(Define(Rig.Split("inputs:")[0]), Unit.Model, Scenario(), ScenarioFile.LoadCar(null, new())!, []));
        Assert.Contains("volts(mod.11)", e.Message, StringComparison.Ordinal);
    }

    /// <summary>Five rounds a second: the unit is simulated at rest under the resistances, and measured.</summary>
    private static double Close(Fault[] faults, double seconds)
    {
        RigDefinition rig = Define(Rig);
        CarSurroundings car = CarSurroundings.Of(rig, Unit.Model, Scenario(), ScenarioFile.LoadCar(null, new())!, []);
        Observable[] checks = [.. rig.Inputs.Select(i => i.Wired.Check!.Value)];
        Settled? before = null;
        SurroundingsStep step = car.Step(new Dictionary<string, double>(), 0);
        for (double t = 0; t < seconds; t += 0.2)
        {
            Setting setting = Setting.TryMake(Unit.Model, [("mode", "auto"), ("warmth", "0.5"), .. step.Wanted.Select(w => ($"stand-in {w.Key}", FormattableString.Invariant($"{w.Value:0.###} ohm")))], out string? problem)!;
            Assert.True(setting is not null, problem);
            before = Unit.Settle(setting, faults, before);
            step = car.Step(checks.ToDictionary(c => c.ToString(), c => Readings.Read(Unit, setting, faults, before, c).Value), 0.2);
        }

        return step.Shows.Single(s => s.Name == "cabin air").Value;
    }

    private static Scenario Scenario() => ScenarioFile.Load("pull-down", new ProblemList())!;

    private static RigDefinition Define(string text)
    {
        var problems = new ProblemList();
        RigDefinition? rig = RigFile.Read("car.yaml", text, Unit.Model, problems);
        Assert.True(rig is not null, string.Join('\n', problems.Sorted));
        return rig;
    }

    private static UnitModel Load()
    {
        string? folder = AppContext.BaseDirectory;
        while (folder is not null && !File.Exists(Path.Combine(folder, "Ventwright.slnx"))) folder = Path.GetDirectoryName(folder);
        return SheetFile.Load(Path.Combine(folder!, "sheets", "twin-blower-automatic.yaml"), new ProblemList())!;
    }
}
