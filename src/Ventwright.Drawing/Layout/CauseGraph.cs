using Ventwright.Model.Kernel;

namespace Ventwright.Drawing;

/// <summary>
/// Who acts on whom: controls on what they turn, inputs on the module, the module on what it drives, coils on their contacts, hoses on actuators, actuators on
/// flaps, flaps on streams, streams on what lies behind them. Nets take part unless they are feeds or grounds, which would reach everything.
/// </summary>
internal sealed class CauseGraph
{
    private readonly Dictionary<string, HashSet<string>> _after = new(StringComparer.Ordinal), _before = new(StringComparer.Ordinal);
    private readonly Dictionary<string, HashSet<string>> _plugs = new(StringComparer.Ordinal);
    private readonly UnitModel _model;
    private readonly UnitFacts _facts;
    private readonly Conductors _joined;

    public CauseGraph(UnitModel model)
    {
        _model = model;
        _facts = new(model);
        _joined = new(_facts);
        foreach ((Control control, int part) in _facts.Turns) Add(ReachId.Control(control.Name), Id(part));
        foreach ((int mover, int flap) in _facts.Moves) Add(Id(mover), Id(flap));
        AddWires();
        AddHoses();
        AddAir();
    }

    /// <summary>The line that a net is part of.</summary>
    public string NetOf(string net) => ReachId.Net(_model.Nets[_joined.Root(Array.IndexOf(_model.Nets, net))]);

    /// <summary>Everything that can be got to, the start with it. A plug is reached, but leads on only if it is the start: to all that runs through it.</summary>
    public HashSet<string> Walk(string from, bool forward)
    {
        HashSet<string> seen = [from];
        var queue = new Queue<string>([from, .. _plugs.Where(p => p.Value.Contains(from)).Select(p => p.Key)]);
        seen.UnionWith(queue);
        while (queue.TryDequeue(out string? at))
        {
            foreach (string next in (forward ? _after : _before).GetValueOrDefault(at) ?? [])
            {
                if (seen.Add(next)) queue.Enqueue(next);
            }
        }

        seen.UnionWith(seen.SelectMany(s => _plugs.GetValueOrDefault(s) ?? []).ToArray());
        return seen;
    }

    private string Id(int part) => _model.Parts[part].Id;

    private void Add(string cause, string effect)
    {
        if (cause == effect) return;
        (_after.TryGetValue(cause, out HashSet<string>? after) ? after : _after[cause] = []).Add(effect);
        (_before.TryGetValue(effect, out HashSet<string>? before) ? before : _before[effect] = []).Add(cause);
    }

    /// <summary>On a net that is no feed, the parts in the earlier columns of the drawing act on those in the later ones.</summary>
    private void AddWires()
    {
        LaneSketch lane = new WireSketch(_facts, _joined, LayoutDetail.Overview).Sketch();
        foreach (Conductor wire in lane.Conductors.Where(c => c.Kind == LinkKind.Wire))
        {
            int first = wire.First;
            SketchPort? module = wire.Ports.Find(p => p.Owner.Role == NodeRole.Module);
            foreach (SketchPort port in wire.Ports)
            {
                if (port == module) Connect(Pin(port), wire, !IsInput(port.Node));
                else Connect(port.Owner.Id, wire, module is null ? port.Owner.Column == first : IsInput(module.Node));
            }

            foreach ((int part, _, _) in wire.Joins) (_plugs.TryGetValue(ReachId.Net(wire.Name), out HashSet<string>? plugs) ? plugs : _plugs[ReachId.Net(wire.Name)] = []).Add(Id(part));
        }

        if (_model.Module is not { } program) return;
        foreach (int pin in Enumerable.Range(0, _model.Parts.Length).Where(_facts.IsPin))
        {
            if (_model.Parts[pin].Kind == "module-input") Add(Id(pin), Id(program.Part));
            else Add(Id(program.Part), Id(pin));
        }
    }

    private bool IsInput(string net) => _model.PartIndex(net) is >= 0 and int pin && _model.Parts[pin].Kind == "module-input";

    private static string Pin(SketchPort port) => port.Owner.Pins.Find(p => p.Id == port.Node)?.Id ?? port.Owner.Id;

    private void Connect(string part, Conductor wire, bool acts)
    {
        if (acts) Add(part, ReachId.Net(wire.Name));
        else Add(ReachId.Net(wire.Name), part);
    }

    private void AddHoses()
    {
        LaneSketch lane = new HoseSketch(_facts, LayoutDetail.Overview).Sketch();
        foreach (Conductor hose in lane.Conductors.Where(c => c.Kind == LinkKind.Hose))
        {
            foreach (SketchPort port in hose.Ports)
            {
                if (port.Owner.Column == hose.First) Add(port.Owner.Id, ReachId.Hose(hose.Name));
                else Add(ReachId.Hose(hose.Name), port.Owner.Id);
            }
        }
    }

    private void AddAir()
    {
        foreach (AirBranch branch in _model.Air)
        {
            string part = Id(branch.Part);
            if (!_model.OpenSpaces[branch.A]) Add(ReachId.Space(_model.Spaces[branch.A]), part);
            if (!_model.OpenSpaces[branch.B]) Add(part, ReachId.Space(_model.Spaces[branch.B]));
            if (branch.Gate is { } gate && _model.Variables[gate.Variable].Part is >= 0 and int flap && flap != branch.Part) Add(Id(flap), part);
        }
    }
}

/// <summary>Names of what is no part, so that a net and a part of one name are told apart.</summary>
internal static class ReachId
{
    public static string Control(string name) => "control:" + name;

    public static string Net(string name) => "net:" + name;

    public static string Hose(string name) => "hose:" + name;

    public static string Space(string name) => "space:" + name;
}
