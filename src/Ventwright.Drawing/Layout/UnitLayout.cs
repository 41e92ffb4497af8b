using Ventwright.Model.Kernel;

namespace Ventwright.Drawing;

/// <summary>Where a line can end at a node.</summary>
/// <param name="Node">Name of the net, hose or space behind it; for a movement the name of what moves.</param>
/// <param name="At">Where it is.</param>
/// <param name="Left">Whether it is on the left side.</param>
/// <param name="Mark">Mark that stands in for a line.</param>
public sealed record LayoutPort(string Node, Spot At, bool Left, PortMark Mark);

/// <summary>A part, control or space where it is drawn.</summary>
/// <param name="Key">Key within the drawing, such as <c>wires:Y1</c>.</param>
/// <param name="Id">Id of the part, or name of the control or space.</param>
/// <param name="Name">Name in words.</param>
/// <param name="Kind">Key of its kind, such as <c>fuse</c>; <c>control</c> or <c>space</c> for what is no part.</param>
/// <param name="Part">Index of the part, or -1.</param>
/// <param name="Lane">Lane that it is drawn in.</param>
/// <param name="Role">What it stands for.</param>
/// <param name="Box">Where it is.</param>
/// <param name="Ports">Where lines end.</param>
public sealed record LayoutNode(
    string Key, string Id, string Name, string Kind, int Part, Lane Lane, NodeRole Role, Box Box, IReadOnlyList<LayoutPort> Ports);

/// <summary>A line from one node to another.</summary>
/// <param name="Key">Key within the drawing.</param>
/// <param name="Kind">What it shows.</param>
/// <param name="From">Key of the node that it starts at.</param>
/// <param name="To">Key of the node that it ends at.</param>
/// <param name="Node">Net, hose or space at its start; for a movement what moves.</param>
/// <param name="EndNode">Net, hose or space at its end; another one when plugs, wires or fuses lie between.</param>
/// <param name="AirBranch">For a stream the index of its air branch, else -1.</param>
/// <param name="Points">Corners of the line.</param>
/// <param name="Through">Parts that it runs through without a box of their own on it: plugs, wires, fuses.</param>
public sealed record LayoutLink(
    string Key, LinkKind Kind, string From, string To, string Node, string EndNode, int AirBranch, IReadOnlyList<Spot> Points, IReadOnlyList<string> Through);

/// <summary>A word on the drawing that belongs to no node.</summary>
/// <param name="Text">The word.</param>
/// <param name="At">Left end of its base line.</param>
/// <param name="Size">Size of the type, CSS pixels.</param>
public sealed record LayoutCaption(string Text, Spot At, double Size);

/// <summary>
/// Where everything of a unit is drawn: three lanes, wires above hoses above air, in each lane cause on the left and effect on the right. A pure
/// function of the model: the same sheet gives the same drawing. Immutable.
/// </summary>
public sealed class UnitLayout
{
    internal UnitLayout(LayoutDetail detail, double width, double height, IReadOnlyDictionary<Lane, Box> lanes, IReadOnlyList<LayoutNode> nodes, IReadOnlyList<LayoutLink> links, IReadOnlyList<LayoutCaption> captions)
    {
        (Detail, Width, Height, Lanes, Nodes, Links, Captions) = (detail, width, height, lanes, nodes, links, captions);
        ByKey = nodes.ToDictionary(n => n.Key, StringComparer.Ordinal);
    }

    /// <summary>How much is drawn.</summary>
    public LayoutDetail Detail { get; }

    /// <summary>Width, CSS pixels.</summary>
    public double Width { get; }

    /// <summary>Height, CSS pixels.</summary>
    public double Height { get; }

    /// <summary>The lanes that have anything in them.</summary>
    public IReadOnlyDictionary<Lane, Box> Lanes { get; }

    /// <summary>Nodes. A part that lives in two lanes has one in each.</summary>
    public IReadOnlyList<LayoutNode> Nodes { get; }

    /// <summary>Lines.</summary>
    public IReadOnlyList<LayoutLink> Links { get; }

    /// <summary>Headings.</summary>
    public IReadOnlyList<LayoutCaption> Captions { get; }

    /// <summary>Nodes by key.</summary>
    public IReadOnlyDictionary<string, LayoutNode> ByKey { get; }

    /// <summary>Lays a unit out.</summary>
    /// <param name="model">The unit.</param>
    /// <param name="detail">How much is drawn.</param>
    public static UnitLayout Of(UnitModel model, LayoutDetail detail = LayoutDetail.Overview)
    {
        ArgumentNullException.ThrowIfNull(model);
        return new LayoutAssembly(model, detail).Assemble();
    }
}
