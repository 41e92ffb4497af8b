using System.Text;
using System.Xml.Linq;
using static Ventwright.Drawing.SvgDrawing;

namespace Ventwright.Drawing;

/// <summary>Elements of a drawing.</summary>
internal static class SvgShapes
{
    public static XElement Rect(Box box, string shape, double round) => new(
        Svg + "rect", new XAttribute("class", shape), new XAttribute("x", Number(box.X)), new XAttribute("y", Number(box.Y)), new XAttribute("width", Number(box.Width)),
        new XAttribute("height", Number(box.Height)), new XAttribute("rx", Number(round)));

    public static XElement Text(double x, double y, string text, string kind, string anchor = "start", string? key = null) => new(
        Svg + "text", key is null ? null : new XAttribute("data-key", key), new XAttribute("class", kind), new XAttribute("x", Number(x)), new XAttribute("y", Number(y)),
        new XAttribute("text-anchor", anchor), text);

    public static XElement Path(string data, string kind) => new(Svg + "path", new XAttribute("class", kind), new XAttribute("d", data));

    public static XElement Title(string text, string key) => new(Svg + "title", new XAttribute("data-key", key + "/title"), text);

    /// <summary>A line through corners that are rounded.</summary>
    public static string Rounded(IReadOnlyList<Spot> points, double radius)
    {
        var data = new StringBuilder($"M{At(points[0])}");
        for (int i = 1; i < points.Count - 1; i++)
        {
            Spot before = Toward(points[i], points[i - 1], radius), after = Toward(points[i], points[i + 1], radius);
            data.Append($" L{At(before)} Q{At(points[i])} {At(after)}");
        }

        return data.Append($" L{At(points[^1])}").ToString();
    }

    public static string At(Spot spot) => $"{Number(spot.X)},{Number(spot.Y)}";

    private static Spot Toward(Spot from, Spot to, double most)
    {
        double length = Math.Abs(to.X - from.X) + Math.Abs(to.Y - from.Y);
        if (length < 1e-9) return from;
        double share = Math.Min(most, length / 2) / length;
        return new(from.X + ((to.X - from.X) * share), from.Y + ((to.Y - from.Y) * share));
    }
}
