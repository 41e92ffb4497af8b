using Ventwright.Model.Kernel;
using Ventwright.Numerics;

namespace Ventwright.Simulation;

/// <summary>
/// Nodal analysis at DC for given contacts: diodes and transistor stages are piecewise states, motors are linearised by their tangent and lamps by their chord, until
/// nothing changes. Open is open: a branch that does not conduct is left out, and nets without a path to ground are found by graph and called floating.
/// </summary>
internal sealed class ElectricSolver
{
    private const int MostRounds = 120;
    /// <summary>Conductance through which an active stage holds its load; the netlist export uses the same.</summary>
    public const double StageSiemens = 50;

    private const double StageLeak = 1e-9;
    private readonly UnitModel _model;
    private readonly Topology _topology;
    private readonly SparseLu _lu;
    private readonly int[] _state;
    private readonly double[] _g, _j, _gc, _rhs, _before;
    private readonly int[] _island;

    public ElectricSolver(UnitModel model, Topology topology)
    {
        (_model, _topology) = (model, topology);
        _lu = new(topology.Pattern);
        int branches = model.Electric.Length, nets = model.Nets.Length;
        (_g, _j, _gc, _state) = (new double[branches], new double[branches], new double[branches], new int[branches]);
        (_rhs, _before, _island) = (new double[nets - 1], new double[nets], new int[nets]);
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
    }

    /// <summary>Solves for given parameters and variables.</summary>
    /// <param name="p">Parameters.</param>
    /// <param name="x">Variables.</param>
    /// <param name="feeds">Nets fed directly: net, volts, source resistance.</param>
    /// <returns>Whether it settled.</returns>
    public bool Solve(double[] p, double[] x, IReadOnlyList<(int Net, double Volts, double Ohms)> feeds)
    {
        for (int round = 0; round < MostRounds; round++)
        {
            bool flipped = Linearise(p, x, round);
            FindFloating(feeds);
            Stamp(feeds);
            if (_lu.Factor() >= 0) return false;
            _lu.Solve(_rhs);
            double change = 0;
            for (int n = 1; n < Volts.Length; n++)
            {
                double v = Floating[n] ? 0 : _rhs[n - 1];
                change = Math.Max(change, Math.Abs(v - Volts[n]));
                Volts[n] = v;
            }

            if (!flipped && change < 1e-8 && round > 0)
            {
                Currents();
                return Balance(feeds);
            }
        }

        return false;
    }

    /// <summary>Ohms between two nets with nothing energised: every branch as it is at no voltage. Infinity when no path joins them.</summary>
    public double Ohms(double[] p, double[] x, int a, int b)
    {
        Reset();
        Linearise(p, x, 0);
        for (int i = 0; i < _model.Electric.Length; i++)
        {
            if (_model.Electric[i].Law is ElectricLaw.Source or ElectricLaw.Diode or ElectricLaw.Stage) Open[i] = true;
            _j[i] = 0;
            _gc[i] = 0;
        }

        FindFloating([]);
        if (a == b) return 0;
        if (Root(a) != Root(b)) return double.PositiveInfinity;
        Stamp([]);
        if (_lu.Factor() >= 0) return double.PositiveInfinity;
        // One ampere in at a and out at b; in an island without ground the pinned net takes no current, since as much leaves as enters.
        Array.Clear(_rhs);
        if (a > 0) _rhs[a - 1] = 1;
        if (b > 0) _rhs[b - 1] = -1;
        _lu.Solve(_rhs);
        return (a > 0 ? _rhs[a - 1] : 0) - (b > 0 ? _rhs[b - 1] : 0);
    }

    private bool Linearise(double[] p, double[] x, int round)
    {
        bool flipped = false;
        for (int i = 0; i < _model.Electric.Length; i++)
        {
            ElectricBranch branch = _model.Electric[i];
            _gc[i] = 0;
            if (branch.Gate is { Mode: GateMode.Conduct } gate && gate.At(x[gate.Variable]) < 0.5)
            {
                Open[i] = true;
                continue;
            }

            double v = Volts[_topology.A[i]] - Volts[_topology.B[i]];
            Open[i] = false;
            int before = _state[i];
            switch (branch.Law)
            {
                case ElectricLaw.Ohmic:
                    Resistance(i, p[branch.Parameter] * (branch.Gate is { Mode: GateMode.Scale } scale ? Math.Max(scale.At(x[scale.Variable]), 1e-4) : 1));
                    break;
                case ElectricLaw.Thermistor:
                    Resistance(i, ThermistorOhms(p, branch.Parameter, x[branch.Variable]));
                    break;
                case ElectricLaw.Source:
                    Source(i, p, branch, x, v, round);
                    break;
                case ElectricLaw.Diode:
                    Diode(i, p, branch, v);
                    break;
                case ElectricLaw.Lamp:
                    Lamp(i, p, branch, v);
                    break;
                case ElectricLaw.Motor:
                    Motor(i, p, branch, v, x, round);
                    break;
                default:
                    Stage(i, p, branch);
                    break;
            }

            // A state that keeps flipping late is held every other round, which breaks two-state cycles between neighbours.
            if (_state[i] != before && round > 40 && (round + i) % 3 != 0) _state[i] = before;
            flipped |= _state[i] != before;
        }

        return flipped;
    }

    private double ThermistorOhms(double[] p, int first, double kelvin)
    {
        double standIn = p[first + 3];
        return double.IsNaN(standIn) ? _model.Curves[(int)p[first]].Ohms(kelvin + p[first + 2]) * p[first + 1] : standIn;
    }

    private void Resistance(int i, double ohms)
    {
        Open[i] = double.IsPositiveInfinity(ohms);
        _g[i] = Open[i] ? 0 : 1 / Math.Max(ohms, 1e-4);
        _j[i] = 0;
    }

    private void Source(int i, double[] p, ElectricBranch branch, double[] x, double v, int round)
    {
        double e = p[branch.Parameter] + (branch.Variable >= 0 ? x[branch.Variable] : 0), ohms = p[branch.Parameter + 1], limit = p[branch.Parameter + 2];
        if (double.IsPositiveInfinity(ohms))
        {
            Open[i] = true;
            return;
        }

        double delivered = (e - v) / ohms;
        _state[i] = _state[i] switch
        {
            0 when round > 0 && Math.Abs(delivered) > limit => Math.Sign(delivered),
            1 when delivered < limit => 0,
            -1 when delivered > -limit => 0,
            _ => _state[i],
        };
        (_g[i], _j[i]) = _state[i] == 0 ? (1 / ohms, -e / ohms) : (1e-9, -_state[i] * limit);
    }

    private void Diode(int i, double[] p, ElectricBranch branch, double v)
    {
        double drop = p[branch.Parameter], ohms = p[branch.Parameter + 1];
        _state[i] = v > drop + (_state[i] == 1 ? -1e-9 : 1e-9) ? 1 : 0;
        Open[i] = _state[i] == 0;
        (_g[i], _j[i]) = (1 / ohms, -drop / ohms);
    }

    private void Lamp(int i, double[] p, ElectricBranch branch, double v)
    {
        double hot = p[branch.Parameter], rated = p[branch.Parameter + 1], cold = p[branch.Parameter + 2];
        if (double.IsPositiveInfinity(hot))
        {
            Open[i] = true;
            return;
        }

        // The chord, not the tangent: a filament's current flattens so much that Newton's method would swing ever wider.
        Resistance(i, hot * (cold + ((1 - cold) * Math.Abs(v) / rated)));
    }

    private void Motor(int i, double[] p, ElectricBranch branch, double v, double[] x, int round)
    {
        double ohms = p[branch.Parameter];
        if (double.IsPositiveInfinity(ohms))
        {
            Open[i] = true;
            return;
        }

        bool blocked = branch.Variable >= 0 && x[branch.Variable] > 0.5;
        double speed = blocked ? 0 : MotorSpeed(p, branch.Parameter, Math.Abs(v));
        (_g[i], _j[i]) = (1 / ohms, 0);
        if (speed <= 0) return;
        double k = p[branch.Parameter + 1], load = p[branch.Parameter + 3];
        _g[i] = Math.Max((1 - (k / (k + (2 * load * ohms * speed)))) / ohms, 1e-9);
        double amps = Math.CopySign((Math.Abs(v) - (k * speed)) / ohms, v);
        // Where the tangent keeps swinging past zero the chord settles, if more slowly.
        if (round > 15) _g[i] = amps / v;
        _j[i] = amps - (_g[i] * v);
    }

    /// <summary>Speed (1 = rated) of a motor at a voltage: the root of R ic w2 + k w + R i0 - v = 0.</summary>
    public static double MotorSpeed(double[] p, int first, double volts)
    {
        double ohms = p[first], k = p[first + 1], friction = p[first + 2], load = p[first + 3] * ohms, driving = volts - (friction * ohms);
        if (double.IsPositiveInfinity(ohms) || driving <= 0) return 0;
        return load < 1e-9 ? driving / k : (Math.Sqrt((k * k) + (4 * load * driving)) - k) / (2 * load);
    }

    private void Stage(int i, double[] p, ElectricBranch branch)
    {
        double gain = p[branch.Parameter], ron = p[branch.Parameter + 2], force = p[branch.Parameter + 4];
        double va = Volts[_topology.A[i]], vb = Volts[_topology.B[i]], vc = Volts[branch.Control], target = (gain * vc) - p[branch.Parameter + 1];
        if (!double.IsNaN(force)) _state[i] = force > 0.5 ? 2 : 0;
        else if (vc < p[branch.Parameter + 3]) _state[i] = 0;
        else
        {
            _state[i] = _state[i] switch
            {
                0 => vb < Math.Min(target, va) - 1e-6 ? 1 : 0,
                1 when StageSiemens * (target - vb) < -1e-6 => 0,
                1 when target > va - (StageSiemens * (target - vb) * ron) => 2,
                2 when va < vb - 1e-9 => 0,
                2 when vb > target + 1e-9 => 1,
                _ => _state[i],
            };
        }

        Open[i] = _state[i] == 0;
        if (_state[i] == 2) (_g[i], _j[i]) = (1 / ron, 0);
        else if (_state[i] == 1) (_g[i], _gc[i], _j[i]) = (StageSiemens, StageSiemens * gain, -StageSiemens * p[branch.Parameter + 1]);
    }

    private void FindFloating(IReadOnlyList<(int Net, double Volts, double Ohms)> feeds)
    {
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
        _lu.Clear();
        Array.Clear(_rhs);
        Span<double> m = _lu.Values;
        Topology t = _topology;
        for (int i = 0; i < Open.Length; i++)
        {
            if (Open[i]) continue;
            int a = t.A[i], b = t.B[i];
            double g = _g[i];
            if (_gc[i] != 0)
            {
                // An active stage: i = gc vControl - g vB + j, out of A and into B.
                if (t.AC[i] >= 0) m[t.AC[i]] += _gc[i];
                if (t.BC[i] >= 0) m[t.BC[i]] -= _gc[i];
                if (t.AB[i] >= 0) m[t.AB[i]] -= g;
                if (t.BB[i] >= 0) m[t.BB[i]] += g;
                // A trace of leakage, so that a feed net that hangs on the stage alone is still determined.
                if (t.AA[i] >= 0) m[t.AA[i]] += StageLeak;
                if (t.BA[i] >= 0) m[t.BA[i]] -= StageLeak;
            }
            else
            {
                if (t.AA[i] >= 0) m[t.AA[i]] += g;
                if (t.BB[i] >= 0) m[t.BB[i]] += g;
                if (t.AB[i] >= 0) m[t.AB[i]] -= g;
                if (t.BA[i] >= 0) m[t.BA[i]] -= g;
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
