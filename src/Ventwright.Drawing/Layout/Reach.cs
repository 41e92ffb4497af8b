using Ventwright.Model.Kernel;

namespace Ventwright.Drawing;

/// <summary>
/// Everything upstream and downstream of a part, net, hose or control, so that a finger can follow panel, module, solenoid, hose, actuator, flap, vent.
/// </summary>
public sealed class Reach
{
    private Reach(IReadOnlySet<string> upstream, IReadOnlySet<string> downstream, IReadOnlySet<string> keys) => (Upstream, Downstream, Keys) = (upstream, downstream, keys);

    /// <summary>
    /// What acts on it: ids of parts, and <c>control:</c>, <c>net:</c>, <c>hose:</c>, <c>space:</c> with a name. The module's inputs act on all its outputs.
    /// </summary>
    public IReadOnlySet<string> Upstream { get; }

    /// <summary>What it acts on, written likewise.</summary>
    public IReadOnlySet<string> Downstream { get; }

    /// <summary>Keys of the nodes and lines of the drawing that show it and what it reaches.</summary>
    public IReadOnlySet<string> Keys { get; }

    /// <summary>Works out the reach of something.</summary>
    /// <param name="model">The unit.</param>
    /// <param name="layout">The drawing whose keys are wanted.</param>
    /// <param name="id">Id of a part (an air branch goes by its part), name of a net or hose, or <c>control:name</c>.</param>
    /// <exception cref="ArgumentException">There is no such thing on the sheet.</exception>
    public static Reach Of(UnitModel model, UnitLayout layout, string id)
    {
        ArgumentNullException.ThrowIfNull(model);
        ArgumentNullException.ThrowIfNull(layout);
        ArgumentNullException.ThrowIfNull(id);
        var graph = new CauseGraph(model);
        string start = Start(model, graph, id);
        HashSet<string> up = graph.Walk(start, forward: false), down = graph.Walk(start, forward: true);
        HashSet<string> all = [.. up, .. down];
        HashSet<string> nodes = [.. layout.Nodes.Where(n => IsReached(n, all)).Select(n => n.Key)];
        HashSet<string> links = [.. layout.Links.Where(l => nodes.Contains(l.From) && nodes.Contains(l.To)).Select(l => l.Key)];
        up.Remove(start);
        down.Remove(start);
        return new(up, down, new HashSet<string>([.. nodes, .. links]));
    }

    private static bool IsReached(LayoutNode node, HashSet<string> all) => node.Role switch
    {
        NodeRole.Control => all.Contains(ReachId.Control(node.Id)),
        NodeRole.Space => all.Contains(ReachId.Space(node.Id)),
        _ => all.Contains(node.Id),
    };

    private static string Start(UnitModel model, CauseGraph graph, string id)
    {
        if (model.PartIndex(id) >= 0 || id.StartsWith("control:", StringComparison.Ordinal)) return id;
        if (Array.IndexOf(model.Hoses, id) >= 0) return ReachId.Hose(id);
        if (Array.IndexOf(model.Spaces, id) >= 0) return ReachId.Space(id);
        if (Array.IndexOf(model.Nets, id) >= 0) return graph.NetOf(id);
        throw new ArgumentException($"there is no part, net, hose or space '{id}' on the sheet", nameof(id));
    }
}
