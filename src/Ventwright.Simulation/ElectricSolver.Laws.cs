using Ventwright.Model.Kernel;

namespace Ventwright.Simulation;

/// <summary>The branch laws: each becomes a conductance and a current for the volts at hand.</summary>
internal sealed partial class ElectricSolver
{
    private static bool IsCut(ElectricBranch branch, double[] x) => branch.Gate is { Mode: GateMode.Conduct } gate && gate.At(x[gate.Variable]) < 0.5;

    /// <summary>Resistances for the variables at hand; they hold while the volts are looked for. Gives whether any of them changed.</summary>
    private bool UseStraight(double[] p, double[] x)
    {
        bool changed = false;
        foreach (int i in _straight)
        {
            ElectricBranch branch = _model.Electric[i];
            double ohms = IsCut(branch, x) ? double.PositiveInfinity
                : branch.Law == ElectricLaw.Thermistor ? ThermistorOhms(p, branch.Parameter, x[branch.Variable])
                : p[branch.Parameter] * (branch.Gate is { Mode: GateMode.Scale } scale ? Math.Max(scale.At(x[scale.Variable]), 1e-4) : 1);
            if (ohms == _ohms[i]) continue;
            _ohms[i] = ohms;
            Resistance(i, ohms);
            changed = true;
        }

        return changed;
    }

    /// <summary>The other branches for the volts at hand; gives whether any of them changed its state.</summary>
    private bool Linearise(double[] p, double[] x, int round)
    {
        bool flipped = false;
        foreach (int i in _topology.Curved)
        {
            ElectricBranch branch = _model.Electric[i];
            _gc[i] = 0;
            if (IsCut(branch, x))
            {
                Open[i] = true;
                continue;
            }

            double v = Volts[_topology.A[i]] - Volts[_topology.B[i]];
            Open[i] = false;
            int before = _state[i];
            switch (branch.Law)
            {
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
}
