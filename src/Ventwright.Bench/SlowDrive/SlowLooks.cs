using Ventwright.Bench.Car;
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
        _model.ClutchCoils.Select(p => new SlowLook(new(ObservableKind.Sound, _model.Parts[p].Id), p, $"whether {_model.Parts[p].Name} has clicked in"));

    private double Speed(SlowLook look, Shown seen) =>
        ElectricSolver.MotorSpeed(_model.Parameters, _model.Electric[_model.MainBranch[look.Part]].Parameter, Math.Abs(double.IsFinite(seen.Value) ? seen.Value : 0));

    /// <summary>The position at which the feedback shows the volts; where it never moved if it shows nothing.</summary>
    private double Position(SlowLook look, double volts, Setting setting)
    {
        double position = double.IsFinite(volts) ? FeedbackTable.Of(_simulator, look, setting).Position(volts) : double.NaN;
        return double.IsNaN(position) ? _model.Parameters[_model.Variables[_model.MainVariable[look.Part]].Parameter + 3] : position;
    }
}
