using System.Xml.Linq;
using static Ventwright.Drawing.SvgDrawing;

namespace Ventwright.Drawing;

/// <summary>Draws nodes: a box with id, name and what it shows, and the marks of what is known of it.</summary>
internal sealed class SvgNodes(UnitLayout layout, DrawingState? state, DrawingMarks marks)
{
    private const double Trickle = 0.03;
    private readonly bool _full = layout.Detail == LayoutDetail.Full;
    private readonly bool _hasModule = layout.Nodes.Any(n => n.Role == NodeRole.Module);
    private readonly ILookup<string, string> _ends = layout.Links.Where(l => l.Kind == LinkKind.Wire).SelectMany(l => (IEnumerable<(string, string)>)[(l.From, l.To), (l.To, l.From)]).ToLookup(p => p.Item1, p => p.Item2, StringComparer.Ordinal);

    public XElement Draw(LayoutNode node)
    {
        PartState? shows = node.Role == NodeRole.Space ? null : state?.Parts.GetValueOrDefault(node.Role == NodeRole.Control ? "control:" + node.Id : node.Id);
        string? wanted = node.Role == NodeRole.Space ? null : marks.Differs.GetValueOrDefault(node.Role == NodeRole.Control ? "control:" + node.Id : node.Id);
        var group = new XElement(Svg + "g", new XAttribute("data-key", node.Key), new XAttribute("class", Classes(node, shows, wanted)));
        group.Add(new XAttribute(node.Part >= 0 ? "data-part" : node.Role == NodeRole.Control ? "data-control" : "data-space", node.Id), new XAttribute("data-kind", node.Kind));
        group.Add(SvgShapes.Title(Title(node, shows, wanted), node.Key));
        group.Add(SvgShapes.Rect(node.Box, "box", node.Role switch { NodeRole.Control => node.Box.Height / 2, NodeRole.Space => 3, NodeRole.Pin => 0, NodeRole.Module => 8, _ => 5 }));
        if (node.Role != NodeRole.Space) group.Add(SvgShapes.Rect(new(node.Box.X + 1.5, node.Box.Y + 1.5, node.Box.Width - 3, node.Box.Height - 3), "hatch", 4));
        if (node.Role != NodeRole.Module) Marks(group, node);
        SvgSymbols.Add(group, node, shows, _full);
        foreach (XElement text in SvgLabels.Of(node, Shown(node, shows, wanted), _full, PinName(node))) group.Add(text);
        if (node.Role == NodeRole.Module) group.Add(node.Ports.Where(p => p.Mark == PortMark.None && !layout.ByKey.ContainsKey("wires:" + p.Node)).Select(SvgLabels.Port));
        bool rightPin = node.Role == NodeRole.Pin && !node.Ports[0].Left;
        Spot corner = node.Role == NodeRole.Pin ? new(rightPin ? node.Box.X + 2 : node.Box.Right - 10, node.Box.Y + 6) : new(node.Box.Right - 4, node.Box.Y - 1);
        group.Add(SvgShapes.Path($"M{SvgShapes.At(corner)} l2.5,3 l4.5,-5.5", "proof"));
        return group;
    }

    /// <summary>What a node shows; in the overview the lane's heading has the unit of flow, and a sensor's volts stand at the module's pin.</summary>
    private string Shown(LayoutNode node, PartState? shows, string? wanted)
    {
        string text = wanted is null ? shows?.Text ?? "" : $"\u2260 {wanted}";
        if (wanted is null && !_full && _hasModule && node.Kind is ("thermistor" or "potentiometer") && shows?.Activity != Activity.Absent) return "";
        return state is null || _full || node.Lane != Lane.Air ? text : text.Replace(" " + state.FlowUnit, "", StringComparison.Ordinal);
    }

    private string Classes(LayoutNode node, PartState? shows, string? wanted)
    {
        List<string> words = ["node", node.Role.ToString().ToLowerInvariant(), node.Kind];
        if (shows is not null && shows.Activity != Activity.Plain) words.Add(shows.Activity.ToString().ToLowerInvariant());
        if (node.Role == NodeRole.Space && state is not null) words.Add(Moves(node) ? "flows" + SvgLinks.Warmth(Mix(node)) : "idle");
        if (node.Lane == Lane.Air && node.Part >= 0 && wanted is null && StreamOf(node) is { } stream) words.Add("flows" + SvgLinks.Warmth(stream.WarmLeaves));
        if (wanted is not null) words.Add("differs");
        if (node.Part >= 0 && marks.Proven.Contains(node.Id)) words.Add("proven");
        if (node.Part >= 0 && marks.CarOnly.Contains(node.Id)) words.Add("car-only");
        if (node.Part >= 0 && marks.Absent.Contains(node.Id) && !words.Contains("absent")) words.Add("absent");
        return string.Join(' ', words.Distinct());
    }

    /// <summary>Whether air moves through a space.</summary>
    private bool Moves(LayoutNode space) =>
        layout.Links.Any(l => l.Kind == LinkKind.Air && l.Node == space.Id && l.AirBranch >= 0 && Math.Abs(state!.Air[l.AirBranch].FlowM3PerS) > SvgLinks.LeastM3PerS);

    /// <summary>The stream through a part, if it is more than a trickle: the parts that the river runs through.</summary>
    private AirState? StreamOf(LayoutNode node)
    {
        int branch = layout.Links.FirstOrDefault(l => l.Kind == LinkKind.Air && (l.From == node.Key || l.To == node.Key) && l.AirBranch >= 0)?.AirBranch ?? -1;
        return branch >= 0 && state is not null && Math.Abs(state.Air[branch].FlowM3PerS) > Trickle * state.Air.Max(a => Math.Abs(a.FlowM3PerS)) ? state.Air[branch] : null;
    }

    /// <summary>What is mixed in a space, told from a stream that leaves it.</summary>
    private double Mix(LayoutNode space) =>
        layout.Links.Where(l => l.Kind == LinkKind.Air && l.From == space.Key && l.AirBranch >= 0).Select(l => state!.Air[l.AirBranch]).Where(a => a.FlowM3PerS > SvgLinks.LeastM3PerS)
            .Select(a => a.WarmEnters).FirstOrDefault();

    private static string Title(LayoutNode node, PartState? shows, string? wanted)
    {
        string lines = shows is null ? node.Name == node.Id ? node.Id : $"{node.Name} ({node.Id})" : string.Join('\n', shows.Lines);
        return wanted is null ? lines : $"{lines}\n\u2260 wanted {wanted}";
    }

    /// <summary>Small marks on the lower edge for feeds, grounds and shared nets.</summary>
    private static void Marks(XElement group, LayoutNode node)
    {
        foreach (LayoutPort port in node.Ports.Where(p => p.Mark != PortMark.None && node.Role != NodeRole.Pin))
        {
            string at = SvgShapes.At(port.At);
            (string data, string kind) = port.Mark switch
            {
                PortMark.Feed => ($"M{at} m-2.5,0.5 h5 l-2.5,3.2 z", "mark feed"),
                PortMark.Ground => ($"M{at} m-3,1.7 h6 m-4.6,1.7 h3.2", "mark ground"),
                _ => ($"M{at} m-1.6,1.8 a1.6,1.6 0 1 0 3.2,0 a1.6,1.6 0 1 0 -3.2,0", "mark shared"),
            };
            XElement mark = SvgShapes.Path(data, kind);
            mark.Add(new XAttribute("data-net", port.Node), new XElement(Svg + "title", $"{port.Mark.ToString().ToLowerInvariant()}: {port.Node}"));
            group.Add(mark);
        }
    }

    /// <summary>An output is called after what it drives.</summary>
    private string PinName(LayoutNode node)
    {
        if (node.Role != NodeRole.Pin) return "";
        if (node.Kind == "module-input") return node.Name[(node.Name.LastIndexOf(' ') + 1)..];
        return string.Join(' ', _ends[node.Key].Select(k => layout.ByKey[k].Id).Distinct().Take(2));
    }
}
