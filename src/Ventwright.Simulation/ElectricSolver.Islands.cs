namespace Ventwright.Simulation;

/// <summary>Which nets hang together and which float: each island without a path to ground is pinned at one net, so that the matrix determines it.</summary>
internal sealed partial class ElectricSolver
{
    private readonly int[] _island, _islandHead;
    private readonly bool[] _openJoined, _pinned;
    private bool _joined;

    /// <summary>Joins what straight branches and feeds join, whatever the others do, and pins the islands of these that no curved branch touches.</summary>
    private void JoinHead(IReadOnlyList<(int Net, double Volts, double Ohms)> feeds, Span<double> m)
    {
        for (int n = 0; n < _island.Length; n++) _island[n] = n;
        foreach (int i in _straight)
        {
            if (!Open[i]) Union(_topology.A[i], _topology.B[i]);
        }

        foreach (var feed in feeds) Union(feed.Net, 0);
        _island.CopyTo(_islandHead, 0);
        _joined = false;
        Array.Clear(_pinned);
        _pinned[Root(0)] = true;
        foreach (int n in _topology.Felt) _pinned[Root(n)] = true;
        for (int n = 1; n < _island.Length; n++) Pin(n, m);
    }

    /// <summary>Finds the nets that float with the curved branches as they are.</summary>
    private void FindFloating()
    {
        if (_joined && IsAsJoined()) return;
        _islandHead.CopyTo(_island, 0);
        foreach (int i in _topology.Curved)
        {
            _openJoined[i] = Open[i];
            if (!Open[i]) Union(_topology.A[i], _topology.B[i]);
        }

        int ground = Root(0);
        for (int n = 0; n < _island.Length; n++) Floating[n] = Root(n) != ground;
        _joined = true;
    }

    private bool IsAsJoined()
    {
        foreach (int i in _topology.Curved)
        {
            if (Open[i] != _openJoined[i]) return false;
        }

        return true;
    }

    /// <summary>Pins the floating islands that curved branches touch.</summary>
    private void PinFloating(Span<double> m)
    {
        Array.Clear(_pinned);
        foreach (int n in _topology.Felt)
        {
            if (Floating[n]) Pin(n, m);
        }
    }

    /// <summary>Pins a net's island there unless it is pinned already.</summary>
    private void Pin(int n, Span<double> m)
    {
        int root = Root(n);
        if (_pinned[root]) return;
        _pinned[root] = true;
        m[_topology.Diagonal[n]] += 1;
    }

    private int Root(int n)
    {
        while (_island[n] != n) n = _island[n] = _island[_island[n]];
        return n;
    }

    private void Union(int a, int b)
    {
        (a, b) = (Root(a), Root(b));
        if (a != b) _island[Math.Max(a, b)] = Math.Min(a, b);
    }
}
