namespace Ventwright.Drawing;

/// <summary>A node before it has a place.</summary>
internal sealed class SketchNode(string id, string name, string kind, int part, NodeRole role)
{
    public string Id { get; } = id;

    public string Name { get; } = name;

    public string Kind { get; } = kind;

    public int Part { get; } = part;

    public NodeRole Role { get; } = role;

    public double Width { get; set; }

    public double Height { get; set; }

    /// <summary>Column, from the left.</summary>
    public int Column { get; set; } = -1;

    /// <summary>Nets, hoses or spaces that it touches, in the order of its ports.</summary>
    public List<SketchPort> Ports { get; } = [];

    /// <summary>Small nodes that sit on top of it, such as a flap on the duct that it gates.</summary>
    public List<SketchNode> Riders { get; } = [];

    /// <summary>For the module: its pins.</summary>
    public List<SketchNode> Pins { get; } = [];

    /// <summary>Place once it is known.</summary>
    public double X { get; set; }

    public double Y { get; set; }

    public double RidersHeight => Riders.Sum(r => r.Height);
}

/// <summary>A port before it has a place.</summary>
internal sealed class SketchPort(SketchNode owner, string node, PortMark mark)
{
    public SketchNode Owner { get; } = owner;

    public string Node { get; } = node;

    public PortMark Mark { get; } = mark;

    /// <summary>Conductor that it hangs on, null for a mark.</summary>
    public Conductor? Conductor { get; set; }

    public bool Left { get; set; } = true;

    /// <summary>Distance from the top of its owner.</summary>
    public double Offset { get; set; }

    /// <summary>Distance from the top of the drawing.</summary>
    public double Y => Owner.Y + Offset;

    /// <summary>For a mark on the lower edge: distance from the right.</summary>
    public double Inset { get; set; }

    public Spot Spot => new(Left ? Owner.X : Owner.X + Owner.Width - Inset, Y);
}

/// <summary>What joins ports: a net with the plugs and wires in it, a hose, a space, a movement.</summary>
internal sealed class Conductor(string name, LinkKind kind)
{
    public string Name { get; } = name;

    public LinkKind Kind { get; } = kind;

    public List<SketchPort> Ports { get; } = [];

    /// <summary>Parts that join its nets, with the two nets: plugs, wires, fuses.</summary>
    public List<(int Part, string A, string B)> Joins { get; } = [];

    public int First => Ports.Min(p => p.Owner.Column);

    public int Last => Ports.Max(p => p.Owner.Column);

    /// <summary>Gap (after the column of that number) that the lines leave the first column through.</summary>
    public Dictionary<int, double> TrunkX { get; } = [];

    /// <summary>Height of the line where it passes a column.</summary>
    public Dictionary<int, double> PassY { get; } = [];

    public SketchPort Add(SketchNode node, string name)
    {
        var port = new SketchPort(node, name, PortMark.None) { Conductor = this };
        node.Ports.Add(port);
        Ports.Add(port);
        return port;
    }
}

/// <summary>A lane before anything has a place.</summary>
internal sealed class LaneSketch(Lane lane)
{
    public Lane Lane { get; } = lane;

    public List<SketchNode> Nodes { get; } = [];

    public List<Conductor> Conductors { get; } = [];

    /// <summary>Small nodes in rows above the rest, by heading.</summary>
    public List<(string Heading, List<SketchNode> Nodes)> Strips { get; } = [];
}
