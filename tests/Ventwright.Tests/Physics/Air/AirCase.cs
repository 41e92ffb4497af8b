using Ventwright.Physics;
using Ventwright.Physics.Air;

namespace Ventwright.Tests.Physics.Air;

/// <summary>An air network with its numbers, to keep tests short. Node 0 is ambient.</summary>
internal sealed class AirCase
{
    private readonly AirWorkspace _workspace;

    public AirCase(int nodes, params (int A, int B, double Resistance, double FanPa)[] branches)
    {
        Branches = [.. branches.Select(b => (b.A, b.B))];
        _workspace = new AirWorkspace(new AirNetwork(nodes, Branches));
        Resistance = [.. branches.Select(b => b.Resistance)];
        Fan = [.. branches.Select(b => b.FanPa)];
        Fixed = [0, .. Enumerable.Repeat(double.NaN, nodes - 1)];
        Pressure = new double[nodes];
        Flow = new double[branches.Length];
    }

    public (int A, int B)[] Branches { get; }
    public double[] Resistance { get; }
    public double[] Fan { get; }
    public double[] Fixed { get; }
    public double[] Pressure { get; }
    public double[] Flow { get; }

    public NetworkVerdict Solve() => _workspace.Solve(Resistance, Fan, Fixed, Pressure, Flow);

    public AirCase Solved()
    {
        Assert.True(Solve().Converged);
        return this;
    }
}
