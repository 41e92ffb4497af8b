using Ventwright.Model.Kernel;

namespace Ventwright.Drawing;

/// <summary>
/// Nets gathered into what is drawn as one line: in the overview a net with everything that plugs, wires, fuses and ground points join it to; in full
/// detail every net by itself. Says which of them are feeds and grounds.
/// </summary>
internal sealed class Conductors
{
    private const int VeryMany = 5;
    private readonly UnitFacts _facts;
    private readonly int[] _joined;
    private readonly Dictionary<int, PortMark> _marks = [];

    public Conductors(UnitFacts facts)
    {
        _facts = facts;
        UnitModel model = facts.Model;
        _joined = [.. Enumerable.Range(0, model.Nets.Length)];
        Joins = [.. model.Electric.Where(b => b.Part >= 0 && facts.IsJoin(b.Part) && facts.AllNets(b.Part).Contains(b.A) && !IsChafe(b)).Select(b => (b.Part, b.A, b.B))];
        foreach ((_, int a, int b) in Joins.Where(j => !IsCrossTie(j))) _joined[Root(Math.Max(Root(a), Root(b)))] = Math.Min(Root(a), Root(b));
        foreach (int net in Enumerable.Range(0, model.Nets.Length)) Mark(net);
    }

    /// <summary>Branches that only join.</summary>
    public List<(int Part, int A, int B)> Joins { get; }

    /// <summary>The net that stands for all that are joined with this one.</summary>
    public int Root(int net)
    {
        while (_joined[net] != net) net = _joined[net];
        return net;
    }

    /// <summary>What a port on a net shows when no line is drawn to it.</summary>
    public PortMark MarkOf(int net) => _marks[Root(net)];

    private static bool IsChafe(ElectricBranch branch) => branch.Name.StartsWith("chafed", StringComparison.Ordinal);

    /// <summary>A joint between supply and ground, which a faulty sheet may have, would make one net of all.</summary>
    private bool IsCrossTie((int Part, int A, int B) join)
    {
        int supply = Root(_facts.Model.Electric[_facts.Model.SupplyBranch].A), ground = Root(0);
        return (Root(join.A) == supply && Root(join.B) == ground) || (Root(join.B) == supply && Root(join.A) == ground);
    }

    private void Mark(int net)
    {
        int root = Root(net);
        if (_marks.ContainsKey(root)) return;
        UnitModel model = _facts.Model;
        int users = Enumerable.Range(0, model.Nets.Length).Where(n => Root(n) == root)
            .SelectMany(n => _facts.NetUsers.GetValueOrDefault(n) ?? []).Distinct().Count(p => !_facts.IsJoin(p) && !_facts.IsPin(p));
        bool feed = root == Root(model.Electric[model.SupplyBranch].A);
        _marks[root] = root == Root(0) ? PortMark.Ground : feed ? PortMark.Feed : users >= VeryMany ? PortMark.Shared : PortMark.None;
    }
}
