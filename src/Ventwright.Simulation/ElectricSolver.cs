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
    private readonly double[] _g, _j, _gc, _before, _gSolved, _jSolved, _gcSolved;
    private readonly bool[] _openSolved;

    /// <summary>Branches whose conductance does not depend on volts, with the resistances that they have now.</summary>
    private readonly int[] _straight;
    private readonly double[] _ohms;

    /// <summary>What is left of the matrix, and the right-hand side, when all nets that no curved branch feels are eliminated; both in the order of elimination.</summary>
    private readonly double[] _tail, _head;

    /// <summary>Right-hand side, then volts, in the order of elimination.</summary>
    private readonly double[] _rhs;

    /// <summary>Direct feeds that the head was made with; null until there is one.</summary>
    private IReadOnlyList<(int Net, double Volts, double Ohms)>? _headFeeds;

    /// <summary>Whether the head is that of the resistances at hand, whether the volts belong to the branch values that were kept, and whether the currents were balanced for them.</summary>
    private bool _headStands, _solved, _stands;

    public ElectricSolver(UnitModel model, Topology topology)
    {
        (_model, _topology) = (model, topology);
        _lu = new(topology.Pattern);
        int branches = model.Electric.Length, nets = model.Nets.Length;
        (_g, _j, _gc, _state) = (new double[branches], new double[branches], new double[branches], new int[branches]);
        (_rhs, _head, _before, _tail) = (new double[nets - 1], new double[nets - 1], new double[nets], new double[_lu.Tail.Length]);
        (_gSolved, _jSolved, _gcSolved, _openSolved) = (new double[branches], new double[branches], new double[branches], new bool[branches]);
        _straight = [.. Enumerable.Range(0, branches).Except(topology.Curved)];
        _ohms = [.. Enumerable.Repeat(double.NaN, branches)];
        (Volts, Amps, Floating, Open) = (new double[nets], new double[branches], new bool[nets], new bool[branches]);
        (_island, _islandHead, _pinned, _openJoined) = (new int[nets], new int[nets], new bool[nets], new bool[branches]);
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
        if (UseStraight(p, x) || !ReferenceEquals(feeds, _headFeeds)) (_headStands, _solved) = (false, false);
        for (int round = 0; round < MostRounds; round++)
        {
            bool flipped = Linearise(p, x, round);
            // Nothing that the nets feel has moved since they were solved last: the solution stands.
            if (_solved && !flipped && IsAsSolved()) return _stands || Finish(feeds);
            (_solved, _stands) = (false, false);
            if (!_headStands && !MakeHead(feeds)) return false;
            FindFloating();
            StampTail();
            if (_lu.FactorTail() >= 0) return false;
            _lu.SolveTail(_rhs);
            KeepSolved();
            double change = 0;
            foreach (int n in _topology.Felt)
            {
                double v = Floating[n] ? 0 : _rhs[_topology.Step[n]];
                change = Math.Max(change, Math.Abs(v - Volts[n]));
                Volts[n] = v;
            }

            if (!flipped && change < 1e-8 && round > 0) return Finish(feeds);
        }

        return false;
    }

    /// <summary>The nets that no curved branch feels follow from the others.</summary>
    private bool Finish(IReadOnlyList<(int Net, double Volts, double Ohms)> feeds)
    {
        _head.AsSpan(0, _topology.Pattern.Head).CopyTo(_rhs);
        _lu.SolveHead(_rhs);
        for (int n = 1; n < Volts.Length; n++) Volts[n] = Floating[n] ? 0 : _rhs[_topology.Step[n]];
        Currents();
        return _stands = Balance(feeds);
    }

    private void KeepSolved()
    {
        foreach (int i in _topology.Curved) (_gSolved[i], _jSolved[i], _gcSolved[i], _openSolved[i]) = (_g[i], _j[i], _gc[i], Open[i]);
        _solved = true;
    }

    private bool IsAsSolved()
    {
        foreach (int i in _topology.Curved)
        {
            if (Open[i] != _openSolved[i]) return false;
            if (!Open[i] && !(Near(_g[i], _gSolved[i]) && Near(_j[i], _jSolved[i]) && _gc[i] == _gcSolved[i])) return false;
        }

        return true;
    }

    private static bool Near(double a, double b) => Math.Abs(a - b) <= 1e-10 * (Math.Abs(a) + Math.Abs(b));

    /// <summary>Ohms between pairs of nets with nothing energised: every branch as it is at no voltage. Infinity when no path joins them.</summary>
    public void Ohms(double[] p, double[] x, IReadOnlyList<(int A, int B)> pairs, double[] ohms)
    {
        Reset();
        UseStraight(p, x);
        Linearise(p, x, 0);
        foreach (int i in _topology.Curved)
        {
            if (_model.Electric[i].Law is ElectricLaw.Source or ElectricLaw.Diode or ElectricLaw.Stage) Open[i] = true;
            (_j[i], _gc[i]) = (0, 0);
        }

        bool singular = !MakeHead([]);
        FindFloating();
        StampTail();
        singular = singular || _lu.FactorTail() >= 0;
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
        if (a > 0) _rhs[_topology.Step[a]] = 1;
        if (b > 0) _rhs[_topology.Step[b]] = -1;
        _lu.Forward(_rhs);
        _lu.SolveTail(_rhs);
        _lu.SolveHead(_rhs);
        return (a > 0 ? _rhs[_topology.Step[a]] : 0) - (b > 0 ? _rhs[_topology.Step[b]] : 0);
    }

    /// <summary>Stamps what does not depend on volts and eliminates the nets that feel nothing else.</summary>
    /// <returns>False if a net is left that nothing determines.</returns>
    private bool MakeHead(IReadOnlyList<(int Net, double Volts, double Ohms)> feeds)
    {
        Topology t = _topology;
        Span<double> m = _lu.Values;
        _lu.Clear();
        Array.Clear(_head);
        foreach (int i in _straight)
        {
            if (!Open[i]) StampConductance(m, i);
        }

        foreach ((int net, double volts, double ohms) in feeds)
        {
            m[t.Diagonal[net]] += 1 / ohms;
            _head[t.Step[net]] += volts / ohms;
        }

        JoinHead(feeds, m);
        if (_lu.FactorHead() >= 0) return false;
        _lu.Tail.CopyTo(_tail);
        _lu.Forward(_head);
        (_headFeeds, _headStands) = (feeds, true);
        return true;
    }

    private void StampTail()
    {
        Topology t = _topology;
        Span<double> m = _lu.Values;
        int first = t.Pattern.Head;
        _tail.CopyTo(_lu.Tail);
        _head.AsSpan(first).CopyTo(_rhs.AsSpan(first));
        foreach (int i in t.Curved)
        {
            if (Open[i]) continue;
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

            if (t.A[i] > 0) _rhs[t.Step[t.A[i]]] -= _j[i];
            if (t.B[i] > 0) _rhs[t.Step[t.B[i]]] += _j[i];
        }

        PinFloating(m);
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
