using Ventwright.Model.Kernel;

namespace Ventwright.Rig.Logs;

/// <summary>A stretch of a log in which everything stood still.</summary>
/// <param name="FromS">Start, s.</param>
/// <param name="ToS">End, s.</param>
/// <param name="Means">Mean of each check over the last window of the stretch, SI; NaN where it has no numbers.</param>
/// <param name="Row">Row of the end, for the settings.</param>
internal sealed record SteadyMoment(double FromS, double ToS, double[] Means, int Row);

/// <summary>
/// Finds steady moments. A window is steady when all settings stay the same and, for every check, both the rise of the least-squares line over the window and the
/// standard deviation around the mean stay within a limit: a share of the mean, but at least the smallest change that is worth a word (common practice, no source).
/// A stretch goes on as long as the window that ends at each of its rows is steady; what is read is the mean over its last window, so that what was
/// still creeping at its start does not count.
/// </summary>
internal static class SteadyMoments
{
    private const int LeastRows = 5;

    /// <summary>The steady moments of a log.</summary>
    public static List<SteadyMoment> Find(LogSeries log, LogMap map)
    {
        var moments = new List<SteadyMoment>();
        double window = map.SteadyFor.TotalSeconds;
        int first = 0, start = -1;
        for (int end = 0; end < log.Seconds.Length; end++)
        {
            while (first < end && log.Seconds[end] - log.Seconds[first + 1] >= window) first++;
            bool isSteady = log.Seconds[end] - log.Seconds[first] >= window && end - first + 1 >= LeastRows && IsSteady(log, map, first, end);
            if (isSteady && start < 0) start = first;
            if (start >= 0 && !isSteady) Close(end - 1);
        }

        if (start >= 0) Close(log.Seconds.Length - 1);
        return moments;

        void Close(int end)
        {
            int from = end;
            while (from > start && log.Seconds[end] - log.Seconds[from] < window) from--;
            moments.Add(new(log.Seconds[start], log.Seconds[end], [.. log.Checks.Select(c => Mean(c.Values.AsSpan(from, end - from + 1)))], end));
            start = -1;
        }
    }

    /// <summary>The smallest change that counts, SI (common practice, no source).</summary>
    private static double Floor(ObservableKind kind) => kind switch
    {
        ObservableKind.Volts => 0.02,
        ObservableKind.Amps => 0.05,
        ObservableKind.Vacuum => 300,
        _ => 1,
    };

    private static bool IsSteady(LogSeries log, LogMap map, int first, int end)
    {
        foreach ((_, string[] texts) in log.Sets)
        {
            for (int i = first; i < end; i++)
            {
                if (texts[i] != texts[end]) return false;
            }
        }

        foreach ((LogColumn column, double[] values) in log.Checks)
        {
            ReadOnlySpan<double> piece = values.AsSpan(first, end - first + 1);
            double mean = Mean(piece);
            double limit = column.Within ?? Math.Max(map.SteadyShare * Math.Abs(mean), Floor(column.Check!.Value.Kind));
            if (double.IsFinite(mean) && !Stands(log.Seconds.AsSpan(first, piece.Length), piece, mean, limit)) return false;
        }

        return true;
    }

    private static double Mean(ReadOnlySpan<double> values)
    {
        double sum = 0;
        int count = 0;
        foreach (double value in values)
        {
            if (double.IsNaN(value)) continue;
            sum += value;
            count++;
        }

        return count == 0 ? double.NaN : sum / count;
    }

    private static bool Stands(ReadOnlySpan<double> seconds, ReadOnlySpan<double> values, double mean, double limit)
    {
        double meanTime = Mean(seconds), squares = 0, across = 0, times = 0;
        int count = 0;
        for (int i = 0; i < values.Length; i++)
        {
            if (double.IsNaN(values[i])) continue;
            double t = seconds[i] - meanTime, v = values[i] - mean;
            squares += v * v;
            across += t * v;
            times += t * t;
            count++;
        }

        double rise = times > 0 ? across / times * (seconds[^1] - seconds[0]) : 0;
        return Math.Abs(rise) <= limit && Math.Sqrt(squares / Math.Max(1, count - 1)) <= limit;
    }
}
