using Ventwright.Model.Kernel;
using Ventwright.Physics.Air;
using Ventwright.Physics.Vacuum;

namespace Ventwright.Simulation;

/// <summary>
/// Finds the unit's state of rest: solves nets for given contacts, judges contacts, module, servos, vacuum and flaps again, until nothing changes.
/// A state that comes round again is an oscillation and is reported with the parts that make it. Not thread-safe; one for each thread.
/// </summary>
internal sealed class Settler
{
    private const int MostRounds = 400;
    private readonly UnitModel _model;
    private readonly ElectricSolver _electric;
    private readonly VacuumWorkspace _vacuum;
    private readonly AirWorkspace _air;
    private readonly Topology _topology;
    private readonly ModuleRunner? _module;
    private readonly double[] _conductance, _ratio, _fixed, _held, _depression, _vacuumFlow, _resistance, _fan, _fixedAir, _pressure, _airFlow;
    private readonly double[] _servoBefore, _errorBefore;
    private readonly int[] _outputOf, _servoMoves;
    private readonly Dictionary<long, int> _seen = [];
    private double[] _p = [], _x = [];

    /// <summary>False until the vacuum side has been solved for the present parameters; then it is solved again only when a conductance moves.</summary>
    private bool _vacuumStands;

    public Settler(UnitModel model, Topology topology)
    {
        (_model, _topology) = (model, topology);
        (_electric, _vacuum, _air) = (new(model, topology), new(topology.Vacuum), new(topology.Air));
        _module = model.Module is { } program ? new(model, program) : null;
        int vacuum = model.Vacuum.Length, air = model.Air.Length, variables = model.Variables.Length;
        (_conductance, _ratio, _vacuumFlow) = (new double[vacuum], new double[vacuum], new double[vacuum]);
        (_fixed, _held, _depression) = (new double[model.Hoses.Length], new double[model.Hoses.Length], new double[model.Hoses.Length]);
        (_resistance, _fan, _airFlow) = (new double[air], new double[air], new double[air]);
        (_fixedAir, _pressure) = ([.. model.OpenSpaces.Select(o => o ? 0 : double.NaN)], new double[model.Spaces.Length]);
        (_servoBefore, _errorBefore, _servoMoves) = (new double[variables], new double[variables], new int[variables]);
        _outputOf = [.. Enumerable.Repeat(-1, variables)];
        foreach (ModuleOutput output in (model.Module?.Outputs ?? []).Where(o => o.Servo >= 0)) _outputOf[output.Servo] = Array.IndexOf(model.Module!.Outputs, output);
    }

    /// <summary>Settles with the given parameters in a setting.</summary>
    /// <param name="p">Parameters with all edits made.</param>
    /// <param name="setting">The setting.</param>
    /// <param name="from">State to start from, or null for a unit that was just laid on the bench.</param>
    public Settled Settle(double[] p, Setting setting, Settled? from)
    {
        (_p, _x) = (p, (double[])setting.Start.Clone());
        _electric.Reset();
        _seen.Clear();
        Array.Clear(_servoMoves);
        _vacuumStands = false;
        Begin(from);
        bool oneAtATime = false;
        HashSet<int> restless = [];
        for (int round = 0; round < MostRounds; round++)
        {
            if (!_electric.Solve(_p, _x, setting.Feeds)) return Result(Verdict.NotSolved, "the electrical side found no solution", restless);
            _module?.ReadPins(_p, _electric.Volts);
            HashSet<int> changed = Step(setting, oneAtATime, out bool solved);
            if (!solved) return Result(Verdict.NotSolved, "the vacuum side found no solution", restless);
            if (changed.Count == 0) return WithAir(Verdict.Settled, "", restless);
            if (_seen.TryGetValue(Signature(), out int times) && times >= 2)
            {
                if (oneAtATime) restless.UnionWith(changed);
                if (oneAtATime && times >= 6) break;
                oneAtATime = true;
            }

            _seen[Signature()] = times + 1;
        }

        return WithAir(Verdict.Oscillates, Story(restless), restless);
    }

    /// <summary>Ohms between pairs of nets with the supply off in a setting.</summary>
    public double[] Ohms(double[] p, Setting setting, IReadOnlyList<(int A, int B)> pairs)
    {
        double[] x = (double[])setting.Start.Clone();
        for (int i = 0; i < x.Length; i++)
        {
            Variable v = _model.Variables[i];
            if (!double.IsNaN(p[v.Parameter])) x[i] = p[v.Parameter];
            else if (v.Law == VariableLaw.Threshold) x[i] = Threshold(v, p, x, x[i]);
            else if (v.Law is VariableLaw.Coil or VariableLaw.Powered) x[i] = 0;
            else if (v.Law == VariableLaw.Output && v.Name.EndsWith(".drive", StringComparison.Ordinal)) x[i] = 2;
            else if (v.Law == VariableLaw.Servo) x[i] = p[v.Parameter + 3];
        }

        double[] ohms = new double[pairs.Count];
        _electric.Ohms(p, x, pairs, ohms);
        return ohms;
    }

    private void Begin(Settled? from)
    {
        for (int i = 0; i < _x.Length; i++)
        {
            Variable v = _model.Variables[i];
            if (v.Law == VariableLaw.Servo) _x[i] = from?.Variables[i] ?? _p[v.Parameter + 3];
            else if (from is not null && v.Law != VariableLaw.Given) _x[i] = from.Variables[i];
            if (!double.IsNaN(_p[v.Parameter])) _x[i] = _p[v.Parameter];
        }

        if (from is null) Array.Clear(_depression);
        else from.DepressionPa.CopyTo(_depression, 0);
        _depression.CopyTo(_held, 0);
    }

    /// <summary>Judges every variable again; gives those that changed.</summary>
    private HashSet<int> Step(Setting setting, bool oneAtATime, out bool solved)
    {
        HashSet<int> changed = [];
        solved = true;
        for (int i = 0; i < _x.Length; i++)
        {
            Variable v = _model.Variables[i];
            if (v.Law is VariableLaw.Given or VariableLaw.Travel or VariableLaw.Linkage) continue;
            double value = double.IsNaN(_p[v.Parameter]) ? Judge(i, v) : _p[v.Parameter];
            if (Math.Abs(value - _x[i]) < 1e-9) continue;
            _x[i] = value;
            changed.Add(i);
            if (oneAtATime && v.Law is VariableLaw.Coil or VariableLaw.Powered or VariableLaw.Fuse) return changed;
        }

        solved = Vacuum(setting);
        for (int i = 0; solved && i < _x.Length; i++)
        {
            Variable v = _model.Variables[i];
            if (v.Law is not (VariableLaw.Travel or VariableLaw.Linkage)) continue;
            double value = double.IsNaN(_p[v.Parameter]) ? Judge(i, v) : _p[v.Parameter];
            if (Math.Abs(value - _x[i]) < 1e-7) continue;
            _x[i] = value;
            changed.Add(i);
        }

        return changed;
    }

    private double Judge(int index, Variable v)
    {
        double[] p = _p;
        int at = v.Parameter;
        switch (v.Law)
        {
            case VariableLaw.Coil:
                double across = _electric.Open[v.Input] ? 0 : Math.Abs(Across(v.Input));
                return across >= p[at + 1] ? 1 : across <= p[at + 2] ? 0 : _x[index];
            case VariableLaw.Threshold:
                return Threshold(v, p, _x, _x[index]);
            case VariableLaw.Travel:
                double first = Travel(v.Input, at);
                return v.Second < 0 ? first : 0.5 * (first + Math.Min(first, Travel(v.Second, at)));
            case VariableLaw.Linkage:
                return Math.Clamp(p[at + 1] + (p[at + 2] * _x[v.Input]), 0, 1);
            case VariableLaw.Servo:
                return Servo(index, v);
            case VariableLaw.Blocked:
                return Blocked(v);
            case VariableLaw.Speed:
                return _electric.Open[v.Input] ? 0 : ElectricSolver.MotorSpeed(p, _model.Electric[v.Input].Parameter, Math.Abs(Across(v.Input)));
            case VariableLaw.Fuse:
                return _x[index] > 0.5 && Math.Abs(_electric.Amps[v.Input]) <= p[at + 1] ? 1 : 0;
            case VariableLaw.Output:
                return _module!.Wanted(v.Input, _x);
            case VariableLaw.Graded:
                return Math.Max(0, (p[at + 1] * Math.Abs(_electric.Amps[v.Input])) + p[at + 2]);
            case VariableLaw.Gap:
                return _x[v.Input] > p[at + 1] && _x[v.Input] < p[at + 2] ? 0 : 1;
            case VariableLaw.Powered:
                double supply = _electric.Floating[v.Input] || _electric.Floating[v.Second] ? 0 : _electric.Volts[v.Input] - _electric.Volts[v.Second];
                return supply >= p[at + 1] ? 1 : supply <= p[at + 2] ? 0 : _x[index];
            default:
                return _x[index];
        }
    }

    private double Across(int branch) => _electric.Volts[_topology.A[branch]] - _electric.Volts[_topology.B[branch]];

    private double Travel(int hose, int at) => Math.Clamp((_depression[hose] - _p[at + 1]) / (_p[at + 2] - _p[at + 1]), 0, 1);

    private static double Threshold(Variable v, double[] p, double[] x, double before)
    {
        double felt = x[v.Input] - p[v.Parameter + 3];
        return felt > p[v.Parameter + 2] ? 1 : felt < p[v.Parameter + 1] ? 0 : before;
    }

    private double Blocked(Variable v)
    {
        Variable servo = _model.Variables[v.Input];
        double direction = Direction(servo);
        double position = _x[v.Input];
        bool jammed = !double.IsNaN(_p[servo.Parameter]) && direction != 0;
        return jammed || (direction > 0 && position >= 1) || (direction < 0 && position <= 0) ? 1 : 0;
    }

    private double Direction(Variable servo)
    {
        double across = _electric.Open[servo.Input] ? 0 : Across(servo.Input);
        return Math.Abs(across) < _p[servo.Parameter + 2] ? 0 : Math.Sign(across) * _p[servo.Parameter + 1];
    }

    /// <summary>Moves a servo toward where the module stops driving it: by the error seen, then by the secant through the last two places.</summary>
    private double Servo(int index, Variable v)
    {
        double direction = Direction(v), position = _x[index];
        if (direction == 0) return position;
        if (_outputOf[index] < 0) return direction > 0 ? 1 : 0;
        double error = _module!.Errors[_outputOf[index]];
        // The voltage is that of the drive before the module looked again: move only while the module still wants the same.
        if (_module.Wanted(_outputOf[index], _x) != _x[_model.Module!.Outputs[_outputOf[index]].Variable]) return position;
        double step = Math.Max(Math.Abs(error), 1e-3);
        int moves = _servoMoves[index]++;
        if (moves > 0 && Math.Abs(position - _servoBefore[index]) > 1e-12)
        {
            double slope = (error - _errorBefore[index]) / (position - _servoBefore[index]);
            double secant = slope < -1e-6 ? Math.Abs(error / slope) : step;
            step = moves < 24 ? Math.Min(secant, 1) : step * 0.5;
        }

        (_servoBefore[index], _errorBefore[index]) = (position, error);
        return Math.Clamp(position + (direction * step), 0, 1);
    }

    private bool Vacuum(Setting setting)
    {
        if (_model.Vacuum.Length == 0) return true;
        bool moved = false;
        for (int i = 0; i < _conductance.Length; i++)
        {
            VacuumBranch branch = _model.Vacuum[i];
            double factor = branch.Gate is { } gate ? gate.At(_x[gate.Variable]) : 1;
            if (branch.Gate is { Mode: GateMode.Conduct }) factor = factor < 0.5 ? 0 : 1;
            double conductance = _p[branch.Parameter] * factor;
            moved |= conductance != _conductance[i];
            _conductance[i] = conductance;
            _ratio[i] = _p[branch.Parameter + 1];
        }

        if (!moved && _vacuumStands) return true;
        Array.Fill(_fixed, double.NaN);
        foreach (VacuumSource source in _model.VacuumSources) _fixed[source.Hose] = setting.Pump ? _p[source.Parameter] : 0;
        bool converged = _vacuum.Solve(_conductance, _ratio, _fixed, _held, _model.HoseVolumes, _model.AmbientPa, _depression, _vacuumFlow).Converged;
        if (!converged) Array.Clear(_depression);
        _vacuumStands = converged;
        return converged;
    }

    private Settled WithAir(Verdict verdict, string note, HashSet<int> restless)
    {
        const double density = 1.2;
        for (int i = 0; i < _model.Air.Length; i++)
        {
            AirBranch branch = _model.Air[i];
            double area = _p[branch.Parameter] * (branch.Gate is { } gate ? gate.At(_x[gate.Variable]) : 1) * (1 - _p[branch.Parameter + 3]);
            _resistance[i] = area < 1e-7 ? double.PositiveInfinity : AirResistance.FromArea(area, _p[branch.Parameter + 1], density);
            double speed = branch.Speed >= 0 ? _x[branch.Speed] : 0;
            _fan[i] = _p[branch.Parameter + 2] * speed * speed;
        }

        if (_model.Air.Length > 0 && !_air.Solve(_resistance, _fan, _fixedAir, _pressure, _airFlow).Converged)
        {
            Array.Clear(_pressure);
            return Result(Verdict.NotSolved, "the air side found no solution", restless);
        }

        return Result(verdict, note, restless);
    }

    private Settled Result(Verdict verdict, string note, HashSet<int> restless) => new()
    {
        Verdict = verdict,
        Note = note,
        Residual = _electric.Residual,
        Volts = (double[])_electric.Volts.Clone(),
        Floating = (bool[])_electric.Floating.Clone(),
        Amps = (double[])_electric.Amps.Clone(),
        Open = (bool[])_electric.Open.Clone(),
        Variables = (double[])_x.Clone(),
        DepressionPa = (double[])_depression.Clone(),
        AirFlow = (double[])_airFlow.Clone(),
        Signals = (double[])(_module?.Signals.Clone() ?? Array.Empty<double>()),
        Restless = restless,
        Parameters = _p,
    };

    private string Story(HashSet<int> restless)
    {
        string[] names = [.. restless.Select(i => _model.Variables[i]).Where(v => v.Law is VariableLaw.Coil or VariableLaw.Servo or VariableLaw.Powered or VariableLaw.Output).Select(v => v.Name)];
        return names.Length == 0 ? "it does not come to rest" : $"it does not come to rest: {string.Join(", ", names)} keep changing each other (a relay buzzes, a servo hunts)";
    }

    private long Signature()
    {
        var hash = default(HashCode);
        foreach (double value in _x) hash.Add((long)Math.Round(value * 1e7));
        return hash.ToHashCode();
    }
}
