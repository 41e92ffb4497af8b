using Ventwright.Model.Kernel;
using Ventwright.Physics.Vacuum;

namespace Ventwright.Simulation;

/// <summary>Reads a fixed list of checks off settled units; what the names mean is looked up once. Thread-safe.</summary>
public sealed class Readout
{
    private const double Minute = 60;
    private readonly Simulator _simulator;
    private readonly UnitModel _model;
    private readonly Target[] _targets;
    private readonly (int A, int B)[] _pairs;

    /// <summary>Looks the checks up.</summary>
    /// <param name="simulator">The model's simulator.</param>
    /// <param name="checks">The checks.</param>
    public Readout(Simulator simulator, IReadOnlyList<Observable> checks)
    {
        (_simulator, _model, Checks) = (simulator, simulator.Model, checks);
        var pairs = new List<(int, int)>();
        _targets = [.. checks.Select(c => Find(c, pairs))];
        _pairs = [.. pairs];
    }

    /// <summary>The checks.</summary>
    public IReadOnlyList<Observable> Checks { get; }

    /// <summary>What each check would show in a settled unit.</summary>
    public Shown[] Read(Setting setting, IReadOnlyList<Fault> faults, Settled settled)
    {
        double[] ohms = _pairs.Length == 0 ? [] : _simulator.Ohms(setting, faults, settled.Parameters, _pairs);
        var shown = new Shown[_targets.Length];
        for (int i = 0; i < shown.Length; i++) shown[i] = Read(_targets[i], settled, ohms);
        return shown;
    }

    private Target Find(Observable what, List<(int, int)> pairs)
    {
        int Net(string? name) => name is null ? 0 : Array.IndexOf(_model.Nets, name);
        switch (what.Kind)
        {
            case ObservableKind.Ohms:
                pairs.Add((Net(what.Target), Net(what.Second)));
                return new(what.Kind, pairs.Count - 1, 0, []);
            case ObservableKind.Volts:
                return new(what.Kind, Net(what.Target), Net(what.Second), []);
            case ObservableKind.Vacuum or ObservableKind.Falls:
                return new(what.Kind, Array.IndexOf(_model.Hoses, what.Target), 0, []);
            default:
                return new(what.Kind, _model.PartIndex(what.Target), 0, Readings.WordsOf(_model, what));
        }
    }

    private Shown Read(Target target, Settled settled, double[] ohms)
    {
        int index = target.Index;
        if (target.Kind == ObservableKind.Ohms) return new(ohms[index] > 2e7 ? double.PositiveInfinity : ohms[index], null);
        if (settled.Verdict == Verdict.NotSolved || index < 0 || target.Second < 0) return Shown.Nothing;
        return target.Kind switch
        {
            ObservableKind.Volts => settled.Floating[index] || settled.Floating[target.Second] ? Shown.Nothing : new(settled.Volts[index] - settled.Volts[target.Second], null),
            ObservableKind.Amps => _model.MainBranch[index] >= 0 ? new(Math.Abs(settled.Amps[_model.MainBranch[index]]), null) : Shown.Nothing,
            ObservableKind.Vacuum => new(settled.DepressionPa[index], null),
            ObservableKind.Falls => new(VacuumFall.Pa(_model, settled, index, Minute), null),
            ObservableKind.Loses => new(Loses(settled.Parameters, index), null),
            ObservableKind.Seconds => new(Seconds(settled.Parameters, index), null),
            ObservableKind.Sweep => Sweeps.Look(_model, settled.Parameters, index, Turns(settled.Parameters, index)),
            ObservableKind.Contacts => Contacts.Look(_model, settled.Parameters, index),
            ObservableKind.Sound => Sound(settled, index),
            ObservableKind.Light => Light(settled, index),
            ObservableKind.Airflow => Airflow(settled, index),
            _ => Moved(settled, target),
        };
    }

    private Shown Moved(Settled settled, Target target)
    {
        if (_model.MainVariable[target.Index] < 0) return Shown.Nothing;
        double value = settled.Variables[_model.MainVariable[target.Index]];
        return new(value, Readings.WordFor(target.Kind, target.Words, value));
    }

    private Shown Sound(Settled settled, int part)
    {
        int variable = _model.MainVariable[part];
        if (settled.Restless.Contains(variable)) return new(2, "buzzes");
        bool free = double.IsNaN(settled.Parameters[_model.Variables[variable].Parameter]);
        double value = free ? settled.Variables[variable] : 0;
        return new(value, value > 0.5 ? "clicks" : "silent");
    }

    private Shown Light(Settled settled, int part)
    {
        int branch = _model.MainBranch[part];
        ElectricBranch lamp = _model.Electric[branch];
        double volts = settled.Open[branch] ? 0 : Math.Abs(settled.Volts[lamp.A] - settled.Volts[lamp.B]);
        double share = Math.Pow(volts / settled.Parameters[lamp.Parameter + 1], 2);
        return new(share, Readings.WordFor(ObservableKind.Light, Readings.LightWords, share));
    }

    /// <summary>Air speed in m/s out of the free area, and the word for it.</summary>
    private Shown Airflow(Settled settled, int part)
    {
        int branch = _model.AirBranchOf[part];
        if (branch < 0) return Shown.Nothing;
        double speed = Math.Max(0, settled.AirFlow[branch]) / _model.Parameters[_model.Air[branch].Parameter];
        return new(speed, Readings.WordFor(ObservableKind.Airflow, Readings.AirWords, speed));
    }

    /// <summary>Depression lost in a minute by the part alone on a hand pump, shut off: closed form of the isothermal leak-up (ISO 6358).</summary>
    private double Loses(double[] p, int part)
    {
        double worst = 0;
        foreach (var leaks in _model.Vacuum.Where(b => b.Part == part && b.A == 0 && b.Gate is null).GroupBy(b => b.B))
        {
            double conductance = leaks.Sum(b => p[b.Parameter]);
            if (conductance <= 0) continue;
            double rate = VacuumVolume.RatePerS(conductance, _model.HoseVolumes[leaks.Key]);
            double left = VacuumVolume.LeakUpDepressionPa(Readings.HandPumpPa, rate, p[leaks.First().Parameter + 1], _model.AmbientPa, Minute);
            worst = Math.Max(worst, Readings.HandPumpPa - left);
        }

        return worst;
    }

    /// <summary>Seconds from end to end at rated voltage: travel time over the speed that the motor reaches.</summary>
    private double Seconds(double[] p, int part)
    {
        Variable servo = _model.Variables[_model.MainVariable[part]];
        double volts = p[servo.Parameter + 5], speed = ElectricSolver.MotorSpeed(p, _model.Electric[servo.Input].Parameter, volts);
        bool moves = double.IsNaN(p[servo.Parameter]) && volts >= p[servo.Parameter + 2] && speed > 0.02;
        return moves ? Math.Min(Readings.Never, p[servo.Parameter + 4] / speed) : Readings.Never;
    }

    /// <summary>A servo turns its track if it moves at all; a dial is turned by hand.</summary>
    private bool Turns(double[] p, int part) => _model.MainVariable[part] is not (>= 0 and var main) || _model.Variables[main].Law != VariableLaw.Servo || Seconds(p, part) < Readings.Never;

    private readonly record struct Target(ObservableKind Kind, int Index, int Second, IReadOnlyList<string> Words);
}
