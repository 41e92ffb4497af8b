using Ventwright.Model.Kernel;
using Ventwright.Quantities;

namespace Ventwright.Simulation.Why;

/// <content>Ohms with the supply off.</content>
internal sealed partial class Explainer
{
    /// <summary>The way of least resistance between two nets with the supply off.</summary>
    private IEnumerable<WhyStep> DeadPath(int from, int to)
    {
        double Dead(int i)
        {
            ElectricBranch b = _model.Electric[i];
            double ohms = _settled.Parameters[b.Parameter];
            bool made = b.Gate is not { Mode: GateMode.Conduct } gate || gate.At(_model.Variables[gate.Variable].Law is VariableLaw.Coil or VariableLaw.Output or VariableLaw.Powered ? 0 : _settled.Variables[gate.Variable]) >= 0.5;
            if (!made) return double.PositiveInfinity;
            return b.Law switch
            {
                ElectricLaw.Ohmic or ElectricLaw.Motor => ohms,
                ElectricLaw.Lamp => ohms * _settled.Parameters[b.Parameter + 2],
                ElectricLaw.Thermistor => ThermistorOhms(b),
                _ => double.PositiveInfinity,
            };
        }

        var reached = Reached(from, _model.Nets.Length, at => at == to ? [] : _wires[at].Select(i => (i, _topology.A[i] == at ? _topology.B[i] : _topology.A[i], Dead(i))).Where(e => double.IsFinite(e.Item3)));
        var found = reached.FirstOrDefault(r => r.Node == to);
        if (found.Edges is null)
        {
            foreach (int i in _wires[from].Where(i => IsFaulty(i) || double.IsInfinity(Dead(i))).Take(MostSide)) yield return DeadBranch(i, Dead(i));
            yield break;
        }

        foreach (int i in found.Edges) yield return DeadBranch(i, Dead(i));
        foreach (int i in _wires[from].Concat(_wires[to]).Distinct().Where(i => IsFaulty(i) && !found.Edges.Contains(i))) yield return DeadBranch(i, Dead(i));
    }

    private double ThermistorOhms(ElectricBranch b)
    {
        double[] p = _settled.Parameters;
        return double.IsNaN(p[b.Parameter + 3]) ? _model.Curves[(int)p[b.Parameter]].Ohms(_settled.Variables[b.Variable] + p[b.Parameter + 2]) * p[b.Parameter + 1] : p[b.Parameter + 3];
    }

    private WhyStep DeadBranch(int index, double ohms)
    {
        ElectricBranch branch = _model.Electric[index];
        WhyValue size = new("resistance", ohms, Dimension.Ohm, double.IsInfinity(ohms) ? "open" : null);
        string says = $"{branch.Name} between {_model.Nets[_topology.A[index]]} and {_model.Nets[_topology.B[index]]}";
        return Step(
            WhyKind.Circuit, _model.Parts[branch.Part].Id, branch.Part, says, [size], Formulas.Of(branch.Law), Own(branch),
            () => branch.Law == ElectricLaw.Thermistor && branch.Variable >= 0 ? [State(branch.Variable)] : None, FaultAt(Domain.Electric, index));
    }
}
