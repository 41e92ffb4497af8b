using Ventwright.Model.Kernel;
using Ventwright.Numerics;

namespace Ventwright.Simulation;

/// <summary>
/// Nodal analysis at DC for given contacts: diodes and transistor stages are piecewise states, motors are linearised by their tangent and lamps by their chord, until
/// nothing changes. Open is open: a branch that does not conduct is left out, and nets without a path to ground are found by graph and called floating.
/// </summary>
internal sealed partial class ElectricSolver
{
    private const int MostRounds = 120;
    /// <summary>Conductance through which an active stage holds its load; the netlist export uses the same.</summary>
    public const double StageSiemens = 50;

    private const double StageLeak = 1e-9;
    private readonly UnitModel _model;
    private readonly Topology _topology;
    private readonly SparseLu _lu;
    private readonly int[] _state;
    private readonly double[] _g, _j, _gc, _rhs, _before, _gSolved, _jSolved, _gcSolved;
    private readonly bool[] _openSolved, _openJoined;
    private readonly int[] _island;

    /// <summary>Branches whose conductance does not depend on volts, and the others.</summary>
    private readonly int[] _straight, _curved;

    /// <summary>What the straight branches stamp.</summary>
    private readonly double[] _straightStamps;

    /// <summary>Direct feeds that the islands were joined with; null until they were found.</summary>
    private IReadOnlyList<(int Net, double Volts, double Ohms)>? _joinedFeeds;

    /// <summary>Whether the volts belong to the branch values that were kept, whether the straight branches are still as they were, and whether the currents were balanced for them.</summary>
    private bool _solved, _straightStands, _stands;

    public ElectricSolver(UnitModel model, Topology topology)
    {
        (_model, _topology) = (model, topology);
        _lu = new(topology.Pattern);
        int branches = model.Electric.Length, nets = model.Nets.Length;
        (_g, _j, _gc, _state) = (new double[branches], new double[branches], new double[branches], new int[branches]);
        (_rhs, _before, _island) = (new double[nets - 1], new double[nets], new int[nets]);
        (_gSolved, _jSolved, _gcSolved, _openSolved, _openJoined) = (new double[branches], new double[branches], new double[branches], new bool[branches], new bool[branches]);
        _straight = [.. Enumerable.Range(0, branches).Where(i => IsStraight(model.Electric[i].Law))];
        _curved = [.. Enumerable.Range(0, branches).Where(i => !IsStraight(model.Electric[i].Law))];
        _straightStamps = new double[_lu.Values.Length];
        (Volts, Amps, Floating, Open) = (new double[nets], new double[branches], new bool[nets], new bool[branches]);
    }

    /// <summary>Volts of each net to ground (0 for floating ones; see <see cref="Floating"/>).</summary>
    public double[] Volts { get; }

    /// <summary>Amperes of each branch, from A to B.</summary>
    public double[] Amps { get; }

    /// <summary>Nets without any path to ground.</summary>
    public bool[] Floating { get; }

    /// <summary>Branches that do not conduct.</summary>
    public bool[] Open { get; }

    /// <summary>Largest sum of currents left over at a net, A.</summary>
    public double Residual { get; private set; }

    /// <summary>Net that the residual is at.</summary>
    public int ResidualNet { get; private set; }

    /// <summary>Forgets diode and stage states of earlier solutions.</summary>
    public void Reset()
    {
        Array.Clear(_state);
        Array.Clear(Volts);
        (_solved, _stands) = (false, false);
    }

    /// <summary>Solves for given parameters and variables.</summary>
    /// <param name="p">Parameters.</param>
    /// <param name="x">Variables.</param>
    /// <param name="feeds">Nets fed directly: net, volts, source resistance.</param>
    /// <returns>Whether it settled.</returns>
    public bool Solve(double[] p, double[] x, IReadOnlyList<(int Net, double Volts, double Ohms)> feeds)
    {
        UseStraight(p, x);
        for (int round = 0; round < MostRounds; round++)
        {
            bool flipped = Linearise(p, x, round);
            // Nothing that the nets feel has moved since they were solved last: the solution stands.
            if (_solved && !flipped && SameAsSolved()) return _stands || Finish(feeds);
            (_solved, _stands) = (false, false);
            FindFloating(feeds);
            Stamp(feeds);
            if (_lu.Factor() >= 0) return false;
            _lu.Solve(_rhs);
            KeepSolved();
            double change = 0;
            for (int n = 1; n < Volts.Length; n++)
            {
                double v = Floating[n] ? 0 : _rhs[n - 1];
                change = Math.Max(change, Math.Abs(v - Volts[n]));
                Volts[n] = v;
            }

            if (!flipped && change < 1e-8 && round > 0) return Finish(feeds);
        }

        return false;
    }

    private bool Finish(IReadOnlyList<(int Net, double Volts, double Ohms)> feeds)
    {
        Currents();
        return _stands = Balance(feeds);
    }

    private void KeepSolved()
    {
        _g.CopyTo(_gSolved, 0);
        _j.CopyTo(_jSolved, 0);
        _gc.CopyTo(_gcSolved, 0);
        Open.CopyTo(_openSolved, 0);
        _solved = true;
    }

    private bool SameAsSolved() => _straightStands && Array.TrueForAll(_curved, SameAsSolved);

    private bool SameAsSolved(int i) =>
        Open[i] == _openSolved[i] && (Open[i] || (Near(_g[i], _gSolved[i]) && Near(_j[i], _jSolved[i]) && _gc[i] == _gcSolved[i]));

    private static bool Near(double a, double b) => Math.Abs(a - b) <= 1e-10 * (Math.Abs(a) + Math.Abs(b));

    /// <summary>Ohms between pairs of nets with nothing energised: every branch as it is at no voltage. Infinity when no path joins them.</summary>
    public void Ohms(double[] p, double[] x, IReadOnlyList<(int A, int B)> pairs, double[] ohms)
    {
        Reset();
        UseStraight(p, x);
        Linearise(p, x, 0);
        for (int i = 0; i < _model.Electric.Length; i++)
        {
            if (_model.Electric[i].Law is ElectricLaw.Source or ElectricLaw.Diode or ElectricLaw.Stage) Open[i] = true;
            _j[i] = 0;
            _gc[i] = 0;
        }

        FindFloating([]);
        Stamp([]);
        bool singular = _lu.Factor() >= 0;
        for (int i = 0; i < pairs.Count; i++)
        {
            (int a, int b) = pairs[i];
            ohms[i] = a == b ? 0 : singular || Root(a) != Root(b) ? double.PositiveInfinity : Between(a, b);
        }
    }

    /// <summary>One ampere in at a and out at b; in an island without ground the pinned net takes no current, since as much leaves as enters.</summary>
    private double Between(int a, int b)
    {
        Array.Clear(_rhs);
        if (a > 0) _rhs[a - 1] = 1;
        if (b > 0) _rhs[b - 1] = -1;
        _lu.Solve(_rhs);
        return (a > 0 ? _rhs[a - 1] : 0) - (b > 0 ? _rhs[b - 1] : 0);
    }

    private void FindFloating(IReadOnlyList<(int Net, double Volts, double Ohms)> feeds)
    {
        if (ReferenceEquals(_joinedFeeds, feeds) && Open.AsSpan().SequenceEqual(_openJoined)) return;
        _joinedFeeds = feeds;
        Open.CopyTo(_openJoined, 0);
        for (int n = 0; n < _island.Length; n++) _island[n] = n;
        for (int i = 0; i < Open.Length; i++)
        {
            if (!Open[i]) Union(_topology.A[i], _topology.B[i]);
        }

        foreach (var feed in feeds) Union(feed.Net, 0);
        int ground = Root(0);
        for (int n = 0; n < _island.Length; n++) Floating[n] = Root(n) != ground;
    }

    private int Root(int n)
    {
        while (_island[n] != n) n = _island[n] = _island[_island[n]];
        return n;
    }

    private void Union(int a, int b)
    {
        (a, b) = (Root(a), Root(b));
        if (a != b) _island[Math.Max(a, b)] = Math.Min(a, b);
    }

    private void Stamp(IReadOnlyList<(int Net, double Volts, double Ohms)> feeds)
    {
        Array.Clear(_rhs);
        Span<double> m = _lu.Values;
        Topology t = _topology;
        _straightStamps.CopyTo(m);
        foreach (int i in _curved)
        {
            if (Open[i]) continue;
            int a = t.A[i], b = t.B[i];
            if (_gc[i] != 0)
            {
                // An active stage: i = gc vControl - g vB + j, out of A and into B.
                if (t.AC[i] >= 0) m[t.AC[i]] += _gc[i];
                if (t.BC[i] >= 0) m[t.BC[i]] -= _gc[i];
                if (t.AB[i] >= 0) m[t.AB[i]] -= _g[i];
                if (t.BB[i] >= 0) m[t.BB[i]] += _g[i];
                // A trace of leakage, so that a feed net that hangs on the stage alone is still determined.
                if (t.AA[i] >= 0) m[t.AA[i]] += StageLeak;
                if (t.BA[i] >= 0) m[t.BA[i]] -= StageLeak;
            }
            else
            {
                StampConductance(m, i);
            }

            if (a > 0) _rhs[a - 1] -= _j[i];
            if (b > 0) _rhs[b - 1] += _j[i];
        }

        foreach ((int net, double volts, double ohms) in feeds)
        {
            m[t.Diagonal[net]] += 1 / ohms;
            _rhs[net - 1] += volts / ohms;
        }

        for (int n = 1; n < Floating.Length; n++)
        {
            if (Floating[n] && Root(n) == n) m[t.Diagonal[n]] += 1;
        }
    }

    private void StampConductance(Span<double> m, int i)
    {
        Topology t = _topology;
        double g = _g[i];
        if (t.AA[i] >= 0) m[t.AA[i]] += g;
        if (t.BB[i] >= 0) m[t.BB[i]] += g;
        if (t.AB[i] >= 0) m[t.AB[i]] -= g;
        if (t.BA[i] >= 0) m[t.BA[i]] -= g;
    }

    private void Currents()
    {
        for (int i = 0; i < Open.Length; i++)
        {
            double va = Volts[_topology.A[i]], vb = Volts[_topology.B[i]];
            Amps[i] = Open[i] ? 0 : _gc[i] != 0 ? (_gc[i] * Volts[_model.Electric[i].Control]) - (_g[i] * vb) + _j[i] : (_g[i] * (va - vb)) + _j[i];
        }
    }

    private bool Balance(IReadOnlyList<(int Net, double Volts, double Ohms)> feeds)
    {
        Array.Clear(_before);
        for (int i = 0; i < Open.Length; i++)
        {
            _before[_topology.A[i]] += Amps[i];
            _before[_topology.B[i]] -= Amps[i];
        }

        foreach ((int net, double volts, double ohms) in feeds) _before[net] += (Volts[net] - volts) / ohms;
        (Residual, ResidualNet) = (0, 0);
        for (int n = 1; n < _before.Length; n++)
        {
            if (Floating[n] || !(Math.Abs(_before[n]) > Residual)) continue;
            (Residual, ResidualNet) = (Math.Abs(_before[n]), n);
        }

        return Residual < 1e-6;
    }
}
