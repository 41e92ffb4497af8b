using Ventwright.Physics;
using Ventwright.Physics.Vacuum;

namespace Ventwright.Tests.Physics.Vacuum;

/// <summary>A vacuum network with its numbers, to keep tests short.</summary>
internal sealed class VacuumCase
{
    private readonly VacuumWorkspace _workspace;

    public VacuumCase(int nodes, params (int A, int B, bool OneWay, double Conductance, double CriticalRatio)[] branches)
    {
        Network = new VacuumNetwork(nodes, [.. branches.Select(b => (b.A, b.B, b.OneWay))]);
        _workspace = new VacuumWorkspace(Network);
        Branches = [.. branches.Select(b => (b.A, b.B, b.OneWay))];
        Conductance = [.. branches.Select(b => b.Conductance)];
        CriticalRatio = [.. branches.Select(b => b.CriticalRatio)];
        Fixed = [.. Enumerable.Repeat(double.NaN, nodes)];
        Held = new double[nodes];
        Volume = [.. Enumerable.Repeat(1e-4, nodes)];
        Depression = new double[nodes];
        Flow = new double[branches.Length];
    }

    public VacuumNetwork Network { get; }
    public (int A, int B, bool OneWay)[] Branches { get; }
    public double[] Conductance { get; }
    public double[] CriticalRatio { get; }
    public double[] Fixed { get; }
    public double[] Held { get; }
    public double[] Volume { get; }
    public double[] Depression { get; }
    public double[] Flow { get; }
    public double AmbientPa { get; set; } = 100_000;

    public NetworkVerdict Solve() => _workspace.Solve(Conductance, CriticalRatio, Fixed, Held, Volume, AmbientPa, Depression, Flow);

    /// <summary>Net mass flow into a node, kg/s.</summary>
    public double NetInto(int node)
    {
        double sum = 0;
        for (int k = 0; k < Flow.Length; k++) sum += Branches[k].B == node ? Flow[k] : Branches[k].A == node ? -Flow[k] : 0;
        return sum;
    }

    /// <summary>Sum of the sizes of the flows at a node, kg/s.</summary>
    public double ThroughPut(int node) =>
        Enumerable.Range(0, Flow.Length).Where(k => Branches[k].A == node || Branches[k].B == node).Sum(k => Math.Abs(Flow[k]));
}
