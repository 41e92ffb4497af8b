using Ventwright.Bench;
using Ventwright.Bench.Car;
using Ventwright.Bench.SlowDrive;
using Ventwright.Model.Sheet.Text;
using Ventwright.Simulation;

namespace Ventwright.Tests.Bench;

/// <summary>The bench car at the pace of a person.</summary>
public sealed class SlowCarTests
{
    private static readonly Simulator Unit = ShippedSheets.Automatic;
    private static readonly SheetPredictor Predictor = new(Unit);
    private static readonly Lazy<SlowTrack> Sound = new(() => Start().Simulate([]));

    [Fact]
    public void Twenty_turns_take_the_cabin_where_the_drive_takes_it()
    {
        SlowTrack slow = Sound.Value;
        Assert.InRange(slow.Answers.Count, 15, 25);
        DriveRecord drive = Drive.Run(Unit, ScenarioFile.Load("pull-down", new())!, ScenarioFile.LoadCar(null, new())!, new(), out _, null, TestContext.Current.CancellationToken)!;
        SlowTurn last = slow.Answers[^1].Turn;
        double cabin = drive.Find(SeriesGroup.Temperatures, "cabin")!.Values[(int)last.Seconds];
        Assert.Equal(cabin, last.Car.Air, 1.5);
        Assert.Null(slow.FirstOutside());
    }

    [Theory]
    [InlineData("M3:stripped@middle", "Upper blend servo")]
    [InlineData("mod.5:dead", "blend servo")]
    [InlineData("K1:stuck-open", "Left blower")]
    public void A_fault_shows_and_what_deviates_first_is_named(string fault, string expected)
    {
        SlowTrack drive = Start().Simulate([Unit.Model.FindFault(fault)!]);
        SlowVerdict verdict = SlowVerdict.Of(drive, Sound.Value);
        Assert.Contains(expected, verdict.First, StringComparison.Ordinal);
        Assert.True(verdict.OutsideTurns > 0);
    }

    [Fact]
    public void A_module_that_sees_no_cabin_sensor_does_not_regulate()
    {
        Assert.False(SlowVerdict.Of(Start().Simulate([Unit.Model.FindFault("mod.5:dead")!]), Sound.Value).Regulates);
        Assert.True(SlowVerdict.Of(Start().Simulate([]), Sound.Value).Regulates);
    }

    [Fact]
    public void A_unit_without_a_module_cannot_be_driven_slowly() =>
        Assert.Throws<ArgumentException>(() => new SlowCar(ShippedSheets.Manual, new SheetPredictor(ShippedSheets.Manual), ScenarioFile.Load("pull-down", new())!, ScenarioFile.LoadCar(null, new())!));

    [Fact]
    public void As_many_answers_as_questions()
    {
        SlowCar slow = Start();
        Assert.Throws<ArgumentException>(() => slow.Answer([]));
        Assert.Equal(1, slow.Turn!.Number);
    }

    private static SlowCar Start() => new(Unit, Predictor, ScenarioFile.Load("pull-down", new ProblemList())!, ScenarioFile.LoadCar(null, new ProblemList())!);
}
