namespace Ventwright.Bench.Car;

/// <summary>
/// What sound drives do at each moment, the same thing a little sooner or later included. How much sooner or later follows from the sound drives themselves: so
/// much that none of them leaves the others, and as much again, since a handful of units does not reach as far as all units do.
/// </summary>
internal sealed class SoundEnvelope
{
    /// <summary>Steps in which the allowance for time grows, the most that it grows by, and what is added for the units that are not among these.</summary>
    private const double Step = 1.5, Most = 8, Margin = 2;

    private readonly double[] _seconds, _low, _high;
    private readonly Func<double, double> _late;

    private SoundEnvelope(double[] seconds, double[] low, double[] high, Func<double, double> late)
    {
        (_seconds, _low, _high, _late) = (seconds, low, high, late);
        Moments = low.Length;
        while (Moments > 0 && seconds[Moments - 1] + late(seconds[Moments - 1]) > seconds[low.Length - 1]) Moments--;
    }

    /// <summary>How many moments from the start can be judged; what came after them may still come, a little later.</summary>
    public int Moments { get; }

    /// <summary>The envelope of some drives.</summary>
    /// <param name="sound">The same series of each sound drive, SI.</param>
    /// <param name="seconds">Times, s.</param>
    /// <param name="tolerance">What counts as a difference.</param>
    /// <param name="least">Least difference of this series, SI.</param>
    public static SoundEnvelope Of(IReadOnlyList<double[]> sound, double[] seconds, DriveTolerance tolerance, double least)
    {
        double times = 1;
        if (sound.Count > 1 && tolerance.LateShare > 0)
        {
            while (times < Most && OneLeaves(times)) times *= Step;
            times *= Margin;
        }

        return Around(Each(times), times);

        bool OneLeaves(double times)
        {
            (double[] Low, double[] High)[] each = Each(times);
            return Enumerable.Range(0, each.Length).Any(left => Around([.. each.Where((_, i) => i != left)], times).FirstOutside(sound[left], tolerance.Seconds, least) is not null);
        }

        (double[] Low, double[] High)[] Each(double times) => [.. sound.Select(s => Widened(s, seconds, t => times * tolerance.Late(t)))];

        SoundEnvelope Around((double[] Low, double[] High)[] drives, double times)
        {
            int count = Math.Min(seconds.Length, drives.Min(d => d.Low.Length));
            double[] low = [.. Enumerable.Range(0, count).Select(i => drives.Min(d => d.Low[i]))], high = [.. Enumerable.Range(0, count).Select(i => drives.Max(d => d.High[i]))];
            return new(seconds, low, high, t => times * tolerance.Late(t));
        }
    }

    /// <summary>How far a value lies outside, SI; NaN where one of the drives has none.</summary>
    public double Gap(int moment, double value) => Math.Max(_low[moment] - value, value - _high[moment]);

    /// <summary>The first moment from which a drive stays outside by more than the least difference for so many seconds; null if it never does.</summary>
    public int? FirstOutside(double[] values, double seconds, double least)
    {
        int since = -1;
        for (int i = 0; i < Math.Min(values.Length, Moments); i++)
        {
            if (!(Gap(i, values[i]) > least))
            {
                since = -1;
                continue;
            }

            if (since < 0) since = i;
            if (_seconds[i] - _seconds[since] >= seconds) return since;
        }

        return null;
    }

    /// <summary>Lowest and highest value of a drive within some seconds of each moment.</summary>
    private static (double[] Low, double[] High) Widened(double[] values, double[] seconds, Func<double, double> late)
    {
        int count = Math.Min(values.Length, seconds.Length), from = 0, to = 0;
        (double[] low, double[] high) = (new double[count], new double[count]);
        for (int i = 0; i < count; i++)
        {
            double reach = late(seconds[i]);
            while (seconds[from] < seconds[i] - reach) from++;
            while (from > 0 && seconds[from - 1] >= seconds[i] - reach) from--;
            while (to < count - 1 && seconds[to + 1] <= seconds[i] + reach) to++;
            ReadOnlySpan<double> near = values.AsSpan(from, to - from + 1);
            (low[i], high[i]) = (double.PositiveInfinity, double.NegativeInfinity);
            foreach (double v in near) (low[i], high[i]) = (Math.Min(low[i], v), Math.Max(high[i], v));
        }

        return (low, high);
    }
}
