using Ventwright.Model.Kernel;

namespace Ventwright.Simulation.Why;

/// <content>What is open, where a net hangs on nothing; what a blown fuse blew on.</content>
internal sealed partial class Explainer
{
    private const double OpenVolts = 0.2, CrossingOhms = 1e7;
    private const int MostCrossed = 5;

    /// <summary>Adds what is open between the net and the supply or ground where it hangs on nothing; else only what a fault does to the nets that hang on it.</summary>
    private void AddOpen(int net, List<WhyStep> steps, bool all)
    {
        int[] nets = [.. Still(net).Select(n => n.Node).Where(n => n > 0)];
        int[] faulty = [.. nets.SelectMany(n => _wires[n]).Distinct().Where(i => !_told.Contains(("branch", i)) && IsFaulty(i)).Take(MostSide)];
        foreach (int branch in faulty) steps.Add(BranchOnce(branch));
        if (!all) return;
        bool dead = _settled.Floating[net] || _settled.Volts[net] < OpenVolts;
        foreach (int branch in Interrupted(nets, dead)) steps.Add(BranchOnce(branch));
    }

    /// <summary>
    /// What is open on the way from nets that hang on nothing: from dead ones to a source or a live net, from others to ground. The way begins with something
    /// open, beyond which several more may be open one behind the other.
    /// </summary>
    private IEnumerable<int> Interrupted(int[] nets, bool toSource)
    {
        HashSet<int> here = [.. nets];
        int[]? best = null;
        double least = double.PositiveInfinity;
        foreach ((int first, int beyond) in nets.SelectMany(n => _wires[n].Where(i => _settled.Open[i] && IsWay(i)).Select(i => (i, _topology.A[i] == n ? _topology.B[i] : _topology.A[i]))))
        {
            if (here.Contains(beyond)) continue;
            // A source that is off, such as an output of a sleeping module, is told only where nothing else leads to a live net.
            bool source = _model.Electric[first].Law == ElectricLaw.Source;
            if (source && !toSource) continue;
            List<int>? edges = source ? [] : Beyond(beyond, here, toSource);
            double ohms = edges is null ? double.PositiveInfinity : edges.Sum(CrossOhms) + (source ? CrossingOhms : 0);
            if (ohms < least) (least, best) = (ohms, [first, .. edges!.Where(i => _settled.Open[i])]);
        }

        return (best ?? []).Take(MostCrossed);
    }

    private List<int>? Beyond(int net, HashSet<int> here, bool toSource) =>
        Reached(net, _model.Nets.Length, at => at == 0 || here.Contains(at) ? [] : Crossing(at)).FirstOrDefault(r => toSource ? IsLive(r.Node) : r.Node == 0).Edges;

    private IEnumerable<(int Edge, int To, double Weight)> Crossing(int at) =>
        _wires[at].Where(i => IsWay(i) && _model.Electric[i].Law != ElectricLaw.Source).Select(i => (i, _topology.A[i] == at ? _topology.B[i] : _topology.A[i], CrossOhms(i)));

    private double CrossOhms(int branch) => _settled.Open[branch] ? CrossingOhms : Ohms(branch);

    private bool IsLive(int net) => net > 0 && !_settled.Floating[net] && _settled.Volts[net] > OpenVolts;

    /// <summary>Whether current could ever flow here: not through a diode's blocking side or a leak that a sound part does not have.</summary>
    private bool IsWay(int branch)
    {
        ElectricBranch b = _model.Electric[branch];
        if (b.Law == ElectricLaw.Diode) return !_settled.Open[branch];
        return !_settled.Open[branch] || b.Gate is not null || b.Law == ElectricLaw.Stage || IsFaulty(branch) || _setting.Edits.Exists(e => Within(Own(b), e.Parameter));
    }

    /// <summary>A blown fuse: what a fault does behind it, as far as anything hangs on it.</summary>
    private IEnumerable<WhyStep> Blew(int branch)
    {
        if (_settled.Variables[_model.Electric[branch].Gate!.Variable] > 0.5) return None;
        return Reached(_topology.B[branch], _model.Nets.Length, at => at == 0 ? [] : Crossing(at)).Where(r => r.Node > 0)
            .SelectMany(r => _wires[r.Node]).Distinct().Where(IsFaulty).Take(MostSide).ToArray().Select(BranchOnce);
    }
}
