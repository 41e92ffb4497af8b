namespace Ventwright.Simulation;

/// <summary>What one check shows in sound units drawn at random within the tolerances, apart from the unknowns that many checks share.</summary>
/// <param name="Spread">Standard deviation in SI of the units that stay on the nominal side of every switching point, shared unknowns left out.</param>
/// <param name="Shared">Effect in SI of one standard deviation of each shared unknown, in the order of <see cref="Bands.SharedNames"/>.</param>
/// <param name="Values">Value of each of the units, SI; NaN where nothing steady is shown. The same place is the same unit at every check and setting.</param>
/// <param name="IsNear">Whether the unit stays on the nominal side; else it ended in another state (a relay not pulled, a threshold crossed).</param>
/// <param name="Unknowns">The shared unknowns of each of the units, in standard deviations.</param>
public sealed record CheckSpread(double Spread, double[] Shared, double[] Values, bool[] IsNear, double[][] Unknowns)
{
    /// <summary>Units without any effect that are taken in with the others, so that few units tell little.</summary>
    private const double Ridge = 1;
    private const int Passes = 12;

    /// <summary>Standard deviation in SI of the units that stay on the nominal side, shared unknowns included.</summary>
    public double All { get; } = Math.Sqrt((Spread * Spread) + Shared.Sum(s => s * s));

    /// <summary>
    /// What a few of the units show that ended in one state: the value with all shared unknowns in the middle, the effect of one standard deviation of each, and what is left, in SI. By least
    /// squares, the effects drawn towards none where the units are few (ridge regression).
    /// </summary>
    /// <param name="units">Which units; all of them show something steady, or none does.</param>
    public (double Value, double[] Shared, double Spread) Of(IReadOnlyList<int> units)
    {
        double[] values = [.. units.Select(u => Values[u])], effects = new double[Shared.Length];
        if (!double.IsFinite(values[0])) return (values[0], effects, 0);
        double[] centre = [.. effects.Select((_, k) => units.Average(u => Unknowns[u][k]))];
        double[][] away = [.. centre.Select((middle, k) => (double[])[.. units.Select(u => Unknowns[u][k] - middle)])];
        double[] sums = [.. away.Select(z => Ridge + z.Sum(x => x * x))];
        double value = values.Average();
        double[] rest = [.. values.Select(v => v - value)];
        for (int pass = 0; pass < Passes; pass++)
        {
            for (int k = 0; k < effects.Length; k++)
            {
                double with = 0;
                for (int i = 0; i < rest.Length; i++) with += away[k][i] * rest[i];
                double step = (with - (Ridge * effects[k])) / sums[k];
                for (int i = 0; i < rest.Length; i++) rest[i] -= step * away[k][i];
                effects[k] += step;
            }
        }

        value -= effects.Zip(centre, (e, z) => e * z).Sum();
        return (value, effects, Math.Sqrt(rest.Sum(r => r * r) / Math.Max(1, rest.Length - 1)));
    }
}
