namespace Ventwright.Physics.Sensing;

/// <summary>
/// Preferred numbers for resistors, IEC 60063. E24 and the series below it are older than the rule and listed; E48, E96 and E192 are 10^(i/n) rounded to three
/// digits, with 9.20 in E192 as the one exception (the exception from memory; lists held against published ones in the tests).
/// </summary>
public static class PreferredNumbers
{
    private static readonly double[] E24 =
        [1.0, 1.1, 1.2, 1.3, 1.5, 1.6, 1.8, 2.0, 2.2, 2.4, 2.7, 3.0, 3.3, 3.6, 3.9, 4.3, 4.7, 5.1, 5.6, 6.2, 6.8, 7.5, 8.2, 9.1];

    /// <summary>Series by their number, coarsest first.</summary>
    public static IReadOnlyList<int> Series { get; } = [3, 6, 12, 24, 48, 96, 192];

    /// <summary>Numbers of a series in one decade, from 1 up to below 10.</summary>
    /// <param name="series">3, 6, 12, 24, 48, 96 or 192.</param>
    /// <exception cref="ArgumentException">There is no such series.</exception>
    public static double[] Decade(int series)
    {
        if (!Series.Contains(series)) throw new ArgumentException($"there is no series E{series}", nameof(series));
        if (series <= 24) return [.. E24.Where((_, i) => i % (24 / series) == 0)];
        double[] rounded = [.. Enumerable.Range(0, series).Select(i => Math.Round(Math.Pow(10, (double)i / series), 2))];
        if (series == 192) rounded[Array.IndexOf(rounded, 9.19)] = 9.20;
        return rounded;
    }

    /// <summary>Values over some decades, in ohms, rising.</summary>
    /// <param name="series">3, 6, 12, 24, 48, 96 or 192.</param>
    /// <param name="lowestOhms">Start of the first decade: 1, 10, 100, ... ohm.</param>
    /// <param name="decades">Number of decades, 1 or more.</param>
    public static double[] Values(int series, double lowestOhms, int decades)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(decades, 1);
        double[] decade = Decade(series);
        // Rounding takes the dust of the multiplication away: 2.2 times 1000 is 2200.
        return [.. Enumerable.Range(0, decades).SelectMany(d => decade.Select(v => Math.Round(v * lowestOhms * Math.Pow(10, d), 6)))];
    }

    /// <summary>Customary tolerance of a series as a share (IEC 60063 practice; E12 and E24 as published, the others from memory).</summary>
    /// <exception cref="ArgumentException">There is no such series.</exception>
    public static double Tolerance(int series) => series switch
    {
        3 => 0.4,
        6 => 0.2,
        12 => 0.1,
        24 => 0.05,
        48 => 0.02,
        96 => 0.01,
        192 => 0.005,
        _ => throw new ArgumentException($"there is no series E{series}", nameof(series)),
    };
}
