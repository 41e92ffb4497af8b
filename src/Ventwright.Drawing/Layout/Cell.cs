namespace Ventwright.Drawing;

/// <summary>A place in a column: a node, with what rides on it, or a line that passes by.</summary>
internal sealed class Cell
{
    public SketchNode? Node { get; init; }

    public Conductor? Pass { get; init; }

    /// <summary>Top.</summary>
    public double Y { get; set; }

    /// <summary>Height: a stream is wider than a wire.</summary>
    public double Height => Node is not null ? Node.Height + Node.RidersHeight : Pass!.Kind == LinkKind.Air ? 11 : 5;

    /// <summary>Space that a neighbour must keep.</summary>
    public double Gap => Node is null ? 3 : 4;

    public double Middle => Y + (Height / 2);

    /// <summary>Puts the cell, and with it the node or the passing line, at a height.</summary>
    public void MoveTo(double y, int column)
    {
        Y = y;
        if (Node is not null) Node.Y = y + Node.RidersHeight;
        else Pass!.PassY[column] = Middle;
    }
}
