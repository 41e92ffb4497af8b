using Ventwright.Numerics;

namespace Ventwright.Physics.Vacuum;

/// <summary>
/// Solves the steady pressures and flows of a <see cref="VacuumNetwork"/>. Nothing is allocated in a solve. Not thread-safe: one workspace a
/// thread.
/// </summary>
/// <remarks>
/// A check valve between two parts that atmosphere or a fixed node drives anyway has its one-way law inside the Newton iteration. One that
/// touches a part which would otherwise hold its pressure starts shut, is opened when the pressure before it is the higher one and shut when
/// gas would run backwards, until all states agree with the pressures. Opening and shutting have a dead band of 10 uPa.
/// </remarks>
public sealed class VacuumWorkspace
{
    private const double ValveDeadBandPa = 1e-5;
    private const double StepTolerancePa = 1e-6;
    private const double ResidualTolerance = 1e-11;

    private readonly VacuumNetwork _network;
    private readonly NodalNewton _newton;
    private readonly NodeIslands _islands;
    private readonly BranchMode[] _mode;
    private readonly bool[] _switched, _driven, _held, _isolated;
    private readonly double[] _pressurePa, _scale, _islandVolume, _islandSum, _islandCount;
    private int _iterations;

    /// <summary>Makes a workspace for the network.</summary>
    public VacuumWorkspace(VacuumNetwork network)
    {
        ArgumentNullException.ThrowIfNull(network);
        int nodes = network.Nodes;
        _network = network;
        _newton = new NodalNewton(network.Graph);
        _islands = new NodeIslands(nodes);
        (_mode, _switched) = (new BranchMode[network.Branches], new bool[network.Branches]);
        (_driven, _held, _isolated) = (new bool[nodes], new bool[nodes], new bool[nodes]);
        (_pressurePa, _scale) = (new double[nodes], new double[nodes]);
        (_islandVolume, _islandSum, _islandCount) = (new double[nodes], new double[nodes], new double[nodes]);
    }

    /// <summary>Solves the network.</summary>
    /// <param name="conductance">Sonic conductance of each branch, m3/(s Pa); 0 means closed.</param>
    /// <param name="criticalRatio">Critical pressure ratio of each branch, 0 to below 1.</param>
    /// <param name="fixedDepressionPa">By node: depression of a pump or of a known point, Pa; NaN for a free node. Node 0 is always 0.</param>
    /// <param name="heldDepressionPa">By node: depression before, Pa, kept by nodes that nothing drives.</param>
    /// <param name="volumeM3">By node: volume, m3, 0 or more; weights where nodes that held different depressions come together.</param>
    /// <param name="ambientPa">Absolute pressure of the atmosphere, Pa.</param>
    /// <param name="depressionPa">By node: start on entry (NaN is allowed), result in Pa on return; NaN when not converged.</param>
    /// <param name="flowKgPerS">By branch: mass flow from A to B, kg/s; NaN when not converged.</param>
    /// <exception cref="ArgumentException">A length or a value is out of range.</exception>
    public NetworkVerdict Solve(
        ReadOnlySpan<double> conductance, ReadOnlySpan<double> criticalRatio, ReadOnlySpan<double> fixedDepressionPa,
        ReadOnlySpan<double> heldDepressionPa, ReadOnlySpan<double> volumeM3, double ambientPa,
        Span<double> depressionPa, Span<double> flowKgPerS)
    {
        _network.Check(conductance, criticalRatio, fixedDepressionPa, ambientPa);
        CheckNodes(heldDepressionPa, volumeM3, depressionPa, flowKgPerS);
        _iterations = 0;
        SetModes(conductance, fixedDepressionPa);
        SetScale(conductance, ambientPa);
        for (int i = 0; i < _pressurePa.Length; i++) _pressurePa[i] = ambientPa - depressionPa[i];

        NewtonVerdict last = default;
        for (int pass = 0; pass <= 2 * _network.ValveCount + 1; pass++)
        {
            PlaceHeld(fixedDepressionPa, heldDepressionPa, volumeM3, ambientPa);
            last = SolvePressures(conductance, criticalRatio);
            if (!last.Converged) break;
            if (SwitchValves()) continue;
            for (int i = 0; i < _pressurePa.Length; i++) depressionPa[i] = ambientPa - _pressurePa[i];
            _newton.Flow.CopyTo(flowKgPerS);
            return Verdict(last, true);
        }

        depressionPa.Fill(double.NaN);
        flowKgPerS.Fill(double.NaN);
        return Verdict(last, false);
    }

    private NetworkVerdict Verdict(in NewtonVerdict last, bool converged) =>
        new(converged, _iterations, last.LargestResidual, last.Node, _isolated);

    private void CheckNodes(ReadOnlySpan<double> held, ReadOnlySpan<double> volume, ReadOnlySpan<double> depression, ReadOnlySpan<double> flow)
    {
        int nodes = _network.Nodes;
        if (held.Length != nodes || volume.Length != nodes || depression.Length != nodes)
            throw new ArgumentException($"The network has {nodes} nodes: give as many held depressions, volumes and places for results.", nameof(depression));
        if (flow.Length != _network.Branches)
            throw new ArgumentException($"The network has {_network.Branches} branches: give as many places for flows.", nameof(flow));
        for (int i = 1; i < nodes; i++)
        {
            if (!double.IsFinite(held[i])) throw new ArgumentException($"Held depression of node {i} is not a number.", nameof(held));
            if (!(volume[i] >= 0.0)) throw new ArgumentException($"Volume of node {i} must be 0 m3 or more.", nameof(volume));
        }
    }

    /// <summary>Open branches pass both ways; check valves are one-way between driven parts and else start shut.</summary>
    private void SetModes(ReadOnlySpan<double> conductance, ReadOnlySpan<double> fixedDepressionPa)
    {
        int[] from = _network.Graph.From, to = _network.Graph.To;
        for (int k = 0; k < _mode.Length; k++)
            _mode[k] = conductance[k] > 0.0 && !_network.OneWay[k] ? BranchMode.TwoWay : BranchMode.Absent;
        FindDriven(fixedDepressionPa);
        for (int k = 0; k < _mode.Length; k++)
        {
            bool valve = conductance[k] > 0.0 && _network.OneWay[k];
            bool inside = valve && IsDriven(from[k]) && IsDriven(to[k]);
            if (inside) _mode[k] = BranchMode.OneWay;
            _switched[k] = valve && !inside;
        }
    }

    /// <summary>Residuals at a node are judged against the choked flow of its branches.</summary>
    private void SetScale(ReadOnlySpan<double> conductance, double ambientPa)
    {
        double chokedPerConductance = Iso6358.MassFactor(_network.TemperatureK) * ambientPa;
        Array.Clear(_scale);
        for (int k = 0; k < conductance.Length; k++)
        {
            _scale[_network.Graph.From[k]] += conductance[k] * chokedPerConductance;
            _scale[_network.Graph.To[k]] += conductance[k] * chokedPerConductance;
        }
    }

    private void FindDriven(ReadOnlySpan<double> fixedDepressionPa)
    {
        _islands.Reset();
        for (int k = 0; k < _mode.Length; k++)
        {
            if (_mode[k] == BranchMode.TwoWay) _islands.Join(_network.Graph.From[k], _network.Graph.To[k]);
        }

        Array.Clear(_driven);
        for (int i = 0; i < _driven.Length; i++)
        {
            if (IsFixed(i, fixedDepressionPa)) _driven[_islands.Root(i)] = true;
        }
    }

    private bool IsDriven(int node) => _driven[_islands.Root(node)];

    private static bool IsFixed(int node, ReadOnlySpan<double> fixedDepressionPa) => node == 0 || !double.IsNaN(fixedDepressionPa[node]);

    /// <summary>Gives fixed nodes and undriven islands their pressure.</summary>
    private void PlaceHeld(
        ReadOnlySpan<double> fixedDepressionPa, ReadOnlySpan<double> heldDepressionPa, ReadOnlySpan<double> volumeM3, double ambientPa)
    {
        FindDriven(fixedDepressionPa);
        Array.Clear(_islandVolume);
        Array.Clear(_islandSum);
        Array.Clear(_islandCount);
        for (int i = 0; i < _held.Length; i++)
        {
            int root = _islands.Root(i);
            _islandCount[root] += 1.0;
            _islandVolume[root] += volumeM3[i];
        }

        for (int i = 0; i < _held.Length; i++)
        {
            int root = _islands.Root(i);
            double weight = _islandVolume[root] > 0.0 ? volumeM3[i] / _islandVolume[root] : 1.0 / _islandCount[root];
            _islandSum[root] += weight * heldDepressionPa[i];
        }

        for (int i = 0; i < _held.Length; i++)
        {
            bool isFixed = IsFixed(i, fixedDepressionPa);
            _isolated[i] = !IsDriven(i);
            _held[i] = isFixed || _isolated[i];
            if (isFixed) _pressurePa[i] = i == 0 ? ambientPa : ambientPa - fixedDepressionPa[i];
            else if (_isolated[i]) _pressurePa[i] = ambientPa - _islandSum[_islands.Root(i)];
        }
    }

    private NewtonVerdict SolvePressures(ReadOnlySpan<double> conductance, ReadOnlySpan<double> criticalRatio)
    {
        (double low, double high) = (double.PositiveInfinity, double.NegativeInfinity);
        for (int i = 0; i < _held.Length; i++)
        {
            if (_held[i]) (low, high) = (Math.Min(low, _pressurePa[i]), Math.Max(high, _pressurePa[i]));
        }

        for (int i = 0; i < _held.Length; i++)
        {
            if (!_held[i]) _pressurePa[i] = double.IsNaN(_pressurePa[i]) ? high : Math.Clamp(_pressurePa[i], low, high);
        }

        var terms = new NodeTerms
        {
            Held = _held,
            Scale = _scale,
            Drive = high,
            Lowest = low,
            Highest = high,
            StepTolerance = StepTolerancePa,
            ResidualTolerance = ResidualTolerance,
        };
        double massFactor = Iso6358.MassFactor(_network.TemperatureK);
        var law = new VacuumLaw(conductance, criticalRatio, _mode, massFactor);
        NewtonVerdict verdict = _newton.Solve(law, terms, _pressurePa);
        _iterations += verdict.Iterations;
        if (verdict.Converged) return verdict;

        _iterations += _newton.Solve(new LinearVacuumLaw(conductance, _mode, massFactor), terms, _pressurePa).Iterations;
        verdict = _newton.Solve(law, terms, _pressurePa);
        _iterations += verdict.Iterations;
        return verdict;
    }

    /// <summary>Brings the switched valves into line with the pressures. Returns whether any changed.</summary>
    private bool SwitchValves()
    {
        bool changed = false;
        for (int k = 0; k < _mode.Length; k++)
        {
            if (!_switched[k]) continue;
            double forwardPa = _pressurePa[_network.Graph.From[k]] - _pressurePa[_network.Graph.To[k]];
            bool open = _mode[k] == BranchMode.TwoWay;
            if (open ? forwardPa >= -ValveDeadBandPa : forwardPa <= ValveDeadBandPa) continue;
            _mode[k] = open ? BranchMode.Absent : BranchMode.TwoWay;
            changed = true;
        }

        return changed;
    }
}
