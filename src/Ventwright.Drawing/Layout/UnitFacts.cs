using Ventwright.Model.Kernel;

namespace Ventwright.Drawing;

/// <summary>What the drawing needs to know of a unit, worked out once: who touches what, who moves what, who lives in which lane.</summary>
internal sealed class UnitFacts
{
    private readonly Dictionary<int, List<int>> _netsOf = [], _hosesOf = [];

    public UnitFacts(UnitModel model)
    {
        Model = model;
        foreach (ElectricBranch b in model.Electric.Where(IsThere)) Touch(_netsOf, b.Part, b.A, b.B, b.Control);
        foreach (VacuumBranch b in model.Vacuum) Touch(_hosesOf, b.Part, b.A, b.B);
        foreach (VacuumSource s in model.VacuumSources) Touch(_hosesOf, s.Part, s.Hose);
        NetUsers = Users(_netsOf);
        HoseUsers = Users(_hosesOf);
        FindMovers();
    }

    public UnitModel Model { get; }

    /// <summary>Parts that touch each net.</summary>
    public Dictionary<int, List<int>> NetUsers { get; }

    /// <summary>Parts that touch each hose.</summary>
    public Dictionary<int, List<int>> HoseUsers { get; }

    /// <summary>Flap and what moves it.</summary>
    public List<(int Mover, int Flap)> Moves { get; } = [];

    /// <summary>Control and the part that it turns.</summary>
    public List<(Control Control, int Part)> Turns { get; } = [];

    /// <summary>Nets of a part that others touch too, in the order of its branches.</summary>
    public IEnumerable<int> Nets(int part) => (_netsOf.GetValueOrDefault(part) ?? []).Where(n => n == 0 || NetUsers[n].Count > 1);

    /// <summary>Every net that a part touches.</summary>
    public IReadOnlyList<int> AllNets(int part) => _netsOf.GetValueOrDefault(part) ?? [];

    /// <summary>Hoses of a part that others touch too; never the atmosphere.</summary>
    public IEnumerable<int> Hoses(int part) => (_hosesOf.GetValueOrDefault(part) ?? []).Where(h => h != 0 && HoseUsers[h].Count > 1);

    /// <summary>Every hose that a part touches.</summary>
    public IReadOnlyList<int> AllHoses(int part) => _hosesOf.GetValueOrDefault(part) ?? [];

    /// <summary>Air branch of a part, or -1.</summary>
    public int AirOf(int part) => Array.FindIndex(Model.Air, b => b.Part == part);

    /// <summary>Flap or other part whose position gates an air branch, or -1.</summary>
    public int GateOf(int branch) => Model.Air[branch].Gate is { } gate ? Model.Variables[gate.Variable].Part : -1;

    /// <summary>The lanes that a part lives in. A part that touches nothing is drawn with the wires.</summary>
    public IReadOnlyList<Lane> LanesOf(int part)
    {
        List<Lane> lanes = [];
        int[] movers = [.. Moves.Where(m => m.Flap == part).Select(m => m.Mover)];
        bool hoses = _hosesOf.ContainsKey(part) || movers.Any(_hosesOf.ContainsKey);
        bool air = AirOf(part) >= 0 || Gates(part).Any();
        bool turned = Turns.Any(t => t.Part == part) && !_hosesOf.ContainsKey(part);
        if (_netsOf.ContainsKey(part) || turned || movers.Any(m => !_hosesOf.ContainsKey(m)) || !(hoses || air)) lanes.Add(Lane.Wires);
        if (hoses) lanes.Add(Lane.Hoses);
        if (air) lanes.Add(Lane.Air);
        return lanes;
    }

    /// <summary>Air branches that a part gates, the wide ones first.</summary>
    public IEnumerable<int> Gates(int part) =>
        Enumerable.Range(0, Model.Air.Length).Where(b => GateOf(b) == part && Model.Air[b].Part != part)
            .OrderBy(b => Model.Parts[Model.Air[b].Part].Kind == "seal");

    /// <summary>Whether a part is one of the module's pins.</summary>
    public bool IsPin(int part) => Model.Parts[part].Kind is "module-input" or "module-output";

    /// <summary>Whether a part does no more than join two nets: a plug, a wire, a fuse, a ground point.</summary>
    public bool IsJoin(int part) => Model.Parts[part].Kind is "connector" or "wire" or "fuse" or "ground-point";

    private bool IsThere(ElectricBranch branch) => branch.Law != ElectricLaw.Ohmic || !double.IsPositiveInfinity(Model.Parameters[branch.Parameter]);

    private static void Touch(Dictionary<int, List<int>> map, int part, params int[] nodes)
    {
        if (!map.TryGetValue(part, out List<int>? list)) map[part] = list = [];
        list.AddRange(nodes.Where(n => n >= 0 && !list.Contains(n)).Distinct());
    }

    private static Dictionary<int, List<int>> Users(Dictionary<int, List<int>> map) =>
        map.SelectMany(m => m.Value.Select(n => (Node: n, Part: m.Key))).GroupBy(p => p.Node).ToDictionary(g => g.Key, g => g.Select(p => p.Part).Distinct().ToList());

    private void FindMovers()
    {
        foreach (Variable v in Model.Variables.Where(v => v.Law == VariableLaw.Linkage && v.Part >= 0 && v.Input >= 0))
        {
            int mover = Model.Variables[v.Input].Part;
            if (mover >= 0 && mover != v.Part) Moves.Add((mover, v.Part));
        }

        foreach (Control control in Model.Controls)
        {
            IEnumerable<int> gated = Model.Electric.Where(b => b.Gate?.Variable == control.Variable).Select(b => b.Part)
                .Concat(Model.Vacuum.Where(b => b.Gate?.Variable == control.Variable).Select(b => b.Part))
                .Concat(Model.Variables.Where(v => v.Law == VariableLaw.Linkage && v.Input == control.Variable).Select(v => v.Part));
            foreach (int part in gated.Where(p => p >= 0).Distinct().Order()) Turns.Add((control, part));
        }
    }
}
