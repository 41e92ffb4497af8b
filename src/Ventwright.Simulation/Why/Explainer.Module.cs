using Ventwright.Model.Kernel;
using Ventwright.Quantities;

namespace Ventwright.Simulation.Why;

/// <content>The module: an output's rule, the signals that it reads, the pins that they are read from.</content>
internal sealed partial class Explainer
{
    private WhyStep Output(int variable)
    {
        Variable v = _model.Variables[variable];
        if (!_told.Add(("state", variable))) return Above(v.Name, "told above");
        ModuleProgram module = _model.Module!;
        ModuleOutput output = module.Outputs[v.Input];
        double value = _settled.Variables[variable];
        bool asleep = _settled.Variables[module.Powered] < 0.5, held = !double.IsNaN(_settled.Parameters[v.Parameter]);
        WhyValue now = output.Kind switch
        {
            OutputKind.Switch => new("output", value, Dimension.None, value > 0.5 ? "on" : "off"),
            OutputKind.Volts => new("output", value, Dimension.Volt),
            _ => new("drives", value, Dimension.None, value switch { 1 => "up", -1 => "down", 0 => "at rest", _ => "free" }),
        };
        string says = held ? "held, whatever the rule says" : asleep ? "the module is asleep" : output.Text;
        IEnumerable<WhyStep> From() => held ? None : asleep ? [State(module.Powered)] : Reads(output).Select(Signal);
        return Step(WhyKind.Output, output.Name, output.Part, says, [now, .. Seeks(output, asleep)], Formulas.Rule, Own(v), From);
    }

    private IEnumerable<WhyValue> Seeks(ModuleOutput output, bool asleep)
    {
        if (output.Kind != OutputKind.Seek || asleep) yield break;
        yield return new("wants", output.Value.Evaluate(_settled.Signals), Dimension.Fraction);
        yield return new("reads", _settled.Signals[output.Reads], Dimension.Fraction);
    }

    private static IEnumerable<int> Reads(ModuleOutput output)
    {
        IEnumerable<int> signals = output.Value.Reads.Concat(output.Until?.Reads ?? []).Concat(output.WaitsFor?.Reads ?? []);
        return (output.Reads >= 0 ? signals.Append(output.Reads) : signals).Distinct();
    }

    private WhyStep Signal(int signal)
    {
        ModuleProgram module = _model.Module!;
        string name = module.SignalNames[signal];
        if (!_told.Add(("signal", signal))) return Above(name, "told above");
        double value = _settled.Signals[signal];
        if (Array.Find(module.Inputs, i => i.Signal == signal) is { } input) return Input(input, value);
        ModuleSignal rule = Array.Find(module.Signals, s => s.Signal == signal)!;
        WhyValue now = new(name, value, Dimension.None, rule.Rule.IsCondition ? value > 0.5 ? "yes" : "no" : null);
        return Step(WhyKind.Signal, name, -1, rule.Text, [now], Formulas.Rule, default, () => rule.Rule.Reads.Select(Signal));
    }

    private WhyStep Input(ModuleInput input, double value)
    {
        WhyValue now = input.Reads switch
        {
            InputReads.Sensor => new(input.Name, value + 273.15, Dimension.Temperature),
            InputReads.Fraction => new(input.Name, value, Dimension.Fraction),
            InputReads.Volts => new(input.Name, value, Dimension.Volt),
            InputReads.Level => new(input.Name, value, Dimension.None, value > 0.5 ? "yes" : "no"),
            _ => new(input.Name, value, Dimension.None, input.Words[(int)value]),
        };
        int[] pins = Pins(input, value);
        IEnumerable<WhyStep> From() => Array.ConvertAll(pins, Net).SelectMany(n => n);
        string? fault = input.DeadParameters.Select(d => FaultAt((d, 1))).FirstOrDefault(f => f is not null);
        return Step(WhyKind.Signal, input.Name, input.Part, "read from its pin", [now, .. pins.Select(End)], Formulas.Of(input.Reads), (input.Parameter, 4), From, fault);
    }

    /// <summary>The pins that the value is owed to: that of the word, or for "none of them" those on which a fault may act.</summary>
    private static int[] Pins(ModuleInput input, double value)
    {
        if (input.Reads == InputReads.Word) return value < input.Pins.Length ? [input.Pins[(int)value]] : input.Pins;
        return input.Reads is InputReads.Fraction or InputReads.Sensor && input.Reference > 0 ? [input.Pins[0], input.Reference] : input.Pins;
    }
}
