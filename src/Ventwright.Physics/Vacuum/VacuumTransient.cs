using Ventwright.Numerics;

namespace Ventwright.Physics.Vacuum;

/// <summary>How a walk through time ended.</summary>
/// <param name="Converged">True when the numbers may be used; when false all results are NaN.</param>
/// <param name="Steps">Steps taken.</param>
/// <param name="Rejected">Steps tried and thrown away because they were too long.</param>
public readonly record struct TransientVerdict(bool Converged, int Steps, int Rejected);

/// <summary>
/// Pressures of a <see cref="VacuumNetwork"/> in time: V dp/dt = R T (sum of mass flows into the node), isothermal. Nothing is allocated in
/// <see cref="Advance"/>. Not thread-safe.
/// </summary>
/// <remarks>
/// Two-stage, stiffly accurate, singly diagonally implicit Runge-Kutta method of order 2 with gamma = 1 - sqrt(1/2): L-stable, so tiny hoses
/// beside a reservoir do not dictate the step. Source: R. Alexander, SIAM J. Numer. Anal. 14, 1977 (from memory). The step is chosen from the
/// difference to the first-order result of the first stage. Check valves have their one-way law in every stage.
/// </remarks>
public sealed class VacuumTransient
{
    private const double FirstStepS = 1e-3;
    private const double ShortestStepS = 1e-10;
    private const double StepTolerancePa = 1e-6;
    private const double ResidualTolerance = 1e-12;
    private static readonly double Gamma = 1.0 - Math.Sqrt(0.5);

    private readonly VacuumNetwork _network;
    private readonly NodalNewton _newton;
    private readonly BranchMode[] _mode;
    private readonly bool[] _held;
    private readonly double[] _pressurePa, _base, _stage, _slope, _storage, _source, _capacity, _branchScale, _scale;
    private double _nextStepS = FirstStepS;
    private double _ambientPa;

    /// <summary>Makes a workspace for the network.</summary>
    public VacuumTransient(VacuumNetwork network)
    {
        ArgumentNullException.ThrowIfNull(network);
        int nodes = network.Nodes;
        _network = network;
        _newton = new NodalNewton(network.Graph);
        _mode = new BranchMode[network.Branches];
        _held = new bool[nodes];
        (_pressurePa, _base, _stage, _slope) = (new double[nodes], new double[nodes], new double[nodes], new double[nodes]);
        (_storage, _source, _capacity) = (new double[nodes], new double[nodes], new double[nodes]);
        (_branchScale, _scale) = (new double[nodes], new double[nodes]);
    }

    /// <summary>Moves the pressures on by a stretch of time in which conductances, pumps and ambient stay as they are.</summary>
    /// <param name="conductance">Sonic conductance of each branch, m3/(s Pa); 0 means closed.</param>
    /// <param name="criticalRatio">Critical pressure ratio of each branch, 0 to below 1.</param>
    /// <param name="fixedDepressionPa">By node: given depression, Pa; NaN for a free node. Node 0 is always 0.</param>
    /// <param name="volumeM3">By node: volume, m3, above 0 for every free node.</param>
    /// <param name="ambientPa">Absolute pressure of the atmosphere, Pa.</param>
    /// <param name="seconds">Length of the stretch, s, 0 or more.</param>
    /// <param name="tolerancePa">Largest estimated error of a step, Pa. The estimate is that of a first-order result: as a rule far larger than the true one, but no strict bound.</param>
    /// <param name="depressionPa">By node: depression at the start on entry, at the end on return, Pa; NaN when not converged.</param>
    /// <param name="flowKgPerS">By branch: mass flow from A to B at the end, kg/s; NaN when not converged.</param>
    /// <exception cref="ArgumentException">A length or a value is out of range.</exception>
    public TransientVerdict Advance(
        ReadOnlySpan<double> conductance, ReadOnlySpan<double> criticalRatio, ReadOnlySpan<double> fixedDepressionPa,
        ReadOnlySpan<double> volumeM3, double ambientPa, double seconds, double tolerancePa,
        Span<double> depressionPa, Span<double> flowKgPerS)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(seconds);
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(tolerancePa);
        Begin(conductance, criticalRatio, fixedDepressionPa, volumeM3, ambientPa, depressionPa, flowKgPerS);
        var law = new VacuumLaw(conductance, criticalRatio, _mode, Iso6358.MassFactor(_network.TemperatureK));
        (double left, int steps, int rejected) = (seconds, 0, 0);
        while (left > 0.0)
        {
            double step = _nextStepS < 0.5 * left ? _nextStepS : _nextStepS < left ? 0.5 * left : left;
            double factor = TryStep(law, step, out double errorPa) ? Math.Clamp(0.9 * Math.Sqrt(tolerancePa / errorPa), 0.2, 4.0) : 0.2;
            bool good = errorPa <= tolerancePa;
            if (good)
            {
                Accept();
                left -= step;
                steps++;
            }
            else
            {
                rejected++;
            }

            _nextStepS = good && step < _nextStepS ? Math.Max(_nextStepS, step * factor) : step * factor;
            if (_nextStepS >= ShortestStepS) continue;
            _nextStepS = FirstStepS;
            depressionPa.Fill(double.NaN);
            flowKgPerS.Fill(double.NaN);
            return new TransientVerdict(false, steps, rejected);
        }

        Finish(law, depressionPa, flowKgPerS);
        return new TransientVerdict(true, steps, rejected);
    }

    /// <summary>Takes equal steps without error control, to show the order of the method. Returns false when a step does not converge.</summary>
    internal bool AdvanceEvenly(
        ReadOnlySpan<double> conductance, ReadOnlySpan<double> criticalRatio, ReadOnlySpan<double> fixedDepressionPa,
        ReadOnlySpan<double> volumeM3, double ambientPa, double seconds, int steps, Span<double> depressionPa, Span<double> flowKgPerS)
    {
        Begin(conductance, criticalRatio, fixedDepressionPa, volumeM3, ambientPa, depressionPa, flowKgPerS);
        var law = new VacuumLaw(conductance, criticalRatio, _mode, Iso6358.MassFactor(_network.TemperatureK));
        for (int i = 0; i < steps; i++)
        {
            if (!TryStep(law, seconds / steps, out _)) return false;
            Accept();
        }

        Finish(law, depressionPa, flowKgPerS);
        return true;
    }

    private void Begin(
        ReadOnlySpan<double> conductance, ReadOnlySpan<double> criticalRatio, ReadOnlySpan<double> fixedDepressionPa,
        ReadOnlySpan<double> volumeM3, double ambientPa, ReadOnlySpan<double> depressionPa, ReadOnlySpan<double> flowKgPerS)
    {
        _network.Check(conductance, criticalRatio, fixedDepressionPa, ambientPa);
        if (volumeM3.Length != _network.Nodes || depressionPa.Length != _network.Nodes)
            throw new ArgumentException($"The network has {_network.Nodes} nodes: give as many volumes and depressions.", nameof(volumeM3));
        if (flowKgPerS.Length != _network.Branches)
            throw new ArgumentException($"The network has {_network.Branches} branches: give as many places for flows.", nameof(flowKgPerS));
        double gas = ReferenceAir.GasConstant * _network.TemperatureK;
        for (int i = 0; i < _held.Length; i++)
        {
            _held[i] = i == 0 || !double.IsNaN(fixedDepressionPa[i]);
            _pressurePa[i] = ambientPa - (i == 0 ? 0.0 : _held[i] ? fixedDepressionPa[i] : depressionPa[i]);
            if (!_held[i] && !(volumeM3[i] > 0.0))
                throw new ArgumentException($"Volume of free node {i} must be above 0 m3.", nameof(volumeM3));
            if (!(_pressurePa[i] >= 0.0))
                throw new ArgumentException($"Depression of node {i} must be a number not above ambient pressure ({ambientPa} Pa).", nameof(depressionPa));
            _capacity[i] = _held[i] ? 0.0 : volumeM3[i] / gas;
        }

        _ambientPa = ambientPa;
        SetBranches(conductance);
    }

    private void SetBranches(ReadOnlySpan<double> conductance)
    {
        double chokedPerConductance = Iso6358.MassFactor(_network.TemperatureK) * _ambientPa;
        Array.Clear(_branchScale);
        for (int k = 0; k < _mode.Length; k++)
        {
            _mode[k] = conductance[k] == 0.0 ? BranchMode.Absent : _network.OneWay[k] ? BranchMode.OneWay : BranchMode.TwoWay;
            _branchScale[_network.Graph.From[k]] += conductance[k] * chokedPerConductance;
            _branchScale[_network.Graph.To[k]] += conductance[k] * chokedPerConductance;
        }
    }

    /// <summary>Both stages from the present pressures; the result waits in the stage array. The error is infinite when a stage fails.</summary>
    private bool TryStep(in VacuumLaw law, double step, out double errorPa)
    {
        errorPa = double.PositiveInfinity;
        double own = Gamma * step;
        for (int i = 0; i < _held.Length; i++) _storage[i] = _capacity[i] / own;
        _pressurePa.CopyTo(_base, 0);
        _pressurePa.CopyTo(_stage, 0);
        if (!SolveStage(law)) return false;
        for (int i = 0; i < _held.Length; i++)
        {
            _slope[i] = (_stage[i] - _pressurePa[i]) / own;
            _base[i] = _pressurePa[i] + (1.0 - Gamma) * step * _slope[i];
        }

        if (!SolveStage(law)) return false;
        errorPa = 0.0;
        for (int i = 0; i < _held.Length; i++)
            errorPa = Math.Max(errorPa, Math.Abs(_stage[i] - _pressurePa[i] - step * _slope[i]));
        return true;
    }

    private bool SolveStage(in VacuumLaw law)
    {
        for (int i = 0; i < _held.Length; i++)
        {
            _source[i] = _storage[i] * _base[i];
            _scale[i] = _branchScale[i] + _storage[i] * _ambientPa;
        }

        var terms = new NodeTerms
        {
            Held = _held,
            Scale = _scale,
            Storage = _storage,
            Source = _source,
            Drive = _ambientPa,
            Lowest = 0.0,
            Highest = double.PositiveInfinity,
            StepTolerance = StepTolerancePa,
            ResidualTolerance = ResidualTolerance,
        };
        return _newton.Solve(law, terms, _stage).Converged;
    }

    private void Accept() => _stage.CopyTo(_pressurePa, 0);

    private void Finish(in VacuumLaw law, Span<double> depressionPa, Span<double> flowKgPerS)
    {
        int[] from = _network.Graph.From, to = _network.Graph.To;
        for (int i = 0; i < _held.Length; i++) depressionPa[i] = _ambientPa - _pressurePa[i];
        for (int k = 0; k < flowKgPerS.Length; k++) flowKgPerS[k] = law.Flow(k, _pressurePa[from[k]], _pressurePa[to[k]], out _, out _);
    }
}
