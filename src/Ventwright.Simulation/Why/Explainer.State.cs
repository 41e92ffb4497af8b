using Ventwright.Model.Kernel;
using Ventwright.Quantities;

namespace Ventwright.Simulation.Why;

/// <content>States: flaps, movers, coils, motors, controls and conditions.</content>
internal sealed partial class Explainer
{
    private WhyStep State(int index)
    {
        Variable v = _model.Variables[index];
        if (v.Law == VariableLaw.Output) return Output(index);
        if (!_told.Add(("state", index))) return Above(v.Name, "told above");
        if (v.Law == VariableLaw.Given) return Given(index);
        // A stripped gear, a seized flap or a stand-in holds the state: nothing else made it.
        bool held = !double.IsNaN(_settled.Parameters[v.Parameter]);
        string says = held ? "held, whatever moves it" : Says(index);
        return Step(WhyKind.State, v.Name, v.Part, says, Now(index), Formulas.Of(v.Law), Own(v), () => held ? None : Makes(v));
    }

    private static (int First, int Count) Own(Variable v) => (v.Parameter, v.Law switch
    {
        VariableLaw.Threshold => 4,
        VariableLaw.Servo => 7,
        VariableLaw.Fuse => 2,
        VariableLaw.Coil or VariableLaw.Travel or VariableLaw.Linkage or VariableLaw.Graded or VariableLaw.Gap or VariableLaw.Powered => 3,
        _ => 1,
    });

    private WhyStep Given(int index)
    {
        Variable v = _model.Variables[index];
        double value = _settled.Variables[index];
        if (Array.Find(_model.Conditions, c => c.Variable == index) is { } condition)
        {
            (int, int) known = condition.Dimension == Dimension.Temperature && _model.AmbientOffset >= 0 ? (_model.AmbientOffset, 1) : Own(v);
            return Step(WhyKind.Setting, v.Name, -1, "condition", [new(v.Name, value, condition.Dimension)], null, known, () => None);
        }

        Control? control = Array.Find(_model.Controls, c => c.Variable == index);
        string? word = control is { Positions.Length: > 0 } && value >= 0 && value < control.Positions.Length ? control.Positions[(int)value] : null;
        return Step(WhyKind.Setting, v.Name, -1, "control", [new(v.Name, value, Dimension.None, word)], null, Own(v), () => None);
    }

    private IReadOnlyList<WhyValue> Now(int index)
    {
        Variable v = _model.Variables[index];
        double value = _settled.Variables[index];
        bool main = v.Part >= 0 && _model.MainVariable[v.Part] == index;
        string? word = v.Law switch
        {
            VariableLaw.Coil => _settled.Restless.Contains(index) ? "buzzes" : value > 0.5 ? "holds" : "rests",
            VariableLaw.Powered => value > 0.5 ? "awake" : "asleep",
            VariableLaw.Fuse => value > 0.5 ? "whole" : "blown",
            VariableLaw.Threshold => value > 0.5 ? "above" : "below",
            VariableLaw.Blocked => value > 0.5 ? "blocked" : "free",
            VariableLaw.Gap => value > 0.5 ? "in contact" : "no contact",
            _ => null,
        };
        if (word is not null) return [new("state", value, Dimension.None, word)];
        if (v.Law == VariableLaw.Graded) return [new("depression", value, Dimension.Pressure)];
        Observable asked = new(v.Law == VariableLaw.Speed ? ObservableKind.Motion : ObservableKind.Position, main ? _model.Parts[v.Part].Id : "");
        return [new(v.Law == VariableLaw.Speed ? "speed" : "position", value, Dimension.Fraction, main ? Readings.WordAt(_model, asked, value) : null)];
    }

    /// <summary>What a state is judged by, in words with its limits.</summary>
    private string Says(int index)
    {
        Variable v = _model.Variables[index];
        double[] p = _settled.Parameters;
        string Limits(string low, string high, Dimension dimension) =>
            $"{low} {QuantityText.Format(p[v.Parameter + 1], dimension, UnitSystem.Metric)}, {high} {QuantityText.Format(p[v.Parameter + 2], dimension, UnitSystem.Metric)}";
        return v.Law switch
        {
            VariableLaw.Coil => Limits("pull-in", "drop-out", Dimension.Volt),
            VariableLaw.Powered => Limits("wakes above", "sleeps below", Dimension.Volt),
            VariableLaw.Travel => Limits("starts", "full", Dimension.Pressure),
            VariableLaw.Threshold when Array.Find(_model.Conditions, c => c.Variable == v.Input) is { } felt => Limits("lower", "upper", felt.Dimension),
            VariableLaw.Linkage when v.Input < 0 => "nothing moves it",
            _ => "",
        };
    }

    private IEnumerable<WhyStep> Makes(Variable v) => v.Law switch
    {
        VariableLaw.Coil or VariableLaw.Speed or VariableLaw.Graded => Through(v.Input),
        VariableLaw.Fuse => Blew(v.Input),
        VariableLaw.Threshold or VariableLaw.Linkage or VariableLaw.Blocked or VariableLaw.Gap => v.Input < 0 ? [] : [State(v.Input)],
        VariableLaw.Travel => v.Second < 0 ? Hose(v.Input) : [.. Hose(v.Input), .. Hose(v.Second)],
        VariableLaw.Servo => Servo(v),
        VariableLaw.Powered => [.. Net(v.Input), .. Net(v.Second)],
        _ => None,
    };

    /// <summary>A servo stands where the module stopped it; only while it is driven does its circuit matter, or where a fault acts on it.</summary>
    private IEnumerable<WhyStep> Servo(Variable v)
    {
        ModuleOutput? output = Array.Find(_model.Module?.Outputs ?? [], o => o.Servo >= 0 && _model.Variables[o.Servo] == v);
        if (output is not null) yield return Output(output.Variable);
        bool driven = output is null || _settled.Variables[output.Variable] is 1 or -1;
        if (driven)
        {
            foreach (WhyStep step in Through(v.Input)) yield return step;
        }
        else yield return BranchOnce(v.Input);
    }
}
