using Ventwright.Model.Build;
using Ventwright.Model.Kernel;
using Ventwright.Model.Sheet.Text;
using Ventwright.Quantities;

namespace Ventwright.Model.Parts;

internal sealed class SolenoidValve : PartKind
{
    public override string Key => "solenoid-valve";

    public override string Summary => "three-port vacuum solenoid valve";

    public override IReadOnlyList<KeySpec> Keys =>
    [
        Size(Key, Dimension.Ohm, "coil resistance", true), new("coil", "nets", "the two nets of the coil", true), new("ports", "map", "supply, outlet, vent", true),
        new("rest", "name", "vented or applied"), Size("pull-in", Dimension.Volt, "7 V"), Size("drop-out", Dimension.Volt, "2 V"), Size("bore", Dimension.Length, "1.5 mm"),
        Size("tolerance", Dimension.Fraction, "of the coil, 10 %"),
    ];

    public override void Build(PartBuilder part)
    {
        (int a, int b) = part.NetPair("coil");
        int coil = part.Ohmic("coil", a, b, part.Keys.Quantity(Key, Dimension.Ohm, 42), part.Keys.Quantity("tolerance", Dimension.Fraction, 0.1));
        int holds = part.Coil(coil, part.Keys.Quantity("pull-in", Dimension.Volt, 7), part.Keys.Quantity("drop-out", Dimension.Volt, 2));
        bool applied = string.Equals(part.Keys.Word("rest", ["vented", "applied"]), "applied", StringComparison.Ordinal);
        double conductance = Bore.Conductance(part.Keys.Quantity("bore", Dimension.Length, 1.5e-3));
        if (part.Keys.Reader("ports", true) is not { } ports) return;
        PartBuilder inner = part.With(ports);
        int supply = inner.Hose("supply"), outlet = inner.Hose("outlet"), vent = ports.Has("vent") ? inner.Hose("vent") : 0;
        ports.Done();
        int pass = part.Restriction("supply seat", outlet, supply, conductance, Gate.Contact(holds, !applied));
        int open = part.Restriction("vent seat", vent, outlet, conductance, Gate.Contact(holds, applied));
        int leak = part.Restriction("leak past the seat", outlet, supply, 0, tolerance: 0);
        part.Port("outlet", Domain.Vacuum, pass, true);
        part.Port("outlet", Domain.Vacuum, open, false);
        part.Port("outlet", Domain.Vacuum, leak, true);
        part.Unit.AddToPack(part, "outlet");
        Faults(part, part.ElectricParameter(coil), part.Force(holds), part.Unit.Vacuum[leak].Parameter, part.Unit.Vacuum[open].Parameter);
        part.Watch(ObservableKind.Sound, part.Id);
        part.WatchOhms(a, b);
    }

    private static void Faults(PartBuilder part, int ohms, int force, int leak, int vent)
    {
        part.Fault("coil-open", 0.6, "never clicks", PartBuilder.Set(ohms, double.PositiveInfinity));
        part.Fault("coil-shorted", 0.15, "draws far too much through its driver", PartBuilder.Scale(ohms, 0.05));
        part.Fault("stuck-shut", 0.8, "coil sound, no vacuum at the outlet", PartBuilder.Set(force, 0));
        part.Fault("stuck-open", 0.4, "vacuum at the outlet all the time", PartBuilder.Set(force, 1));
        part.Fault("leaks", 0.4, "outlet never quite vents", PartBuilder.Set(leak, Bore.Conductance(0.9e-3)));
        part.Fault("vent-blocked", 0.6, "works once, then does not let go", PartBuilder.Set(vent, 0), PartBuilder.Set(leak, 1e-13));
    }
}

internal sealed class RotaryValve : PartKind
{
    public override string Key => "vacuum-valve";

    public override string Summary => "vacuum valve turned by a control";

    public override IReadOnlyList<KeySpec> Keys =>
    [
        new(Key, "name", "the control that turns it", true), new("source", "hose", "the hose that feeds it", true),
        new("joins", "map", "position: [hose, ...] or none; hoses not joined are vented", true), Size("bore", Dimension.Length, "1.5 mm"),
    ];

    public override void Build(PartBuilder part)
    {
        double conductance = Bore.Conductance(part.Keys.Quantity("bore", Dimension.Length, 1.5e-3));
        int source = part.Hose("source");
        if (part.Control(Key) is not { } control || part.Keys.Map("joins", true) is not { } joins) return;
        var fed = new Dictionary<string, (SheetScalar At, List<int> Positions)>(StringComparer.Ordinal);
        foreach (SheetEntry entry in joins.Entries)
        {
            int position = part.Position(control, entry);
            if (position < 0 || entry.Value is SheetScalar { Text: "none" }) continue;
            foreach (SheetScalar hose in (ValueReader.Names(entry.Value, entry.Key, part.Keys.Problems) ?? []))
            {
                if (!fed.ContainsKey(hose.Text)) fed[hose.Text] = (hose, []);
                fed[hose.Text].Positions.Add(position);
            }
        }

        part.CoverAll(control, joins);
        foreach ((string name, (SheetScalar at, List<int> positions)) in fed) Port(part, name, part.HoseOf(at), source, conductance, control, positions);
    }

    private static void Port(PartBuilder part, string name, int hose, int source, double conductance, Control control, List<int> positions)
    {
        int count = control.Positions.Length;
        int[] others = [.. Enumerable.Range(0, count).Except(positions)];
        int pass = part.Unit.Vacuum[part.Restriction($"port {name}", hose, source, conductance, Gate.Positions(control.Variable, count, positions))].Parameter;
        part.Restriction($"vent of {name}", 0, hose, conductance, Gate.Positions(control.Variable, count, others));
        int leak = part.Leak($"leak at {name}", hose);
        part.Fault($"{name}-port-blocked", 0.4, $"no vacuum at {name}", PartBuilder.Set(pass, 0));
        part.Fault($"{name}-port-leaks", 0.6, $"weak vacuum at {name}", PartBuilder.Set(leak, Bore.Torn));
    }
}

internal sealed class VacuumTransducer : PartKind
{
    public override string Key => "vacuum-transducer";

    public override string Summary => "valve that grades vacuum by its coil current";

    public override IReadOnlyList<KeySpec> Keys =>
    [
        Size(Key, Dimension.Ohm, "coil resistance", true), new("coil", "nets", "the two nets of the coil", true), new("ports", "map", "supply, outlet", true),
        Size("per-amp", Dimension.Pressure, "depression per ampere, 100 kPa"), Size("offset", Dimension.Pressure, "0 kPa"), Size("bore", Dimension.Length, "1 mm"),
    ];

    public override void Build(PartBuilder part)
    {
        (int a, int b) = part.NetPair("coil");
        int coil = part.Ohmic("coil", a, b, part.Keys.Quantity(Key, Dimension.Ohm, 20), 0.1);
        if (part.Keys.Reader("ports", true) is not { } ports) return;
        PartBuilder inner = part.With(ports);
        int supply = inner.Hose("supply"), outlet = inner.Hose("outlet");
        ports.Done();
        double gain = part.Keys.Quantity("per-amp", Dimension.Pressure, 100e3), conductance = Bore.Conductance(part.Keys.Quantity("bore", Dimension.Length, 1e-3));
        int graded = part.Unit.Variable(
            part.Id, part.Index, VariableLaw.Graded, coil, parameters: [("depression per ampere", gain), ("offset", part.Keys.Quantity("offset", Dimension.Pressure, 0))]);
        part.Unit.MainVariable[part.Index] = graded;
        int force = part.Force(graded);
        part.Unit.Tolerances.Add(new(force + 1, 0.08, true, part.Index));
        // A balanced bleed: supply side opens with the grade, vent side closes with it, so that the outlet follows the grade without a flow of its own.
        double full = 60e3;
        int pass = part.Unit.Vacuum[part.Restriction("supply seat", outlet, supply, conductance, new Gate(graded, GateMode.Scale, [0, full], [0, 1]))].Parameter;
        part.Restriction("bleed", 0, outlet, conductance, new Gate(graded, GateMode.Scale, [0, full], [1, 0]));
        part.Fault("coil-open", 0.6, "no graded vacuum", PartBuilder.Set(part.ElectricParameter(coil), double.PositiveInfinity));
        part.Fault("stuck-low", 0.4, "graded vacuum always low", PartBuilder.Set(force, 0));
        part.Fault("stuck-high", 0.3, "graded vacuum always high", PartBuilder.Set(force, full));
        part.Fault("off-calibration@low", 0.3, "graded vacuum too low", PartBuilder.Scale(force + 1, 0.65));
        part.Fault("off-calibration@high", 0.3, "graded vacuum too high", PartBuilder.Scale(force + 1, 1.5));
        part.Fault("blocked", 0.4, "nothing at its outlet", PartBuilder.Set(pass, 0));
        part.WatchOhms(a, b);
    }
}
