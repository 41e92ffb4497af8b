using System.Xml.Linq;
using static Ventwright.Drawing.SvgDrawing;

namespace Ventwright.Drawing;

/// <summary>Draws lines: wires strong when energised, hoses wide when there is vacuum, streams as wide as their flow.</summary>
internal sealed class SvgLinks(UnitLayout layout, DrawingState? state, DrawingMarks marks)
{
    private const double WidestStream = 20, ThinnestStream = 1.4, UsualM3PerS = 150.0 / 3600;

    /// <summary>Less than this is still air.</summary>
    public const double LeastM3PerS = 0.05 / 3600;

    private readonly double _widestFlow = Math.Max(UsualM3PerS, state?.Air.Select(a => Math.Abs(a.FlowM3PerS)).DefaultIfEmpty(0).Max() ?? 0);

    public XElement Draw(LayoutLink link)
    {
        (string words, double width, string title) = link.Kind switch
        {
            LinkKind.Wire => Wire(link),
            LinkKind.Hose => Hose(link),
            LinkKind.Air => Stream(link),
            _ => ("", 1.2, $"{link.Node} moves {layout.ByKey[link.To].Id}"),
        };
        bool differs = marks.Differs.ContainsKey(link.Node) || marks.Differs.ContainsKey(link.EndNode);
        var group = new XElement(
            Svg + "g", new XAttribute("data-key", link.Key), new XAttribute("class", $"link {Kind(link.Kind)} {words}{(differs ? " differs" : "")}".Replace("  ", " ", StringComparison.Ordinal).TrimEnd()),
            new XAttribute($"data-{Subject(link)}", link.Kind == LinkKind.Air && link.AirBranch >= 0 ? AirPart(link) : link.Node), new XAttribute("data-from", link.From), new XAttribute("data-to", link.To));
        if (link.Kind == LinkKind.Wire && link.EndNode != link.Node) group.Add(new XAttribute("data-end", link.EndNode));
        group.Add(SvgShapes.Title(title, link.Key));
        XElement line = SvgShapes.Path(SvgShapes.Rounded(link.Points, link.Kind == LinkKind.Air ? 14 : 3), "line");
        line.Add(new XAttribute("data-key", link.Key + "/line"), new XAttribute("stroke-width", Number(width)));
        group.Add(line);
        AddTicks(group, link);
        return group;
    }

    private static string Kind(LinkKind kind) => kind switch { LinkKind.Wire => "wire", LinkKind.Hose => "hose", LinkKind.Air => "air", _ => "move" };

    private static string Subject(LayoutLink link) => link.Kind switch { LinkKind.Wire => "net", LinkKind.Hose => "hose", LinkKind.Air => "air", _ => "move" };

    private string AirPart(LayoutLink link) => (link.From.Contains(":space:", StringComparison.Ordinal) ? layout.ByKey[link.To] : layout.ByKey[link.From]).Id;

    private (string, double, string) Wire(LayoutLink link)
    {
        if (state is null) return ("", 1.4, link.Node);
        NetState net = state.Nets[link.Node], end = state.Nets[link.EndNode];
        bool live = net.Energised || end.Energised;
        string title = link.Node == link.EndNode ? $"{net.Net}: {net.Text}" : $"{net.Net}: {net.Text}; {end.Net}: {end.Text}";
        if (link.Through.Count > 0) title += $" (through {string.Join(", ", link.Through)})";
        return (live ? "on" : net.Floating || end.Floating ? "floats" : "idle", live ? 2 : 1.2, title);
    }

    private (string, double, string) Hose(LayoutLink link)
    {
        if (state is null) return ("", 2, link.Node);
        HoseState hose = state.Hoses[link.Node];
        return (hose.HasVacuum ? "on" : "idle", hose.HasVacuum ? 5 : 1.6, $"{hose.Hose}: {hose.Text} below ambient");
    }

    private (string, double, string) Stream(LayoutLink link)
    {
        bool leak = (link.AirBranch >= 0 ? layout.ByKey[link.From.Contains(":space:", StringComparison.Ordinal) ? link.To : link.From].Kind : "") == "seal";
        string kind = leak ? "leak" : "stream";
        if (state is null) return (kind, leak ? 1.4 : 3, link.Node);
        double flow = link.AirBranch >= 0 ? state.Air[link.AirBranch].FlowM3PerS : Around(link);
        bool flows = Math.Abs(flow) > LeastM3PerS;
        double width = flows ? Math.Max(ThinnestStream, WidestStream * Math.Abs(flow) / _widestFlow) : 1;
        string text = link.AirBranch >= 0 ? state.Air[link.AirBranch].Text : "";
        return ($"{kind}{(flows ? flow < 0 ? " on back" : " on" : " idle")}{(flows && link.AirBranch >= 0 ? Warmth(Warm(link)) : "")}", width, $"{link.Node}: {text}".TrimEnd(' ', ':'));
    }

    /// <summary>Class of air by how much of it has been through the heater core.</summary>
    public static string Warmth(double share) => share > 0.6 ? " warm" : share > 0.2 ? " mixed" : "";

    /// <summary>Streams run from the bar of a space into a part, and out of it into the next one.</summary>
    private double Warm(LayoutLink link)
    {
        AirState air = state!.Air[link.AirBranch];
        return link.From.Contains(":space:", StringComparison.Ordinal) == air.FlowM3PerS >= 0 ? air.WarmEnters : air.WarmLeaves;
    }

    /// <summary>What the surroundings give to all that draws from them.</summary>
    private double Around(LayoutLink link) =>
        layout.Links.Where(l => l.Kind == LinkKind.Air && l.Node == link.Node && l.AirBranch >= 0).Sum(l => Math.Max(0, state!.Air[l.AirBranch].FlowM3PerS));

    /// <summary>A tick across the line for every plug, wire or fuse that it runs through.</summary>
    private static void AddTicks(XElement group, LayoutLink link)
    {
        if (link.Through.Count == 0) return;
        (Spot from, Spot to) = link.Points.Zip(link.Points.Skip(1)).Where(s => s.First.Y == s.Second.Y).OrderByDescending(s => Math.Abs(s.Second.X - s.First.X)).FirstOrDefault();
        for (int i = 0; i < link.Through.Count && from != to; i++)
        {
            double x = from.X + ((to.X - from.X) * (i + 1) / (link.Through.Count + 1));
            XElement tick = SvgShapes.Path($"M{Number(x)},{Number(from.Y - 2.5)} V{Number(from.Y + 2.5)}", "tick");
            tick.Add(new XAttribute("data-part", link.Through[i]), new XElement(Svg + "title", link.Through[i]));
            group.Add(tick);
        }
    }
}
