using Ventwright.Model.Build;
using Ventwright.Model.Kernel;
using Ventwright.Quantities;

namespace Ventwright.Model.Parts;

internal sealed class ClutchCoil : PartKind
{
    public override string Key => "clutch-coil";

    public override string Summary => "coil of the compressor's clutch";

    public override IReadOnlyList<KeySpec> Keys =>
    [
        Size(Key, Dimension.Ohm, "coil resistance", true), .. FromTo, Size("pull-in", Dimension.Volt, "7.5 V"), Size("drop-out", Dimension.Volt, "2 V"),
        Size("tolerance", Dimension.Fraction, "8 %"),
    ];

    public override void Build(PartBuilder part)
    {
        int a = part.Net("from"), b = part.Net("to");
        int coil = part.Ohmic("coil", a, b, part.Keys.Quantity(Key, Dimension.Ohm, 3.6), part.Keys.Quantity("tolerance", Dimension.Fraction, 0.08));
        int holds = part.Coil(coil, part.Keys.Quantity("pull-in", Dimension.Volt, 7.5), part.Keys.Quantity("drop-out", Dimension.Volt, 2));
        int ohms = part.ElectricParameter(coil);
        part.Fault("open", 0.6, "never clicks", PartBuilder.Set(ohms, double.PositiveInfinity));
        part.Fault("shorted-turns", 0.3, "draws too much", PartBuilder.Scale(ohms, 0.5));
        part.Fault("gap-too-wide", 0.4, "has current but does not pull in", PartBuilder.Set(part.Force(holds), 0));
        part.Watch(ObservableKind.Sound, part.Id);
        part.Watch(ObservableKind.Amps, part.Id, minutes: 0.5);
        part.WatchOhms(a, b);
    }
}

internal sealed class Motor : PartKind
{
    public override string Key => "motor";

    public override string Summary => "electric motor";

    public override IReadOnlyList<KeySpec> Keys => [Size(Key, Dimension.Ampere, "rated current", true), .. FromTo, Size("at", Dimension.Volt, "rated voltage, 12 V"), RunUp];

    /// <summary>How long it takes to run up.</summary>
    public static KeySpec RunUp => Size("run-up", Dimension.Second, "time constant of its speed, 0.7 s");

    public override void Build(PartBuilder part) => Build(part, Key);

    /// <summary>Adds the motor and gives the variable with its speed. Stalled current is taken as four times the rated one (common practice, no source).</summary>
    public static int Build(PartBuilder part, string key)
    {
        double amps = part.Keys.Quantity(key, Dimension.Ampere, 5), volts = part.Keys.Quantity("at", Dimension.Volt, 12);
        int a = part.Net("from"), b = part.Net("to");
        double ohms = volts / (4 * amps);
        int branch = part.Electric(
            "motor", ElectricLaw.Motor, a, b, 0.1,
            [("winding resistance", ohms), ("back voltage at rated speed", volts - (amps * ohms)), ("friction current", 0.12 * amps), ("load current", 0.88 * amps)]);
        int first = part.ElectricParameter(branch);
        part.Unit.Tolerances.Add(new(first + 3, 0.1, true, part.Index));
        int speed = part.Unit.Variable(part.Id, part.Index, VariableLaw.Speed, branch, parameters: [("run-up", part.Keys.Quantity("run-up", Dimension.Second, 0.7))]);
        part.Unit.MainVariable[part.Index] = speed;
        part.Fault("brushes-open", 1, "does not run, draws nothing", PartBuilder.Set(first, double.PositiveInfinity));
        part.Fault("brushes-worn", 0.6, "runs slow and weak", PartBuilder.Scale(first, 4));
        part.Fault("seized", 0.5, "does not run, draws far too much", PartBuilder.Set(first + 2, 1e6));
        part.Fault("bearings-dry", 0.8, "runs slow, draws more at low speed", PartBuilder.Scale(first + 2, 3.5));
        part.Watch(ObservableKind.Motion, part.Id, minutes: 0.1);
        part.Watch(ObservableKind.Amps, part.Id, minutes: 0.5);
        part.WatchOhms(a, b);
        return speed;
    }
}

internal sealed class Blower : PartKind
{
    public override string Key => "blower";

    public override string Summary => "blower: motor with a fan between two air spaces";

    public override IReadOnlyList<KeySpec> Keys =>
    [
        Size(Key, Dimension.Ampere, "rated current", true), .. FromTo, Size("at", Dimension.Volt, "rated voltage, 12 V"),
        Motor.RunUp, Size("free-area", Dimension.Area, "of the wheel, 60 cm2"), Size("pressure", Dimension.Pressure, "at rated speed and no flow, 400 Pa"),
        new("inlet", "space", "space that it draws from"), new("outlet", "space", "space that it blows into"),
    ];

    public override void Build(PartBuilder part)
    {
        int speed = Motor.Build(part, Key);
        double area = part.Keys.Quantity("free-area", Dimension.Area, 60e-4), pressure = part.Keys.Quantity("pressure", Dimension.Pressure, 400);
        if (!part.Keys.Has("inlet") && !part.Keys.Has("outlet")) return;
        int air = part.AirPath("wheel", part.Space("inlet"), part.Space("outlet"), area, fanPa: pressure, speed: speed);
        int load = part.ElectricParameter(part.Unit.MainBranch[part.Index]) + 3;
        part.Fault("wheel-loose", 0.2, "motor spins freely, hardly any air", PartBuilder.Scale(part.Unit.Air[air].Parameter + 2, 0.02), PartBuilder.Scale(load, 0.05));
    }
}

internal sealed class TransistorStage : PartKind
{
    public override string Key => "transistor-stage";

    public override string Summary => "transistor stage that gives a load a voltage set by a control net";

    public override IReadOnlyList<KeySpec> Keys =>
    [
        new(Key, "nets", "feed net and load net", true), new("control", "net", "net that steers it", true), new("gain", "number", "volts out per volt of control, 1"),
        Size("offset", Dimension.Volt, "0 V"), Size("saturated", Dimension.Ohm, "60 mohm"), Size("threshold", Dimension.Volt, "1.5 V"),
        Size("input", Dimension.Ohm, "control input to ground, 2.2 kohm"),
    ];

    public override void Build(PartBuilder part)
    {
        (int a, int b) = part.NetPair(Key);
        int control = part.Net("control");
        int branch = part.Electric(
            "stage", ElectricLaw.Stage, a, b, 0.05,
            [
                ("gain", part.Keys.Number("gain", 1)), ("offset", part.Keys.Quantity("offset", Dimension.Volt, 0)),
                ("saturated resistance", part.Keys.Quantity("saturated", Dimension.Ohm, 0.06)), ("threshold", part.Keys.Quantity("threshold", Dimension.Volt, 1.5)),
                ("held", double.NaN),
            ],
            control: control);
        int input = part.ElectricParameter(part.Ohmic("control input", control, 0, part.Keys.Quantity("input", Dimension.Ohm, 2200), 0.1));
        part.Unit.MainBranch[part.Index] = branch;
        int first = part.ElectricParameter(branch);
        part.Fault("open", 0.8, "its load never runs at part speed", PartBuilder.Set(first + 4, 0));
        part.Fault("shorted", 0.6, "its load always runs flat out", PartBuilder.Set(first + 4, 1));
        part.Fault("weak", 0.3, "its load runs slower than asked", PartBuilder.Scale(first, 0.65));
        part.Fault("input-open", 0.15, "control has no effect", PartBuilder.Set(input, double.PositiveInfinity), PartBuilder.Set(first + 4, 0));
    }
}

internal sealed class Servo : PartKind
{
    public override string Key => "servo";

    public override string Summary => "geared motor with a feedback potentiometer";

    public override IReadOnlyList<KeySpec> Keys =>
    [
        new(Key, "nets", "the two nets of its motor; plus on the first drives toward 1", true), Size("current", Dimension.Ampere, "running, 120 mA"),
        Size("stalled", Dimension.Ampere, "stalled, 800 mA"), Size("at", Dimension.Volt, "rated voltage, 10 V"), Size("travel", Dimension.Second, "end to end, 12 s"),
        Size("starts", Dimension.Volt, "starting voltage, 2.5 V"), new("moves", "names", "flap or flaps"), new("turns", "name", "forward or backward"),
        new("feedback", "map", "track, ends, wiper, tolerance"),
    ];

    public override void Declare(PartBuilder part)
    {
        int position = part.Unit.Variable(
            part.Id, part.Index, VariableLaw.Servo, start: 0.5,
            parameters:
            [
                ("direction", 1), ("starting voltage", part.Keys.Quantity("starts", Dimension.Volt, 2.5)), ("place where it stands", 0.5),
                ("travel time", part.Keys.Quantity("travel", Dimension.Second, 12)), ("rated voltage", part.Keys.Quantity("at", Dimension.Volt, 10)),
                ("resting place in the dead band", 0),
            ]);
        part.Unit.MainVariable[part.Index] = position;
        part.Unit.PositionWords[part.Index] = ("low end", "high end");
    }

    public override void Build(PartBuilder part)
    {
        (int a, int b) = part.NetPair(Key);
        int position = part.Unit.MainVariable[part.Index], force = part.Force(position);
        double running = part.Keys.Quantity("current", Dimension.Ampere, 0.12), stalled = part.Keys.Quantity("stalled", Dimension.Ampere, 0.8);
        double volts = part.Keys.Quantity("at", Dimension.Volt, 10), ohms = volts / stalled;
        int blocked = part.Unit.Variable(part.Id + ".blocked", part.Index, VariableLaw.Blocked, position);
        int motor = part.Electric(
            "motor", ElectricLaw.Motor, a, b, 0.1,
            [("winding resistance", ohms), ("back voltage at rated speed", volts - (running * ohms)), ("friction current", running), ("load current", 0)],
            variable: blocked);
        part.Unit.SetInput(position, motor);
        part.Port("a", Domain.Electric, motor, true);
        part.Port("b", Domain.Electric, motor, false);
        part.Unit.Tolerances.Add(new(force + 3, 0.5, false, part.Index));
        part.Unit.Tolerances.Add(new(force + 4, 0.15, true, part.Index));
        part.Unit.Tolerances.Add(new(force + 6, 1, false, part.Index));
        Edit dead = PartBuilder.Set(part.ElectricParameter(motor), double.PositiveInfinity);
        part.Fault("motor-open", 0.6, "stays where it is, draws nothing", dead);
        part.Fault("stripped@low", 0.35, "motor runs, flap hangs at the low end", PartBuilder.Set(force, 0.02));
        part.Fault("stripped@middle", 0.35, "motor runs, flap hangs in the middle", PartBuilder.Set(force, 0.5));
        part.Fault("stripped@high", 0.35, "motor runs, flap hangs at the high end", PartBuilder.Set(force, 0.98));
        part.Fault("stiff", 0.4, "moves late, slowly or not at all", PartBuilder.Scale(force + 2, 3), PartBuilder.Scale(force + 4, 2));
        part.Fault("leads-swapped", 0.1, "runs the wrong way to its stop", PartBuilder.Scale(force + 1, -1));
        part.Movers(position);
        if (part.Keys.Reader("feedback") is { } feedback) BuildFeedback(part.With(feedback), position);
        part.Watch(ObservableKind.Position, part.Id, minutes: 0.2);
        part.Watch(ObservableKind.Amps, part.Id, minutes: 0.6);
        part.Watch(ObservableKind.Seconds, part.Id, when: PointState.Direct, minutes: 1.5);
        part.WatchOhms(a, b);
    }

    private static void BuildFeedback(PartBuilder part, int position)
    {
        double track = part.Keys.Quantity("track", Dimension.Ohm, 5e3), tolerance = part.Keys.Quantity("tolerance", Dimension.Fraction, 0.15);
        (int low, int high) = part.NetPair("ends");
        Potentiometer.Build(part, "feedback-", low, high, part.Net("wiper"), track, tolerance, position, 0, 1);
        part.Keys.Done();
    }
}
