using Ventwright.Model.Kernel;

namespace Ventwright.Simulation.Time;

/// <summary>
/// The unit in time. Nets are at rest at every instant (quasi-static); servos travel, blowers run up, sensors lag, hoses fill and leak, and the module looks at
/// its pins at its own rate. The same steps give the same run on every machine. Not thread-safe.
/// </summary>
/// <remarks>
/// In each step of at most <see cref="LongestStep"/>: sensors follow their surroundings (exact for a constant one), the module looks when it is due, contacts
/// and nets are settled for what stands, servos move at the speed of their motor and stop exactly at their ends, blower speeds follow (exact for constant
/// volts), hoses are integrated with an implicit method of order 2, flaps follow, and the air is solved again if flaps or blowers have moved. Nets are solved again when something
/// they feel has moved: a contact, a shaft, or a sensor by more than <see cref="SensorStep"/>.
/// </remarks>
public sealed class UnitRun
{
    /// <summary>Longest step, s.</summary>
    public const double LongestStep = 0.1;

    /// <summary>Change of a sensor's temperature after which the nets are solved again, K.</summary>
    public const double SensorStep = 0.05;

    private const int MostRounds = 60;
    private readonly UnitModel _model;
    private readonly Simulator _simulator;
    private readonly IReadOnlyList<Fault> _faults;
    private readonly ElectricSolver _electric;
    private readonly VariableLaws _laws;
    private readonly ModuleRunner? _rules;
    private readonly ModuleClock? _module;
    private readonly SensorLags _sensors;
    private readonly VacuumInTime _vacuum;
    private readonly AirSide _air;
    private readonly double[] _x, _solvedAt, _airAt, _sensorSolvedAt;
    private readonly bool[] _driven;
    private readonly int[] _electricReads, _airReads;
    private readonly HashSet<int> _restless = [];
    private double[] _p = [];
    private Setting _setting;
    private bool _solved, _fresh = true, _airStands;

    /// <summary>Lays the unit on the bench in a setting.</summary>
    /// <param name="simulator">The model's simulator.</param>
    /// <param name="setting">The setting.</param>
    /// <param name="faults">Faults that are there.</param>
    /// <param name="from">State to start from, or null for a unit that was just laid on the bench with nothing moved yet.</param>
    public UnitRun(Simulator simulator, Setting setting, IReadOnlyList<Fault> faults, Settled? from = null)
    {
        (_simulator, _model, _faults, _setting) = (simulator, simulator.Model, faults, setting);
        Topology topology = simulator.TopologyOf(faults);
        _electric = new(_model, topology);
        _rules = _model.Module is { } program ? new(_model, program) : null;
        _module = _rules is null ? null : new(_model, _model.Module!, _rules);
        _laws = new(_model, topology, _electric, _rules);
        (_sensors, _vacuum, _air) = (new(_model), new(_model, topology), new(_model, topology));
        int variables = _model.Variables.Length;
        (_x, _solvedAt, _airAt, _driven) = (new double[variables], new double[variables], new double[variables], new bool[variables]);
        _sensorSolvedAt = new double[_sensors.Kelvin.Length];
        _electricReads = [.. _model.Electric.SelectMany(b => (int[])[b.Gate?.Variable ?? -1, b.Law == ElectricLaw.Thermistor ? -1 : b.Variable]).Where(v => v >= 0).Distinct()];
        _airReads = [.. _model.Air.SelectMany(b => (int[])[b.Gate?.Variable ?? -1, b.Speed]).Where(v => v >= 0).Distinct()];
        Begin(from);
    }

    /// <summary>Time since the start, s.</summary>
    public double Seconds { get; private set; }

    /// <summary>False once a network could not be solved; the run then stands still in that network.</summary>
    public bool Sound { get; private set; } = true;

    /// <summary>Flow of each air branch, m3/s.</summary>
    public ReadOnlySpan<double> AirFlow => _air.Flow;

    /// <summary>Variables: positions, speeds, contacts, conditions.</summary>
    public ReadOnlySpan<double> Variables => _x;

    /// <summary>Parameters with the edits of faults and setting made.</summary>
    internal double[] Parameters => _p;

    /// <summary>Signals of the module as it last saw them; empty without one.</summary>
    public ReadOnlySpan<double> Signals => _rules is null ? [] : _rules.Signals;

    /// <summary>Volts of a net; NaN while it floats.</summary>
    public double Volts(int net) => _electric.Floating[net] ? double.NaN : _electric.Volts[net];

    /// <summary>The hands change the setting. Conditions that <see cref="Feel"/> has given stay as given.</summary>
    public void Set(Setting setting)
    {
        _setting = setting;
        _p = _simulator.Parameters(setting, _faults);
        double[] felt = _model.Felt(setting.Start, _p);
        for (int i = 0; i < _x.Length; i++)
        {
            Variable v = _model.Variables[i];
            if (v.Law == VariableLaw.Given && !_driven[i]) _x[i] = felt[i];
            if (!double.IsNaN(_p[v.Parameter])) _x[i] = _p[v.Parameter];
        }

        _laws.Use(_p, _x, _vacuum.DepressionPa);
        _sensors.Use(_p, _x);
        (_fresh, _airStands) = (true, false);
    }

    /// <summary>Gives a condition (K or Pa) from outside, from now on.</summary>
    /// <param name="condition">The condition's variable.</param>
    /// <param name="value">K or Pa.</param>
    public void Feel(int condition, double value)
    {
        _driven[condition] = true;
        if (double.IsNaN(_p[_model.Variables[condition].Parameter])) _x[condition] = value;
    }

    /// <summary>Says what surrounds one sensor, where that differs from the condition that it is said to feel.</summary>
    /// <param name="part">Index of the sensor's part.</param>
    /// <param name="kelvin">Temperature of what is round it, K.</param>
    public void Surround(int part, double kelvin) => _sensors.Surround(part, kelvin);

    /// <summary>Lets time pass.</summary>
    /// <param name="seconds">Seconds, 0 or more.</param>
    public void Advance(double seconds)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(seconds);
        int steps = (int)Math.Ceiling((seconds / LongestStep) - 1e-9);
        for (int i = 0; i < steps; i++) Step(seconds / steps);
    }

    /// <summary>The unit as it stands, to be read like one at rest.</summary>
    public Settled Now() => new()
    {
        Verdict = Sound ? Verdict.Settled : Verdict.NotSolved,
        Note = Sound ? "" : "a network found no solution on the way",
        Residual = _electric.Residual,
        Volts = (double[])_electric.Volts.Clone(),
        Floating = (bool[])_electric.Floating.Clone(),
        Amps = (double[])_electric.Amps.Clone(),
        Open = (bool[])_electric.Open.Clone(),
        Variables = (double[])_x.Clone(),
        DepressionPa = (double[])_vacuum.DepressionPa.Clone(),
        AirFlow = (double[])_air.Flow.Clone(),
        Signals = [.. Signals],
        Restless = new HashSet<int>(_restless),
        Parameters = _p,
    };

    private void Begin(Settled? from)
    {
        if (from is not null) from.Variables.CopyTo(_x, 0);
        from?.DepressionPa.CopyTo(_vacuum.DepressionPa, 0);
        Set(_setting);
        double[] felt = _model.Felt(_setting.Start, _p);
        for (int i = 0; i < _x.Length; i++)
        {
            Variable v = _model.Variables[i];
            if (from is null) _x[i] = v.Law == VariableLaw.Servo ? _p[v.Parameter + 3] : felt[i];
            if (!double.IsNaN(_p[v.Parameter])) _x[i] = _p[v.Parameter];
        }

        _sensors.Use(_p, _x);
        Step(0);
    }

    private void Step(double seconds)
    {
        if (seconds > 0) _sensors.Advance(seconds, _p, _x);
        // The module must see the pins as they are now, not as they were before the last movement.
        Nets();
        if (_module?.Look(Seconds, _p, _x, _electric.Volts) == true) Nets();
        Movers(seconds);
        Sound &= _vacuum.Advance(seconds, _p, _x, _setting.Pump);
        Judge(VariableLaw.Travel, VariableLaw.Linkage);
        Air();
        Seconds += seconds;
    }

    /// <summary>Contacts and nets, until they agree. What keeps flipping is a buzzing relay: it is noted and left as it stands.</summary>
    private void Nets()
    {
        if (!_fresh && !Disturbed()) return;
        _restless.Clear();
        for (int round = 0; round < MostRounds; round++)
        {
            if (!_electric.Solve(_p, _x, _setting.Feeds))
            {
                Sound = false;
                return;
            }

            Array.Copy(_x, _solvedAt, _x.Length);
            _sensors.Kelvin.CopyTo(_sensorSolvedAt);
            bool asleep = _model.Module is { } program && _x[program.Powered] < 0.5;
            bool changed = Judge(VariableLaw.Coil, VariableLaw.Threshold, VariableLaw.Fuse, VariableLaw.Gap, VariableLaw.Powered, VariableLaw.Graded, VariableLaw.Blocked);
            if (!asleep && _model.Module is { } module && _x[module.Powered] < 0.5) _module!.DropOut(_p, _x);
            if (!changed && !ElectricMoved()) break;
            if (round > MostRounds / 2) NoteRestless();
        }

        (_solved, _fresh) = (true, false);
    }

    private void NoteRestless()
    {
        for (int i = 0; i < _x.Length; i++)
        {
            if (_x[i] != _solvedAt[i]) _restless.Add(i);
        }
    }

    /// <summary>Whether something that the nets feel has moved since they were solved.</summary>
    private bool Disturbed()
    {
        if (!_solved || ElectricMoved()) return true;
        // Nothing but the module looks at a sensor: between its looks they need not be followed.
        if (_module?.Due(Seconds) == false) return Judge(VariableLaw.Threshold);
        ReadOnlySpan<double> now = _sensors.Kelvin;
        for (int i = 0; i < now.Length; i++)
        {
            if (Math.Abs(now[i] - _sensorSolvedAt[i]) > SensorStep) return true;
        }

        return Judge(VariableLaw.Threshold);
    }

    private bool ElectricMoved()
    {
        foreach (int v in _electricReads)
        {
            if (Math.Abs(_x[v] - _solvedAt[v]) > 1e-9) return true;
        }

        return false;
    }

    private void Movers(double seconds)
    {
        for (int i = 0; i < _x.Length; i++)
        {
            Variable v = _model.Variables[i];
            if (v.Law is not (VariableLaw.Servo or VariableLaw.Speed)) continue;
            if (!double.IsNaN(_p[v.Parameter])) _x[i] = _p[v.Parameter];
            else if (v.Law == VariableLaw.Servo) _x[i] = Travelled(v, _x[i], seconds);
            else _x[i] = Follow(_x[i], _laws.Judge(i, v), seconds, _p[v.Parameter + 1]);
        }
    }

    private double Travelled(Variable servo, double position, double seconds)
    {
        double direction = _laws.Direction(servo);
        if (direction == 0) return position;
        double speed = ElectricSolver.MotorSpeed(_p, _model.Electric[servo.Input].Parameter, Math.Abs(_laws.Drive(servo)));
        return Math.Clamp(position + (direction * speed * seconds / _p[servo.Parameter + 4]), 0, 1);
    }

    private static double Follow(double value, double goal, double seconds, double lag) =>
        lag > 0 ? goal + ((value - goal) * Math.Exp(-seconds / lag)) : goal;

    private bool Judge(params ReadOnlySpan<VariableLaw> laws)
    {
        bool changed = false;
        for (int i = 0; i < _x.Length; i++)
        {
            Variable v = _model.Variables[i];
            if (!laws.Contains(v.Law)) continue;
            double value = double.IsNaN(_p[v.Parameter]) ? _laws.Judge(i, v) : _p[v.Parameter];
            if (Math.Abs(value - _x[i]) < 1e-9) continue;
            _x[i] = value;
            changed = true;
        }

        return changed;
    }

    private void Air()
    {
        bool moved = !_airStands;
        foreach (int v in _airReads) moved |= Math.Abs(_x[v] - _airAt[v]) > 1e-3;
        if (!moved) return;
        _airStands = true;
        Sound &= _air.Solve(_p, _x);
        Array.Copy(_x, _airAt, _x.Length);
    }
}
