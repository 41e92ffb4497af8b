using Ventwright.Numerics;
using Ventwright.Physics.Air;

namespace Ventwright.Reference.Tests.Physics;

/// <summary>Reference program: scipy.optimize.root on flows and pressures together.</summary>
public class AirNetworkAgainstScipyTests
{
    private const int Networks = 30;

    private sealed record Net(int nodes, int[] from, int[] to, double[] k, double[] e);

    [Fact]
    public void Flows_of_thirty_random_networks_agree_to_a_millionth()
    {
        var random = new Random(20);
        Net[] nets = [.. Enumerable.Range(0, Networks).Select(_ => Make(random))];
        double[][] reference = Scipy.Run<double[][]>("air_networks.py", nets);
        int exact = 0;
        for (int n = 0; n < nets.Length; n++)
        {
            double[] flow = Solve(nets[n]);
            double largest = reference[n].Max(Math.Abs);
            double smoothed = SmoothingError(nets[n], reference[n]);
            if (smoothed == 0) exact++;
            for (int k = 0; k < flow.Length; k++)
            {
                double tolerance = 1e-6 * Math.Abs(reference[n][k]) + 1e-9 * largest + smoothed + 1e-15;
                Assert.True(Math.Abs(flow[k] - reference[n][k]) <= tolerance, $"net {n} branch {k}: {flow[k]} against {reference[n][k]}");
            }
        }

        Assert.InRange(exact, 25, Networks);
    }

    /// <summary>
    /// The stated error of the smoothed law where a branch has less than a thousandth of a pascal across it; 0 if none has. Dead ends, without
    /// flow, are exact.
    /// </summary>
    private static double SmoothingError(Net net, double[] flow) =>
        Enumerable.Range(0, flow.Length)
            .Where(k => Math.Abs(flow[k]) > 1e-12 && net.k[k] * flow[k] * flow[k] < AirNetwork.SmoothPressurePa)
            .Sum(k => SmoothRoot.LargestError * Math.Sqrt(AirNetwork.SmoothPressurePa / net.k[k]));

    /// <summary>A tree that reaches every node, and as many branches again; some are fans.</summary>
    private static Net Make(Random random)
    {
        int nodes = random.Next(4, 13);
        int branches = 2 * nodes;
        var net = new Net(nodes, new int[branches], new int[branches], new double[branches], new double[branches]);
        for (int k = 0; k < branches; k++)
        {
            net.from[k] = k < nodes - 1 ? k + 1 : random.Next(nodes);
            net.to[k] = k < nodes - 1 ? random.Next(k + 1) : (net.from[k] + 1 + random.Next(nodes - 1)) % nodes;
            net.k[k] = Math.Pow(10, 3 + 4 * random.NextDouble());
            net.e[k] = k == 0 || random.Next(6) == 0 ? 100 + 400 * random.NextDouble() : 0;
        }

        return net;
    }

    private static double[] Solve(Net net)
    {
        var network = new AirNetwork(net.nodes, [.. net.from.Zip(net.to)]);
        double[] fixedPressure = [0, .. Enumerable.Repeat(double.NaN, net.nodes - 1)];
        double[] flow = new double[net.k.Length];
        Assert.True(new AirWorkspace(network).Solve(net.k, net.e, fixedPressure, new double[net.nodes], flow).Converged);
        return flow;
    }
}
