using Ventwright.Model.Kernel;
using Ventwright.Model.Sheet.Text;
using Ventwright.Quantities;

namespace Ventwright.Model.Build;

/// <summary>Compiles the <c>module</c> section: supply, reference, pins with their faults, signals and outputs.</summary>
internal sealed partial class ModuleCompiler
{
    private readonly ModelBuilder _unit;
    private readonly MapReader _keys;
    private readonly PartBuilder _module;
    private readonly int _place;
    private readonly List<string> _signals = [];
    private readonly Dictionary<string, string[]> _words = new(StringComparer.Ordinal);
    private readonly HashSet<string> _conditions = new(StringComparer.Ordinal);
    private readonly List<ModuleInput> _inputs = [];
    private readonly List<ModuleSignal> _rules = [];
    private readonly List<ModuleOutput> _outputs = [];
    private int _ground, _supply, _powered, _referenceNet = -1;

    public ModuleCompiler(ModelBuilder unit, MapReader keys, int part, int place)
    {
        (_unit, _keys, _place) = (unit, keys, place);
        _module = new(unit, part, keys);
    }

    /// <summary>Adds the module to the unit.</summary>
    public void Compile()
    {
        (_supply, _ground) = (_module.Net("supply"), _module.Net("ground"));
        int load = _module.Ohmic("consumption", _supply, _ground, _keys.Quantity("draws", Dimension.Ohm, 120), 0.15);
        _powered = _unit.Variable(
            _module.Id, _module.Index, VariableLaw.Powered, _supply, _ground,
            parameters: [("wakes above", _keys.Quantity("wakes-above", Dimension.Volt, 8)), ("sleeps below", _keys.Quantity("sleeps-below", Dimension.Volt, 6.5))]);
        _unit.MainVariable[_module.Index] = _powered;
        _module.Fault("dead", 0.5, "nothing that the module commands works", PartBuilder.Set(_module.Force(_powered), 0));
        _module.Fault("supply-input-open", 0.15, "nothing works, and it draws nothing", PartBuilder.Set(_module.ElectricParameter(load), double.PositiveInfinity), PartBuilder.Set(_module.Force(_powered), 0));
        if (_keys.Reader("reference") is { } reference) Reference(_module.With(reference));
        if (_keys.Reader("inputs") is { } inputs) Inputs(inputs);
        if (_keys.Map("signals") is { } signals) Signals(signals);
        if (_keys.Map("outputs") is { } outputs) Outputs(outputs);
        _unit.Module = new(
            _module.Index, [.. _signals], [.. _inputs], [.. _rules], [.. _outputs], _ground, _powered, _keys.Quantity("samples", Dimension.Frequency, 5), SetPoint());
    }

    private int SetPoint()
    {
        if (_keys.Text("set-point") is not { } name) return -1;
        int signal = _signals.IndexOf(name);
        if (signal < 0) _module.Unknown("set-point", "signal", name, _signals);
        return signal;
    }

    private void Reference(PartBuilder part)
    {
        _referenceNet = part.Net("pin");
        double volts = part.Keys.Quantity("volts", Dimension.Volt, 5);
        int branch = part.Electric(
            "reference", ElectricLaw.Source, _referenceNet, _ground, 0,
            [("reference voltage", volts), ("reference source resistance", part.Keys.Quantity("source", Dimension.Ohm, 2)), ("reference current limit", 0.1)],
            Gate.Contact(_powered));
        int first = part.ElectricParameter(branch);
        _unit.Tolerances.Add(new(first, part.Keys.Quantity("tolerance", Dimension.Fraction, 0.02), true, part.Index, "reference"));
        part.Fault("reference-dead", 0.3, "all sensors and feedbacks read nothing", PartBuilder.Set(first, 0));
        part.Fault("reference-low", 0.2, "reference volts too low", PartBuilder.Scale(first, 0.8));
        part.Keys.Done();
    }

    private PartBuilder PinPart(string pin, string kind, string name, Mark at, MapReader keys)
    {
        int index = _unit.FindPart(pin);
        if (index < 0)
        {
            index = _unit.Parts.Count;
            _unit.Parts.Add(new(pin, kind, name, _place, at));
        }

        return new(_unit, index, keys);
    }

    private void Inputs(MapReader inputs)
    {
        foreach (SheetEntry entry in inputs.Source.Entries)
        {
            if (ValueReader.Map(entry.Value, entry.Key, _keys.Problems) is not { } map) continue;
            if (_signals.Contains(entry.Key)) _keys.Problems.Error("duplicate-signal", entry.KeyMark, $"signal `{entry.Key}` is there twice");
            var keys = new MapReader(map, _keys.Problems);
            _signals.Add(entry.Key);
            if (keys.Map("pins") is { } pins) WordInput(entry.Key, keys, pins);
            else PinInput(entry.Key, keys, entry.KeyMark);
            double slow = keys.Quantity("slow-rise", Dimension.Second, 0);
            if (slow > 0 && _inputs.Count > 0 && _inputs[^1].Name == entry.Key) _inputs[^1] = _inputs[^1] with { SlowRiseS = slow };
            keys.Done();
        }
    }

    private void WordInput(string name, MapReader keys, SheetMap pins)
    {
        double threshold = keys.Quantity("above", Dimension.Volt, 6);
        List<int> nets = [];
        List<string> words = [];
        List<int> deads = [];
        int first = InputParameters(name, threshold, double.NaN);
        foreach (SheetEntry pin in pins.Entries)
        {
            string word = ValueReader.Text(pin.Value, pin.Key, _keys.Problems) ?? "";
            PartBuilder part = PinPart(pin.Key, "module-input", $"module input {name} {word}", pin.KeyMark, keys);
            nets.Add(part.NetOf(new SheetScalar(pin.KeyMark, pin.Key, pin.KeyMark, false)));
            int down = part.ElectricParameter(part.Ohmic("input", nets[^1], _ground, keys.Quantity("input", Dimension.Ohm, 1e6)));
            int dead = _unit.Parameter($"{pin.Key} dead", 0);
            part.Fault("dead", 0.12, $"the module never sees {word}", PartBuilder.Set(dead, 1));
            part.Fault("leaks-to-ground", 0.08, "pulls its line down", PartBuilder.Set(down, 30));
            words.Add(word);
            deads.Add(dead);
        }

        words.Add(keys.Text("else", true) ?? "");
        _words[name] = [.. words];
        _inputs.Add(new(name, _module.Index, _signals.Count - 1, InputReads.Word, [.. nets], _referenceNet, first, null, [.. words], [.. deads]));
    }

    private int InputParameters(string name, double threshold, double pullUp)
    {
        int first = _unit.Parameter($"module input {name} held at", double.NaN);
        _unit.Parameter($"module input {name} threshold", threshold);
        _unit.Parameter($"module input {name} nominal pull-up", pullUp);
        _unit.Parameter($"module input {name} shift", 0);
        return first;
    }

    private void PinInput(string name, MapReader keys, Mark at)
    {
        if (keys.Scalar("pin", true) is not { } pin) return;
        PartBuilder part = PinPart(pin.Text, "module-input", $"module input {name}", at, keys);
        int net = part.NetOf(pin);
        part.Ohmic("input", net, _ground, keys.Quantity("input", Dimension.Ohm, 1e6));
        (double pullUp, int pullUpTo) = PullUp(part, net);
        double above = keys.Quantity("above", Dimension.Volt, double.NaN);
        int first = InputParameters(name, above, pullUp);
        ThermistorCurve? curve = Sensor(part, pullUpTo);
        InputReads reads = curve is not null ? InputReads.Sensor : !double.IsNaN(above) ? InputReads.Level : Reads(part);
        int reference = reads == InputReads.Fraction ? part.Unit.Net(FractionOf(part)) : pullUpTo;
        if (reads == InputReads.Level) _conditions.Add(name);
        _inputs.Add(new(name, part.Index, _signals.Count - 1, reads, [net], reference, first, curve, [], []));
        part.Fault("dead", 0.25, $"the module sees nothing at {name}", PartBuilder.Set(first + 3, reads is InputReads.Volts or InputReads.Level ? -1e3 : -1));
        if (reads is InputReads.Sensor or InputReads.Fraction) part.Fault("reads-wrong", 0.12, $"the module misjudges {name}", PartBuilder.Set(first + 3, 0.08));
    }

    private static (double Ohms, int To) PullUp(PartBuilder part, int net)
    {
        if (part.Keys.Scalar("pull-up") is not { } text) return (double.NaN, -1);
        string[] halves = text.Text.Split(" to ", StringSplitOptions.TrimEntries);
        string? problem = null;
        if (halves.Length != 2 || !QuantityText.TryParse(halves[0], Dimension.Ohm, out double ohms, out problem))
        {
            part.Keys.Problems.Error("pull-up", text.Mark, problem ?? $"'{text.Text}' is not a pull-up", "write it as `10 kohm to mod.5v`");
            return (1e4, 0);
        }

        int to = part.NetOf(new SheetScalar(text.Mark, halves[1], text.Mark, false));
        int parameter = part.ElectricParameter(part.Ohmic("pull-up", net, to, ohms, 0.01));
        part.Fault("pull-up-open", 0.12, "the pin has no voltage of its own", PartBuilder.Set(parameter, double.PositiveInfinity));
        return (ohms, to);
    }

    private ThermistorCurve? Sensor(PartBuilder part, int pullUpTo)
    {
        if (part.Keys.Scalar("sensor") is not { } sensor) return null;
        if (pullUpTo < 0) part.Keys.Problems.Error("sensor-pull-up", sensor.Mark, $"{part.Id} reads the sensor {sensor.Text} without a `pull-up`");
        if (_unit.SensorCurves.TryGetValue(sensor.Text, out int curve)) return _unit.Curves[curve];
        part.Unknown("sensor", "thermistor", sensor.Text, _unit.SensorCurves.Keys);
        return ThermistorCurve.Beta(1e4, 3900);
    }

    private static InputReads Reads(PartBuilder part)
    {
        if (part.Keys.Scalar("reads", true) is not { } reads) return InputReads.Volts;
        if (reads.Text == "volts") return InputReads.Volts;
        if (reads.Text.StartsWith("fraction of ", StringComparison.Ordinal)) return InputReads.Fraction;
        part.Keys.Problems.Error("input-reads", reads.Mark, $"'{reads.Text}' is not a way to read a pin", "write `volts` or `fraction of NET`, or give `above: 6 V` or a `sensor`");
        return InputReads.Volts;
    }

    private static string FractionOf(PartBuilder part) => part.Keys.Text("reads")?["fraction of ".Length..].Trim() ?? ModelBuilder.Ground;
}
