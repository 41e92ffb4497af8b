using Ventwright.Model.Kernel;

namespace Ventwright.Drawing;

/// <summary>Sketches the lane of wires: controls, panel, module, what it drives.</summary>
internal sealed class WireSketch(UnitFacts facts, Conductors joined, LayoutDetail detail)
{
    private readonly UnitModel _model = facts.Model;
    private readonly bool _full = detail == LayoutDetail.Full;
    private readonly LaneSketch _lane = new(Lane.Wires);
    private readonly Dictionary<int, SketchNode> _nodes = [];
    private readonly Dictionary<int, Conductor> _conductors = [];

    /// <summary>Makes the sketch.</summary>
    public LaneSketch Sketch()
    {
        int[] parts = [.. Enumerable.Range(0, _model.Parts.Length).Where(p => facts.LanesOf(p).Contains(Lane.Wires) && !facts.IsPin(p))];
        foreach (int part in parts.Where(p => _full || !IsSmall(p))) _lane.Nodes.Add(_nodes[part] = MakeNode(part));
        if (!_full) AddStrips(parts);
        foreach (SketchNode node in _nodes.Values) AddPorts(node);
        MoveSketch.Add(_lane, facts, _nodes);
        AddJoins();
        _lane.Conductors.AddRange(_conductors.Values.Where(c => c.Ports.Count > 1));
        foreach (Conductor lone in _conductors.Values.Where(c => c.Ports.Count == 1)) lone.Ports[0].Conductor = null;
        foreach (SketchNode node in _nodes.Values.Where(n => _full && n.Role == NodeRole.Part)) node.Height = Math.Max(node.Height, 7 * (node.Ports.Count + 1));
        new WireColumns(facts, joined, _lane).Assign();
        return _lane;
    }

    private SketchNode MakeNode(int part)
    {
        PartInfo info = _model.Parts[part];
        if (_model.Module?.Part != part)
        {
            SketchNode node = Sizes.Part(info, part, detail);
            if (!_full && info.Kind == "lamp") node.Height = Sizes.Chip;
            return node;
        }

        SketchNode module = Sizes.Module(info, part, detail);
        module.Pins.AddRange(Enumerable.Range(0, _model.Parts.Length).Where(facts.IsPin).Select(p => Sizes.Pin(_model.Parts[p], p, detail)));
        return module;
    }

    private bool IsSmall(int part)
    {
        if (facts.IsJoin(part) || _model.Parts[part].Kind == "supply") return true;
        if (_model.Parts[part].Kind is not ("diode" or "resistor")) return false;
        int[] nets = [.. facts.AllNets(part)];
        return nets.Any(n => joined.MarkOf(n) != PortMark.None) || nets.All(n => facts.NetUsers[n].Count > 2);
    }

    private void AddStrips(int[] parts)
    {
        var small = parts.Where(IsSmall).GroupBy(p => Heading(_model.Parts[p].Kind)).ToDictionary(g => g.Key, g => g.ToList(), StringComparer.Ordinal);
        foreach (string heading in (string[])["Feeds", "Grounds", "Plugs", "Diodes", "Resistors"])
        {
            if (small.TryGetValue(heading, out List<int>? members)) _lane.Strips.Add((heading, [.. members.Select(p => Sizes.Small(_model.Parts[p], p))]));
        }
    }

    private static string Heading(string kind) => kind switch
    {
        "ground-point" => "Grounds",
        "connector" => "Plugs",
        "diode" => "Diodes",
        "resistor" => "Resistors",
        _ => "Feeds",
    };

    private void AddPorts(SketchNode node)
    {
        IEnumerable<int> nets = facts.Nets(node.Part);
        if (node.Role == NodeRole.Module) nets = nets.Concat(node.Pins.SelectMany(p => facts.AllNets(p.Part).Where(n => _model.Nets[n] == p.Id))).Distinct();
        HashSet<int> seen = [];
        foreach (int net in nets)
        {
            PortMark mark = joined.MarkOf(net);
            if (!_full && !seen.Add(joined.Root(net)) && node.Role != NodeRole.Module) continue;
            if (!_full && mark != PortMark.None) node.Ports.Add(new(node, _model.Nets[net], mark));
            else ConductorOf(net).Add(node, _model.Nets[net]);
        }
    }

    private Conductor ConductorOf(int net)
    {
        int root = _full ? net : joined.Root(net);
        if (!_conductors.TryGetValue(root, out Conductor? conductor)) _conductors[root] = conductor = new(_model.Nets[root], LinkKind.Wire);
        return conductor;
    }

    private void AddJoins()
    {
        if (_full) return;
        foreach ((int part, int a, int b) in joined.Joins)
        {
            if (_conductors.TryGetValue(joined.Root(a), out Conductor? conductor)) conductor.Joins.Add((part, _model.Nets[a], _model.Nets[b]));
        }
    }
}

/// <summary>Adds knobs and what they turn, movers and what they move.</summary>
internal static class MoveSketch
{
    public static void Add(LaneSketch lane, UnitFacts facts, IReadOnlyDictionary<int, SketchNode> nodes)
    {
        foreach (var turned in facts.Turns.Where(t => nodes.ContainsKey(t.Part)).GroupBy(t => t.Control))
        {
            SketchNode control = Sizes.Control(turned.Key);
            lane.Nodes.Add(control);
            Join(lane, control, turned.Select(t => nodes[t.Part]));
        }

        foreach (var moved in facts.Moves.Where(m => nodes.ContainsKey(m.Mover) && nodes.ContainsKey(m.Flap)).GroupBy(m => m.Mover))
            Join(lane, nodes[moved.Key], moved.Select(m => nodes[m.Flap]));
    }

    private static void Join(LaneSketch lane, SketchNode mover, IEnumerable<SketchNode> moved)
    {
        var conductor = new Conductor(mover.Id, LinkKind.Move);
        conductor.Add(mover, mover.Id);
        foreach (SketchNode node in moved) conductor.Add(node, mover.Id);
        lane.Conductors.Add(conductor);
    }
}
