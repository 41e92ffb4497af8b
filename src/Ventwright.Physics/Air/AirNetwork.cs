using Ventwright.Numerics;

namespace Ventwright.Physics.Air;

/// <summary>Nodes and branches of an air duct network with fans. Immutable; solve it with an <see cref="AirWorkspace"/>.</summary>
public sealed class AirNetwork
{
    /// <summary>Pressure difference below which the root law is smoothed, Pa.</summary>
    public const double SmoothPressurePa = 1e-3;

    /// <summary>Builds the network.</summary>
    /// <param name="nodes">Number of nodes.</param>
    /// <param name="branches">Ends of each branch; flow, and the pressure rise of a fan, are positive from A to B.</param>
    /// <exception cref="ArgumentException">A branch does not join two different nodes of the network.</exception>
    public AirNetwork(int nodes, IReadOnlyList<(int A, int B)> branches) => Graph = new NodeGraph(nodes, branches);

    /// <summary>Number of nodes.</summary>
    public int Nodes => Graph.Nodes;

    /// <summary>Number of branches.</summary>
    public int Branches => Graph.BranchCount;

    internal NodeGraph Graph { get; }
}
