using Ventwright.Model.Kernel;

namespace Ventwright.Simulation.Why;

/// <summary>
/// Builds one chain. What was told once is not told again: a second meeting is a step that points up. That also ends loops, such as a servo that is
/// driven by what its own feedback reads.
/// </summary>
internal sealed partial class Explainer
{
    private const int MostSteps = 240, MostDepth = 24, MostSide = 3;

    /// <summary>Tolerances that move the check less than this share of the largest are left out; so are those that do nothing to the quantity behind a word.</summary>
    private const double LeastShare = 0.01, LeastOfWord = 1e-3;

    private readonly WhyTolerance[] _matter;
    private readonly UnitModel _model;
    private readonly Setting _setting;
    private readonly IReadOnlyList<Fault> _faults;
    private readonly Settled _settled;
    private readonly Band _band;
    private readonly Topology _topology;
    private readonly HashSet<(string Kind, int Index)> _told = [];
    private int _steps, _depth;

    public Explainer(UnitModel model, Setting setting, IReadOnlyList<Fault> faults, Settled settled, Band band)
    {
        (_model, _setting, _faults, _settled, _band) = (model, setting, faults, settled, band);
        double least = LeastShare * band.Drivers.Select(d => d.Effect).DefaultIfEmpty().Max();
        if (band.Nominal.Word is not null) least = Math.Max(least, LeastOfWord);
        _matter = [.. band.Drivers.Where(d => d.Effect >= least).Select(d => new WhyTolerance(d.Name, d.Effect, band.What.Dimension()))];
        _topology = new(model, [.. faults.SelectMany(f => f.Rewires)]);
        _wires = [.. model.Nets.Select(_ => new List<int>())];
        for (int i = 0; i < model.Electric.Length; i++)
        {
            _wires[_topology.A[i]].Add(i);
            if (_topology.A[i] != _topology.B[i]) _wires[_topology.B[i]].Add(i);
        }
    }

    private static IEnumerable<WhyStep> None => [];

    /// <summary>The check, with the chain below it.</summary>
    public WhyStep Check()
    {
        Observable what = _band.What;
        Shown shown = _band.Nominal;
        WhyValue value = new(Kind(what.Kind), shown.Value, what.Dimension(), shown.Unsteady ? "unsteady" : double.IsPositiveInfinity(shown.Value) ? "no connection" : shown.Word);
        int part = _model.PartIndex(what.Target);
        Formula? law = what.Kind switch
        {
            ObservableKind.Volts => Formulas.Balance,
            ObservableKind.Ohms => Formulas.Meter,
            ObservableKind.Loses => Formulas.LeakUp,
            ObservableKind.Falls => Formulas.Fall,
            ObservableKind.Seconds => Formulas.Travel,
            _ => null,
        };
        return new(WhyKind.Check, what.ToString(), "", "", [value], law, null, _matter, 0, [.. Roots(what, part)]);
    }

    private IEnumerable<WhyStep> Roots(Observable what, int part) => what.Kind switch
    {
        ObservableKind.Volts => what.Second is null ? Net(NetOf(what.Target)) : [.. Net(NetOf(what.Target)), .. Net(NetOf(what.Second))],
        ObservableKind.Ohms => DeadPath(NetOf(what.Target), NetOf(what.Second ?? "gnd")),
        ObservableKind.Amps or ObservableKind.Light => Through(_model.MainBranch[part]),
        ObservableKind.Vacuum or ObservableKind.Falls => Hose(Array.IndexOf(_model.Hoses, what.Target)),
        ObservableKind.Airflow => Airflow(_model.AirBranchOf[part]),
        ObservableKind.Loses => [.. Enumerable.Range(0, _model.Vacuum.Length).Where(i => _model.Vacuum[i].Part == part && _model.Vacuum[i].A == 0).Select(Restriction)],
        ObservableKind.Seconds => [State(_model.MainVariable[part]), Branch(_model.Variables[_model.MainVariable[part]].Input)],
        ObservableKind.Contacts or ObservableKind.Sweep => [.. Enumerable.Range(0, _model.Electric.Length).Where(i => _model.Electric[i].Part == part).Select(Branch)],
        _ => [State(_model.MainVariable[part])],
    };

    private int NetOf(string name) => Array.IndexOf(_model.Nets, name);

    private static string Kind(ObservableKind kind) => kind.ToString().ToLowerInvariant();

    /// <summary>Makes a step of a part; its children are worked out within the limits of depth and size.</summary>
    /// <param name="kind">Kind.</param>
    /// <param name="name">Name when it belongs to no part.</param>
    /// <param name="part">Index of the part, or -1.</param>
    /// <param name="says">What it does now.</param>
    /// <param name="now">Values.</param>
    /// <param name="formula">Law.</param>
    /// <param name="own">Its parameters: first and count.</param>
    /// <param name="from">Makes the steps below.</param>
    /// <param name="fault">A fault that does not act by a parameter, or null.</param>
    private WhyStep Step(
        WhyKind kind, string name, int part, string says, IReadOnlyList<WhyValue> now, Formula? formula, (int First, int Count) own,
        Func<IEnumerable<WhyStep>> from, string? fault = null)
    {
        if (++_steps > MostSteps || _depth >= MostDepth) return new(WhyKind.Cut, name, "", "the chain goes on", [], null, null, [], 0, []);
        _depth++;
        WhyStep[] below = [.. from()];
        _depth--;
        PartInfo? info = part >= 0 ? _model.Parts[part] : null;
        string title = info is null || info.Name == name ? "" : info.Name;
        WhyTolerance[] tolerances = [.. _matter.Where(t => Owns(own, t.Name))];
        if (fault is null && FaultAt(own) is { } acting) fault = acting;
        if (_setting.Edits.Exists(e => Within(own, e.Parameter))) says = says.Length == 0 ? "so on the bench" : says + ", so on the bench";
        return new(kind, name, title, says, now, formula, fault, tolerances, info?.At.Line ?? 0, below);
    }

    private static WhyStep Above(string name, string says) => new(WhyKind.Above, name, "", says, [], null, null, [], 0, []);

    private bool Owns((int First, int Count) own, string parameter)
    {
        for (int i = 0; i < own.Count; i++) if (_model.ParameterNames[own.First + i] == parameter) return true;
        return false;
    }

    private static bool Within((int First, int Count) own, int parameter) => parameter >= own.First && parameter < own.First + own.Count;

    private string? FaultAt((int First, int Count) own)
    {
        Fault? fault = _faults.FirstOrDefault(f => f.Edits.Any(e => Within(own, e.Parameter)));
        return fault is null ? null : Told(fault);
    }

    private string? FaultAt(Domain domain, int branch)
    {
        Fault? fault = _faults.FirstOrDefault(f => f.Rewires.Any(r => r.Domain == domain && r.Branch == branch));
        return fault is null ? null : Told(fault);
    }

    private static string Told(Fault fault) => $"{fault.Id}: {fault.Symptom}";

    /// <summary>The nodes that can be reached from one, each with the edge that leads to it, nearest first.</summary>
    /// <param name="from">First node.</param>
    /// <param name="nodes">Number of nodes.</param>
    /// <param name="edges">Edge, node at its other end and weight, by node; nothing for one where the search stops.</param>
    private static IEnumerable<(int Node, List<int> Edges)> Reached(int from, int nodes, Func<int, IEnumerable<(int Edge, int To, double Weight)>> edges)
    {
        var best = new double[nodes];
        var way = new List<int>?[nodes];
        var queue = new PriorityQueue<int, double>();
        var done = new HashSet<int>();
        Array.Fill(best, double.PositiveInfinity);
        (best[from], way[from]) = (0, []);
        queue.Enqueue(from, 0);
        while (queue.TryDequeue(out int at, out _))
        {
            if (!done.Add(at)) continue;
            yield return (at, way[at]!);
            foreach ((int edge, int to, double weight) in edges(at))
            {
                if (!(best[at] + weight < best[to])) continue;
                (best[to], way[to]) = (best[at] + weight, [.. way[at]!, edge]);
                queue.Enqueue(to, best[to]);
            }
        }
    }
}
