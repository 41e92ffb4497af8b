using Ventwright.Model.Kernel;

namespace Ventwright.Drawing;

/// <summary>Sketches the lane of hoses: from the vacuum source to what it moves.</summary>
internal sealed class HoseSketch(UnitFacts facts, LayoutDetail detail)
{
    private readonly UnitModel _model = facts.Model;
    private readonly LaneSketch _lane = new(Lane.Hoses);
    private readonly Dictionary<int, SketchNode> _nodes = [];

    /// <summary>Makes the sketch.</summary>
    public LaneSketch Sketch()
    {
        foreach (int part in Enumerable.Range(0, _model.Parts.Length).Where(p => facts.LanesOf(p).Contains(Lane.Hoses)))
            _lane.Nodes.Add(_nodes[part] = Node(part));
        var hoses = new Dictionary<int, Conductor>();
        foreach ((int part, SketchNode node) in _nodes)
        {
            foreach (int hose in facts.Hoses(part))
            {
                if (!hoses.TryGetValue(hose, out Conductor? conductor)) hoses[hose] = conductor = new(_model.Hoses[hose], LinkKind.Hose);
                conductor.Add(node, _model.Hoses[hose]);
            }
        }

        _lane.Conductors.AddRange(hoses.Values.Where(c => c.Ports.Count > 1));
        MoveSketch.Add(_lane, facts, _nodes);
        Columns();
        return _lane;
    }

    private SketchNode Node(int part)
    {
        PartInfo info = _model.Parts[part];
        if (detail == LayoutDetail.Full) return Sizes.Part(info, part, detail);
        if (info.Kind is "hose" or "check-valve" or "restrictor") return Sizes.Small(info, part);
        return Sizes.Part(info, part, detail, info.Kind is "vacuum-source" or "reservoir" ? 84 : info.Kind == "solenoid-valve" ? 112 : 128);
    }

    /// <summary>Steps from the source over hoses; a part that no source reaches starts a row of its own.</summary>
    private void Columns()
    {
        var order = new List<SketchNode>();
        var level = new Dictionary<SketchNode, int>();
        foreach (SketchNode start in _lane.Nodes.OrderBy(n => n.Kind == "vacuum-source" ? 0 : n.Role == NodeRole.Control ? 1 : 2))
        {
            if (!level.TryAdd(start, 0)) continue;
            var queue = new Queue<SketchNode>([start]);
            while (queue.TryDequeue(out SketchNode? node))
            {
                order.Add(node);
                foreach (SketchNode next in node.Ports.Select(p => p.Conductor).OfType<Conductor>().SelectMany(c => c.Ports).Select(p => p.Owner))
                {
                    // A control is turned by hand, not by what its valve feeds.
                    if (next.Role != NodeRole.Control && level.TryAdd(next, level[node] + 1)) queue.Enqueue(next);
                }
            }
        }

        foreach (SketchNode node in order.OrderBy(n => level[n]))
        {
            node.Column = node.Ports.Select(p => p.Conductor).OfType<Conductor>().SelectMany(c => c.Ports)
                .Where(p => level[p.Owner] < level[node]).Select(p => p.Owner.Column + 1).DefaultIfEmpty(0).Max();
        }
    }
}
