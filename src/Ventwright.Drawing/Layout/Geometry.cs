namespace Ventwright.Drawing;

/// <summary>A spot on the sheet, in CSS pixels from the top left corner.</summary>
/// <param name="X">To the right.</param>
/// <param name="Y">Down.</param>
public readonly record struct Spot(double X, double Y);

/// <summary>An upright rectangle, in CSS pixels.</summary>
/// <param name="X">Left edge.</param>
/// <param name="Y">Top edge.</param>
/// <param name="Width">Width.</param>
/// <param name="Height">Height.</param>
public readonly record struct Box(double X, double Y, double Width, double Height)
{
    /// <summary>Right edge.</summary>
    public double Right => X + Width;

    /// <summary>Bottom edge.</summary>
    public double Bottom => Y + Height;

    /// <summary>Whether the insides of two boxes share any spot; boxes that only touch do not.</summary>
    public bool Overlaps(Box other) =>
        X < other.Right - 1e-6 && other.X < Right - 1e-6 && Y < other.Bottom - 1e-6 && other.Y < Bottom - 1e-6;
}

/// <summary>The three bands of the drawing, from top to bottom.</summary>
public enum Lane
{
    /// <summary>Electric parts and their nets.</summary>
    Wires,

    /// <summary>Vacuum parts and their hoses.</summary>
    Hoses,

    /// <summary>Air parts and the spaces between them.</summary>
    Air,
}

/// <summary>How much is drawn.</summary>
public enum LayoutDetail
{
    /// <summary>To be read at one look: feeds and grounds are marks at the ports, simple parts are small.</summary>
    Overview,

    /// <summary>Every part at full size and every net, for zooming in.</summary>
    Full,
}

/// <summary>What a node of the drawing stands for.</summary>
public enum NodeRole
{
    /// <summary>A part in a box of its own.</summary>
    Part,

    /// <summary>A part drawn small: a fuse, a plug, a hose, a seal.</summary>
    Small,

    /// <summary>A control on the panel.</summary>
    Control,

    /// <summary>The control module, a tall block that holds its pins.</summary>
    Module,

    /// <summary>A pin of the module, inside its block.</summary>
    Pin,

    /// <summary>A space of air: a bar that streams run into and out of, or the surroundings.</summary>
    Space,
}

/// <summary>What a port is joined with when no line is drawn to it.</summary>
public enum PortMark
{
    /// <summary>Nothing special: a line is drawn.</summary>
    None,

    /// <summary>A feed, joined with the supply through fuses, wires and plugs.</summary>
    Feed,

    /// <summary>Ground.</summary>
    Ground,

    /// <summary>A net that very many parts share, such as a reference voltage.</summary>
    Shared,
}

/// <summary>What a line shows.</summary>
public enum LinkKind
{
    /// <summary>An electrical net.</summary>
    Wire,

    /// <summary>A hose.</summary>
    Hose,

    /// <summary>A stream of air.</summary>
    Air,

    /// <summary>A mechanical movement: a knob turns a switch, an actuator moves a flap.</summary>
    Move,
}
