namespace Ventwright.Numerics;

/// <summary>Connected parts of a graph whose branches open and close. Refilled for each solve without allocation.</summary>
public sealed class NodeIslands
{
    private readonly int[] _parent;

    /// <summary>Makes the workspace for so many nodes.</summary>
    public NodeIslands(int nodes) => _parent = new int[nodes];

    /// <summary>Makes every node an island of its own.</summary>
    public void Reset()
    {
        for (int i = 0; i < _parent.Length; i++) _parent[i] = i;
    }

    /// <summary>Makes one island of the islands of two nodes.</summary>
    public void Join(int a, int b)
    {
        (a, b) = (Root(a), Root(b));
        _parent[Math.Max(a, b)] = Math.Min(a, b);
    }

    /// <summary>The lowest node of the island that <paramref name="node"/> belongs to.</summary>
    public int Root(int node)
    {
        while (_parent[node] != node)
        {
            _parent[node] = _parent[_parent[node]];
            node = _parent[node];
        }

        return node;
    }
}
