using CsCheck;
using Ventwright.Physics.Sensing;

namespace Ventwright.Tests.Sensing;

public class TrackSweepTests
{
    private static TrackPoint[] Straight(int n, Func<double, double> share) => [.. Enumerable.Range(0, n).Select(i => (double)i / (n - 1)).Select(x => new TrackPoint(x, share(x)))];

    [Fact]
    public void A_straight_track_is_straight() => (from slope in Gen.Double[0.5, 1.2] from offset in Gen.Double[-0.1, 0.1] from down in Gen.Bool select (Slope: down ? -slope : slope, offset)).Sample(x =>
    {
        var sweep = new TrackSweep(Straight(21, p => x.offset + (x.Slope * p)), 0.02);
        Assert.Equal(x.Slope, sweep.Slope, 1e-9);
        Assert.Equal(x.offset, sweep.Offset, 1e-9);
        Assert.True(sweep.Linearity < 1e-9 && sweep.Noise < 1e-9 && sweep.Jumps.Count == 0 && sweep.Dead.Count == 0);
    });

    /// <summary>A parabola of height h over its chord lies two thirds of h above and one third below its best line; so does its largest distance in the limit of many points.</summary>
    [Fact]
    public void A_bowed_track_is_off_by_two_thirds_of_its_bow()
    {
        var sweep = new TrackSweep(Straight(401, p => p + (0.06 * 4 * p * (1 - p))), 0.05);
        Assert.Equal(0.04, sweep.Linearity, 0.0005);
    }

    [Fact]
    public void Dead_stretches_and_jumps_are_found_where_they_are()
    {
        TrackPoint[] points = Straight(41, p => p is > 0.37 and < 0.46 ? double.NaN : p > 0.8 ? p + 0.05 : p);
        var sweep = new TrackSweep(points, 0.02);
        TrackStretch dead = Assert.Single(sweep.Dead);
        Assert.InRange(dead.From, 0.34, 0.375);
        Assert.InRange(dead.To, 0.455, 0.48);
        TrackJump jump = sweep.Jumps[0];
        Assert.Equal(0.8125, jump.Place, 0.02);
        Assert.Equal(0.05, jump.Size, 0.01);
    }

    [Fact]
    public void Dead_at_an_end_counts_too()
    {
        var sweep = new TrackSweep(Straight(21, p => p < 0.12 ? double.NaN : p), 0.02);
        TrackStretch dead = Assert.Single(sweep.Dead);
        Assert.Equal(0, dead.From);
        Assert.Equal(0.15, dead.To, 1e-9);
    }

    [Fact]
    public void Too_few_readings_are_refused() => Assert.Throws<ArgumentException>(() => new TrackSweep(Straight(4, p => p), 0.02));
}
