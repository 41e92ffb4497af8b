using System.Xml.Linq;

namespace Ventwright.Drawing;

/// <summary>Words in a node: what fits is written, all of it is in the title.</summary>
internal static class SvgLabels
{
    private const double Size = Sizes.Type;

    public static IEnumerable<XElement> Of(LayoutNode node, string shown, bool full, string pinName) => node.Role switch
    {
        NodeRole.Space => node.Key.Contains(":around:", StringComparison.Ordinal) ? [Centred(node, node.Name, "name")] : [],
        NodeRole.Small when node.Kind == "seal" => [Centred(node, shown is "" or "0" ? "seal" : $"seal {shown}", "state", node.Key + "/state")],
        NodeRole.Small => [Centred(node, node.Id, "id")],
        NodeRole.Module => Line(node, node.Box.Y + 15, "", node.Name, shown, 8),
        NodeRole.Pin => Pin(node, pinName, shown),
        NodeRole.Control => Line(node, Middle(node), "", node.Name, shown, 9),
        _ => Part(node, shown, full),
    };

    /// <summary>A pin of the module that is no part by itself: supply, ground, reference.</summary>
    public static XElement Port(LayoutPort port) =>
        SvgShapes.Text(port.At.X + (port.Left ? 4 : -4), port.At.Y + 4, port.Node[(port.Node.LastIndexOf('.') + 1)..], "id", port.Left ? "start" : "end");

    private static double Middle(LayoutNode node) => node.Box.Y + (node.Box.Height / 2) + 4;

    private static IEnumerable<XElement> Part(LayoutNode node, string shown, bool full)
    {
        double left = Symbol(node, full);
        bool named = node.Name != node.Id, air = node.Lane == Lane.Air && node.Kind is not ("flap" or "blower");
        if (node.Box.Height <= Sizes.Row + 1) return Line(node, Middle(node), air && named ? "" : node.Id, named ? node.Name : air ? node.Id : "", shown, 5 + left);
        if (air && !full) return Wrapped(node, shown);
        double top = node.Box.Y + ((node.Box.Height - 29) / 2);
        string head = air && !full ? "" : node.Id;
        string second = shown.Length == 0 ? "" : TextWidth.Fit(shown, node.Box.Width - left - 8, Size, bold: true);
        return Line(node, top + 12, head, named ? node.Name : head.Length > 0 ? "" : node.Id, "", 5 + left)
            .Append(SvgShapes.Text(node.Box.X + 5 + left, top + 25.5, second, "state", "start", node.Key + "/second"));
    }

    /// <summary>A name over two lines, with what is shown at the end of the second.</summary>
    private static IEnumerable<XElement> Wrapped(LayoutNode node, string shown)
    {
        double x = node.Box.X + 4, room = node.Box.Width - 8, top = node.Box.Y + ((node.Box.Height - 29) / 2);
        string state = TextWidth.Fit(shown, room, Size, bold: true);
        int cut = node.Name.Length + 1;
        while (cut > 1 && TextWidth.Of(node.Name[..Math.Min(cut, node.Name.Length)].TrimEnd(), Size) > room) cut = node.Name.LastIndexOfAny([' ', '-'], Math.Min(cut, node.Name.Length) - 2) + 1;
        cut = Math.Min(cut, node.Name.Length);
        string first = cut > 0 ? node.Name[..cut].TrimEnd() : TextWidth.Fit(node.Name, room, Size), rest = cut > 0 ? node.Name[cut..] : "";
        yield return SvgShapes.Text(x, top + 12, first, "name");
        yield return SvgShapes.Text(x, top + 25.5, TextWidth.Fit(rest, room - TextWidth.Of(state, Size, bold: true) - 3, Size), "name", "start", node.Key + "/name");
        yield return SvgShapes.Text(node.Box.Right - 4, top + 25.5, state, "state", "end", node.Key + "/state");
    }

    /// <summary>Room that a symbol takes on the left.</summary>
    private static double Symbol(LayoutNode node, bool full) => full ? 34 : node.Kind == "flap" ? 16 : 0;

    private static IEnumerable<XElement> Line(LayoutNode node, double y, string id, string name, string shown, double inset)
    {
        double x = node.Box.X + inset, right = node.Box.Right - 5, room = right - x;
        double idWidth = id.Length == 0 ? 0 : TextWidth.Of(id, Size, bold: true) + 4;
        string state = TextWidth.Fit(shown, Math.Max(0, room - idWidth), Size, bold: true);
        double stateWidth = state.Length == 0 ? 0 : TextWidth.Of(state, Size, bold: true) + 4;
        if (id.Length > 0) yield return SvgShapes.Text(x, y, TextWidth.Fit(id, room, Size, bold: true), "id");
        yield return SvgShapes.Text(x + idWidth, y, TextWidth.Fit(name, Math.Max(0, room - idWidth - stateWidth), Size), "name", "start", node.Key + "/name");
        yield return SvgShapes.Text(right, y, state, "state", "end", node.Key + "/state");
    }

    private static XElement Centred(LayoutNode node, string text, string kind, string? key = null) =>
        SvgShapes.Text(node.Box.X + (node.Box.Width / 2), Middle(node), TextWidth.Fit(text, node.Box.Width - 2, Size), kind, "middle", key);

    private static IEnumerable<XElement> Pin(LayoutNode node, string name, string shown)
    {
        bool left = node.Ports[0].Left;
        string number = node.Id[(node.Id.LastIndexOf('.') + 1)..];
        double y = Middle(node), outer = left ? node.Box.X + 4 : node.Box.Right - 4, inner = left ? node.Box.Right - 8 : node.Box.X + 8, room = node.Box.Width - 12;
        string volts = TextWidth.Fit(shown, room - TextWidth.Of(number, Size, bold: true) - 3, Size, bold: true);
        string label = TextWidth.Fit(name, room - TextWidth.Of(volts + number, Size, bold: true) - 8, Size);
        double named = TextWidth.Of(number, Size, bold: true) + 3;
        yield return SvgShapes.Text(outer, y, number, "id", left ? "start" : "end");
        yield return SvgShapes.Text(left ? outer + named : outer - named, y, label, "name", left ? "start" : "end", node.Key + "/name");
        yield return SvgShapes.Text(inner, y, volts, "state", left ? "end" : "start", node.Key + "/state");
    }
}
