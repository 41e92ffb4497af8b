using Ventwright.Model.Kernel;

namespace Ventwright.Drawing;

/// <summary>Sketches the lane of air: from the surroundings through the box to the vents.</summary>
internal sealed class AirSketch(UnitFacts facts, LayoutDetail detail)
{
    private readonly UnitModel _model = facts.Model;
    private readonly LaneSketch _lane = new(Lane.Air);
    private readonly Dictionary<int, SketchNode> _byBranch = [];
    private readonly Dictionary<int, SketchNode> _byPart = [];

    /// <summary>Makes the sketch.</summary>
    public LaneSketch Sketch()
    {
        for (int i = 0; i < _model.Air.Length; i++)
        {
            int part = _model.Air[i].Part;
            if (!_byPart.TryGetValue(part, out SketchNode? node)) _lane.Nodes.Add(_byPart[part] = node = Node(part));
            _byBranch[i] = node;
        }

        AddSpaces();
        AddFlaps();
        Columns();
        return _lane;
    }

    private SketchNode Node(int part)
    {
        PartInfo info = _model.Parts[part];
        if (detail == LayoutDetail.Full) return Sizes.Part(info, part, detail);
        SketchNode node = Sizes.Part(info, part, detail, info.Kind == "vent" ? 132 : 92);
        if (info.Kind == "seal") return new(info.Id, info.Name, info.Kind, part, NodeRole.Small) { Width = 92, Height = Sizes.Chip };
        node.Height = info.Kind == "vent" ? Sizes.Row : Sizes.TwoLines;
        return node;
    }

    private void AddSpaces()
    {
        for (int space = 0; space < _model.Spaces.Length; space++)
        {
            string name = _model.Spaces[space];
            var conductor = new Conductor(name, LinkKind.Air);
            bool open = _model.OpenSpaces[space];
            if (open && _model.Air.Any(b => b.A == space))
            {
                SketchNode around = Sizes.Space(name);
                _lane.Nodes.Add(around);
                conductor.Add(around, name);
            }

            for (int i = 0; i < _model.Air.Length; i++)
            {
                if (_model.Air[i].B == space && !open) conductor.Add(_byBranch[i], name);
                if (_model.Air[i].A == space) conductor.Add(_byBranch[i], name);
            }

            if (conductor.Ports.Count > 1) _lane.Conductors.Add(conductor);
            else if (conductor.Ports.Count == 1) conductor.Ports[0].Owner.Ports.Remove(conductor.Ports[0]);
        }
    }

    /// <summary>A flap sits on the first duct that it gates.</summary>
    private void AddFlaps()
    {
        for (int part = 0; part < _model.Parts.Length; part++)
        {
            if (_byPart.ContainsKey(part) || facts.Gates(part).Cast<int?>().FirstOrDefault() is not { } branch) continue;
            SketchNode flap = Sizes.Part(_model.Parts[part], part, detail);
            (flap.Width, flap.Column) = (_byBranch[branch].Width, 0);
            _byBranch[branch].Riders.Add(flap);
        }
    }

    private void Columns()
    {
        var after = _lane.Nodes.ToDictionary(n => n, _ => new List<SketchNode>());
        foreach (Conductor space in _lane.Conductors)
        {
            foreach (SketchNode from in Before(space)) after[from].AddRange(After(space).Where(n => n != from));
        }

        var open = new HashSet<SketchNode>();
        var steps = new Dictionary<SketchNode, int>();
        foreach (SketchNode node in _lane.Nodes) Steps(node);
        foreach (SketchNode node in _lane.Nodes) node.Column = 0;
        foreach (SketchNode node in _lane.Nodes.OrderByDescending(n => steps[n]))
        {
            foreach (SketchNode next in after[node]) next.Column = Math.Max(next.Column, node.Column + 1);
        }

        PullToEffects(after);

        int Steps(SketchNode node)
        {
            if (steps.TryGetValue(node, out int known)) return known;
            open.Add(node);
            after[node].RemoveAll(open.Contains); // a stream that comes back to its own start is drawn as if it did not
            steps[node] = after[node].Select(n => Steps(n) + 1).DefaultIfEmpty(0).Max();
            open.Remove(node);
            return steps[node];
        }
    }

    private IEnumerable<SketchNode> Before(Conductor space) =>
        space.Ports.Select(p => p.Owner).Where(n => n.Role == NodeRole.Space || Branches(n).Any(b => _model.Spaces[b.B] == space.Name));

    private IEnumerable<SketchNode> After(Conductor space) =>
        space.Ports.Select(p => p.Owner).Where(n => n.Role != NodeRole.Space && Branches(n).Any(b => _model.Spaces[b.A] == space.Name));

    private IEnumerable<AirBranch> Branches(SketchNode node) => _byBranch.Where(b => b.Value == node).Select(b => _model.Air[b.Key]);

    /// <summary>An end that is no vent, such as a drain, stands where there is room for it, not far from where its stream leaves.</summary>
    private int LeastFull(int from, int last) => Enumerable.Range(from, Math.Clamp(last - from, 1, 3)).MinBy(c => _lane.Nodes.Where(n => n.Column == c).Sum(n => n.Height + n.RidersHeight));

    /// <summary>What starts a stream stands right before what it feeds; vents stand in the last column.</summary>
    private void PullToEffects(Dictionary<SketchNode, List<SketchNode>> after)
    {
        int last = _lane.Nodes.Select(n => n.Column).DefaultIfEmpty(0).Max();
        foreach (SketchNode vent in _lane.Nodes.Where(n => n.Kind == "vent" && after[n].Count == 0)) vent.Column = last;
        foreach (SketchNode node in _lane.Nodes.Where(n => n.Role != NodeRole.Space && n.Column == 1 && after[n].Count > 0))
            node.Column = Math.Max(1, after[node].Min(n => n.Column) - 1);
        foreach (SketchNode end in _lane.Nodes.Where(n => n.Kind is not ("vent" or "seal") && after[n].Count == 0)) end.Column = LeastFull(end.Column, last);
    }
}
