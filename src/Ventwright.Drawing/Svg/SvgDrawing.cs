using System.Globalization;
using System.Xml;
using System.Xml.Linq;

namespace Ventwright.Drawing;

/// <summary>
/// Writes a layout and a state as SVG. Looks come from classes, so that the page's stylesheet decides; <see cref="StyleSheet"/> is one with a light and a dark
/// look, <see cref="PaperSheet"/> a plain one without variables for paper. Every element that can change has a <c>data-key</c>.
/// </summary>
public static class SvgDrawing
{
    internal static readonly XNamespace Svg = "http://www.w3.org/2000/svg";

    /// <summary>Stylesheet for a page: variables for light and dark (by the system's wish, or <c>data-theme</c> on the root), then the drawing's classes.</summary>
    public static string StyleSheet { get; } = Load();

    /// <summary>The same in plain colours, for renderers that know no variables.</summary>
    public static string PaperSheet { get; } = Plain(StyleSheet);

    /// <summary>Writes a drawing.</summary>
    /// <param name="layout">Where everything is.</param>
    /// <param name="state">What everything shows; null for a drawing without state.</param>
    /// <param name="marks">What is known of parts; null for nothing.</param>
    /// <param name="forPaper">Whether to put <see cref="PaperSheet"/> into the drawing, so that it stands by itself.</param>
    public static string Write(UnitLayout layout, DrawingState? state = null, DrawingMarks? marks = null, bool forPaper = false)
    {
        ArgumentNullException.ThrowIfNull(layout);
        return Tree(layout, state, marks ?? DrawingMarks.None, forPaper).ToString(SaveOptions.DisableFormatting);
    }

    /// <summary>What must change in a drawing of one state to make it that of another.</summary>
    /// <param name="layout">Where everything is, the same for both.</param>
    /// <param name="before">State that is drawn.</param>
    /// <param name="after">State that is to be drawn.</param>
    /// <param name="marksBefore">Marks that are drawn.</param>
    /// <param name="marksAfter">Marks that are to be drawn.</param>
    public static IReadOnlyList<DrawingPatch> Changes(UnitLayout layout, DrawingState? before, DrawingState? after, DrawingMarks? marksBefore = null, DrawingMarks? marksAfter = null)
    {
        ArgumentNullException.ThrowIfNull(layout);
        List<DrawingPatch> patches = [];
        Compare(Tree(layout, before, marksBefore ?? DrawingMarks.None, false), Tree(layout, after, marksAfter ?? DrawingMarks.None, false), patches);
        return patches;
    }

    internal static string Number(double value) => Math.Round(value, 1).ToString("0.#", CultureInfo.InvariantCulture);

    private static XElement Tree(UnitLayout layout, DrawingState? state, DrawingMarks marks, bool forPaper)
    {
        var root = new XElement(
            Svg + "svg", new XAttribute("class", $"unit {(layout.Detail == LayoutDetail.Full ? "full" : "overview")}"), new XAttribute("viewBox", $"0 0 {Number(layout.Width)} {Number(layout.Height)}"),
            new XAttribute("width", Number(layout.Width)), new XAttribute("height", Number(layout.Height)), new XAttribute("role", "img"), new XAttribute("aria-label", "The unit: wires, hoses and air"));
        if (forPaper) root.Add(new XElement(Svg + "style", PaperSheet));
        root.Add(XElement.Parse("<defs xmlns='http://www.w3.org/2000/svg'><pattern id='car-only' width='6' height='6' patternUnits='userSpaceOnUse' patternTransform='rotate(45)'><path class='hatching' d='M0,0V6'/></pattern></defs>"));
        foreach (Box lane in layout.Lanes.Values) root.Add(SvgShapes.Rect(lane, "lane", 12));
        foreach (LayoutCaption caption in layout.Captions)
            root.Add(SvgShapes.Text(caption.At.X, caption.At.Y, caption.Text, caption.Size > 12 ? "lane-head" : "caption"));
        if (layout.Lanes.TryGetValue(Lane.Air, out Box air)) root.Add(SvgShapes.Text(air.X + 50, air.Y + 17, state is null ? "" : $"streams in {state.FlowUnit}{(state.Air.Any(a => a.WarmLeaves > 0) ? "; warm tint: been through the heater core" : "")}", "caption", "start", "air/unit"));
        var links = new SvgLinks(layout, state, marks);
        foreach (LinkKind kind in (LinkKind[])[LinkKind.Air, LinkKind.Hose, LinkKind.Move, LinkKind.Wire])
        {
            foreach (LayoutLink link in layout.Links.Where(l => l.Kind == kind)) root.Add(links.Draw(link));
        }

        var nodes = new SvgNodes(layout, state, marks);
        foreach (LayoutNode node in layout.Nodes.OrderBy(n => n.Role == NodeRole.Pin)) root.Add(nodes.Draw(node));
        Clean(root);
        return root;
    }

    /// <summary>Names on a sheet may hold characters that XML does not allow; they are written as question marks.</summary>
    private static void Clean(XElement root)
    {
        foreach (XElement element in root.DescendantsAndSelf())
        {
            foreach (XAttribute attribute in element.Attributes().Where(a => !IsClean(a.Value))) attribute.Value = Clean(attribute.Value);
            if (!element.HasElements && !IsClean(element.Value)) element.Value = Clean(element.Value);
        }
    }

    private static bool IsClean(string text) => text.All(XmlConvert.IsXmlChar);

    private static string Clean(string text) =>
        string.Concat(text.EnumerateRunes().Select(r => r.IsBmp && !XmlConvert.IsXmlChar((char)r.Value) ? "?" : r.ToString()));

    private static void Compare(XElement before, XElement after, List<DrawingPatch> patches)
    {
        string key = after.Attribute("data-key")?.Value ?? "";
        foreach (XAttribute attribute in after.Attributes().Where(a => before.Attribute(a.Name)?.Value != a.Value)) patches.Add(new(key, attribute.Name.LocalName, attribute.Value));
        if (!after.HasElements && !before.HasElements)
        {
            if (before.Value != after.Value) patches.Add(new(key, "text", after.Value));
            return;
        }

        foreach ((XElement one, XElement other) in before.Elements().Zip(after.Elements())) Compare(one, other, patches);
    }

    private static string Load()
    {
        using Stream stream = typeof(SvgDrawing).Assembly.GetManifestResourceStream("drawing.css")!;
        using var reader = new StreamReader(stream);
        return reader.ReadToEnd();
    }

    /// <summary>The rules after the variables, each variable replaced by its light value.</summary>
    private static string Plain(string sheet)
    {
        int rules = sheet.IndexOf("/* rules */", StringComparison.Ordinal);
        string plain = sheet[rules..];
        foreach (string line in sheet[..sheet.IndexOf('}', StringComparison.Ordinal)].Split('\n').Where(l => l.TrimStart().StartsWith("--", StringComparison.Ordinal)))
        {
            string[] pair = line.Trim().TrimEnd(';').Split(':', 2);
            plain = plain.Replace($"var({pair[0]})", pair[1].Trim(), StringComparison.Ordinal);
        }

        return plain;
    }
}
