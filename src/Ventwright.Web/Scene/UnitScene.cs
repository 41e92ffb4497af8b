using System.Runtime.CompilerServices;
using Ventwright.Drawing;
using Ventwright.Model.Kernel;
using Ventwright.Quantities;
using Ventwright.Simulation;
using Ventwright.Workshop;

namespace Ventwright.Web.Scene;

/// <summary>Whose look the drawing has.</summary>
internal enum SceneView
{
    /// <summary>A sound unit in the present setting.</summary>
    Sound,

    /// <summary>The unit with the first suspect's faults; what would differ is marked.</summary>
    Suspected,
}

/// <summary>What the drawing shows at one moment.</summary>
/// <param name="State">State of everything.</param>
/// <param name="Marks">What is known of parts.</param>
internal sealed record SceneLook(DrawingState State, DrawingMarks Marks);

/// <summary>The drawing of a unit: where everything is, what it shows, and what hangs on what.</summary>
internal sealed class UnitScene
{
    private static readonly ConditionalWeakTable<UnitModel, UnitScene> Known = [];
    private readonly ILookup<string, string> _down, _up, _same;

    private UnitScene(UnitModel model)
    {
        Layout = UnitLayout.Of(model);
        _down = Layout.Links.ToLookup(l => l.From, l => l.To, StringComparer.Ordinal);
        _up = Layout.Links.ToLookup(l => l.To, l => l.From, StringComparer.Ordinal);
        _same = Layout.Nodes.Where(n => n.Part >= 0).ToLookup(n => n.Id, n => n.Key, StringComparer.Ordinal);
    }

    /// <summary>Where everything is.</summary>
    public UnitLayout Layout { get; }

    /// <summary>The scene of a unit; one for each model.</summary>
    public static UnitScene Of(UnitModel model) => Known.GetValue(model, m => new(m));

    /// <summary>What the drawing shows in a setting.</summary>
    public static SceneLook Look(UnitOnSheet unit, Setting setting, SceneView view, SessionFindings? found, IReadOnlyCollection<string> absent, UnitSystem units)
    {
        DrawingState sound = DrawingState.Of(unit.Simulator, setting, null, units);
        int[] faults = view == SceneView.Sound ? [] : [.. FirstSuspect(found)?.Faults.Select(f => f.Fault) ?? []];
        DrawingState shown = faults.Length == 0 ? sound : DrawingState.Of(unit.Simulator, setting, [.. faults.Select(f => unit.Model.Faults[f])], units);
        DrawingMarks differs = faults.Length == 0 ? DrawingMarks.None : DrawingMarks.Of(DrawingDifference.Between(unit.Model, shown, sound));
        var proof = found?.Findings.Proof.Parts ?? [];
        return new(shown, differs with
        {
            Proven = proof.Where(p => p.Proven).Select(p => p.Part).ToHashSet(StringComparer.Ordinal),
            CarOnly = proof.Where(p => p.OnlyInCar.Count > 0 && !p.Proven).Select(p => p.Part).ToHashSet(StringComparer.Ordinal),
            Absent = absent.ToHashSet(StringComparer.Ordinal),
        });
    }

    /// <summary>The most probable line that has a fault in it, or null.</summary>
    public static SuspectLine? FirstSuspect(SessionFindings? found) => found?.Suspects.FirstOrDefault(s => s.Faults.Count > 0);

    /// <summary>Keys of all that lies up and down from a part, control or pin: nodes and the lines between them.</summary>
    public IReadOnlyList<string> Chain(string key)
    {
        HashSet<string> nodes = [.. Walk(key, _down), .. Walk(key, _up)];
        return [.. nodes, .. Layout.Links.Where(l => nodes.Contains(l.From) && nodes.Contains(l.To)).Select(l => l.Key)];
    }

    /// <summary>Key of the node that a part is drawn as, or of the line or pin that carries a net or hose; null where it is not drawn.</summary>
    public string? KeyOf(string name) =>
        Layout.Nodes.FirstOrDefault(n => n.Id == name)?.Key
        ?? Layout.Nodes.FirstOrDefault(n => n.Ports.Any(p => p.Node == name))?.Key
        ?? Layout.Links.FirstOrDefault(l => l.Node == name || l.EndNode == name || l.Through.Contains(name, StringComparer.Ordinal))?.From;

    private HashSet<string> Walk(string key, ILookup<string, string> step)
    {
        HashSet<string> seen = [];
        Queue<string> open = new(Same(key));
        while (open.TryDequeue(out string? at))
        {
            if (!seen.Add(at)) continue;
            foreach (string next in step[at].Where(n => Layout.ByKey[n].Role != NodeRole.Module).SelectMany(Same)) open.Enqueue(next);
        }

        return seen;
    }

    /// <summary>A part that lives in two lanes has a node in each.</summary>
    private IEnumerable<string> Same(string key) => Layout.ByKey[key] is { Part: >= 0, Role: NodeRole.Part or NodeRole.Small } node ? _same[node.Id] : [key];
}
