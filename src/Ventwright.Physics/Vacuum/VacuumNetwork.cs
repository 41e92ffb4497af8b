using Ventwright.Numerics;

namespace Ventwright.Physics.Vacuum;

/// <summary>
/// Nodes and branches of a pneumatic network below atmosphere. Node 0 is the atmosphere. Immutable; solve it with a
/// <see cref="VacuumWorkspace"/> or, in time, with a <see cref="VacuumTransient"/>.
/// </summary>
public sealed class VacuumNetwork
{
    /// <summary>Builds the network.</summary>
    /// <param name="nodes">Number of nodes, the atmosphere included.</param>
    /// <param name="branches">Ends of each branch; flow is positive from A to B. A one-way branch (check valve) passes gas from A to B only.</param>
    /// <exception cref="ArgumentException">A branch does not join two different nodes of the network.</exception>
    public VacuumNetwork(int nodes, IReadOnlyList<(int A, int B, bool OneWay)> branches)
    {
        Graph = new NodeGraph(nodes, branches.Select(b => (b.A, b.B)));
        OneWay = [.. branches.Select(b => b.OneWay)];
        ValveCount = OneWay.Count(v => v);
    }

    /// <summary>Number of nodes, the atmosphere included.</summary>
    public int Nodes => Graph.Nodes;

    /// <summary>Number of branches.</summary>
    public int Branches => Graph.BranchCount;

    /// <summary>Gas temperature everywhere, K. 293.15 K unless given.</summary>
    public double TemperatureK { get; init; } = ReferenceAir.TemperatureK;

    internal NodeGraph Graph { get; }

    internal bool[] OneWay { get; }

    internal int ValveCount { get; }

    /// <summary>Checks the numbers of a solve before any work is done.</summary>
    /// <exception cref="ArgumentException">A length or a value is out of range; the message says which.</exception>
    internal void Check(
        ReadOnlySpan<double> conductance, ReadOnlySpan<double> criticalRatio, ReadOnlySpan<double> fixedDepressionPa, double ambientPa)
    {
        if (conductance.Length != Branches || criticalRatio.Length != Branches)
            throw new ArgumentException($"The network has {Branches} branches: give as many conductances and critical ratios.", nameof(conductance));
        if (fixedDepressionPa.Length != Nodes)
            throw new ArgumentException($"The network has {Nodes} nodes: give as many fixed depressions (NaN for free nodes).", nameof(fixedDepressionPa));
        if (!(ambientPa > 0.0) || double.IsInfinity(ambientPa))
            throw new ArgumentException("Ambient pressure must be above 0 Pa absolute.", nameof(ambientPa));
        for (int k = 0; k < conductance.Length; k++)
        {
            if (!(conductance[k] >= 0.0) || double.IsInfinity(conductance[k]))
                throw new ArgumentException($"Conductance of branch {k} must be 0 (closed) or a positive number of m3/(s Pa).", nameof(conductance));
            if (!(criticalRatio[k] >= 0.0 && criticalRatio[k] < 1.0))
                throw new ArgumentException($"Critical ratio of branch {k} must be 0 or more and below 1.", nameof(criticalRatio));
        }

        for (int i = 1; i < fixedDepressionPa.Length; i++)
        {
            if (fixedDepressionPa[i] >= ambientPa)
                throw new ArgumentException($"Fixed depression of node {i} must be below ambient pressure ({ambientPa} Pa).", nameof(fixedDepressionPa));
        }
    }
}
