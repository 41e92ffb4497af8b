using Ventwright.Model.Kernel;

namespace Ventwright.Drawing;

/// <summary>Sizes of nodes, CSS pixels. In the overview one line of 12 px type, in full detail two lines and a symbol.</summary>
internal static class Sizes
{
    public const double Type = 12;

    public const double Row = 18.5;
    public const double TwoLines = 29;
    public const double FullHeight = 44;
    public const double Chip = 15.5;

    public static SketchNode Part(PartInfo info, int part, LayoutDetail detail, double width = 132) =>
        new(info.Id, info.Name, info.Kind, part, NodeRole.Part) { Width = detail == LayoutDetail.Full ? 210 : width, Height = detail == LayoutDetail.Full ? FullHeight : Row };

    public static SketchNode Small(PartInfo info, int part) =>
        new(info.Id, info.Name, info.Kind, part, NodeRole.Small) { Width = Math.Max(20, TextWidth.Of(info.Id, Type, bold: true) + 7), Height = Chip };

    public static SketchNode Module(PartInfo info, int part, LayoutDetail detail) =>
        new(info.Id, info.Name, info.Kind, part, NodeRole.Module) { Width = detail == LayoutDetail.Full ? 320 : 210 };

    public static SketchNode Pin(PartInfo info, int part, LayoutDetail detail) =>
        new(info.Id, info.Name, info.Kind, part, NodeRole.Pin) { Height = detail == LayoutDetail.Full ? 20 : 13.8 };

    public static SketchNode Control(Control control)
    {
        double widest = control.Positions.Select(p => TextWidth.Of(p, Type, bold: true)).DefaultIfEmpty(24).Max();
        return new(control.Name, control.Name, "control", -1, NodeRole.Control) { Width = TextWidth.Of(control.Name, Type) + widest + 22, Height = Row };
    }

    public static SketchNode Space(string name) => new(name, name, "space", -1, NodeRole.Space) { Width = Math.Max(44, TextWidth.Of(name, Type) + 8), Height = Row };
}
