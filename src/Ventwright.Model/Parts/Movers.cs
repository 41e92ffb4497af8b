using Ventwright.Model.Build;
using Ventwright.Model.Kernel;
using Ventwright.Model.Sheet.Text;
using Ventwright.Quantities;

namespace Ventwright.Model.Parts;

internal sealed class Flap : PartKind
{
    public override string Key => "flap";

    public override string Summary => "flap moved by an actuator, a servo or a lever";

    public override IReadOnlyList<KeySpec> Keys => [new(Key, "names", "word at rest, word when moved", true)];

    public override void Declare(PartBuilder part)
    {
        List<SheetScalar> words = part.Keys.Scalars(Key, true);
        if (words.Count != 2)
        {
            part.Keys.Problems.Error("flap-words", part.Keys.MarkOf(Key), $"{part.Id} has {words.Count} words for its positions", "write [word at rest, word when moved], such as [shut, open]");
            return;
        }

        part.Unit.PositionWords[part.Index] = (words[0].Text, words[1].Text);
        part.Unit.MainVariable[part.Index] = part.Unit.Variable(part.Id, part.Index, VariableLaw.Linkage, parameters: [("linkage offset", 0), ("linkage gain", 1)]);
    }

    public override void Build(PartBuilder part)
    {
        if (!part.Unit.MainVariable.TryGetValue(part.Index, out int position)) return;
        (string atRest, string moved) = part.Unit.PositionWords[part.Index];
        int force = part.Force(position);
        part.Unit.Tolerances.Add(new(force + 1, 0.03, false, part.Index));
        part.Fault($"stuck-{atRest}", 0.5, $"stays {atRest}", PartBuilder.Set(force, 0));
        part.Fault($"stuck-{moved}", 0.3, $"stays {moved}", PartBuilder.Set(force, 1));
        part.Fault("jammed-halfway", 0.3, "stands halfway", PartBuilder.Set(force, 0.5));
        part.Fault("linkage-off", 0.4, $"hangs {atRest}, its mover moves freely", PartBuilder.Set(force, 0.05));
        part.Fault("linkage-reversed", 0.08, "moves the wrong way", PartBuilder.Set(force + 2, -1), PartBuilder.Set(force + 1, 1));
        part.Fault("linkage-one-tooth-out", 0.2, "never gets quite home", PartBuilder.Shift(force + 1, 0.25));
        part.Watch(ObservableKind.Position, part.Id, minutes: 0.1);
    }
}

internal sealed class Lever : PartKind
{
    public override string Key => "lever";

    public override string Summary => "lever or cable from a dial on the panel";

    public override IReadOnlyList<KeySpec> Keys =>
    [
        new(Key, "name", "the dial", true), new("moves", "names", "flap or flaps", true), new("at-low", "number", "flap position at the low end, 0"),
        new("at-high", "number", "flap position at the high end, 1"),
    ];

    public override void Build(PartBuilder part)
    {
        if (part.Control(Key) is not { } control) return;
        double low = part.Keys.Number("at-low", 0), high = part.Keys.Number("at-high", 1), span = control.High - control.Low;
        int travel = part.Unit.Variable(
            part.Id, part.Index, VariableLaw.Linkage, control.Variable,
            parameters: [("lever offset", low - ((high - low) * control.Low / span)), ("lever gain", (high - low) / span)]);
        part.Unit.MainVariable[part.Index] = travel;
        part.Movers(travel);
        part.Fault("cable-off", 0.4, "lever moves, flap does not", PartBuilder.Set(part.Force(travel), 0));
        part.Fault("cable-slipped", 0.4, "never gets to one end", PartBuilder.Shift(part.Force(travel) + 1, -0.3));
    }
}

internal sealed class VacuumActuator : PartKind
{
    public override string Key => "vacuum-actuator";

    public override string Summary => "diaphragm that moves a flap";

    public override IReadOnlyList<KeySpec> Keys =>
    [
        new(Key, "hoses", "its hose, or the two of a two-stage one", true), Size("starts", Dimension.Pressure, "10 kPa"), Size("full", Dimension.Pressure, "30 kPa"),
        new("moves", "names", "flap or flaps"), Size("volume", Dimension.Volume, "60 ml"), new("turns", "name", "forward or backward"),
    ];

    public override void Declare(PartBuilder part)
    {
        int travel = part.Unit.Variable(
            part.Id, part.Index, VariableLaw.Travel,
            parameters: [("starts", part.Keys.Quantity("starts", Dimension.Pressure, 10e3)), ("full", part.Keys.Quantity("full", Dimension.Pressure, 30e3))]);
        part.Unit.MainVariable[part.Index] = travel;
        part.Unit.PositionWords[part.Index] = ("released", "pulled");
    }

    public override void Build(PartBuilder part)
    {
        int travel = part.Unit.MainVariable[part.Index], force = part.Force(travel);
        List<SheetScalar> hoses = part.Keys.Scalars(Key, true);
        if (hoses.Count is 0 or > 2)
        {
            part.Keys.Problems.Error("actuator-hoses", part.Keys.MarkOf(Key), $"{part.Id} names {hoses.Count} hoses; one, or two for a two-stage actuator");
            return;
        }

        double volume = part.Keys.Quantity("volume", Dimension.Volume, 60e-6);
        int[] chambers = [.. hoses.Select((h, i) => Chamber(part, part.HoseOf(h), i, hoses.Count, volume))];
        part.Unit.SetInput(travel, chambers[0], chambers.Length > 1 ? chambers[1] : -1);
        part.Unit.Tolerances.Add(new(force + 1, 0.12, true, part.Index));
        part.Unit.Tolerances.Add(new(force + 2, 0.12, true, part.Index));
        part.Fault("seized", 0.4, "does not move", PartBuilder.Set(force, 0));
        part.Fault("does-not-return", 0.2, "stays pulled", PartBuilder.Set(force, 1));
        part.Movers(travel);
        part.Watch(ObservableKind.Position, part.Id, minutes: 0.2);
        part.Watch(ObservableKind.Loses, part.Id, when: PointState.HandPump, minutes: 2);
    }

    private static int Chamber(PartBuilder part, int hose, int index, int count, double volume)
    {
        string suffix = count == 1 ? "" : $"-{index + 1}";
        int chamber = part.Unit.Hose($"{part.Id}.chamber{suffix}");
        int neck = part.Restriction($"neck{suffix}", hose, chamber, Bore.Conductance(2.5e-3));
        part.Unit.AddVolume(chamber, volume);
        part.Port(index == 0 ? "hose" : "second hose", Domain.Vacuum, neck, true);
        int leak = part.Leak($"diaphragm{suffix}", chamber);
        part.Fault($"torn{suffix}@pinhole", 0.7 / count, "moves, but does not hold", PartBuilder.Set(leak, Bore.Pinhole));
        part.Fault($"torn{suffix}@wide", 0.9 / count, "does not move, hisses", PartBuilder.Set(leak, Bore.Conductance(3e-3)));
        return chamber;
    }
}

internal sealed class WaterValve : PartKind
{
    public override string Key => "water-valve";

    public override string Summary => "vacuum-operated valve in the heater's coolant line";

    public override IReadOnlyList<KeySpec> Keys =>
    [
        new(Key, "hose", "its hose", true), Size("starts", Dimension.Pressure, "10 kPa"), Size("full", Dimension.Pressure, "30 kPa"),
        new("pulled", "name", "shut or open"), Size("volume", Dimension.Volume, "40 ml"),
    ];

    public override void Build(PartBuilder part)
    {
        bool shut = !string.Equals(part.Keys.Word("pulled", ["shut", "open"]), "open", StringComparison.Ordinal);
        int hose = part.Hose(Key), chamber = part.Unit.Hose($"{part.Id}.chamber");
        int neck = part.Restriction("neck", hose, chamber, Bore.Conductance(2.5e-3));
        part.Unit.AddVolume(chamber, part.Keys.Quantity("volume", Dimension.Volume, 40e-6));
        part.Port("hose", Domain.Vacuum, neck, true);
        int travel = part.Unit.Variable(
            part.Id, part.Index, VariableLaw.Travel, chamber,
            parameters: [("starts", part.Keys.Quantity("starts", Dimension.Pressure, 10e3)), ("full", part.Keys.Quantity("full", Dimension.Pressure, 30e3))]);
        int force = part.Force(travel), leak = part.Leak("diaphragm", chamber);
        part.Unit.MainVariable[part.Index] = travel;
        part.Unit.PositionWords[part.Index] = shut ? ("open", "shut") : ("shut", "open");
        part.Fault("stuck-at-rest", 1, "does not move", PartBuilder.Set(force, 0));
        part.Fault("stuck-pulled", 0.4, "stays pulled", PartBuilder.Set(force, 1));
        part.Fault("torn@pinhole", 0.4, "moves, but does not hold", PartBuilder.Set(leak, Bore.Pinhole));
        part.Fault("torn@wide", 0.6, "does not move, hisses", PartBuilder.Set(leak, Bore.Conductance(3e-3)));
        int passes = part.Unit.Parameter($"{part.Id} share that passes when shut", 0);
        part.Unit.WaterValves.Add(new(part.Index, travel, !shut, passes));
        part.Fault("passes-when-shut", 0.6, "warm air at full cold with the engine hot", [PartBuilder.Set(passes, 0.25)], [], carOnly: true);
        part.Watch(ObservableKind.Position, part.Id, minutes: 0.3);
        part.Watch(ObservableKind.Loses, part.Id, when: PointState.HandPump, minutes: 2);
    }
}
