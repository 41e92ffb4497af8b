using System.Xml.Linq;
using static Ventwright.Drawing.SvgDrawing;

namespace Ventwright.Drawing;

/// <summary>Draws nodes: a box with id, name and what it shows, and the marks of what is known of it.</summary>
internal sealed class SvgNodes(UnitLayout layout, DrawingState? state, DrawingMarks marks)
{
    private readonly bool _full = layout.Detail == LayoutDetail.Full;
    private readonly ILookup<string, string> _ends = layout.Links.Where(l => l.Kind == LinkKind.Wire).SelectMany(l => (IEnumerable<(string, string)>)[(l.From, l.To), (l.To, l.From)]).ToLookup(p => p.Item1, p => p.Item2, StringComparer.Ordinal);

    public XElement Draw(LayoutNode node)
    {
        PartState? shows = state?.Parts.GetValueOrDefault(node.Role == NodeRole.Control ? "control:" + node.Id : node.Id);
        if (node.Role == NodeRole.Space) shows = null;
        string? wanted = node.Role == NodeRole.Space ? null : marks.Differs.GetValueOrDefault(node.Role == NodeRole.Control ? "control:" + node.Id : node.Id);
        var group = new XElement(Svg + "g", new XAttribute("data-key", node.Key), new XAttribute("class", Classes(node, shows, wanted)));
        group.Add(new XAttribute(node.Part >= 0 ? "data-part" : node.Role == NodeRole.Control ? "data-control" : "data-space", node.Id), new XAttribute("data-kind", node.Kind));
        group.Add(SvgShapes.Title(Title(node, shows, wanted), node.Key));
        group.Add(SvgShapes.Rect(node.Box, "box", node.Role switch { NodeRole.Control => node.Box.Height / 2, NodeRole.Space => 3, NodeRole.Pin => 0, NodeRole.Module => 8, _ => 5 }));
        group.Add(SvgShapes.Rect(node.Box, "hatch", 5));
        if (node.Role != NodeRole.Module) Marks(group, node);
        SvgSymbols.Add(group, node, shows, _full);
        foreach (XElement text in SvgLabels.Of(node, shows, wanted, _full, PinName(node))) group.Add(text);
        Spot corner = new(node.Box.Right, node.Box.Y);
        group.Add(SvgShapes.Path($"M{Number(corner.X - 6)},{Number(corner.Y + 0.5)} l2.5,3 l4.5,-5.5", "proof"));
        return group;
    }

    private string Classes(LayoutNode node, PartState? shows, string? wanted)
    {
        List<string> words = ["node", node.Role.ToString().ToLowerInvariant(), node.Kind];
        if (shows is not null && shows.Activity != Activity.Plain) words.Add(shows.Activity.ToString().ToLowerInvariant());
        if (wanted is not null) words.Add("differs");
        if (node.Part >= 0 && marks.Proven.Contains(node.Id)) words.Add("proven");
        if (node.Part >= 0 && marks.CarOnly.Contains(node.Id)) words.Add("car-only");
        if (node.Part >= 0 && marks.Absent.Contains(node.Id) && !words.Contains("absent")) words.Add("absent");
        return string.Join(' ', words.Distinct());
    }

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
                PortMark.Feed => ($"M{at} m-2.5,0 l2.5,-4 l2.5,4 z", "mark feed"),
                PortMark.Ground => ($"M{at} m-3,0.8 h6 m-4.6,1.7 h3.2", "mark ground"),
                _ => ($"M{at} m-2,0 a2,2 0 1 0 4,0 a2,2 0 1 0 -4,0", "mark shared"),
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
        if (node.Kind == "module-input") return node.Name.Replace("module input ", "", StringComparison.Ordinal);
        return string.Join(' ', _ends[node.Key].Select(k => layout.ByKey[k].Id).Distinct().Take(2));
    }
}
