namespace Ventwright.Physics.Sensing;

/// <summary>A point of a sweep over a potentiometer.</summary>
/// <param name="Place">Where the shaft stands, 0 at the low end, 1 at the high end.</param>
/// <param name="Share">What the wiper shows, as a share of the whole track; NaN where it shows nothing.</param>
public readonly record struct TrackPoint(double Place, double Share);

/// <summary>A stretch of the shaft's travel.</summary>
/// <param name="From">Where it starts, 0..1.</param>
/// <param name="To">Where it ends, 0..1.</param>
public readonly record struct TrackStretch(double From, double To);

/// <summary>A step between two neighbouring points that the straight line does not have.</summary>
/// <param name="Place">Where it is, 0..1.</param>
/// <param name="Size">Step beyond that of the line, as a share of the track; negative when it goes back.</param>
public readonly record struct TrackJump(double Place, double Size);

/// <summary>What a sweep over a potentiometer says about its track, as pure numbers.</summary>
public sealed class TrackSweep
{
    /// <summary>Works a sweep out.</summary>
    /// <param name="points">Points, at least five with a reading, in the order of the sweep.</param>
    /// <param name="jump">Least step beyond the line that counts as a jump, as a share of the track.</param>
    /// <exception cref="ArgumentException">There are too few points, or the shaft did not move.</exception>
    public TrackSweep(IReadOnlyList<TrackPoint> points, double jump)
    {
        ArgumentNullException.ThrowIfNull(points);
        TrackPoint[] all = [.. points.OrderBy(p => p.Place)];
        TrackPoint[] read = [.. all.Where(p => !double.IsNaN(p.Share))];
        if (read.Length < 5 || !(read[^1].Place > read[0].Place)) throw new ArgumentException("a sweep needs five readings at different places", nameof(points));
        (Offset, Slope) = Line(read);
        Worst = read.MaxBy(p => Math.Abs(p.Share - Offset - (Slope * p.Place)));
        Linearity = Math.Abs(Worst.Share - Offset - (Slope * Worst.Place)) / Math.Max(Math.Abs(Slope), 1e-9);
        (First, Last) = (read[0], read[^1]);
        Dead = Gaps(all);
        Jumps = [.. read.Zip(read.Skip(1), (a, b) => new TrackJump((a.Place + b.Place) / 2, (b.Share - a.Share - (Slope * (b.Place - a.Place))) * Math.Sign(Slope)))
            .Where(j => Math.Abs(j.Size) > jump).OrderByDescending(j => Math.Abs(j.Size))];
        double[] wiggle = [.. read.Zip(read.Skip(1), (a, b) => b.Share - a.Share - (Slope * (b.Place - a.Place))).Select(Math.Abs).Order()];
        Noise = wiggle[wiggle.Length / 2] / 0.6745;
        LargestGap = all.Zip(all.Skip(1), (a, b) => b.Place - a.Place).Max();
    }

    /// <summary>Share that the fitted line has at the low end.</summary>
    public double Offset { get; }

    /// <summary>Share that the fitted line gains from end to end; negative for a track that runs backward.</summary>
    public double Slope { get; }

    /// <summary>Largest distance of a reading from the fitted line, as a share of the line's whole rise (independent linearity).</summary>
    public double Linearity { get; }

    /// <summary>The reading farthest from the line.</summary>
    public TrackPoint Worst { get; }

    /// <summary>The reading nearest the low end.</summary>
    public TrackPoint First { get; }

    /// <summary>The reading nearest the high end.</summary>
    public TrackPoint Last { get; }

    /// <summary>Stretches where the wiper shows nothing, from the last good reading before to the first good one after.</summary>
    public IReadOnlyList<TrackStretch> Dead { get; }

    /// <summary>Jumps, largest first.</summary>
    public IReadOnlyList<TrackJump> Jumps { get; }

    /// <summary>Spread of the steps between neighbours about the line, as a standard deviation (from their median, so that a few jumps do not count).</summary>
    public double Noise { get; }

    /// <summary>Largest distance between neighbouring points: what is narrower may be missed.</summary>
    public double LargestGap { get; }

    /// <summary>Straight line through the readings by least squares; those beyond three typical distances of a first line are left out of the second.</summary>
    private static (double Offset, double Slope) Line(TrackPoint[] points)
    {
        (double offset, double slope) = Fit(points);
        double[] far = [.. points.Select(p => Math.Abs(p.Share - offset - (slope * p.Place))).Order()];
        double limit = Math.Max(3 * far[far.Length / 2] / 0.6745, 1e-6);
        TrackPoint[] near = [.. points.Where(p => Math.Abs(p.Share - offset - (slope * p.Place)) <= limit)];
        return near.Length >= 3 && near[^1].Place > near[0].Place ? Fit(near) : (offset, slope);
    }

    private static (double Offset, double Slope) Fit(TrackPoint[] points)
    {
        double x = points.Average(p => p.Place), y = points.Average(p => p.Share);
        double xx = points.Sum(p => (p.Place - x) * (p.Place - x)), xy = points.Sum(p => (p.Place - x) * (p.Share - y));
        double slope = xy / xx;
        return (y - (slope * x), slope);
    }

    private static List<TrackStretch> Gaps(TrackPoint[] all)
    {
        var gaps = new List<TrackStretch>();
        for (int i = 0; i < all.Length; i++)
        {
            if (!double.IsNaN(all[i].Share)) continue;
            int last = i;
            while (last + 1 < all.Length && double.IsNaN(all[last + 1].Share)) last++;
            gaps.Add(new(i == 0 ? all[i].Place : all[i - 1].Place, last == all.Length - 1 ? all[last].Place : all[last + 1].Place));
            i = last;
        }

        return gaps;
    }
}
