using Ventwright.Model.Build;
using Ventwright.Model.Kernel;
using Ventwright.Model.Sheet.Text;
using Ventwright.Quantities;

namespace Ventwright.Model.Parts;

internal sealed class Fuse : PartKind
{
    public override string Key => "fuse";

    public override string Summary => "fuse; blows for good when its current has been above the rating";

    public override IReadOnlyList<KeySpec> Keys =>
        [Size(Key, Dimension.Ampere, "rating", true), .. FromTo, Size("ohms", Dimension.Ohm, "resistance, 4 mohm")];

    public override void Build(PartBuilder part)
    {
        double rating = part.Keys.Quantity(Key, Dimension.Ampere, 10);
        int from = part.Net("from"), to = part.Net("to");
        int branch = part.Unit.Electric.Count;
        int intact = part.Unit.Variable(part.Id, part.Index, VariableLaw.Fuse, branch, start: 1, parameters: [("rating", rating * 1.35)]);
        part.Ohmic("link", from, to, part.Keys.Quantity("ohms", Dimension.Ohm, 4e-3), 0.2, Gate.Contact(intact));
        int ohms = part.ElectricParameter(branch);
        part.Fault("blown", 1.2, "nothing behind it has supply", PartBuilder.Set(ohms, double.PositiveInfinity));
        part.Fault("high-resistance", 0.5, "what hangs on it is weak under load", PartBuilder.Set(ohms, 0.4));
        part.Fault("wrong-rating", 0.2, "blows in normal use", PartBuilder.Scale(part.Force(intact) + 1, 0.12));
        part.WatchOhms(from, to);
    }
}

internal sealed class Wire : PartKind
{
    public override string Key => "wire";

    public override string Summary => "wire or joint between two nets that can fail by itself";

    public override IReadOnlyList<KeySpec> Keys => [new(Key, "nets", "the two nets", true), Size("ohms", Dimension.Ohm, "resistance, 10 mohm")];

    public override void Build(PartBuilder part)
    {
        (int a, int b) = part.NetPair(Key);
        int branch = part.Ohmic("wire", a, b, part.Keys.Quantity("ohms", Dimension.Ohm, 10e-3), 0.3);
        int chafed = part.Ohmic("chafed to ground", b, 0, double.PositiveInfinity);
        int ohms = part.ElectricParameter(branch);
        part.Fault("open", 0.5, "nothing behind it", PartBuilder.Set(ohms, double.PositiveInfinity));
        part.Fault("high-resistance", 0.6, "weak under load", PartBuilder.Set(ohms, 1.5));
        part.Fault("chafed-to-ground", 0.2, "blows the fuse before it", PartBuilder.Set(part.ElectricParameter(chafed), 0.05));
        part.WatchOhms(a, b);
    }
}

internal sealed class Connector : PartKind
{
    /// <summary>To pull a plug and push it home again, and to look at both halves of a contact with a lamp.</summary>
    private const double PullMinutes = 0.5, LookMinutes = 0.03;

    public override string Key => "connector";

    public override string Summary => "connector: pins that join two nets, or test pins on one net";

    public override IReadOnlyList<KeySpec> Keys =>
        [new(Key, "map", "pin: [net, net], or pin: net for a test pin", true), Size("ohms", Dimension.Ohm, "resistance of a pin, 5 mohm")];

    public override void Build(PartBuilder part)
    {
        double ohms = part.Keys.Quantity("ohms", Dimension.Ohm, 5e-3);
        if (part.Keys.Map(Key, true) is not { } pins) return;
        (string Pin, int Branch)? before = null;
        foreach (SheetEntry pin in pins.Entries)
        {
            List<SheetScalar> nets = (ValueReader.Names(pin.Value, pin.Key, part.Keys.Problems) ?? []);
            if (nets.Count == 1)
            {
                part.NetOf(nets[0]);
                part.Unit.TestPins.Add(new(part.Id, pin.Key, nets[0].Text));
                continue;
            }

            if (nets.Count != 2)
            {
                part.Keys.Problems.Error("pin-nets", pin.Value.Mark, $"pin {pin.Key} of {part.Id} names {nets.Count} nets", "write one net for a test pin, two for a pin that joins");
                continue;
            }

            before = BuildPin(part, pin.Key, part.NetOf(nets[0]), part.NetOf(nets[1]), ohms, before);
        }

        if (before is not null) part.Watch(ObservableKind.Contacts, part.Id, when: PointState.Dead, minutes: PullMinutes + (LookMinutes * pins.Entries.Count));
    }

    private static (string Pin, int Branch) BuildPin(PartBuilder part, string pin, int a, int b, double ohms, (string Pin, int Branch)? before)
    {
        int branch = part.Ohmic($"pin {pin}", a, b, ohms, 0.3);
        int parameter = part.ElectricParameter(branch);
        part.Port(pin, Domain.Electric, branch, false);
        Edit[] open = [PartBuilder.Set(parameter, double.PositiveInfinity)];
        part.Fault($"pin-{pin}-open", 0.4, "what runs over the pin is dead", open);
        part.Fault($"pin-{pin}-corroded", 0.5, "what runs over the pin is weak under load", PartBuilder.Set(parameter, 3.0));
        part.Fault($"pin-{pin}-loose", 0.4, "comes and goes when the connector is moved", open, [], intermittentShare: 0.4);
        part.WatchOhms(a, b);
        if (before is { } other) part.Unit.SwapPorts((part.Index, other.Pin), (part.Index, pin), $"pins-{other.Pin}-and-{pin}-swapped", 0.05);
        return (pin, branch);
    }
}

internal sealed class GroundPoint : PartKind
{
    public override string Key => "ground-point";

    public override string Summary => "ground point: joins a net to the unit's ground";

    public override IReadOnlyList<KeySpec> Keys => [new(Key, "net", "the grounded net", true), Size("ohms", Dimension.Ohm, "resistance, 5 mohm")];

    public override void Build(PartBuilder part)
    {
        int net = part.Net(Key);
        int ohms = part.ElectricParameter(part.Ohmic("ground", net, 0, part.Keys.Quantity("ohms", Dimension.Ohm, 5e-3), 0.3));
        Edit[] open = [PartBuilder.Set(ohms, double.PositiveInfinity)];
        part.Fault("open", 0.6, "all that is grounded there is dead or finds odd ways to ground", open);
        part.Fault("high-resistance", 1, "all that is grounded there is weak, worse with more load", PartBuilder.Set(ohms, 0.5));
        part.Fault("loose", 0.5, "comes and goes", open, [], intermittentShare: 0.4);
        part.WatchOhms(net, 0);
    }
}
