using Ventwright.Bench.Car;
using Ventwright.Quantities;

namespace Ventwright.Tests.Bench.Car;

/// <summary>Where a drive leaves sound ones. Steps are made up; no outside source.</summary>
public sealed class DeviationTests
{
    private static readonly double[] Seconds = [.. Enumerable.Range(0, 601).Select(i => (double)i)];

    /// <summary>Sound units step down over two minutes: one that does so fifty seconds before the first of them is one of them.</summary>
    [Theory]
    [InlineData(150, false)]
    [InlineData(360, false)]
    [InlineData(60, true)]
    public void Time_is_allowed_as_far_as_sound_units_differ_in_it(double at, bool isSeen)
    {
        DriveRecord[] sound = [.. new double[] { 260, 200, 215, 240, 290, 320 }.Select(t => Drive(s => s < t ? 1 : 0.6))];
        IReadOnlyList<Deviation> found = Deviation.Between(sound, Drive(s => s < at ? 1 : 0.6), DriveTolerance.Measured);
        Assert.Equal(isSeen, found.Count > 0);
        if (isSeen) Assert.Equal((at, 1, 0.6), (found[0].Seconds, found[0].Sound, found[0].Suspect));
    }

    /// <summary>Sound units that step together leave no room: the same step half a minute before theirs is a difference.</summary>
    [Fact]
    public void Units_that_go_alike_are_held_to_it()
    {
        DriveRecord[] sound = [.. Enumerable.Repeat(0, 6).Select(_ => Drive(s => s < 100 ? 1 : 0.6))];
        Assert.Empty(Deviation.Between(sound, Drive(s => s < 90 ? 1 : 0.6), DriveTolerance.Measured));
        Assert.NotEmpty(Deviation.Between(sound, Drive(s => s < 60 ? 1 : 0.6), DriveTolerance.Measured));
    }

    /// <summary>What no sound unit has at any time is seen, whatever the room in time; what lasts a moment is not.</summary>
    [Theory]
    [InlineData(400, true)]
    [InlineData(10, false)]
    public void A_value_of_its_own_is_seen_when_it_lasts(double seconds, bool isSeen)
    {
        DriveRecord[] sound = [.. new double[] { 200, 250, 300 }.Select(t => Drive(s => s < t ? 1 : 0.6))];
        Assert.Equal(isSeen, Deviation.Between(sound, Drive(s => s >= 50 && s < 50 + seconds ? 0.4 : s < 250 ? 1 : 0.6), DriveTolerance.Measured).Count > 0);
    }

    private static DriveRecord Drive(Func<double, double> speed) => new(
        null!, [], Seconds, [new("M1", "Blower", SeriesGroup.Blowers, Dimension.Fraction, [.. Seconds.Select(speed)])], new(null, 0, 0, 0, 0, null), true, 0, []);
}
