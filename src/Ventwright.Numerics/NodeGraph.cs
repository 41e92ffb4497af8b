namespace Ventwright.Numerics;

/// <summary>Nodes and branches of a flow network with the matrix pattern of its node balances, worked out once. Immutable.</summary>
public sealed class NodeGraph
{
    /// <summary>Builds the graph.</summary>
    /// <param name="nodes">Number of nodes, at least 1.</param>
    /// <param name="branches">Ends of each branch; flow counts as positive from A to B.</param>
    /// <exception cref="ArgumentException">A branch names a node that is not there, or ends where it starts.</exception>
    public NodeGraph(int nodes, IEnumerable<(int A, int B)> branches)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(nodes, 1);
        (int A, int B)[] ends = [.. branches];
        for (int k = 0; k < ends.Length; k++)
        {
            (int a, int b) = ends[k];
            if (a < 0 || a >= nodes || b < 0 || b >= nodes || a == b)
                throw new ArgumentException($"Branch {k} goes from node {a} to node {b}; it must join two of the nodes 0 to {nodes - 1}.", nameof(branches));
        }

        Nodes = nodes;
        From = [.. ends.Select(e => e.A)];
        To = [.. ends.Select(e => e.B)];
        Pattern = SparsePattern.Build(nodes, ends);
        Diagonal = [.. Enumerable.Range(0, nodes).Select(i => Pattern.Slot(i, i))];
        SlotFromTo = [.. ends.Select(e => Pattern.Slot(e.A, e.B))];
        SlotToFrom = [.. ends.Select(e => Pattern.Slot(e.B, e.A))];
    }

    /// <summary>Number of nodes.</summary>
    public int Nodes { get; }

    /// <summary>Number of branches.</summary>
    public int BranchCount => From.Length;

    /// <summary>Start node of each branch.</summary>
    public int[] From { get; }

    /// <summary>End node of each branch.</summary>
    public int[] To { get; }

    internal SparsePattern Pattern { get; }

    internal int[] Diagonal { get; }

    internal int[] SlotFromTo { get; }

    internal int[] SlotToFrom { get; }
}
