using System.Globalization;
using Ventwright.Bench.Car;
using Ventwright.Model.Kernel;
using Ventwright.Model.Sheet.Text;
using Ventwright.Quantities;
using Ventwright.Rig.Definition;
using Ventwright.Rig.Running;
using Ventwright.Simulation;
using Ventwright.Simulation.Time;
using Ventwright.Workshop;
using Ventwright.Workshop.Automatic;
using Ventwright.Workshop.Rigs;

namespace Ventwright.Tests.Workshop;

/// <summary>Runs of a rig against a sound unit: nothing is said of a sound one, and of a bad one what is bad comes first. Figures come from the model itself; no outside source.</summary>
public sealed class RunAgainstSoundTests
{
    private const double Round = 0.5;
    private static readonly Simulator Unit = ShippedSheets.Automatic;
    private static readonly RigDefinition Rig = Define();

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task A_sound_unit_goes_as_a_sound_unit(bool isAtRest)
    {
        DrivePair pair = await RunAsync(isAtRest, 420);
        Assert.Empty(pair.Deviations);
        Assert.Equal("It goes as with a sound unit.", DriveWords.Verdict(pair));
        Assert.Equal(pair.Sound.Seconds.Select(s => Math.Round(s, 6)), pair.Suspect!.Seconds.Select(s => Math.Round(s, 6)));
        double Cabin(DriveRecord drive) => drive.Find(SeriesGroup.Temperatures, "cabin")!.Values[^1];
        Assert.Equal(Cabin(pair.Sound), Cabin(pair.Suspect), 1.5);
        Assert.True(Cabin(pair.Sound) < 318, "the car was not driven");
    }

    [Theory]
    [InlineData(true, "F5:blown", "CL1")]
    [InlineData(false, "F5:blown", "CL1")]
    [InlineData(true, "M3:stripped@middle", "M3")]
    [InlineData(false, "M3:stripped@middle", "M3")]
    public async Task Of_a_bad_unit_what_is_bad_comes_first(bool isAtRest, string fault, string part)
    {
        DrivePair pair = await RunAsync(isAtRest, 120, fault);
        Deviation first = pair.Deviations[0];
        Assert.Equal(part, first.Series.Id);
        Assert.True(first.Seconds < 60, $"seen at {first.Seconds} s");
        string words = DriveWords.Of(first, UnitSystem.Metric);
        Assert.StartsWith(first.Series.Name, words, StringComparison.Ordinal);
        Assert.Contains("of car time", words, StringComparison.Ordinal);
    }

    /// <summary>Units that are not nominal, but within their tolerances, are sound as well; drawn from other numbers than those that the verdict knows.</summary>
    [Fact]
    public async Task Units_within_their_tolerances_go_as_sound_units()
    {
        var random = new Random(7);
        int blamed = 0;
        for (int u = 0; u < 12; u++)
        {
            DrivePair pair = await RunAsync(new(ToleranceSample.Drawn(Unit.Model, random)), isAtRest: false, seconds: 300);
            if (pair.Deviations.Count > 0) blamed++;
        }

        Assert.InRange(blamed, 0, 1);
    }

    /// <summary>A corroded pin shows in a run: the blower gets less than with any sound unit within tolerance.</summary>
    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task A_blower_that_is_a_little_slow_is_seen(bool isAtRest)
    {
        DrivePair pair = await RunAsync(isAtRest, 300, "X1:pin-1-corroded");
        Assert.Contains(pair.Deviations, d => d.Series.Id == "M1");
    }

    [Fact]
    public async Task While_the_run_is_paused_and_where_cells_are_no_numbers_nothing_goes_on()
    {
        var against = new RunAgainstSound(Unit, Order(true), () => ["seconds", "car time [s]", "volts(mod.11) [V]"]);
        Assert.Null(against.Pair);
        foreach (string[] row in (string[][])[["0", "0", "0.02"], ["1", "0", "99"], ["2", "", "x"], ["3", "NaN", "OL"], ["4", "5", ""], ["5"], ["6", "0.5", "0.02"], ["7", "10", "0.02"]]) against.Take(row);
        DrivePair pair = (await against.FinishAsync())!;
        Assert.Equal([0, 5, 10], pair.Suspect!.Seconds);
    }

    [Fact]
    public async Task A_run_whose_scenario_cannot_be_read_any_more_is_refused_in_words()
    {
        var against = new RunAgainstSound(Unit, Order(true) with { World = new("gone") }, () => ["car time [s]", "volts(mod.11) [V]"]);
        against.Take(["0", "1"]);
        Assert.Contains("gone", (await Assert.ThrowsAsync<RefusedException>(against.FinishAsync)).Message, StringComparison.Ordinal);
        Assert.Null(against.Pair);
    }

    /// <summary>A run without a clock: a unit, at rest at once or in time, behind the simulated rig's channels.</summary>
    private static Task<DrivePair> RunAsync(bool isAtRest, double seconds, params string[] faults) => RunAsync(Unit, isAtRest, seconds, faults);

    private static async Task<DrivePair> RunAsync(Simulator real, bool isAtRest, double seconds, params string[] faults)
    {
        RunDrive drive = Order(isAtRest);
        CarSurroundings car = drive.Surroundings(Rig, Unit.Model);
        Fault[] bad = [.. faults.Select(f => Unit.Model.FindFault(f)!)];
        Observable[] checks = [.. Rig.Inputs.Select(i => i.Wired.Check!.Value)];
        var against = new RunAgainstSound(Unit, drive, () => ["car time [s]", .. checks.Select(c => $"{c} [{(c.Kind == ObservableKind.Vacuum ? "kPa" : "V")}]")]);
        Setting stands = Under(new Dictionary<string, double>());
        UnitRun? run = isAtRest ? null : new(real, stands, bad);
        Settled? now = null;
        for (int i = 0; i * Round <= seconds; i++)
        {
            run?.Advance(i == 0 ? 0 : Round);
            now = run?.Now() ?? real.Settle(stands, bad, now);
            double[] values = [.. checks.Select(c => Readings.Read(real, stands, bad, now, c).Value)];
            SurroundingsStep step = car.Step(checks.Zip(values).ToDictionary(c => c.First.ToString(), c => c.Second, StringComparer.Ordinal), i == 0 ? 0 : Round);
            against.Take([(i * Round).ToString(CultureInfo.InvariantCulture), .. checks.Zip(values).Select(c => (c.First.Kind == ObservableKind.Vacuum ? c.Second / 1000 : c.Second).ToString("G7", CultureInfo.InvariantCulture))]);
            stands = Under(step.Wanted);
            run?.Set(stands);
        }

        return (await against.FinishAsync())!;
    }

    private static Setting Under(IReadOnlyDictionary<string, double> wanted) =>
        Setting.TryMake(Unit.Model, [("mode", "auto"), ("warmth", "0.5"), .. wanted.Select(w => ($"stand-in {w.Key}", FormattableString.Invariant($"{w.Value:0.###} ohm")))], out _)!;

    private static RunDrive Order(bool isAtRest) => RunDrive.Of(Rig, Unit.Model, new("pull-down"), [], isAtRest);

    private static RigDefinition Define() => RigFile.Read("simulated.yaml", SimulatedRig.TextFor(Unit), Unit.Model, new ProblemList())!;
}
