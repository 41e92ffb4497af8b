using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Bench.SlowDrive;

/// <summary>Something that the person reports in each turn, because the car needs it.</summary>
/// <param name="What">What is looked at: volts of a servo's feedback, volts over a blower, whether the clutch has clicked in.</param>
/// <param name="Part">Index of the part that it stands for.</param>
/// <param name="Text">What to look at, in words.</param>
public sealed record SlowLook(Observable What, int Part, string Text);

/// <summary>Finds what has to be reported of a unit, and turns it into where its parts stand.</summary>
internal sealed class SlowLooks
{
    private const int Grid = 20, Halvings = 12;
    private readonly Simulator _simulator;
    private readonly UnitModel _model;

    public SlowLooks(Simulator simulator)
    {
        (_simulator, _model) = (simulator, simulator.Model);
        All = [.. Servos(), .. Blowers(), .. Clutches()];
    }

    /// <summary>What is reported.</summary>
    public IReadOnlyList<SlowLook> All { get; }

    /// <summary>The word of a setting that holds a part where it was reported.</summary>
    /// <param name="look">What was looked at.</param>
    /// <param name="seen">What was seen: a number in SI, or a word.</param>
    /// <param name="setting">The setting in which it was seen.</param>
    public (string Name, string Value) Hold(SlowLook look, Shown seen, Setting setting)
    {
        double at = look.What.Kind == ObservableKind.Sound ? (seen.Word == "clicks" ? 1 : 0)
            : _model.Variables[_model.MainVariable[look.Part]].Law == VariableLaw.Speed ? Speed(look, seen) : Position(look, seen.Value, setting);
        return ($"stand-in {_model.Parts[look.Part].Id}", at.ToString("0.####", System.Globalization.CultureInfo.InvariantCulture));
    }

    private IEnumerable<SlowLook> Servos()
    {
        foreach (ModuleOutput output in (_model.Module?.Outputs ?? []).Where(o => o.Kind == OutputKind.Seek))
        {
            int part = _model.Variables[output.Servo].Part;
            ModuleInput? input = Array.Find(_model.Module!.Inputs, i => i.Signal == output.Reads);
            if (input is not null) yield return new(new(ObservableKind.Volts, _model.Nets[input.Pins[0]]), part, $"feedback of {_model.Parts[part].Name}");
        }
    }

    private IEnumerable<SlowLook> Blowers()
    {
        for (int part = 0; part < _model.Parts.Length; part++)
        {
            if (_model.Parts[part].Kind != "blower" || _model.MainBranch[part] < 0) continue;
            ElectricBranch motor = _model.Electric[_model.MainBranch[part]];
            yield return new(new(ObservableKind.Volts, _model.Nets[motor.A], motor.B == 0 ? null : _model.Nets[motor.B]), part, $"volts over {_model.Parts[part].Name}");
        }
    }

    private IEnumerable<SlowLook> Clutches() =>
        _model.Parts.Index().Where(p => p.Item.Kind == "clutch-coil" && _model.MainVariable[p.Index] >= 0)
            .Select(p => new SlowLook(new(ObservableKind.Sound, p.Item.Id), p.Index, $"whether {p.Item.Name} has clicked in"));

    private double Speed(SlowLook look, Shown seen) =>
        ElectricSolver.MotorSpeed(_model.Parameters, _model.Electric[_model.MainBranch[look.Part]].Parameter, Math.Abs(double.IsFinite(seen.Value) ? seen.Value : 0));

    /// <summary>The position at which the feedback shows the volts: the nearest of a grid, then halved. What cannot be reached is held at the nearest.</summary>
    private double Position(SlowLook look, double volts, Setting setting)
    {
        if (!double.IsFinite(volts)) return _model.Parameters[_model.Variables[_model.MainVariable[look.Part]].Parameter + 3];
        double best = Enumerable.Range(0, Grid + 1).Select(i => i / (double)Grid).MinBy(x => Miss(look, setting, x, volts)), step = 0.5 / Grid;
        for (int i = 0; i < Halvings; i++, step /= 2)
        {
            double down = Math.Max(0, best - step), up = Math.Min(1, best + step);
            best = new[] { best, down, up }.MinBy(x => Miss(look, setting, x, volts));
        }

        return best;
    }

    private double Miss(SlowLook look, Setting setting, double position, double volts)
    {
        string id = _model.Parts[look.Part].Id;
        (string, string)[] words = [.. setting.Words.Where(w => !Setting.IsAfter(w.Key)).Select(w => (w.Key, w.Value)), ($"stand-in {id}", position.ToString("0.######", System.Globalization.CultureInfo.InvariantCulture))];
        Setting held = Setting.TryMake(_model, words, out _)!;
        Shown shown = Readings.Read(_simulator, held, [], _simulator.Settle(held, []), look.What);
        return shown.Unsteady ? double.PositiveInfinity : Math.Abs(shown.Value - volts);
    }
}
