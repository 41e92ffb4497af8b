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

    public void Assign()
    {
        foreach (SketchNode node in lane.Nodes.Where(n => n.Role == NodeRole.Control)) _level[node] = 0;
        Spread([.. lane.Nodes.Where(IsSource)]);
        while (lane.Nodes.Find(n => !_level.ContainsKey(n) && Conductors(n).Any()) is { } rest) Spread([rest]);
        foreach (SketchNode node in lane.Nodes) _level.TryAdd(node, 1);
        LongestWay();
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
            foreach (SketchNode next in Conductors(node).SelectMany(c => c.Ports).Select(p => p.Owner).Where(n => !_level.ContainsKey(n)))
            {
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
