using System.Xml.Linq;
using static Ventwright.Drawing.SvgDrawing;

namespace Ventwright.Drawing;

/// <summary>
/// Symbols in the manner of IEC 60617 (resistor, lamp, motor, diode, fuse, switch, relay) and ISO 1219-1 (valve with spring, reservoir, check valve), drawn
/// from memory of the standards in a field of 24 by 24.
/// </summary>
internal static class SvgSymbols
{
    private static readonly Dictionary<string, string> Shapes = new(StringComparer.Ordinal)
    {
        ["resistor"] = "M0,12H4 M4,8H20V16H4Z M20,12H24",
        ["resistor-pack"] = "M0,6H4 M4,3H20V9H4Z M20,6H24 M0,18H4 M4,15H20V21H4Z M20,18H24",
        ["thermistor"] = "M0,12H4 M4,8H20V16H4Z M20,12H24 M3,21H8L19,4",
        ["potentiometer"] = "M0,14H4 M4,10H20V18H4Z M20,14H24 M12,2V10 M10,7L12,10L14,7",
        ["lamp"] = "M2,12A10,10 0 1 1 22,12A10,10 0 1 1 2,12 M5,5L19,19 M19,5L5,19",
        ["diode"] = "M0,12H7 M7,6V18L17,12Z M17,6V18 M17,12H24",
        ["fuse"] = "M0,12H24 M4,8H20V16H4Z",
        ["wire"] = "M0,12H24 M12,10A2,2 0 1 1 12,14A2,2 0 1 1 12,10",
        ["ground-point"] = "M12,2V12 M3,12H21 M6,16H18 M9,20H15",
        ["supply"] = "M12,2V9 M4,9H20 M8,13H16 M4,17H20 M12,17V22",
        ["connector"] = "M0,12H8 M6,8L12,12L6,16 M24,12H14 M18,8L13,12L18,16",
        ["switch"] = "M0,16H6 M6,16L18,7 M18,16H24",
        ["thermostatic-switch"] = "M0,16H6 M6,16L18,7 M18,16H24 M12,11V4 M9,4H15",
        ["pressure-switch"] = "M0,16H6 M6,16L18,7 M18,16H24 M12,11V6 M7,6A5,5 0 0 1 17,6Z",
        ["relay"] = "M2,8H14V18H2Z M5,18L11,8 M8,3V8 M8,18V22 M18,21V16 M18,16L23,8 M18,3V8",
        ["solenoid-valve"] = "M5,7H12V17H5Z M12,7H19V17H12Z M7,15L10,9 M14,15H17 M0,9H5V15H0Z M1,14L4,10 M19,12L20.5,9L22,15L23.5,9",
        ["vacuum-transducer"] = "M5,7H12V17H5Z M12,7H19V17H12Z M7,15L10,9 M14,15H17 M0,9H5V15H0Z M0,19L7,5",
        ["transistor-stage"] = "M2,12A10,10 0 1 1 22,12A10,10 0 1 1 2,12 M9,6V18 M2,12H9 M9,10L17,5 M9,14L17,19",
        ["vacuum-source"] = "M2,12A10,10 0 1 1 22,12A10,10 0 1 1 2,12 M8,6L12,2L16,6Z",
        ["reservoir"] = "M7,5H17A7,7 0 0 1 17,19H7A7,7 0 0 1 7,5Z",
        ["check-valve"] = "M0,12H7 M10,12A3,3 0 1 1 16,12A3,3 0 1 1 10,12 M8,12L13,5 M8,12L13,19 M16,12H24",
        ["restrictor"] = "M0,12H24 M7,6Q12,12 17,6 M7,18Q12,12 17,18",
        ["hose"] = "M0,10H24 M0,14H24",
        ["vacuum-actuator"] = "M4,4H16V20H4Z M4,12H12 M12,7V17 M12,12H24 M13,9L15,15",
        ["water-valve"] = "M2,7V19L22,7V19Z M12,13V3 M8,3H16",
        ["vacuum-valve"] = "M2,12A10,10 0 1 1 22,12A10,10 0 1 1 2,12 M12,12L19,5 M12,12L12,21",
        ["clutch-coil"] = "M4,6H20V18H4Z M8,18L16,6 M12,2V6 M12,18V22",
        ["exchanger"] = "M3,3H21V21H3Z M3,21L21,3",
        ["filter"] = "M3,3H21V21H3Z M12,3V6 M12,8V11 M12,13V16 M12,18V21",
        ["vent"] = "M3,5H13 M3,12H13 M3,19H13 M13,2L21,12L13,22Z",
        ["lever"] = "M4,20L18,5 M15,3L21,7 M2,20H8",
        ["module"] = "M3,5H21V19H3Z",
    };

    /// <summary>Adds the symbol of a node: a gate that turns for a flap, the letter M for a motor, shapes for others in full detail.</summary>
    public static void Add(XElement group, LayoutNode node, PartState? shows, bool full)
    {
        if (node.Kind == "flap") AddGate(group, node, shows, full);
        else if (!full || node.Role != NodeRole.Part) return;
        else if (node.Kind is "motor" or "blower" or "servo") AddMotor(group, node);
        else if (Shapes.TryGetValue(node.Kind, out string? shape)) group.Add(Field(node, SvgShapes.Path(shape, "stroke")));
    }

    private static XElement Field(LayoutNode node, params XElement[] shapes) => new(
        Svg + "g", new XAttribute("class", "symbol"), new XAttribute("transform", $"translate({Number(node.Box.X + 7)},{Number(node.Box.Y + (node.Box.Height / 2) - 12)})"), shapes);

    private static void AddMotor(XElement group, LayoutNode node) =>
        group.Add(Field(node, SvgShapes.Path("M2,12A10,10 0 1 1 22,12A10,10 0 1 1 2,12", "stroke"), SvgShapes.Text(12, 16, "M", "letter", "middle")));

    /// <summary>A hinge and a blade: across the duct at rest, along it when moved.</summary>
    private static void AddGate(XElement group, LayoutNode node, PartState? shows, bool full)
    {
        double half = full ? 11 : 6, x = node.Box.X + (full ? 18 : 11), y = node.Box.Y + (node.Box.Height / 2);
        double share = shows is null || double.IsNaN(shows.Share) ? 0 : shows.Share;
        XElement blade = SvgShapes.Path($"M{Number(x)},{Number(y + half)} V{Number(y - half)}", "gate");
        blade.Add(new XAttribute("data-key", node.Key + "/gate"), new XAttribute("transform", $"rotate({Number(90 * share)} {Number(x)} {Number(y)})"));
        group.Add(blade, SvgShapes.Path($"M{Number(x - 1.5)},{Number(y)} a1.5,1.5 0 1 0 3,0 a1.5,1.5 0 1 0 -3,0", "hinge"));
    }
}
