using Ventwright.Model.Build;
using Ventwright.Model.Kernel;
using Ventwright.Model.Sheet.Text;
using Ventwright.Quantities;

namespace Ventwright.Model.Parts;

internal sealed class Switch : PartKind
{
    public override string Key => "switch";

    public override string Summary => "switch worked by a control: contacts by position, or by the value of a dial";

    public override IReadOnlyList<KeySpec> Keys =>
    [
        new(Key, "name", "the control that works it", true), new("joins", "map", "position: [[net, net], ...], or none"),
        new("closes", "list", "on a dial: [[net, net], ...]"), new("above", "number", "dial value above which it closes"),
        new("below", "number", "dial value below which it closes"), Size("ohms", Dimension.Ohm, "contact resistance, 20 mohm"),
    ];

    public override void Build(PartBuilder part)
    {
        double ohms = part.Keys.Quantity("ohms", Dimension.Ohm, 20e-3);
        if (part.Control(Key) is not { } control) return;
        if (control.Positions.Length == 0) BuildDial(part, control, ohms);
        else BuildPositions(part, control, ohms);
    }

    private static void BuildDial(PartBuilder part, Control control, double ohms)
    {
        double above = part.Keys.Number("above", double.NaN), below = part.Keys.Number("below", double.NaN);
        if (double.IsNaN(above) == double.IsNaN(below))
        {
            part.Keys.Problems.Error("switch-dial", part.Keys.Mark, $"{part.Id} is worked by the dial {control.Name}, so it needs either `above` or `below`");
            return;
        }

        double edge = double.IsNaN(above) ? below : above, width = (control.High - control.Low) * 1e-6;
        double[] outputs = double.IsNaN(above) ? [1, 0] : [0, 1];
        var gate = new Gate(control.Variable, GateMode.Conduct, [edge - width, edge + width], outputs);
        foreach ((int a, int b) in part.PairsOf(part.Keys.List("closes", true))) Contact(part, a, b, ohms, gate, "");
    }

    private static void BuildPositions(PartBuilder part, Control control, double ohms)
    {
        if (part.Keys.Map("joins", true) is not { } joins) return;
        var made = new Dictionary<(int A, int B), List<int>>();
        foreach (SheetEntry entry in joins.Entries)
        {
            int position = part.Position(control, entry);
            if (position < 0 || entry.Value is SheetScalar { Text: "none" }) continue;
            foreach ((int a, int b) in part.PairsOf(entry.Value))
            {
                var pair = a < b ? (a, b) : (b, a);
                if (!made.TryGetValue(pair, out List<int>? positions)) made[pair] = positions = [];
                positions.Add(position);
            }
        }

        part.CoverAll(control, joins);
        int number = 0;
        foreach (((int a, int b), List<int> positions) in made)
        {
            number++;
            Contact(part, a, b, ohms, Gate.Positions(control.Variable, control.Positions.Length, positions), made.Count > 1 ? $"-{number}" : "");
        }
    }

    private static void Contact(PartBuilder part, int a, int b, double ohms, Gate gate, string suffix)
    {
        int parameter = part.ElectricParameter(part.Ohmic($"contact{suffix}", a, b, ohms, 0.3, gate));
        part.Fault($"contact{suffix}-open", 0.5, "nothing in that position", PartBuilder.Set(parameter, double.PositiveInfinity));
        part.Fault($"contact{suffix}-burnt", 0.5, "weak in that position", PartBuilder.Set(parameter, 2.0));
        part.WatchOhms(a, b);
    }
}

internal sealed class Relay : PartKind
{
    public override string Key => "relay";

    public override string Summary => "relay with one contact or a change-over";

    public override IReadOnlyList<KeySpec> Keys =>
    [
        Size(Key, Dimension.Ohm, "coil resistance", true), new("coil", "nets", "the two nets of the coil", true),
        new("normally-open", "nets", "contact made when the coil holds"), new("normally-closed", "nets", "contact made when it does not"),
        Size("pull-in", Dimension.Volt, "7.2 V"), Size("drop-out", Dimension.Volt, "2.5 V"), Size("contact", Dimension.Ohm, "contact resistance, 10 mohm"),
        Size("tolerance", Dimension.Fraction, "of the coil, 10 %"),
    ];

    public override void Build(PartBuilder part)
    {
        (int a, int b) = part.NetPair("coil");
        double ohms = part.Keys.Quantity(Key, Dimension.Ohm, 80), contact = part.Keys.Quantity("contact", Dimension.Ohm, 10e-3);
        int coil = part.Ohmic("coil", a, b, ohms, part.Keys.Quantity("tolerance", Dimension.Fraction, 0.1));
        int coilOhms = part.ElectricParameter(coil);
        int holds = part.Coil(coil, part.Keys.Quantity("pull-in", Dimension.Volt, 7.2), part.Keys.Quantity("drop-out", Dimension.Volt, 2.5));
        int force = part.Force(holds);
        part.Fault("coil-open", 0.7, "never clicks", PartBuilder.Set(coilOhms, double.PositiveInfinity));
        part.Fault("coil-shorted", 0.15, "draws far too much through its driver", PartBuilder.Scale(coilOhms, 0.05));
        part.Fault("stuck-open", 0.7, "coil sound, contacts do not move", PartBuilder.Set(force, 0));
        part.Fault("welded", 0.6, "contacts stay as if it held", PartBuilder.Set(force, 1));
        if (part.Keys.Has("normally-open")) Contact(part, "normally-open", contact, Gate.Contact(holds), 1.2);
        if (part.Keys.Has("normally-closed")) Contact(part, "normally-closed", contact, Gate.Contact(holds, false), 0.6);
        part.Watch(ObservableKind.Sound, part.Id);
        part.WatchOhms(a, b);
    }

    private static void Contact(PartBuilder part, string key, double ohms, Gate gate, double weight)
    {
        (int a, int b) = part.NetPair(key);
        int branch = part.Ohmic(key + " contact", a, b, ohms, 0.3, gate);
        int parameter = part.ElectricParameter(branch);
        part.Unit.MainBranch[part.Index] = branch;
        part.Fault($"{key}-burnt", weight, "clicks, but what it feeds is weak", PartBuilder.Set(parameter, 0.6));
        part.Fault($"{key}-dead", weight * 0.6, "clicks, but feeds nothing", PartBuilder.Set(parameter, double.PositiveInfinity));
        part.Fault($"{key}-flaky", weight * 0.3, "works now and then", [PartBuilder.Set(parameter, double.PositiveInfinity)], [], intermittentShare: 0.4);
    }
}

internal abstract class QuantitySwitch : PartKind
{
    protected abstract Dimension Feels { get; }

    protected abstract (double Amount, bool Relative) Spread { get; }

    protected abstract double ShiftBy { get; }

    public override IReadOnlyList<KeySpec> Keys =>
    [
        new(Key, "nets", "the two nets of its contact", true), new("at", "name", "the condition that it feels", true),
        Size("opens-below", Feels, "with closes-above"), Size("closes-above", Feels, "with opens-below"), Size("closes-below", Feels, "with opens-above"),
        Size("opens-above", Feels, "with closes-below"), Size("tolerance", Feels == Dimension.Temperature ? Dimension.TemperatureDifference : Dimension.Fraction, "of both thresholds"),
    ];

    public override void Build(PartBuilder part)
    {
        (int a, int b) = part.NetPair(Key);
        int feels = part.Condition("at", Feels);
        bool opensBelow = part.Keys.Has("opens-below") || part.Keys.Has("closes-above");
        double low = part.Keys.Quantity(opensBelow ? "opens-below" : "closes-below", Feels, true) ?? 0;
        double high = part.Keys.Quantity(opensBelow ? "closes-above" : "opens-above", Feels, true) ?? 1;
        if (low > high) part.Keys.Problems.Error("threshold-order", part.Keys.Mark, $"{part.Id}: the lower threshold is above the upper one");
        double spread = part.Keys.Quantity("tolerance", Feels == Dimension.Temperature ? Dimension.TemperatureDifference : Dimension.Fraction, Spread.Amount);
        int above = part.Unit.Variable(
            part.Id, part.Index, VariableLaw.Threshold, feels, start: opensBelow ? 1 : 0, parameters: [("lower threshold", low), ("upper threshold", high), ("shift", 0)]);
        int force = part.Force(above);
        part.Unit.MainVariable[part.Index] = above;
        part.Unit.Tolerances.Add(new(force + 3, Spread.Relative ? spread * high : spread, false, part.Index));
        int contact = part.ElectricParameter(part.Ohmic("contact", a, b, 20e-3, 0.3, Gate.Contact(above, opensBelow)));
        part.Fault("stuck-open", 0.8, "never closes", PartBuilder.Set(contact, double.PositiveInfinity));
        part.Fault("stuck-closed", 0.4, "never opens", PartBuilder.Set(force, opensBelow ? 1 : 0));
        part.Fault("shifted@up", 0.3, "switches too high", PartBuilder.Shift(force + 3, ShiftBy));
        part.Fault("shifted@down", 0.3, "switches too low", PartBuilder.Shift(force + 3, -ShiftBy));
        part.WatchOhms(a, b);
    }
}

internal sealed class ThermostaticSwitch : QuantitySwitch
{
    public override string Key => "thermostatic-switch";

    public override string Summary => "contact that opens and closes with a temperature";

    protected override Dimension Feels => Dimension.Temperature;

    protected override (double Amount, bool Relative) Spread => (1, false);

    protected override double ShiftBy => 6;
}

internal sealed class PressureSwitch : QuantitySwitch
{
    public override string Key => "pressure-switch";

    public override string Summary => "contact that opens and closes with a pressure";

    protected override Dimension Feels => Dimension.Pressure;

    protected override (double Amount, bool Relative) Spread => (0.05, true);

    protected override double ShiftBy => 1e5;
}
