using Ventwright.Bench.Car;
using Ventwright.Model.Sheet.Text;
using Ventwright.Physics.Car;
using Ventwright.Simulation;

namespace Ventwright.Tests.Bench.Car;

/// <summary>Drives of the shipped automatic unit. What it must do in a car is common practice, no source.</summary>
public sealed class DriveTests
{
    private static readonly Lazy<DriveRecord> PullDown = new(() => Go("pull-down"));

    [Fact]
    public void Far_above_the_set_point_it_blows_at_full_speed_cold_and_recirculated()
    {
        DriveRecord drive = PullDown.Value;
        Assert.All((string[])["FL1", "FL2", "FL5"], id => Assert.Equal(1, At(drive, SeriesGroup.Positions, id, 120), 0.01));
        Assert.All((string[])["M3", "M4"], id => Assert.InRange(At(drive, SeriesGroup.Positions, id, 40), 0, 0.02));
        Assert.InRange(At(drive, SeriesGroup.Blowers, "M1", 120), 0.95, 1.1);
        Assert.Equal(1, At(drive, SeriesGroup.Positions, "WV1", 120), 0.01);
    }

    [Fact]
    public void The_cabin_is_pulled_down_and_the_balance_closes()
    {
        DriveRecord drive = PullDown.Value;
        Assert.True(drive.Sound);
        Assert.InRange(drive.WorstImbalanceW, 0, 1e-5);
        Assert.InRange(At(drive, SeriesGroup.Temperatures, "cabin", 600) - 273.15, 20, 30);
        Assert.Contains("refrigerant", drive.Unmoved);
    }

    [Fact]
    public void The_clutch_is_cut_out_before_the_evaporator_freezes_and_comes_in_again()
    {
        DriveRecord drive = PullDown.Value;
        double[] clutch = drive.Find(SeriesGroup.Contacts, "CL1")!.Values, felt = drive.Find(SeriesGroup.Signals, "evaporator")!.Values;
        Assert.Contains(0.0, clutch.Skip(60));
        Assert.True(clutch.Zip(clutch.Skip(1)).Count(p => p.First < 0.5 && p.Second > 0.5) >= 3);
        // Out below 1 degC on the sheet; a look and a second of the record are between.
        for (int i = 60; i < clutch.Length; i++) Assert.False(clutch[i] > 0.5 && felt[i] < 0.5, $"the clutch is in at {felt[i]} degC, {i} s");
    }

    [Fact]
    public void Heat_is_asked_for_but_the_blowers_wait_for_warm_coolant()
    {
        DriveRecord drive = Go("cold-morning");
        double[] coolant = drive.Find(SeriesGroup.Temperatures, "coolant")!.Values, blower = drive.Find(SeriesGroup.Blowers, "M1")!.Values;
        int warm = Array.FindIndex(coolant, c => c > 273.15 + 40);
        Assert.InRange(warm, 60, 1200);
        Assert.All(blower.Take(warm - 5), s => Assert.InRange(s, 0, 0.01));
        Assert.InRange(blower[warm + 60], 0.5, 1.1);
    }

    [Fact]
    public void On_a_mild_day_the_cabin_is_held_by_mixing()
    {
        DriveRecord drive = Go("mild-day");
        Assert.All(drive.Find(SeriesGroup.Positions, "M3")!.Values.Skip(300), p => Assert.InRange(p, 0.05, 0.95));
        Assert.InRange(drive.Comfort.Swing, 0, 2);
    }

    [Theory]
    [InlineData("RT1:drifted@reads-8K-warm", -1)]
    [InlineData("RT1:drifted@reads-8K-cold", 1)]
    public void A_sensor_that_reads_wrong_moves_the_cabin_the_other_way(string fault, int way)
    {
        DriveRecord sound = Go("mild-day"), drive = Go("mild-day", fault);
        Assert.True(way * (drive.Comfort.Offset - sound.Comfort.Offset) > 1.5, $"{sound.Comfort.Offset} against {drive.Comfort.Offset}");
        Assert.NotEmpty(Deviation.Between(sound, drive));
    }

    [Fact]
    public void Without_its_aspirator_the_cabin_sensor_feels_the_sun_on_the_dash()
    {
        double[] sound = Go("mild-day").Find(SeriesGroup.Signals, "cabin")!.Values, off = Go("mild-day", "aspirator:hose-off").Find(SeriesGroup.Signals, "cabin")!.Values;
        Assert.True(off[600] - sound[600] > 0.5);
    }

    [Fact]
    public void A_water_valve_that_passes_when_shut_warms_the_vents_at_full_cold()
    {
        double sound = At(PullDown.Value, SeriesGroup.Temperatures, "blown", 100), warm = At(Go("pull-down", "WV1:passes-when-shut"), SeriesGroup.Temperatures, "blown", 100);
        Assert.True(warm > sound + 0.3, $"{sound - 273.15} and {warm - 273.15}");
    }

    [Fact]
    public void The_manual_unit_can_be_driven_too()
    {
        DriveRecord drive = Go("pull-down", unit: ShippedSheets.Manual);
        Assert.True(At(drive, SeriesGroup.Temperatures, "cabin", 600) < At(drive, SeriesGroup.Temperatures, "cabin", 0) - 15);
        Assert.Null(drive.Comfort.Reversals);
    }

    [Fact]
    public void Every_shipped_scenario_can_be_read_and_a_wrong_one_says_where()
    {
        foreach (string name in ScenarioFile.Shipped) Assert.NotNull(ScenarioFile.Load(name, new ProblemList()));
        string path = Path.Combine(Path.GetTempPath(), $"scenario-{Guid.NewGuid():N}.yaml");
        File.WriteAllText(path, "scenario: 1\nname: Wrong\nstart: { cabin: 20 degC }\nmoments:\n  - { at: 0 s, outside: 20 V, sunn: 3 W/m2 }\n");
        try
        {
            var problems = new ProblemList();
            Assert.Null(ScenarioFile.Load(path, problems));
            Assert.Contains(problems.Sorted, p => p.ToString().Contains(":5:", StringComparison.Ordinal) && p.ToString().Contains("temperature", StringComparison.Ordinal));
            Assert.Contains(problems.Sorted, p => p.ToString().Contains("sunn", StringComparison.Ordinal));
        }
        finally
        {
            File.Delete(path);
        }
    }

    /// <summary>What the file leaves out comes from the code: the two must not drift apart.</summary>
    [Fact]
    public void The_shipped_car_is_the_one_that_is_taken_where_a_file_says_nothing() => Assert.Equal(new CarBody(), ScenarioFile.LoadCar(null, new ProblemList()));

    [Fact]
    public void Comfort_counts_what_a_person_feels()
    {
        double[] seconds = [.. Enumerable.Range(0, 91).Select(i => i * 10.0)];
        double[] cabin = [.. seconds.Select(s => 295 + (10 * Math.Exp(-s / 100)) - (s is > 290 and < 310 ? 3 : 0))], wanted = [.. seconds.Select(_ => 295.0)];
        double[] servo = [.. seconds.Select((_, i) => 0.5 + (0.1 * (i % 2)))];
        Comfort comfort = Comfort.Of(seconds, cabin, wanted, [servo]);
        Assert.Equal(240, comfort.ReachedS);
        Assert.Equal(3 - (10 * Math.Exp(-3)), comfort.Overshoot, 9);
        // Thirty kept moments in five minutes, turned round at each.
        Assert.InRange(comfort.Reversals!.Value, 5.5, 6.1);
    }

    private static DriveRecord Go(string scenario, string? fault = null, Simulator? unit = null)
    {
        unit ??= ShippedSheets.Automatic;
        var problems = new ProblemList();
        Scenario world = ScenarioFile.Load(scenario, problems)!;
        CarBody car = ScenarioFile.LoadCar(null, problems)!;
        var options = new DriveOptions { Faults = fault is null ? [] : [unit.Model.FindFault(fault)!], Seconds = 1200 };
        DriveRecord? drive = Drive.Run(unit, world, car, options, out string? problem, null, TestContext.Current.CancellationToken);
        Assert.True(drive is not null, problem);
        return drive;
    }

    private static double At(DriveRecord drive, SeriesGroup group, string id, int seconds) => drive.Find(group, id)!.Values[seconds];
}
