using Ventwright.Model.Kernel;
using Ventwright.Physics.Vacuum;

namespace Ventwright.Simulation.Time;

/// <summary>Depressions in time. While nothing moves they are left standing for up to a second and then moved on in one go.</summary>
internal sealed class VacuumInTime(UnitModel model, Topology topology)
{
    /// <summary>Drift below which hoses count as calm, Pa/s.</summary>
    private const double Calm = 2;
    private const double LongestRest = 1;
    private const double Tolerance = 5;
    private readonly VacuumTransient _transient = new(topology.Vacuum);
    private readonly VacuumSide _side = new(model);
    private readonly double[] _flow = new double[model.Vacuum.Length], _before = new double[model.Hoses.Length];
    private double _pending;
    private bool _calm;

    /// <summary>Depression of each hose, Pa.</summary>
    public double[] DepressionPa { get; } = new double[model.Hoses.Length];

    /// <summary>Moves on; false if the network could not be solved.</summary>
    public bool Advance(double seconds, double[] p, double[] x, bool pump)
    {
        if (model.Vacuum.Length == 0) return true;
        _pending += seconds;
        bool moved = _side.Refresh(p, x, pump);
        foreach (VacuumSource source in model.VacuumSources) moved |= _side.Fixed[source.Hose] != DepressionPa[source.Hose];
        if (!moved && _calm && _pending < LongestRest) return true;
        // What drifted while it was calm is less than a gauge shows: after a change only the step itself counts.
        double stretch = moved ? seconds : _pending;
        DepressionPa.CopyTo(_before, 0);
        bool solved = _transient.Advance(
            _side.Conductance, _side.Ratio, _side.Fixed, model.HoseVolumes, model.AmbientPa, stretch, Tolerance, DepressionPa, _flow).Converged;
        if (!solved) _before.CopyTo(DepressionPa, 0);
        double drift = 0;
        for (int i = 0; i < _before.Length; i++) drift = Math.Max(drift, Math.Abs(DepressionPa[i] - _before[i]));
        _calm = drift < Calm * stretch;
        _pending = 0;
        return solved;
    }
}
