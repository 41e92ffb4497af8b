using Ventwright.Model.Kernel;
using Ventwright.Quantities;
using Ventwright.Simulation;

namespace Ventwright.Bench.Sensors;

/// <summary>What a sensor that reads wrong changes.</summary>
public enum ConsequenceKind
{
    /// <summary>A temperature that the module holds comes out at another place.</summary>
    Regulation,

    /// <summary>Something switches at another temperature.</summary>
    Switching,
}

/// <summary>One thing that a sensor which reads wrong changes, found on the settled model.</summary>
/// <param name="Kind">What.</param>
/// <param name="Set">The setting in which it was found, as name and text.</param>
/// <param name="Part">Id of the part that switches, or of the output that follows.</param>
/// <param name="Name">Its name in words.</param>
/// <param name="Condition">The condition whose temperature is meant.</param>
/// <param name="SwitchesOn">Whether it switches on (with <see cref="ConsequenceKind.Switching"/>).</param>
/// <param name="Rising">Whether it does so as the temperature rises.</param>
/// <param name="SoundKelvin">Temperature with a sound sensor, K.</param>
/// <param name="ActualKelvin">True temperature at which the same happens with this sensor, K; NaN when no temperature brings it about.</param>
/// <param name="Also">Ids of further parts that switch the same way at the same temperature.</param>
public sealed record SensorConsequence(
    ConsequenceKind Kind, IReadOnlyList<(string Name, string Value)> Set, string Part, string Name, string Condition, bool SwitchesOn, bool Rising, double SoundKelvin, double ActualKelvin,
    IReadOnlyList<string> Also)
{
    /// <summary>How far off, K; positive is warmer than with a sound sensor.</summary>
    public double ShiftK => ActualKelvin - SoundKelvin;

    /// <summary>It in plain words.</summary>
    public string Say(UnitSystem units)
    {
        string sound = ControlPoint.Degrees(SoundKelvin, units), actual = ControlPoint.Degrees(ActualKelvin, units), where = ControlPoint.Say(Set);
        string who = Name == Part ? Part : $"{Name} ({Part})";
        if (Kind == ConsequenceKind.Switching)
        {
            string with = Also.Count == 0 ? $"{who} switches" : $"{who} and {string.Join(", ", Also)} switch";
            string does = $"{with} {(SwitchesOn ? "on" : "off")} when it gets {(Rising ? "warmer" : "colder")} than";
            return double.IsNaN(ActualKelvin) ? $"{does} {sound} with a sound sensor, never with this one ({where})" : $"{does} {actual} instead of {sound} ({Condition}; {where})";
        }

        if (double.IsNaN(ActualKelvin)) return $"no temperature of {Condition} makes the module ask {who} for what it asks for at {sound} with a sound sensor ({where})";
        string by = ControlPoint.Kelvins(ShiftK, units), side = ShiftK < 0 ? "cold" : "warm";
        return $"automatic control would settle {Condition} {by} {side}: the module asks {who} at {actual} for what it asks for at {sound} with a sound sensor ({where})";
    }
}

/// <summary>
/// Finds what a sensor that reads wrong changes, on the settled model alone. Switching: the resistance in the sensor's place is moved up and down, and each
/// change of a coil or switched output is narrowed down; the true temperature is where this sensor has that resistance. Regulation: of the module's
/// outputs without steps the one that follows, and of the temperatures the module reads the one that it answers to most; that temperature is moved
/// until the output is after the same as with a sound sensor.
/// </summary>
internal sealed class ConsequenceSearch(Simulator simulator, SensorPart sensor, IReadOnlyList<(string Name, string Value)> held)
{
    private const int Steps = 24;
    private const double NarrowK = 0.005, ReachK = 60;
    private readonly UnitModel _model = simulator.Model;

    /// <summary>Everything that differs by at least a twentieth of a kelvin.</summary>
    /// <param name="ohmsAt">Resistance of the sensor in question at a true temperature in K of what it should feel.</param>
    /// <param name="lowKelvin">Least temperature to look at, K.</param>
    /// <param name="highKelvin">Highest, K.</param>
    public IReadOnlyList<SensorConsequence> Find(Func<double, double> ohmsAt, double lowKelvin, double highKelvin)
    {
        var found = new List<SensorConsequence>();
        if (Regulation(ohmsAt) is { } regulation) found.Add(regulation);
        foreach (IReadOnlyList<(string Name, string Value)> set in ControlPoint.Settings(_model, held))
        {
            // What a part does is told once, in the first setting in which it does it: elsewhere it is off by as much.
            foreach (SensorConsequence one in Switching(new(simulator, sensor, set), ohmsAt, lowKelvin, highKelvin))
            {
                if (!found.Exists(f => (f.Part == one.Part || f.Also.Contains(one.Part)) && f.SwitchesOn == one.SwitchesOn && f.Rising == one.Rising)) Gather(found, one);
            }
        }

        return [.. found.Where(f => !(Math.Abs(f.ShiftK) < 0.05))];
    }

    /// <summary>Adds one, to another that switches with it if there is such.</summary>
    private static void Gather(List<SensorConsequence> found, SensorConsequence one)
    {
        int with = found.FindIndex(f => f.Kind == one.Kind && f.SwitchesOn == one.SwitchesOn && f.Rising == one.Rising && ReferenceEquals(f.Set, one.Set) && Math.Abs(f.SoundKelvin - one.SoundKelvin) < 0.02);
        if (with < 0) found.Add(one);
        else found[with] = found[with] with { Also = [.. found[with].Also, one.Part] };
    }

    /// <summary>The temperature that the module holds, if this sensor has a say in it.</summary>
    public SensorConsequence? Regulation(Func<double, double> ohmsAt)
    {
        if (_model.Module is not { } module) return null;
        ModuleOutput[] smooth = [.. module.Outputs.Where(o => o.Kind == OutputKind.Seek), .. module.Outputs.Where(o => o.Kind == OutputKind.Volts)];
        foreach (ModuleOutput output in smooth)
        {
            foreach (IReadOnlyList<(string Name, string Value)> set in ControlPoint.Settings(_model, held))
            {
                var point = new ControlPoint(simulator, sensor, set);
                if (Held(point, output) is { } regulated) return Shifted(point, output, regulated, ohmsAt);
            }
        }

        return null;
    }

    /// <summary>Of the temperatures that the module reads the one that the output answers to most; null when the sensor itself does nothing to it.</summary>
    private SensorPart? Held(ControlPoint point, ModuleOutput output)
    {
        double here = sensor.Curve.Ohms(sensor.UsualKelvin), middle = point.Wanted(output, here);
        bool Moves(double a) => Math.Abs(a - middle) > 1e-6;
        // Both ways: at the end of a clamp or on a flat piece of a table nothing can be told.
        if (!Moves(point.Wanted(output, sensor.Curve.Ohms(sensor.UsualKelvin + 0.5))) || !Moves(point.Wanted(output, sensor.Curve.Ohms(sensor.UsualKelvin - 0.5)))) return null;
        var answers = SensorPart.All(_model).Select(id => SensorPart.TryFind(_model, id, out _)!).Where(s => s.Signal >= 0)
            .Select(s => (Sensor: s, Effect: Math.Abs(point.Wanted(output, s.Id == sensor.Id ? s.Curve.Ohms(s.UsualKelvin + 0.5) : here, ControlPoint.Word(s.Condition, s.UsualKelvin + 0.5)) - middle)));
        return answers.MaxBy(a => a.Effect).Sensor;
    }

    private SensorConsequence Shifted(ControlPoint point, ModuleOutput output, SensorPart regulated, Func<double, double> ohmsAt)
    {
        bool own = regulated.Condition == sensor.Condition;
        double usual = regulated.UsualKelvin, elsewhere = ohmsAt(sensor.UsualKelvin);
        double sound = point.Wanted(output, sensor.Curve.Ohms(sensor.UsualKelvin));
        double Miss(double kelvin) => point.Wanted(output, own ? ohmsAt(kelvin) : elsewhere, ControlPoint.Word(regulated.Condition, kelvin)) - sound;
        double actual = Root(Miss, usual);
        return new(ConsequenceKind.Regulation, point.Set, output.Name, NameOf(output), regulated.Condition, false, false, usual, actual, []);
    }

    private string NameOf(ModuleOutput output) => output.Servo >= 0 ? _model.Parts[_model.Variables[output.Servo].Part].Name : _model.Parts[output.Part].Name;

    /// <summary>Temperature where the miss is zero: outward from a start until the sign changes, then halved; NaN when it never does.</summary>
    private static double Root(Func<double, double> miss, double start)
    {
        double at = miss(start);
        if (Math.Abs(at) < 1e-9) return start;
        for (double reach = 1; reach <= ReachK; reach *= 1.6)
        {
            foreach (double far in (double[])[start - reach, start + reach])
            {
                double there = miss(far);
                if (!double.IsNaN(there) && Math.Sign(there) != Math.Sign(at)) return Halved(miss, start, far, Math.Sign(at));
            }
        }

        return double.NaN;
    }

    private static double Halved(Func<double, double> miss, double near, double far, int nearSign)
    {
        while (Math.Abs(far - near) > NarrowK)
        {
            double middle = (near + far) / 2;
            if (Math.Sign(miss(middle)) == nearSign) near = middle;
            else far = middle;
        }

        return (near + far) / 2;
    }

    private IEnumerable<SensorConsequence> Switching(ControlPoint point, Func<double, double> ohmsAt, double low, double high)
    {
        double[] kelvins = [.. Enumerable.Range(0, Steps + 1).Select(i => low + ((high - low) * i / Steps))];
        // A few looks first: a setting in which nothing answers to the sensor is left at once.
        string[] looks = [.. kelvins.Where((_, i) => i % 6 == 0).Select(k => States(point.At(sensor.Curve.Ohms(k), [])))];
        if (looks.Distinct(StringComparer.Ordinal).Count() < 2) yield break;
        foreach (bool rising in (bool[])[true, false])
        {
            double[] path = rising ? kelvins : [.. kelvins.Reverse()];
            Settled? before = point.At(sensor.Curve.Ohms(path[0]), []);
            for (int i = 1; i < path.Length && before is not null; i++)
            {
                Settled? after = point.At(sensor.Curve.Ohms(path[i]), [], before);
                foreach (int variable in after is null ? [] : Changed(before, after))
                {
                    double at = Narrow(point, variable, before, path[i - 1], path[i]);
                    yield return Switched(point, variable, after!.Variables[variable] > 0.5, rising, at, ohmsAt);
                }

                before = after;
            }
        }
    }

    private double Narrow(ControlPoint point, int variable, Settled before, double from, double to)
    {
        double was = before.Variables[variable];
        while (Math.Abs(to - from) > NarrowK)
        {
            double middle = (from + to) / 2;
            if (point.At(sensor.Curve.Ohms(middle), [], before) is { } rest && Math.Abs(rest.Variables[variable] - was) > 0.5) to = middle;
            else from = middle;
        }

        return (from + to) / 2;
    }

    private SensorConsequence Switched(ControlPoint point, int variable, bool on, bool rising, double kelvin, Func<double, double> ohmsAt)
    {
        PartInfo part = _model.Parts[_model.Variables[variable].Part];
        double ohms = Math.Log(sensor.Curve.Ohms(kelvin));
        double actual = Root(k => Math.Log(ohmsAt(k)) - ohms, kelvin);
        return new(ConsequenceKind.Switching, point.Set, part.Id, part.Name, sensor.Condition, on, rising, kelvin, actual, []);
    }

    /// <summary>
    /// Coils and switched outputs that changed. Of a chain that changes together (output, relay, clutch) the last coil is named, since that is what a person
    /// sees and hears; where none of it has a coil, the output.
    /// </summary>
    private IEnumerable<int> Changed(Settled before, Settled after)
    {
        int[] all = [.. Enumerable.Range(0, _model.Variables.Length).Where(i => IsSwitch(_model.Variables[i]) && Math.Abs(before.Variables[i] - after.Variables[i]) > 0.5)];
        int[] coils = [.. all.Where(i => _model.Variables[i].Law == VariableLaw.Coil)];
        return coils.Length == 0 ? all : coils.Where(i => !Feeds(coils, i));
    }

    /// <summary>Whether a relay's contact only makes another of the coils that changed with it move.</summary>
    private bool Feeds(int[] coils, int variable)
    {
        string kind = _model.Parts[_model.Variables[variable].Part].Kind;
        return kind == "relay" && Array.Exists(coils, c => _model.Parts[_model.Variables[c].Part].Kind == "clutch-coil");
    }

    private string States(Settled? rest) =>
        rest is null ? "" : string.Concat(_model.Variables.Select((v, i) => IsSwitch(v) ? (rest.Variables[i] > 0.5 ? '1' : '0') : ' '));

    private bool IsSwitch(Variable v) =>
        v.Part >= 0 && (v.Law == VariableLaw.Coil || (v.Law == VariableLaw.Output && _model.Module!.Outputs[v.Input].Kind == OutputKind.Switch));
}
