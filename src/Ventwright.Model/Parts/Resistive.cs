using Ventwright.Model.Build;
using Ventwright.Model.Kernel;
using Ventwright.Model.Sheet.Text;
using Ventwright.Quantities;

namespace Ventwright.Model.Parts;

internal sealed class Resistor : PartKind
{
    public override string Key => "resistor";

    public override string Summary => "resistor";

    public override IReadOnlyList<KeySpec> Keys => [Size(Key, Dimension.Ohm, "resistance", true), .. FromTo, Size("tolerance", Dimension.Fraction, "5 %")];

    public override void Build(PartBuilder part)
    {
        int a = part.Net("from"), b = part.Net("to");
        double ohms = part.Keys.Quantity(Key, Dimension.Ohm, 1);
        int parameter = part.ElectricParameter(part.Ohmic("resistor", a, b, ohms, part.Keys.Quantity("tolerance", Dimension.Fraction, 0.05)));
        part.Fault("open", 0.4, "no current through it", PartBuilder.Set(parameter, double.PositiveInfinity));
        part.Fault("drifted@high", 0.2, "too high", PartBuilder.Scale(parameter, 1.6));
        part.Fault("drifted@low", 0.05, "too low", PartBuilder.Scale(parameter, 0.6));
        part.WatchOhms(a, b);
    }
}

internal sealed class ResistorPack : PartKind
{
    public override string Key => "resistor-pack";

    public override string Summary => "blower resistors in one block in the air stream";

    public override IReadOnlyList<KeySpec> Keys =>
    [
        new(Key, "list", "resistance of each section", true), new("taps", "nets", "net at each end and joint", true),
        new("thermal-fuse", "flag", "a thermal fuse in the first section, false"), Size("tolerance", Dimension.Fraction, "7 %"),
    ];

    public override void Build(PartBuilder part)
    {
        double tolerance = part.Keys.Quantity("tolerance", Dimension.Fraction, 0.07);
        bool fuse = part.Keys.Flag("thermal-fuse", false);
        List<SheetScalar> sections = part.Keys.Scalars(Key, true), taps = part.Keys.Scalars("taps", true);
        if (taps.Count != sections.Count + 1)
        {
            part.Keys.Problems.Error("taps", part.Keys.MarkOf("taps"), $"{part.Id} has {sections.Count} sections and {taps.Count} taps", "name one tap more than there are sections");
            return;
        }

        int[] nets = [.. taps.Select(part.NetOf)];
        for (int i = 0; i < sections.Count; i++)
        {
            double ohms = ValueReader.Quantity(sections[i], Key, Dimension.Ohm, part.Keys.Problems) ?? 1;
            int a = nets[i], b = nets[i + 1];
            int parameter = part.ElectricParameter(part.Ohmic($"section {i + 1}", a, b, ohms, tolerance));
            part.Fault($"section-{i + 1}-open", 0.8, "speeds that need it are missing", PartBuilder.Set(parameter, double.PositiveInfinity));
            part.Fault($"section-{i + 1}-shorted", 0.1, "a speed runs too fast", PartBuilder.Scale(parameter, 0.02));
            if (fuse && i == 0) part.Fault("thermal-fuse-open", 0.8, "all speeds through the pack are missing", PartBuilder.Set(parameter, double.PositiveInfinity));
            part.WatchOhms(a, b);
        }
    }
}

internal sealed class Potentiometer : PartKind
{
    public override string Key => "potentiometer";

    public override string Summary => "potentiometer turned by a control, a flap or a servo";

    public override IReadOnlyList<KeySpec> Keys =>
    [
        Size(Key, Dimension.Ohm, "track resistance", true), new("ends", "nets", "net at 0 and net at 1", true), new("wiper", "net", "net of the wiper", true),
        new("turned-by", "name", "a control, flap or servo", true), Size("tolerance", Dimension.Fraction, "of the track, 10 %"),
    ];

    public override void Build(PartBuilder part)
    {
        (int low, int high) = part.NetPair("ends");
        double track = part.Keys.Quantity(Key, Dimension.Ohm, 5e3), tolerance = part.Keys.Quantity("tolerance", Dimension.Fraction, 0.1);
        int wiper = part.Net("wiper");
        if (part.Shaft("turned-by") is { } shaft) Build(part, "", low, high, wiper, track, tolerance, shaft.Variable, shaft.Low, shaft.High);
    }

    /// <summary>Adds a track with wiper to a part; servos use it for their feedback.</summary>
    public static void Build(
        PartBuilder part, string prefix, int low, int high, int wiper, double track, double tolerance, int shaft, double from, double to)
    {
        int tap = part.Unit.Net($"{part.Id}.{prefix}track");
        double[] travel = [from, to];
        int lower = part.ElectricParameter(part.Ohmic(prefix + "lower track", low, tap, track, tolerance, new Gate(shaft, GateMode.Scale, travel, [0, 1])));
        int upper = part.ElectricParameter(part.Ohmic(prefix + "upper track", tap, high, track, tolerance, new Gate(shaft, GateMode.Scale, travel, [1, 0])));
        int touches = part.Unit.Variable(
            $"{part.Id}.{prefix}wiper", part.Index, VariableLaw.Gap, shaft, start: 1, parameters: [("dead spot from", double.NaN), ("dead spot to", double.NaN)]);
        int contact = part.ElectricParameter(part.Ohmic(prefix + "wiper contact", tap, wiper, 5, 0, Gate.Contact(touches)));
        double span = to - from;
        part.Fault(prefix + "low-end-open", 0.3, "reads full all the time", PartBuilder.Set(lower, double.PositiveInfinity));
        part.Fault(prefix + "high-end-open", 0.3, "reads zero all the time", PartBuilder.Set(upper, double.PositiveInfinity));
        part.Fault(prefix + "wiper-open", 0.4, "reads nothing", PartBuilder.Set(contact, double.PositiveInfinity));
        part.Fault(prefix + "worn@low", 0.4, "jumps near the low end", Worn(part, touches, from - 1, from + (0.2 * span)));
        part.Fault(prefix + "worn@middle", 0.5, "jumps near the middle", Worn(part, touches, from + (0.35 * span), from + (0.65 * span)));
        part.Fault(prefix + "worn@high", 0.4, "jumps near the high end", Worn(part, touches, from + (0.8 * span), to + 1));
        part.WatchOhms(low, high);
        part.WatchOhms(low, wiper);
        part.Watch(ObservableKind.Sweep, part.Id, when: PointState.Direct, minutes: 1.5);
    }

    private static Edit[] Worn(PartBuilder part, int touches, double from, double to) =>
        [PartBuilder.Set(part.Force(touches) + 1, from), PartBuilder.Set(part.Force(touches) + 2, to)];
}

internal sealed class Diode : PartKind
{
    public override string Key => "diode";

    public override string Summary => "diode, conducts from `from` to `to`";

    public override IReadOnlyList<KeySpec> Keys => [Size(Key, Dimension.Volt, "forward drop", true), .. FromTo, Size("ohms", Dimension.Ohm, "50 mohm")];

    public override void Build(PartBuilder part)
    {
        int a = part.Net("from"), b = part.Net("to");
        int branch = part.Electric(
            "diode", ElectricLaw.Diode, a, b, 0.1, [("forward drop", part.Keys.Quantity(Key, Dimension.Volt, 0.7)), ("on resistance", part.Keys.Quantity("ohms", Dimension.Ohm, 0.05))]);
        int shorted = part.ElectricParameter(part.Ohmic("breakdown", a, b, double.PositiveInfinity));
        part.Unit.MainBranch[part.Index] = branch;
        part.Fault("open", 0.15, "no current through it", PartBuilder.Set(part.ElectricParameter(branch), 1e6));
        part.Fault("shorted", 0.2, "conducts both ways", PartBuilder.Set(shorted, 0.05));
        part.WatchOhms(a, b);
        part.WatchOhms(b, a);
    }
}

internal sealed class Lamp : PartKind
{
    public override string Key => "lamp";

    public override string Summary => "filament lamp";

    public override IReadOnlyList<KeySpec> Keys => [Size(Key, Dimension.Watt, "power", true), .. FromTo, Size("at", Dimension.Volt, "rated voltage, 12 V")];

    public override void Build(PartBuilder part)
    {
        int a = part.Net("from"), b = part.Net("to");
        double watts = part.Keys.Quantity(Key, Dimension.Watt, 1.2), volts = part.Keys.Quantity("at", Dimension.Volt, 12);
        int branch = part.Electric("filament", ElectricLaw.Lamp, a, b, 0.15, [("hot resistance", volts * volts / watts), ("rated voltage", volts), ("cold share", 0.12)]);
        part.Fault("blown", 1, "stays dark", PartBuilder.Set(part.ElectricParameter(branch), double.PositiveInfinity));
        part.Watch(ObservableKind.Light, part.Id, minutes: 0.1);
        part.WatchOhms(a, b);
    }
}

internal sealed class Thermistor : PartKind
{
    public override string Key => "thermistor";

    public override string Summary => "temperature sensor whose resistance falls with temperature";

    public override IReadOnlyList<KeySpec> Keys =>
    [
        new(Key, "nets", "its two nets", true), new("at", "name", "the condition that it feels", true), Size("r25", Dimension.Ohm, "resistance at 25 degC"),
        new("beta", "number", "Beta in kelvins"), new("table", "map", "temperature: resistance, instead of r25 and beta"),
        Size("tolerance", Dimension.TemperatureDifference, "1 K"), Size("lag", Dimension.Second, "time constant in what it feels, 15 s"),
    ];

    /// <inheritdoc/>
    public override void Declare(PartBuilder part)
    {
        part.Unit.SensorCurves[part.Id] = part.Unit.Curves.Count;
        part.Unit.Curves.Add(Curve(part));
    }

    public override void Build(PartBuilder part)
    {
        (int a, int b) = part.NetPair(Key);
        int feels = part.Condition("at", Dimension.Temperature);
        int branch = part.Electric(
            "thermistor", ElectricLaw.Thermistor, a, b, 0,
            [("curve", part.Unit.SensorCurves[part.Id]), ("scale", 1), ("offset", 0), ("stand-in resistance", double.NaN), ("lag", part.Keys.Quantity("lag", Dimension.Second, 15))], variable: feels);
        int first = part.ElectricParameter(branch), scale = first + 1, offset = first + 2;
        part.Unit.Tolerances.Add(new(offset, part.Keys.Quantity("tolerance", Dimension.TemperatureDifference, 1), false, part.Index));
        part.Port("a", Domain.Electric, branch, true);
        part.Port("b", Domain.Electric, branch, false);
        part.Fault("open", 0.6, "reads as cold as can be", PartBuilder.Set(scale, double.PositiveInfinity));
        part.Fault("shorted", 0.2, "reads as hot as can be", PartBuilder.Scale(scale, 1e-3));
        part.Fault("drifted@reads-8K-cold", 0.25, "reads 8 K cold", PartBuilder.Shift(offset, -8));
        part.Fault("drifted@reads-4K-cold", 0.35, "reads 4 K cold", PartBuilder.Shift(offset, -4));
        part.Fault("drifted@reads-4K-warm", 0.35, "reads 4 K warm", PartBuilder.Shift(offset, 4));
        part.Fault("drifted@reads-8K-warm", 0.25, "reads 8 K warm", PartBuilder.Shift(offset, 8));
        part.Fault("wrong-sensor@half", 0.1, "another maker's sensor, half the resistance", PartBuilder.Scale(scale, 0.5));
        part.Fault("wrong-sensor@twice", 0.1, "another maker's sensor, twice the resistance", PartBuilder.Scale(scale, 2));
        part.WatchOhms(a, b);
    }

    private static ThermistorCurve Curve(PartBuilder part)
    {
        if (part.Keys.Map("table") is not { } table)
            return ThermistorCurve.Beta(part.Keys.Quantity("r25", Dimension.Ohm, true) ?? 1e4, part.Keys.Number("beta", true) ?? 3900);
        var points = new List<(double Kelvin, double Ohms)>();
        foreach (SheetEntry row in table.Entries)
        {
            double? ohms = ValueReader.Quantity(row.Value, row.Key, Dimension.Ohm, part.Keys.Problems, Allowed.Positive);
            if (!QuantityText.TryParse(row.Key, Dimension.Temperature, out double kelvin, out string? problem)) part.Keys.Problems.Error("quantity", row.KeyMark, problem ?? "not a temperature");
            else if (ohms is { } value) points.Add((kelvin, value));
        }

        if (points.Select(p => p.Kelvin).Distinct().Count() >= 2) return ThermistorCurve.Table(points);
        part.Keys.Problems.Error("sensor-table", table.Mark, $"the table of {part.Id} needs at least two temperatures");
        return ThermistorCurve.Beta(1e4, 3900);
    }
}
