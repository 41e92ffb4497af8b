using Ventwright.Model.Kernel;
using Ventwright.Quantities;

namespace Ventwright.Simulation.Why;

/// <content>Vacuum and air: a hose's way to the pump and to the atmosphere, an air path with what drives it.</content>
internal sealed partial class Explainer
{
    private const double ShutPa = 1000, StillM3PerS = 1e-6;

    /// <summary>Why a hose is at its depression.</summary>
    private List<WhyStep> Hose(int hose)
    {
        if (hose == 0) return [];
        if (!_told.Add(("hose", hose))) return [Above(_model.Hoses[hose], "told above")];
        List<WhyStep> steps = [];
        var (source, pulled) = VacuumWay(hose, h => Array.Exists(_model.VacuumSources, s => s.Hose == h), toPump: true);
        foreach (int branch in pulled) steps.Add(RestrictionOnce(branch));
        if (source >= 0) steps.Add(Pump(source));
        foreach (int branch in Vented(hose, source, pulled)) steps.Add(RestrictionOnce(branch));
        foreach (int branch in Shut(hose, all: source < 0)) steps.Add(RestrictionOnce(branch));
        return steps;
    }

    /// <summary>The way by which air comes in from the atmosphere: at the hose, or somewhere between it and the pump.</summary>
    private List<int> Vented(int hose, int source, List<int> pulled)
    {
        IEnumerable<int> along = pulled.SelectMany(i => (int[])[_topology.VacuumA[i], _topology.VacuumB[i]]).Where(h => h != source && h != 0);
        return along.Prepend(hose).Distinct().Select(h => VacuumWay(h, to => to == 0, toPump: false).Branches).FirstOrDefault(w => w.Count > 0) ?? [];
    }

    /// <summary>The way of least resistance to a hose; restrictions in series add as the squares of one over their conductance.</summary>
    private (int Hose, List<int> Branches) VacuumWay(int from, Predicate<int> goal, bool toPump)
    {
        var reached = Reached(from, _model.Hoses.Length, at => at != from && (at == 0 || goal(at)) ? [] : Passing(at, toPump));
        foreach ((int at, List<int> branches) in reached) if (goal(at)) return (at, branches);
        return (-1, []);
    }

    private IEnumerable<(int Edge, int To, double Weight)> Passing(int at, bool toPump)
    {
        for (int i = 0; i < _model.Vacuum.Length; i++)
        {
            int a = _topology.VacuumA[i], b = _topology.VacuumB[i];
            if (a == b || (a != at && b != at)) continue;
            // Air passes a one-way branch from A to B only, and the pump is where it goes.
            if (_model.Vacuum[i].OneWay && (toPump ? a != at : b != at)) continue;
            double conductance = Conductance(i);
            if (conductance > 0) yield return (i, a == at ? b : a, 1 / (conductance * conductance));
        }
    }

    private double Conductance(int branch)
    {
        VacuumBranch b = _model.Vacuum[branch];
        double factor = b.Gate is { } gate ? gate.At(_settled.Variables[gate.Variable]) : 1;
        if (b.Gate is { Mode: GateMode.Conduct }) factor = factor < 0.5 ? 0 : 1;
        return _settled.Parameters[b.Parameter] * factor;
    }

    /// <summary>Branches that are shut next to a hose: those towards more vacuum where it has no way to the pump, else only what a fault shuts.</summary>
    private int[] Shut(int hose, bool all)
    {
        HashSet<int> joined = [.. Reached(hose, _model.Hoses.Length, at => at == 0 ? [] : Passing(at, true).Concat(Passing(at, false))).Select(r => r.Node)];
        joined.Remove(0);
        return [.. Enumerable.Range(0, _model.Vacuum.Length)
            .Where(i => Conductance(i) <= 0 && (joined.Contains(_topology.VacuumA[i]) != joined.Contains(_topology.VacuumB[i])))
            .Select(i => (Branch: i, Faulty: IsFaultyHose(i), Pa: Other(i, joined) - _settled.DepressionPa[hose]))
            .Where(s => s.Faulty || (all && s.Pa > ShutPa))
            .OrderByDescending(s => s.Faulty).ThenByDescending(s => s.Pa).Take(MostSide).Select(s => s.Branch)];
    }

    private double Other(int branch, HashSet<int> joined) =>
        _settled.DepressionPa[joined.Contains(_topology.VacuumA[branch]) ? _topology.VacuumB[branch] : _topology.VacuumA[branch]];

    private bool IsFaultyHose(int branch)
    {
        VacuumBranch b = _model.Vacuum[branch];
        return FaultAt((b.Parameter, 2)) is not null || FaultAt(Domain.Vacuum, branch) is not null || (b.Gate is { } gate && FaultAt(Own(_model.Variables[gate.Variable])) is not null);
    }

    private WhyStep RestrictionOnce(int branch) =>
        _told.Add(("restriction", branch)) ? Restriction(branch) : Above(_model.Parts[_model.Vacuum[branch].Part].Id, "told above");

    private WhyStep Restriction(int index)
    {
        VacuumBranch branch = _model.Vacuum[index];
        double conductance = Conductance(index);
        WhyValue[] now =
        [
            .. new[] { _topology.VacuumA[index], _topology.VacuumB[index] }.Select(h => new WhyValue(_model.Hoses[h], _settled.DepressionPa[h], Dimension.Pressure)),
            new("conductance", conductance, Dimension.Conductance),
        ];
        string says = branch.Name + (conductance <= 0 ? ", shut" : branch.OneWay ? ", one way" : "");
        return Step(
            WhyKind.Vacuum, _model.Parts[branch.Part].Id, branch.Part, says, now, Formulas.Restriction, (branch.Parameter, 2),
            () => branch.Gate is { } gate ? [State(gate.Variable)] : None, FaultAt(Domain.Vacuum, index));
    }

    private WhyStep Pump(int hose)
    {
        VacuumSource source = Array.Find(_model.VacuumSources, s => s.Hose == hose)!;
        return Step(
            WhyKind.Vacuum, _model.Parts[source.Part].Id, source.Part, _setting.Pump ? "holds its hose" : "is off",
            [new(_model.Hoses[hose], _settled.DepressionPa[hose], Dimension.Pressure)], Formulas.Pump, (source.Parameter, 1), () => None);
    }

    /// <summary>Why air flows through a path: itself, and the largest flow up and down from it, and every fan.</summary>
    private List<WhyStep> Airflow(int branch)
    {
        _told.Add(("air", branch));
        List<WhyStep> steps = [AirPath(branch)];
        double flow = _settled.AirFlow[branch];
        foreach (bool up in Math.Abs(flow) < StillM3PerS ? (bool[])[] : [true, false]) AirWay(branch, up, steps);
        for (int i = 0; i < _model.Air.Length; i++) if (_model.Air[i].Speed >= 0 && _told.Add(("air", i))) steps.Add(AirPath(i));
        return steps;
    }

    private void AirWay(int branch, bool up, List<WhyStep> steps)
    {
        for (int at = branch; ;)
        {
            AirBranch air = _model.Air[at];
            int space = (_settled.AirFlow[at] > 0) == up ? air.A : air.B;
            if (_model.OpenSpaces[space]) return;
            var next = Enumerable.Range(0, _model.Air.Length).Where(i => i != at && (_model.Air[i].A == space || _model.Air[i].B == space))
                .Select(i => (Branch: i, Into: (_model.Air[i].B == space ? 1 : -1) * _settled.AirFlow[i])).Where(n => up ? n.Into > StillM3PerS : n.Into < -StillM3PerS)
                .OrderByDescending(n => Math.Abs(n.Into)).Select(n => n.Branch).ToArray();
            foreach (int faulty in next.Skip(1).Where(i => FaultAt((_model.Air[i].Parameter, 4)) is not null)) steps.Add(AirPath(faulty));
            if (next.Length == 0 || !_told.Add(("air", next[0]))) return;
            steps.Add(AirPath(next[0]));
            at = next[0];
        }
    }

    private WhyStep AirPath(int index)
    {
        AirBranch branch = _model.Air[index];
        double area = _settled.Parameters[branch.Parameter] * (branch.Gate is { } g ? g.At(_settled.Variables[g.Variable]) : 1) * (1 - _settled.Parameters[branch.Parameter + 3]);
        IEnumerable<WhyStep> From()
        {
            if (branch.Gate is { } gate) yield return State(gate.Variable);
            if (branch.Speed >= 0) yield return State(branch.Speed);
        }

        return Step(
            WhyKind.Air, _model.Parts[branch.Part].Id, branch.Part, $"{branch.Name} from {_model.Spaces[branch.A]} to {_model.Spaces[branch.B]}{(area < 1e-7 ? ", shut" : "")}",
            [new("flow", _settled.AirFlow[index], Dimension.VolumeFlow), new("open area", area, Dimension.Area)], Formulas.Air, (branch.Parameter, 4), From,
            FaultAt(Domain.Air, index));
    }
}
