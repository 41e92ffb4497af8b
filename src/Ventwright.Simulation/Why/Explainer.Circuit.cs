using Ventwright.Model.Kernel;
using Ventwright.Quantities;

namespace Ventwright.Simulation.Why;

/// <content>Circuits: the parts that carry the current from the source to a net and on to ground, and what is open where no current flows.</content>
internal sealed partial class Explainer
{
    private const double LeastAmps = 1e-9, HeldShare = 0.05;
    private readonly List<int>[] _wires;

    /// <summary>Why a net is at its voltage: its way to the source and to ground.</summary>
    private List<WhyStep> Net(int net)
    {
        List<WhyStep> steps = [];
        if (net == 0) return steps;
        if (!_told.Add(("net", net))) return [Above(_model.Nets[net], "told above")];
        (int live, List<int> still) = Live(net);
        foreach (int branch in still) steps.Add(BranchOnce(branch));
        bool fed = false;
        if (live > 0)
        {
            fed = Way(live, true, steps, out double source);
            // A net that its feed holds does not owe its volts to what it feeds.
            if (!fed || source - _settled.Volts[live] > HeldShare * Math.Abs(source)) Way(live, false, steps, out _);
        }

        AddOpen(net, steps, all: still.Count > 0 || live <= 0 || !fed);
        return steps;
    }

    /// <summary>Why a branch carries what it carries: itself, its way to the source and to ground.</summary>
    private List<WhyStep> Through(int branch)
    {
        if (!_told.Add(("branch", branch))) return [Above(_model.Parts[_model.Electric[branch].Part].Id, "told above")];
        List<WhyStep> steps = [Branch(branch)];
        if (_model.Electric[branch].Law == ElectricLaw.Source) return [.. steps, .. Loads(branch)];
        bool forward = _settled.Amps[branch] >= 0;
        (int high, int low) = forward ? (_topology.A[branch], _topology.B[branch]) : (_topology.B[branch], _topology.A[branch]);
        if (Math.Abs(_settled.Amps[branch]) > LeastAmps)
        {
            Way(high, true, steps, out _);
            Way(low, false, steps, out _);
            return steps;
        }

        foreach (int end in (int[])[high, low]) steps.AddRange(Net(end));
        return steps;
    }

    /// <summary>What a source feeds: each way from its net on to ground.</summary>
    private List<WhyStep> Loads(int source)
    {
        List<WhyStep> steps = [];
        int net = _topology.A[source];
        foreach (int branch in _wires[net].Where(i => i != source && !_settled.Open[i]).OrderByDescending(i => Math.Abs(_settled.Amps[i])))
        {
            if (!_told.Add(("branch", branch))) continue;
            steps.Add(Branch(branch));
            Way(_topology.A[branch] == net ? _topology.B[branch] : _topology.A[branch], false, steps, out _);
        }

        AddOpen(net, steps, all: false);
        return steps;
    }

    /// <summary>
    /// Follows the largest current from net to net, upstream to a source or downstream to ground; false if none flows. What a fault does beside the way
    /// is added: a ground that is lost sends the current on odd ways, a short pulls the feed down.
    /// </summary>
    private bool Way(int net, bool up, List<WhyStep> steps, out double endVolts)
    {
        List<int> passed = [];
        bool found = Follow(net, up, steps, passed, out endVolts);
        foreach (int branch in passed.SelectMany(n => _wires[n]).Distinct().Where(i => !_told.Contains(("branch", i)) && IsFaulty(i)).Take(MostSide).ToArray())
            steps.Add(BranchOnce(branch));
        return found;
    }

    private bool Follow(int net, bool up, List<WhyStep> steps, List<int> passed, out double endVolts)
    {
        endVolts = _settled.Volts[net];
        for (int at = net, before = -1; ;)
        {
            if (up && _setting.Feeds.Any(f => f.Net == at))
            {
                steps.Add(Feed(at));
                return true;
            }

            if (at == 0) return true;
            passed.Add(at);
            int next = Largest(at, before, up);
            if (next < 0) return before >= 0;
            bool first = _told.Add(("branch", next));
            steps.Add(first ? Branch(next) : Above(_model.Parts[_model.Electric[next].Part].Id, $"told above, and what comes {(up ? "before" : "after")} it"));
            int other = _topology.A[next] == at ? _topology.B[next] : _topology.A[next];
            if (_model.Electric[next].Law != ElectricLaw.Source) endVolts = _settled.Volts[other];
            if (!first && up) endVolts = Math.Max(endVolts, Highest(other));
            if (!first || _model.Electric[next].Law == ElectricLaw.Source) return true;
            (at, before) = (other, next);
        }
    }

    /// <summary>Volts at the source that a net's current comes from.</summary>
    private double Highest(int net)
    {
        for (int at = net, before = -1, hops = 0; hops < _model.Nets.Length; hops++)
        {
            int next = Largest(at, before, true);
            if (at == 0 || next < 0 || _model.Electric[next].Law == ElectricLaw.Source) return _settled.Volts[at];
            (at, before) = (_topology.A[next] == at ? _topology.B[next] : _topology.A[next], next);
        }

        return _settled.Volts[net];
    }

    private int Largest(int net, int before, bool up)
    {
        int best = -1;
        double most = LeastAmps;
        foreach (int i in _wires[net])
        {
            if (i == before || _settled.Open[i] || _topology.A[i] == _topology.B[i]) continue;
            double into = _topology.B[i] == net ? _settled.Amps[i] : -_settled.Amps[i], amps = up ? into : -into;
            if (amps > most) (best, most) = (i, amps);
        }

        return best;
    }

    /// <summary>The nearest net with a current, and the branches without one that lead there; -1 if there is none before ground.</summary>
    private (int Net, List<int> Branches) Live(int net)
    {
        List<int> ground = [];
        foreach ((int at, List<int> branches) in Still(net))
        {
            if (at == 0) ground = branches;
            else if (Largest(at, -1, true) >= 0 || Largest(at, -1, false) >= 0 || _setting.Feeds.Any(f => f.Net == at)) return (at, branches);
        }

        return (-1, ground);
    }

    /// <summary>Nets that hang on a net by branches without current, up to the first with one.</summary>
    private IEnumerable<(int Node, List<int> Edges)> Still(int net) => Reached(net, _model.Nets.Length, at => at == 0 || (at != net && Largest(at, -1, true) >= 0)
        ? []
        : _wires[at].Where(i => !_settled.Open[i] && _model.Electric[i].Law != ElectricLaw.Source && Math.Abs(_settled.Amps[i]) <= LeastAmps)
            .Select(i => (i, _topology.A[i] == at ? _topology.B[i] : _topology.A[i], Ohms(i))));

    private double Ohms(int branch)
    {
        double ohms = _model.Electric[branch].Law is ElectricLaw.Ohmic or ElectricLaw.Lamp or ElectricLaw.Motor ? _settled.Parameters[_model.Electric[branch].Parameter] : 1;
        return double.IsFinite(ohms) ? Math.Max(ohms, 1e-4) : 1e9;
    }

    private bool IsFaulty(int branch)
    {
        ElectricBranch b = _model.Electric[branch];
        return FaultAt(Own(b)) is not null || FaultAt(Domain.Electric, branch) is not null || (b.Gate is { } gate && FaultAt(Own(_model.Variables[gate.Variable])) is not null);
    }

    private WhyStep BranchOnce(int branch) =>
        _told.Add(("branch", branch)) ? Branch(branch) : Above(_model.Parts[_model.Electric[branch].Part].Id, "told above");

    private static (int First, int Count) Own(ElectricBranch branch) => (branch.Parameter, branch.Law switch
    {
        ElectricLaw.Ohmic => 1,
        ElectricLaw.Diode => 2,
        ElectricLaw.Source or ElectricLaw.Lamp => 3,
        ElectricLaw.Motor or ElectricLaw.Thermistor => 4,
        _ => 5,
    });

    private WhyStep Branch(int index)
    {
        ElectricBranch branch = _model.Electric[index];
        bool open = _settled.Open[index];
        int a = _topology.A[index], b = _topology.B[index];
        if (_settled.Volts[a] < _settled.Volts[b]) (a, b) = (b, a);
        string says = $"{branch.Name}{(open ? branch.Law == ElectricLaw.Stage ? ", off" : ", open" : "")}";
        WhyValue[] now = [End(a), End(b), .. open ? (WhyValue[])[] : [new("current", Math.Abs(_settled.Amps[index]), Dimension.Ampere)]];
        return Step(WhyKind.Circuit, _model.Parts[branch.Part].Id, branch.Part, says, now, Formulas.Of(branch.Law), Own(branch), () => Steers(branch), FaultAt(Domain.Electric, index));
    }

    private WhyValue End(int net) => _settled.Floating[net] ? new(_model.Nets[net], double.NaN, Dimension.Volt, "floats") : new(_model.Nets[net], _settled.Volts[net], Dimension.Volt);

    /// <summary>What sets the state of a branch: the variable of its gate, of its law, or its control net.</summary>
    private IEnumerable<WhyStep> Steers(ElectricBranch branch)
    {
        if (branch.Gate is { } gate && !IsSoundFuse(gate.Variable)) yield return State(gate.Variable);
        if (branch.Variable >= 0 && _model.Variables[branch.Variable].Law != VariableLaw.Blocked) yield return State(branch.Variable);
        if (branch.Control < 0) yield break;
        foreach (WhyStep step in Net(branch.Control)) yield return step;
    }

    private bool IsSoundFuse(int variable) =>
        _model.Variables[variable].Law is VariableLaw.Fuse or VariableLaw.Gap && _settled.Variables[variable] > 0.5 && FaultAt(Own(_model.Variables[variable])) is null;

    private WhyStep Feed(int net)
    {
        (_, double volts, _) = _setting.Feeds.First(f => f.Net == net);
        return Step(WhyKind.Setting, _model.Nets[net], -1, "fed directly on the bench", [new("feed", volts, Dimension.Volt)], null, default, () => None);
    }
}
