using Ventwright.Numerics;

namespace Ventwright.Physics.Air;

/// <summary>
/// Solves the pressures and flows of an <see cref="AirNetwork"/> at constant density. Nothing is allocated in a solve. Not thread-safe: one
/// workspace a thread.
/// </summary>
public sealed class AirWorkspace
{
    private const double StepTolerancePa = 1e-8;
    private const double ResidualTolerance = 1e-11;
    private const double LeastDrivePa = 1.0;

    private readonly AirNetwork _network;
    private readonly NodalNewton _newton;
    private readonly NodeIslands _islands;
    private readonly bool[] _driven, _held, _isolated;
    private readonly double[] _rootConductance, _scale;

    /// <summary>Makes a workspace for the network.</summary>
    public AirWorkspace(AirNetwork network)
    {
        ArgumentNullException.ThrowIfNull(network);
        _network = network;
        _newton = new NodalNewton(network.Graph);
        _islands = new NodeIslands(network.Nodes);
        (_driven, _held, _isolated) = (new bool[network.Nodes], new bool[network.Nodes], new bool[network.Nodes]);
        (_rootConductance, _scale) = (new double[network.Branches], new double[network.Nodes]);
    }

    /// <summary>Solves the network.</summary>
    /// <param name="resistance">By branch: k of p = k q|q|, Pa/(m3/s)^2, above 0; infinity means the branch is absent.</param>
    /// <param name="fanPressurePa">By branch: pressure rise E at zero flow, Pa, 0 for a passive one. A fan's falling curve p = E - k q|q| has its k here too.</param>
    /// <param name="fixedPressurePa">By node: pressure against ambient, Pa, of boundary nodes; NaN for free nodes.</param>
    /// <param name="pressurePa">By node: start on entry (NaN is allowed), result in Pa on return; NaN for isolated nodes and when not converged.</param>
    /// <param name="flowM3PerS">By branch: flow from A to B, m3/s; NaN when not converged.</param>
    /// <remarks>
    /// In a part that no boundary node reaches, pressures are undetermined and reported as NaN; its flows are zero unless a fan drives air
    /// round a closed loop inside it.
    /// </remarks>
    /// <exception cref="ArgumentException">A length or a value is out of range.</exception>
    public NetworkVerdict Solve(
        ReadOnlySpan<double> resistance, ReadOnlySpan<double> fanPressurePa, ReadOnlySpan<double> fixedPressurePa,
        Span<double> pressurePa, Span<double> flowM3PerS)
    {
        Check(resistance, fanPressurePa, fixedPressurePa, pressurePa, flowM3PerS);
        for (int k = 0; k < resistance.Length; k++) _rootConductance[k] = 1.0 / Math.Sqrt(resistance[k]);
        FindIslands(fixedPressurePa, pressurePa);
        double drivePa = DrivePa(fanPressurePa, fixedPressurePa);
        SetScale(drivePa);
        var terms = new NodeTerms
        {
            Held = _held,
            Scale = _scale,
            Drive = drivePa,
            Lowest = double.NegativeInfinity,
            Highest = double.PositiveInfinity,
            StepTolerance = StepTolerancePa,
            ResidualTolerance = ResidualTolerance,
        };
        NewtonVerdict verdict = _newton.Solve(new AirLaw(_rootConductance, fanPressurePa), terms, pressurePa);
        if (verdict.Converged)
        {
            _newton.Flow.CopyTo(flowM3PerS);
            for (int i = 0; i < _isolated.Length; i++) if (_isolated[i]) pressurePa[i] = double.NaN;
        }
        else
        {
            pressurePa.Fill(double.NaN);
            flowM3PerS.Fill(double.NaN);
        }

        return new NetworkVerdict(verdict.Converged, verdict.Iterations, verdict.LargestResidual, verdict.Node, _isolated);
    }

    private void Check(
        ReadOnlySpan<double> resistance, ReadOnlySpan<double> fan, ReadOnlySpan<double> fixedPressure,
        ReadOnlySpan<double> pressure, ReadOnlySpan<double> flow)
    {
        (int nodes, int branches) = (_network.Nodes, _network.Branches);
        if (resistance.Length != branches || fan.Length != branches || flow.Length != branches)
            throw new ArgumentException($"The network has {branches} branches: give as many resistances, fan pressures and places for flows.", nameof(resistance));
        if (fixedPressure.Length != nodes || pressure.Length != nodes)
            throw new ArgumentException($"The network has {nodes} nodes: give as many fixed pressures (NaN for free nodes) and places for results.", nameof(pressure));
        for (int k = 0; k < branches; k++)
        {
            if (!(resistance[k] > 0.0))
                throw new ArgumentException($"Resistance of branch {k} must be above 0 Pa/(m3/s)^2, or infinity for an absent branch.", nameof(resistance));
            if (!double.IsFinite(fan[k])) throw new ArgumentException($"Fan pressure of branch {k} is not a number.", nameof(fan));
        }
    }

    /// <summary>Pins one node of each part that no boundary reaches, so that its flows can be solved all the same.</summary>
    private void FindIslands(ReadOnlySpan<double> fixedPressurePa, Span<double> pressurePa)
    {
        _islands.Reset();
        for (int k = 0; k < _rootConductance.Length; k++)
        {
            if (_rootConductance[k] > 0.0) _islands.Join(_network.Graph.From[k], _network.Graph.To[k]);
        }

        Array.Clear(_driven);
        for (int i = 0; i < _driven.Length; i++)
        {
            if (!double.IsNaN(fixedPressurePa[i])) _driven[_islands.Root(i)] = true;
        }

        for (int i = 0; i < _held.Length; i++)
        {
            int root = _islands.Root(i);
            bool isFixed = !double.IsNaN(fixedPressurePa[i]);
            bool pinned = !_driven[root] && root == i;
            _isolated[i] = !_driven[root];
            _held[i] = isFixed || pinned;
            if (isFixed) pressurePa[i] = fixedPressurePa[i];
            else if (pinned || double.IsNaN(pressurePa[i])) pressurePa[i] = 0.0;
        }
    }

    /// <summary>Size of the pressure differences in the network.</summary>
    private static double DrivePa(ReadOnlySpan<double> fanPressurePa, ReadOnlySpan<double> fixedPressurePa)
    {
        double drive = LeastDrivePa;
        foreach (double e in fanPressurePa) drive = Math.Max(drive, Math.Abs(e));
        foreach (double p in fixedPressurePa) if (Math.Abs(p) > drive) drive = Math.Abs(p);
        return drive;
    }

    private void SetScale(double drivePa)
    {
        Array.Clear(_scale);
        double root = Math.Sqrt(drivePa);
        for (int k = 0; k < _rootConductance.Length; k++)
        {
            _scale[_network.Graph.From[k]] += _rootConductance[k] * root;
            _scale[_network.Graph.To[k]] += _rootConductance[k] * root;
        }
    }
}
