using Ventwright.Model.Kernel;
using Ventwright.Model.Rules;
using Ventwright.Model.Sheet.Text;
using Ventwright.Quantities;

namespace Ventwright.Model.Build;

/// <content>Signals and outputs.</content>
internal sealed partial class ModuleCompiler
{
    private void Signals(SheetMap signals)
    {
        foreach (SheetEntry entry in signals.Entries)
        {
            if (_signals.Contains(entry.Key)) _keys.Problems.Error("duplicate-signal", entry.KeyMark, $"signal `{entry.Key}` is there twice");
            if (entry.Value is not SheetScalar text)
            {
                _keys.Problems.Error("signal-rule", entry.Value.Mark, $"{entry.Key} needs an expression, this is {entry.Value.Kind}");
                continue;
            }

            (CompiledRule? rule, bool condition) = Rule(text, null);
            _signals.Add(entry.Key);
            if (condition) _conditions.Add(entry.Key);
            if (rule is not null) _rules.Add(new(entry.Key, _signals.Count - 1, rule, text.Text));
        }
    }

    /// <summary>Compiles an expression over the signals that stand so far.</summary>
    /// <param name="text">The expression.</param>
    /// <param name="wantCondition">True or false if it must be a condition or a number; null for either.</param>
    private (CompiledRule? Rule, bool IsCondition) Rule(SheetScalar text, bool? wantCondition)
    {
        Expression? expression = RuleParser.Parse(text.Text, text.TextMark, _keys.Problems);
        if (expression is null) return (null, false);
        int before = _keys.Problems.Count;
        RuleKind? kind = expression.Check(Scope(), _keys.Problems);
        if (kind is null || _keys.Problems.Count > before) return (null, kind == RuleKind.Condition);
        bool condition = kind == RuleKind.Condition;
        if (wantCondition is { } want && want != condition)
        {
            _keys.Problems.Error("rule-kind", text.Mark, want ? $"'{text.Text}' is a number where a condition was expected" : $"'{text.Text}' is a condition where a number was expected");
            return (null, condition);
        }

        return (expression.Compile(name => _signals.IndexOf(name), (signal, word) => Array.IndexOf(_words[signal], word)), condition);
    }

    private RuleScope Scope()
    {
        var scope = new RuleScope();
        foreach (string name in _signals)
        {
            if (_words.TryGetValue(name, out string[]? words)) scope.AddWord(name, words);
            else if (_conditions.Contains(name)) scope.AddCondition(name);
            else scope.AddNumber(name);
        }

        return scope;
    }

    private void Outputs(SheetMap outputs)
    {
        foreach (SheetEntry entry in outputs.Entries)
        {
            if (ValueReader.Map(entry.Value, entry.Key, _keys.Problems) is not { } map) continue;
            var keys = new MapReader(map, _keys.Problems);
            if (keys.Has("seeks")) SeekOutput(entry, keys);
            else if (keys.Has("volts")) VoltsOutput(entry, keys);
            else SwitchOutput(entry, keys);
            keys.Done();
        }
    }

    private CompiledRule? RuleOf(MapReader keys, string key, bool condition, bool required = false) =>
        keys.Scalar(key, required) is { } text ? Rule(text, condition).Rule : null;

    /// <summary>The whole rule of an output in words.</summary>
    private static string Told(MapReader keys, string rule) =>
        rule + (keys.Text("until") is { } until ? $", until {until}" : "") + (keys.Text("waits-for") is { } waits ? $", waits for {waits}" : "");

    private void SwitchOutput(SheetEntry entry, MapReader keys)
    {
        bool sinks = keys.Has("sinks-when");
        string key = sinks ? "sinks-when" : "sources-when";
        if (!sinks && !keys.Has(key))
        {
            _keys.Problems.Error("output-rule", entry.KeyMark, $"output {entry.Key} has no rule", "write one of sinks-when, sources-when, volts, seeks");
            return;
        }

        PartBuilder part = OutputPart(entry, keys, out int net);
        int on = _unit.Variable(entry.Key, part.Index, VariableLaw.Output, _outputs.Count);
        _unit.MainVariable[part.Index] = on;
        int driver = part.ElectricParameter(part.Ohmic("driver", net, sinks ? _ground : _supply, keys.Quantity("ohms", Dimension.Ohm, 1), 0.3, Gate.Contact(on)));
        part.Fault("dead", 0.5, "the module commands, the pin does not follow", PartBuilder.Set(driver, double.PositiveInfinity));
        part.Fault("stuck-on", 0.3, "the pin is driven all the time", PartBuilder.Set(part.Force(on), 1));
        part.Fault("weak", 0.2, "what it drives is weak", PartBuilder.Scale(driver, 40));
        CompiledRule? when = RuleOf(keys, key, true, true), until = RuleOf(keys, "until", true), waits = RuleOf(keys, "waits-for", true);
        double after = keys.Quantity("after", Dimension.Second, 0);
        if (when is not null) _outputs.Add(new(entry.Key, part.Index, OutputKind.Switch, on, when, until, waits, -1, 0, -1, Told(keys, $"on when {keys.Text(key)}"), after, Shift(part, [when, until])));
    }

    private void VoltsOutput(SheetEntry entry, MapReader keys)
    {
        PartBuilder part = OutputPart(entry, keys, out int net);
        int level = _unit.Variable(entry.Key, part.Index, VariableLaw.Output, _outputs.Count);
        _unit.MainVariable[part.Index] = level;
        int branch = part.Electric(
            "analogue output", ElectricLaw.Source, net, _ground, 0,
            [("offset", 0), ("source resistance", keys.Quantity("ohms", Dimension.Ohm, 50)), ("current limit", 0.05)], Gate.Contact(_powered), level);
        int first = part.ElectricParameter(branch);
        _unit.Tolerances.Add(new(first, 0.05, false, part.Index));
        part.Fault("dead", 0.4, "the pin stays at 0 V", PartBuilder.Set(part.Force(level), 0));
        part.Fault("stuck-high", 0.25, "the pin stays at its highest", PartBuilder.Set(part.Force(level), 12));
        CompiledRule? volts = RuleOf(keys, "volts", false, true), waits = RuleOf(keys, "waits-for", true);
        if (volts is not null)
            _outputs.Add(new(entry.Key, part.Index, OutputKind.Volts, level, volts, null, waits, -1, 0, -1, Told(keys, $"volts {keys.Text("volts")}"), ShiftParameter: Shift(part, [volts])));
    }

    /// <summary>An output with a threshold can have it off by a quarter either way (common practice, no source).</summary>
    private int Shift(PartBuilder part, ReadOnlySpan<CompiledRule?> rules)
    {
        bool has = false;
        foreach (CompiledRule? rule in rules) has |= rule?.HasThreshold == true;
        if (!has) return -1;
        int shift = _unit.Parameter($"{part.Id} thresholds off by", 0);
        part.Fault("threshold-shifted@far", 0.08, "changes later than it should", PartBuilder.Set(shift, 0.25));
        part.Fault("threshold-shifted@near", 0.08, "changes earlier than it should", PartBuilder.Set(shift, -0.25));
        return shift;
    }

    private void SeekOutput(SheetEntry entry, MapReader keys)
    {
        List<SheetScalar> pins = keys.Scalars("pins", true);
        int servo = _unit.FindVariable(entry.Key);
        if (servo < 0 || _unit.Variables[servo].Law != VariableLaw.Servo)
        {
            _module.Unknown("outputs", "servo", entry.Key, _unit.Variables.Where(v => v.Law == VariableLaw.Servo).Select(v => v.Name));
            return;
        }

        if (pins.Count != 2)
        {
            _keys.Problems.Error("servo-pins", keys.Mark, $"{entry.Key} is driven by two pins, this names {pins.Count}", "write pins: [pin, pin]");
            return;
        }

        string reads = keys.Text("reads", true) ?? "";
        int signal = _signals.IndexOf(reads);
        if (signal < 0) _module.Unknown("outputs", "signal", reads, _signals);
        double deadBand = keys.Number("dead-band", 0.02), ohms = keys.Quantity("ohms", Dimension.Ohm, 1);
        PartBuilder first = PinPart(pins[0].Text, "module-output", $"module drive of {entry.Key}, first pin", pins[0].Mark, keys);
        PartBuilder second = PinPart(pins[1].Text, "module-output", $"module drive of {entry.Key}, second pin", pins[1].Mark, keys);
        int drive = _unit.Variable(entry.Key + ".drive", first.Index, VariableLaw.Output, _outputs.Count);
        Half(first, first.NetOf(pins[0]), drive, 1, ohms, entry.Key);
        Half(second, second.NetOf(pins[1]), drive, -1, ohms, entry.Key);
        CompiledRule? seeks = RuleOf(keys, "seeks", false, true), waits = RuleOf(keys, "waits-for", true);
        if (seeks is not null) _outputs.Add(new(entry.Key, first.Index, OutputKind.Seek, drive, seeks, null, waits, signal, deadBand, servo, Told(keys, $"drives the servo toward {keys.Text("seeks")}")));
    }

    /// <summary>Half a bridge: high when the drive has the given sign, else low; 2 stands for "module asleep, pin free".</summary>
    private void Half(PartBuilder part, int net, int drive, int sign, double ohms, string servo)
    {
        double[] drives = [-1, 0, 1, 2];
        double[] high = sign > 0 ? [0, 0, 1, 0] : [1, 0, 0, 0], low = sign > 0 ? [1, 1, 0, 0] : [0, 1, 1, 0];
        int up = part.ElectricParameter(part.Ohmic("high side", net, _supply, ohms, 0.3, new Gate(drive, GateMode.Conduct, drives, high)));
        int down = part.ElectricParameter(part.Ohmic("low side", net, _ground, ohms, 0.3, new Gate(drive, GateMode.Conduct, drives, low)));
        string way = sign > 0 ? "up" : "down", other = sign > 0 ? "down" : "up";
        part.Fault("high-side-dead", 0.3, $"{servo} does not run {way}", PartBuilder.Set(up, double.PositiveInfinity));
        part.Fault("low-side-dead", 0.3, $"{servo} does not run {other}", PartBuilder.Set(down, double.PositiveInfinity));
    }

    private PartBuilder OutputPart(SheetEntry entry, MapReader keys, out int net)
    {
        PartBuilder part = PinPart(entry.Key, "module-output", $"module output {entry.Key}", entry.KeyMark, keys);
        net = part.NetOf(new SheetScalar(entry.KeyMark, entry.Key, entry.KeyMark, false));
        return part;
    }
}
