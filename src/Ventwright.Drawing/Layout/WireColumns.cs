using Ventwright.Model.Kernel;

namespace Ventwright.Drawing;

/// <summary>
/// Says in which column each electric part stands: as far from the panel as the longest way of causes to it. Causes spread from controls and sensors
/// over nets that are no feeds; the module comes after its inputs, everything it drives after it.
/// </summary>
internal sealed class WireColumns(UnitFacts facts, Conductors joined, LaneSketch lane)
{
    private readonly UnitModel _model = facts.Model;
    private readonly Dictionary<SketchNode, int> _level = [];
    private readonly HashSet<int> _outputs =
        [.. facts.Model.Parts.Where(p => p.Kind == "module-output").Select(p => Array.IndexOf(facts.Model.Nets, p.Id)).Where(n => n >= 0).Select(joined.Root)];

    public void Assign()
    {
        foreach (SketchNode node in lane.Nodes.Where(n => n.Role == NodeRole.Control)) _level[node] = 0;
        Spread([.. lane.Nodes.Where(IsSource)]);
        while (lane.Nodes.Find(n => !_level.ContainsKey(n) && Conductors(n).Any()) is { } next) Spread([next]);
        SketchNode[] others = [.. lane.Nodes.Where(n => !_level.ContainsKey(n))];
        foreach (SketchNode node in others) _level[node] = 1;
        LongestWay();
        PlaceFeedsAndGrounds(others);
    }

    /// <summary>Parts that only feeds and grounds join: feeds stand on the far left, grounds right after what they ground.</summary>
    private void PlaceFeedsAndGrounds(SketchNode[] rest)
    {
        foreach (SketchNode node in rest) node.Column = -1;
        foreach (SketchNode node in rest.Where(n => !IsGround(n))) node.Column = node.Ports.Count > 0 ? 0 : 1;
        for (bool placed = true; placed;)
        {
            placed = false;
            foreach (SketchNode node in rest.Where(n => n.Column < 0))
            {
                int before = node.Ports.Select(p => p.Conductor).OfType<Conductor>().Where(c => c.Name != _model.Nets[0]).SelectMany(c => c.Ports).Max(p => (int?)p.Owner.Column) ?? -1;
                if (before < 0) continue;
                node.Column = before + 1;
                placed = true;
            }
        }

        foreach (SketchNode node in rest.Where(n => n.Column < 0)) node.Column = 1;
    }

    private bool IsGround(SketchNode node) => facts.IsJoin(node.Part) && facts.AllNets(node.Part).Any(n => joined.MarkOf(n) == PortMark.Ground);

    /// <summary>Whether most of what a part is joined with comes out of the module, so that it belongs behind it.</summary>
    private bool IsBehindModule(SketchNode node)
    {
        int[] nets = node.Part < 0 ? [] : [.. facts.Nets(node.Part).Where(n => joined.MarkOf(n) == PortMark.None).Select(joined.Root).Distinct()];
        int outputs = nets.Count(_outputs.Contains);
        return outputs > 0 && outputs >= nets.Length - outputs;
    }

    private bool IsSource(SketchNode node) =>
        node.Part >= 0 && (facts.Turns.Any(t => t.Part == node.Part) || node.Kind == "thermistor");

    private IEnumerable<Conductor> Conductors(SketchNode node) =>
        node.Ports.Select(p => p.Conductor).OfType<Conductor>().Where(c => c.Kind == LinkKind.Move || !IsRail(c));

    private bool IsRail(Conductor conductor) => joined.MarkOf(Array.IndexOf(_model.Nets, conductor.Name)) != PortMark.None;

    /// <summary>Level by level; the module waits until everything that reaches its inputs without it has been seen.</summary>
    private void Spread(List<SketchNode> sources)
    {
        foreach (SketchNode node in sources) _level.TryAdd(node, 1);
        var queue = new Queue<SketchNode>(sources);
        List<SketchNode> waiting = [];
        while (queue.Count > 0 || waiting.Count > 0)
        {
            if (queue.Count == 0)
            {
                queue.Enqueue(waiting[0]);
                waiting.RemoveAt(0);
            }

            SketchNode node = queue.Dequeue();
            bool before = node.Role != NodeRole.Module && lane.Nodes.Exists(n => n.Role == NodeRole.Module && (!_level.ContainsKey(n) || waiting.Contains(n)));
            foreach (SketchNode next in Conductors(node).SelectMany(c => c.Ports).Select(p => p.Owner).Where(n => !_level.ContainsKey(n)))
            {
                if (before && IsBehindModule(next)) continue;
                _level[next] = _level[node] + 1;
                if (next.Role == NodeRole.Module) waiting.Add(next);
                else queue.Enqueue(next);
            }
        }

        foreach (SketchNode module in lane.Nodes.Where(n => n.Role == NodeRole.Module)) _level.TryAdd(module, 2);
    }

    private void LongestWay()
    {
        foreach (SketchNode node in lane.Nodes.OrderBy(n => _level[n]))
        {
            int column = node.Role == NodeRole.Control ? 0 : 1;
            foreach (SketchPort other in Conductors(node).SelectMany(c => c.Ports))
            {
                if (_level[other.Owner] < _level[node]) column = Math.Max(column, other.Owner.Column + 1);
            }

            node.Column = column;
        }
    }
}
