using Ventwright.Physics.Vacuum;

namespace Ventwright.Reference.Tests.Physics;

/// <summary>Reference program: scipy.integrate.solve_ivp, method Radau, with its own form of the ISO 6358 law.</summary>
public class VacuumInTimeAgainstScipyTests
{
    private const double AmbientPa = 101_325;

    /// <summary>Width of the smoothed piece of the flow law here: 1e-4 (1 - b) p. Inside it pressures may differ by that much.</summary>
    private const double SmoothedPa = 10.0;

    private static readonly double[] Times = [0.1, 0.3, 1, 3, 10, 30, 100, 20_000];

    [Theory]
    [InlineData(5, 1)]
    [InlineData(6, 2)]
    [InlineData(7, 3)]
    [InlineData(8, 4)]
    [InlineData(10, 5)]
    public void Depressions_agree_at_every_time_and_the_long_run_ends_at_the_steady_state(int nodes, int seed)
    {
        Net net = Make(nodes, new Random(seed));
        double[][] reference = Scipy.Run<double[][]>("vacuum_in_time.py", net);
        var network = new VacuumNetwork(nodes, [.. net.from.Select((a, k) => (a, net.to[k], net.oneWay[k]))]);
        double[] fixedPa = [.. net.@fixed.Select(d => d ?? double.NaN)];
        double[] depression = [.. net.start];
        double[] flow = new double[net.c.Length];
        var transient = new VacuumTransient(network);
        double now = 0;
        for (int t = 0; t < Times.Length; t++)
        {
            Assert.True(transient.Advance(net.c, net.b, fixedPa, net.volume, AmbientPa, Times[t] - now, 2.0, depression, flow).Converged);
            now = Times[t];
            Compare(reference[t], depression, $"after {now} s");
        }

        double[] steady = new double[nodes];
        Assert.True(new VacuumWorkspace(network).Solve(net.c, net.b, fixedPa, depression, net.volume, AmbientPa, steady, flow).Converged);
        Compare(reference[^1], steady, "steady");
    }

    private static void Compare(double[] reference, double[] depression, string when)
    {
        for (int i = 0; i < reference.Length; i++)
        {
            Assert.True(
                Math.Abs(reference[i] - depression[i]) <= SmoothedPa, $"{when}, node {i}: {depression[i]} Pa against {reference[i]} Pa");
        }
    }

    private sealed record Net(
        double ambient, int[] from, int[] to, bool[] oneWay, double[] c, double[] b, double[] volume, double?[] @fixed, double[] start, double[] times);

    /// <summary>Pump (last node) - check valve - reservoir (node 1) - a tree of hoses and chambers, each with a leak to the atmosphere.</summary>
    private static Net Make(int nodes, Random random)
    {
        List<(int A, int B, bool OneWay, double C)> branches = [(1, nodes - 1, true, 3e-9)];
        for (int i = 2; i < nodes - 1; i++) branches.Add((i, random.Next(1, i), false, Math.Pow(10, -10 + 1.5 * random.NextDouble())));
        for (int i = 1; i < nodes - 1; i++) branches.Add((0, i, false, Math.Pow(10, -12 + random.NextDouble())));
        return new Net(
            AmbientPa, [.. branches.Select(x => x.A)], [.. branches.Select(x => x.B)], [.. branches.Select(x => x.OneWay)],
            [.. branches.Select(x => x.C)], [.. branches.Select(_ => 0.2 + 0.3 * random.NextDouble())],
            [0, 1e-3, .. Enumerable.Range(2, nodes - 2).Select(_ => Math.Pow(10, -5 + random.NextDouble()))],
            [0, .. Enumerable.Repeat<double?>(null, nodes - 2), 65_000],
            [.. Enumerable.Range(0, nodes).Select(i => i == 0 ? 0.0 : 20_000 * random.NextDouble())], Times);
    }
}
