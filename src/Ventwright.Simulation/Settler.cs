using Ventwright.Model.Kernel;
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
    private readonly VacuumWorkspace _network;
    private readonly VacuumSide _vacuum;
    private readonly AirSide _air;
    private readonly VariableLaws _laws;
    private readonly ModuleRunner? _module;
    private readonly double[] _held, _depression, _vacuumFlow;
    private readonly double[] _servoBefore, _errorBefore;
    private readonly int[] _outputOf, _servoMoves;
    private readonly Dictionary<long, int> _seen = [];
    private double[] _p = [], _x = [];

    /// <summary>False until the vacuum side has been solved for the present parameters; then it is solved again only when a conductance moves.</summary>
    private bool _vacuumStands;

    public Settler(UnitModel model, Topology topology)
    {
        _model = model;
        (_electric, _network, _vacuum, _air) = (new(model, topology), new(topology.Vacuum), new(model), new(model, topology));
        _module = model.Module is { } program ? new(model, program) : null;
        _laws = new(model, topology, _electric, _module);
        int variables = model.Variables.Length;
        (_held, _depression, _vacuumFlow) = (new double[model.Hoses.Length], new double[model.Hoses.Length], new double[model.Vacuum.Length]);
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
        if (from is null && setting.Before is { } before) from = Settle(Simulator.With(p, before.Edits), before, null);
        (_p, _x) = (p, _model.Felt(setting.Start, p));
        _laws.Use(_p, _x, _depression);
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
        double[] x = _model.Felt(setting.Start, p);
        for (int i = 0; i < x.Length; i++)
        {
            Variable v = _model.Variables[i];
            if (!double.IsNaN(p[v.Parameter])) x[i] = p[v.Parameter];
            else if (v.Law == VariableLaw.Threshold) x[i] = VariableLaws.Threshold(v, p, x, x[i]);
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
            double value = double.IsNaN(_p[v.Parameter]) ? v.Law == VariableLaw.Servo ? Servo(i, v) : _laws.Judge(i, v) : _p[v.Parameter];
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
            double value = double.IsNaN(_p[v.Parameter]) ? _laws.Judge(i, v) : _p[v.Parameter];
            if (Math.Abs(value - _x[i]) < 1e-7) continue;
            _x[i] = value;
            changed.Add(i);
        }

        return changed;
    }

    /// <summary>Moves a servo toward where the module stops driving it: by the error seen, then by the secant through the last two places.</summary>
    private double Servo(int index, Variable v)
    {
        double direction = _laws.Direction(v), position = _x[index];
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
        if (!_vacuum.Refresh(_p, _x, setting.Pump) && _vacuumStands) return true;
        bool converged = _network.Solve(
            _vacuum.Conductance, _vacuum.Ratio, _vacuum.Fixed, _held, _model.HoseVolumes, _model.AmbientPa, _depression, _vacuumFlow).Converged;
        if (!converged) Array.Clear(_depression);
        _vacuumStands = converged;
        return converged;
    }

    private Settled WithAir(Verdict verdict, string note, HashSet<int> restless) =>
        _air.Solve(_p, _x) ? Result(verdict, note, restless) : Result(Verdict.NotSolved, "the air side found no solution", restless);

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
        AirFlow = (double[])_air.Flow.Clone(),
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
