using Ventwright.Model.Kernel;

namespace Ventwright.Simulation;

/// <summary>Conductances and held pressures of the vacuum network for the variables as they stand.</summary>
internal sealed class VacuumSide(UnitModel model)
{
    /// <summary>Sonic conductance of each branch, m3/(s Pa).</summary>
    public double[] Conductance { get; } = new double[model.Vacuum.Length];

    /// <summary>Critical pressure ratio of each branch.</summary>
    public double[] Ratio { get; } = new double[model.Vacuum.Length];

    /// <summary>Depression of the hoses that a pump holds, Pa; NaN for the others.</summary>
    public double[] Fixed { get; } = new double[model.Hoses.Length];

    /// <summary>Works the conductances out; says whether any has moved.</summary>
    public bool Refresh(double[] p, double[] x, bool pump)
    {
        bool moved = false;
        for (int i = 0; i < Conductance.Length; i++)
        {
            VacuumBranch branch = model.Vacuum[i];
            double factor = branch.Gate is { } gate ? gate.At(x[gate.Variable]) : 1;
            if (branch.Gate is { Mode: GateMode.Conduct }) factor = factor < 0.5 ? 0 : 1;
            double conductance = p[branch.Parameter] * factor;
            moved |= conductance != Conductance[i];
            Conductance[i] = conductance;
            Ratio[i] = p[branch.Parameter + 1];
        }

        Array.Fill(Fixed, double.NaN);
        foreach (VacuumSource source in model.VacuumSources) Fixed[source.Hose] = pump ? p[source.Parameter] : 0;
        return moved;
    }
}
