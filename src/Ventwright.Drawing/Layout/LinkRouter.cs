using Ventwright.Model.Kernel;

namespace Ventwright.Drawing;

/// <summary>Turns the conductors of a placed lane into lines from port to port.</summary>
internal sealed class LinkRouter(UnitModel model, Lane lane)
{
    private readonly List<LayoutLink> _links = [];
    private readonly List<LayoutNode> _spaces = [];

    /// <summary>Lines.</summary>
    public IReadOnlyList<LayoutLink> Links => _links;

    /// <summary>Bars that stand for spaces.</summary>
    public IReadOnlyList<LayoutNode> Spaces => _spaces;

    /// <summary>Adds the lines of a conductor.</summary>
    public void Add(Conductor conductor)
    {
        if (conductor.Kind == LinkKind.Air)
        {
            AddSpace(conductor);
            return;
        }

        SketchPort root = conductor.Ports.OrderBy(p => p.Owner.Column).ThenBy(p => p.Y).First();
        foreach (SketchPort port in conductor.Ports.Where(p => p != root))
        {
            string key = $"{conductor.Kind}:{conductor.Name}:{root.Owner.Id}.{root.Node}:{port.Owner.Id}.{port.Node}";
            _links.Add(new(key, conductor.Kind, LayoutKeys.Of(lane, End(root)), LayoutKeys.Of(lane, End(port)), root.Node, port.Node, -1, Simplify(Route(conductor, root, port)), Through(conductor, root.Node, port.Node)));
        }
    }

    /// <summary>A line to the module ends at the pin, if its net has one.</summary>
    private static SketchNode End(SketchPort port) => port.Owner.Pins.Find(p => p.Id == port.Node) ?? port.Owner;

    private static List<Spot> Route(Conductor conductor, SketchPort from, SketchPort to)
    {
        List<Spot> points = [from.Spot];
        int column = from.Owner.Column, last = Math.Max(to.Owner.Column, column + 1);
        double y = from.Y;
        for (int gap = column; gap < last; gap++)
        {
            double next = gap + 1 == last ? to.Y : conductor.PassY[gap + 1], x = conductor.TrunkX[gap];
            points.Add(new(x, y));
            points.Add(new(x, next));
            y = next;
        }

        points.Add(to.Spot);
        return points;
    }

    private void AddSpace(Conductor space)
    {
        int first = space.First;
        double x = space.TrunkX[first];
        double[] heights = [.. space.Ports.Select(p => JoinY(space, p, first))];
        var box = new Box(x - 3, heights.Min() - 5, 6, heights.Max() - heights.Min() + 10);
        string key = $"{LayoutKeys.Of(lane)}:space:{space.Name}";
        _spaces.Add(new(key, space.Name, space.Name, "space", -1, lane, NodeRole.Space, box, [.. heights.Distinct().Select(y => new LayoutPort(space.Name, new(x, y), true, PortMark.None))]));
        foreach (SketchPort port in space.Ports)
        {
            int branch = Array.FindIndex(model.Air, b => b.Part == port.Owner.Part && (model.Spaces[b.A] == space.Name || model.Spaces[b.B] == space.Name));
            string node = LayoutKeys.Of(lane, port.Owner), link = $"Air:{space.Name}:{port.Owner.Id}";
            if (port.Left) _links.Add(new(link, LinkKind.Air, key, node, space.Name, space.Name, branch, FromBar(space, port, x), []));
            else _links.Add(new(link, LinkKind.Air, node, key, space.Name, space.Name, branch, [port.Spot, new(x, port.Y)], []));
        }
    }

    private static double JoinY(Conductor space, SketchPort port, int first) =>
        port.Owner.Column <= first + 1 ? port.Y : space.PassY[first + 1];

    private static List<Spot> FromBar(Conductor space, SketchPort port, double x)
    {
        double y = JoinY(space, port, space.First);
        List<Spot> points = [new(x, y)];
        for (int gap = space.First + 1; gap < port.Owner.Column; gap++)
        {
            double next = gap + 1 == port.Owner.Column ? port.Y : space.PassY[gap + 1], at = space.TrunkX[gap];
            points.Add(new(at, y));
            points.Add(new(at, next));
            y = next;
        }

        points.Add(port.Spot);
        return Simplify(points);
    }

    private static List<Spot> Simplify(List<Spot> points)
    {
        List<Spot> kept = [points[0]];
        for (int i = 1; i < points.Count; i++)
        {
            if (i < points.Count - 1 && ((kept[^1].X == points[i].X && points[i].X == points[i + 1].X) || (kept[^1].Y == points[i].Y && points[i].Y == points[i + 1].Y))) continue;
            if (points[i] != kept[^1] || i == points.Count - 1) kept.Add(points[i]);
        }

        return kept;
    }

    /// <summary>Plugs, wires and fuses on the shortest way from net to net.</summary>
    private List<string> Through(Conductor conductor, string from, string to)
    {
        var way = new Dictionary<string, (string Before, int Part)>(StringComparer.Ordinal) { [from] = ("", -1) };
        var queue = new Queue<string>([from]);
        while (!way.ContainsKey(to) && queue.TryDequeue(out string? net))
        {
            foreach ((int part, string a, string b) in conductor.Joins)
            {
                string? next = a == net ? b : b == net ? a : null;
                if (next is not null && way.TryAdd(next, (net, part))) queue.Enqueue(next);
            }
        }

        List<string> parts = [];
        for (string net = to; way.TryGetValue(net, out (string Before, int Part) step) && step.Part >= 0; net = step.Before) parts.Insert(0, model.Parts[step.Part].Id);
        return parts;
    }
}

/// <summary>Keys of nodes.</summary>
internal static class LayoutKeys
{
    public static string Of(Lane lane) => lane switch { Lane.Wires => "wires", Lane.Hoses => "hoses", _ => "air" };

    public static string Of(Lane lane, SketchNode node) => node.Role switch
    {
        NodeRole.Control => $"{Of(lane)}:control:{node.Id}",
        NodeRole.Space => $"{Of(lane)}:around:{node.Id}",
        _ => $"{Of(lane)}:{node.Id}",
    };
}
