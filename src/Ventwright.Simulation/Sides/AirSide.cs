using Ventwright.Model.Kernel;
using Ventwright.Physics.Air;

namespace Ventwright.Simulation;

/// <summary>Air through the unit for flaps and blowers as they stand.</summary>
internal sealed class AirSide(UnitModel model, Topology topology)
{
    /// <summary>Density that free areas are turned into resistances with, kg/m3 (dry air at 20 degC and 101.3 kPa).</summary>
    public const double Density = 1.2;

    private readonly AirWorkspace _network = new(topology.Air);
    private readonly double[] _resistance = new double[model.Air.Length], _fan = new double[model.Air.Length], _pressure = new double[model.Spaces.Length];
    private readonly double[] _fixed = [.. model.OpenSpaces.Select(open => open ? 0 : double.NaN)];

    /// <summary>Flow of each branch, m3/s.</summary>
    public double[] Flow { get; } = new double[model.Air.Length];

    /// <summary>Solves the network; false if it has no solution, with no flow left standing.</summary>
    public bool Solve(double[] p, double[] x)
    {
        if (model.Air.Length == 0) return true;
        for (int i = 0; i < model.Air.Length; i++)
        {
            AirBranch branch = model.Air[i];
            double area = p[branch.Parameter] * (branch.Gate is { } gate ? gate.At(x[gate.Variable]) : 1) * (1 - p[branch.Parameter + 3]);
            _resistance[i] = area < 1e-7 ? double.PositiveInfinity : AirResistance.FromArea(area, p[branch.Parameter + 1], Density);
            double speed = branch.Speed >= 0 ? x[branch.Speed] : 0;
            _fan[i] = p[branch.Parameter + 2] * speed * speed;
        }

        // Started from the last unit's pressures, the last digits would depend on what was asked before.
        Array.Clear(_pressure);
        return _network.Solve(_resistance, _fan, _fixed, _pressure, Flow).Converged;
    }
}
