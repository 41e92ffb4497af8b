using System.Globalization;
using System.Text;
using Ventwright.Bench.Sensors;
using Ventwright.Model.Sheet.Text;

namespace Ventwright.Tests.Sensing;

public class TrackTestTests
{
    private static TrackTest Make(SweepData data, string id = "M3")
    {
        TrackTest? test = TrackTest.TryMake(ShippedSheets.Automatic, id, data, OhmmeterAccuracy.Usual, new(), out string? problem);
        Assert.True(test is not null, problem);
        return test;
    }

    private static SweepData Ohms(Func<double, double> ohms, double total = 5000) => new([.. Enumerable.Range(0, 26).Select(i => new SweepReading(i / 25.0, ohms(i / 25.0)))], false, false, total);

    private static TrackFinding Finding(TrackTest test, string title) => test.Findings.Single(f => f.Title == title);

    [Fact]
    public void A_sound_track_is_good()
    {
        TrackTest test = Make(Ohms(p => 20 + (4960 * p)));
        Assert.True(test.Passed, string.Join("; ", test.Findings.Where(f => f.Passed != true)));
    }

    [Fact]
    public void A_track_outside_the_sheets_tolerance_is_bad_and_one_on_its_edge_cannot_be_told()
    {
        Assert.False(Finding(Make(Ohms(p => 6200 * p, 6200)), "track resistance").Passed);
        Assert.Null(Finding(Make(Ohms(p => 5745 * p, 5745)), "track resistance").Passed);
        Assert.True(Finding(Make(Ohms(p => 5600 * p, 5600)), "track resistance").Passed);
    }

    [Fact]
    public void Each_defect_fails_the_line_that_is_meant_for_it()
    {
        Assert.Equal(["straightness"], Bad(Ohms(p => 5000 * (p + (0.2 * p * (1 - p))))));
        Assert.Equal(["dead spots"], Bad(Ohms(p => p is > 0.4 and < 0.5 ? double.NaN : 5000 * p)));
        Assert.Contains("jumps", Bad(Ohms(p => 5000 * (p > 0.5 ? Math.Min(1, p + 0.05) : p))));
        Assert.Contains("ends", Bad(Ohms(p => 5000 * (0.1 + (0.8 * p)))));
        var random = new Random(1);
        Assert.Contains("steadiness of the steps", Bad(Ohms(p => 5000 * Math.Clamp(p + (0.05 * (random.NextDouble() - 0.5)), 0, 1))));
        static string[] Bad(SweepData data) => [.. Make(data).Findings.Where(f => f.Passed == false).Select(f => f.Title)];
    }

    [Fact]
    public void A_backward_track_says_so() => Assert.Contains("backward", Finding(Make(Ohms(p => 5000 * (1 - p))), "ends").Found, StringComparison.Ordinal);

    [Fact]
    public void What_the_module_reads_in_a_dead_spot_is_told_by_the_model() =>
        Assert.Contains(Make(Ohms(p => p is > 0.4 and < 0.5 ? double.NaN : 5000 * p)).Notes, n => n.Contains("reads 0.00 instead of 0.46", StringComparison.Ordinal));

    /// <summary>Volts of a run in time, standing still at both ends: the same track.</summary>
    [Fact]
    public void A_log_in_time_and_volts_is_the_same_sweep()
    {
        var csv = new StringBuilder("time_s;channel;value\n");
        for (int i = 0; i <= 80; i++)
        {
            double p = Math.Clamp((i - 10) / 60.0, 0, 1);
            csv.AppendLine(CultureInfo.InvariantCulture, $"{i * 0.2};servo;{0.02 + (4.95 * p):0.000} V").AppendLine(CultureInfo.InvariantCulture, $"{i * 0.2};other;1.00 V");
        }

        var problems = new ProblemList();
        SweepData? data = SweepFile.Csv("log.csv", csv.ToString(), "servo", problems);
        Assert.True(data is { ByTime: true, Volts: true }, string.Join('\n', problems.Sorted));
        TrackTest test = Make(data);
        Assert.Null(test.Passed);
        Assert.Equal(["track resistance"], test.Findings.Where(f => f.Passed != true).Select(f => f.Title));
        Assert.Equal(0.99, test.Sweep.Slope, 0.02);
    }

    [Theory]
    [InlineData("position,ohms\n0,5\n50 %,2.5 kohm\n1,OL\n", true, "")]
    [InlineData("position_percent,kohm\n0,5\n", false, "no column")]
    [InlineData("position,ohms\n0,5 V\n", false, "ohms and volts")]
    [InlineData("position,ohms\n1.5,5\n", false, "0 to 1")]
    [InlineData("position,ohms\n0.5\n", false, "1 cells")]
    [InlineData("time,channel,value\n0,a,5 V\n1,b,5 V\n", false, "channels a, b")]
    [InlineData("", false, "empty")]
    public void Files_are_read_or_say_what_is_wrong(string text, bool fine, string says)
    {
        var problems = new ProblemList();
        SweepData? data = SweepFile.Csv("points.csv", text, null, problems);
        Assert.Equal(fine, data is not null && !problems.HasErrors);
        if (!fine) Assert.Contains(problems.Sorted, p => p.ToString().Contains(says, StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("M1", "no track")]
    [InlineData("M33", "did you mean")]
    public void Parts_without_a_track_are_refused(string id, string says)
    {
        Assert.Null(TrackTest.TryMake(ShippedSheets.Automatic, id, Ohms(p => p * 5000), OhmmeterAccuracy.Usual, new(), out string? problem));
        Assert.Contains(says, problem, StringComparison.Ordinal);
    }

    [Fact]
    public void Half_a_sweep_is_refused()
    {
        Assert.Null(TrackTest.TryMake(ShippedSheets.Automatic, "M3", new([.. Enumerable.Range(0, 9).Select(i => new SweepReading(i / 20.0, i * 250))], false, false), OhmmeterAccuracy.Usual, new(), out string? problem));
        Assert.Contains("half the travel", problem, StringComparison.Ordinal);
    }
}
