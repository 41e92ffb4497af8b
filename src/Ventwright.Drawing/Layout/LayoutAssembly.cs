using Ventwright.Model.Kernel;

namespace Ventwright.Drawing;

/// <summary>Puts the three lanes together.</summary>
internal sealed class LayoutAssembly(UnitModel model, LayoutDetail detail)
{
    private const double OverviewWidth = 900, Margin = 6, Heading = 22, Foot = 7;
    private readonly List<LayoutNode> _nodes = [];
    private readonly List<LayoutLink> _links = [];
    private readonly List<LayoutCaption> _captions = [];
    private readonly Dictionary<Lane, Box> _lanes = [];
    private readonly Dictionary<string, double> _lefts = new(StringComparer.Ordinal);

    /// <summary>Makes the layout.</summary>
    public UnitLayout Assemble()
    {
        var facts = new UnitFacts(model);
        LanePlacer[] placers = [.. Sketches(facts).Where(s => s.Nodes.Count + s.Strips.Count > 0).Select(s => new LanePlacer(s, detail))];
        foreach (LanePlacer placer in placers.Where(_ => detail == LayoutDetail.Overview)) placer.Squeeze(OverviewWidth);
        double width = placers.Select(p => p.Needed).Append(OverviewWidth).Max(), y = Margin;
        foreach (LanePlacer placer in placers) y = AddLane(placer, width, y) + Margin;
        foreach (LanePlacer placer in placers.Where(p => p.Sketch.Strips.Count > 0)) y = AddStrips(placer.Sketch, Margin + 12, width - Margin - 8, y);
        return new(detail, width, y, _lanes, _nodes, _links, _captions);
    }

    private IEnumerable<LaneSketch> Sketches(UnitFacts facts)
    {
        yield return new WireSketch(facts, new(facts), detail).Sketch();
        yield return new HoseSketch(facts, detail).Sketch();
        yield return new AirSketch(facts, detail).Sketch();
    }

    private double AddLane(LanePlacer placer, double width, double top)
    {
        LaneSketch lane = placer.Sketch;
        _captions.Add(new(lane.Lane.ToString(), new(Margin + 12, top + 17), 14));
        double y = top + Heading;
        placer.Place(width, Wanted(placer));
        foreach (SketchNode node in lane.Nodes) node.Y += y;
        foreach (Conductor conductor in lane.Conductors)
        {
            foreach (int column in conductor.PassY.Keys.ToArray()) conductor.PassY[column] += y;
        }

        var router = new LinkRouter(model, lane.Lane);
        foreach (SketchNode node in lane.Nodes) Emit(node, lane.Lane);
        foreach (Conductor conductor in lane.Conductors) router.Add(conductor);
        _nodes.AddRange(router.Spaces);
        _links.AddRange(router.Links);
        double height = y + placer.Order.Height + Foot - top;
        _lanes[lane.Lane] = new(Margin, top, width - (2 * Margin), height);
        return top + height;
    }

    /// <summary>Where columns should start so that a part stands under itself in the lane above.</summary>
    private Dictionary<int, double> Wanted(LanePlacer placer)
    {
        var wanted = new Dictionary<int, double>();
        foreach (var column in placer.Sketch.Nodes.SelectMany(n => n.Riders.Select(r => (n.Column, r.Id)).Append((n.Column, n.Id))).GroupBy(p => p.Column, p => p.Id))
        {
            double[] above = [.. column.Where(_lefts.ContainsKey).Select(id => _lefts[id])];
            if (above.Length > 0) wanted[column.Key] = above.Average();
        }

        return wanted;
    }

    /// <summary>What every wire goes through stands below the lanes: seldom looked at in itself, but there to be found and tapped.</summary>
    private double AddStrips(LaneSketch lane, double left, double right, double top)
    {
        double x = left, y = top;
        foreach ((string heading, List<SketchNode> nodes) in lane.Strips)
        {
            double title = TextWidth.Of(heading, Sizes.Type) + 4;
            if (x + title + nodes[0].Width > right) (x, y) = (left, y + Sizes.Chip + 3);
            _captions.Add(new(heading, new(x, y + 12.3), Sizes.Type));
            x += title;
            foreach (SketchNode node in nodes)
            {
                if (x + node.Width > right) (x, y) = (left, y + Sizes.Chip + 3);
                (node.X, node.Y) = (x, y);
                Emit(node, lane.Lane);
                x += node.Width + 3;
            }

            x += 10;
        }

        return lane.Strips.Count == 0 ? y : y + Sizes.Chip + 6;
    }

    private void Emit(SketchNode node, Lane lane)
    {
        if (node.Role == NodeRole.Module) ModulePins.Place(node);
        var box = new Box(node.X, node.Y, node.Width, node.Height);
        LayoutPort[] ports = [.. node.Ports.Select(p => new LayoutPort(p.Node, p.Spot, p.Left, p.Mark))];
        _nodes.Add(new(LayoutKeys.Of(lane, node), node.Id, node.Name, node.Kind, node.Part, lane, node.Role, box, ports));
        if (node.Part >= 0) _lefts.TryAdd(node.Id, node.X);
        double y = node.Y - node.RidersHeight;
        foreach (SketchNode rider in node.Riders)
        {
            rider.Y = y;
            y += rider.Height;
            Emit(rider, lane);
        }

        foreach (SketchNode pin in node.Pins) Emit(pin, lane);
    }
}
