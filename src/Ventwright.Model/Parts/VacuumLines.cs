using Ventwright.Model.Build;
using Ventwright.Model.Kernel;
using Ventwright.Quantities;

namespace Ventwright.Model.Parts;

/// <summary>Sonic conductance of round holes, from their bore.</summary>
internal static class Bore
{
    /// <summary>
    /// C = Cd * 1.992e-9 m3/(s Pa) per mm2: ideal nozzle at 293.15 K and k = 1.4 (gas dynamics), discharge coefficient 0.6 for fittings (common
    /// practice, no source).
    /// </summary>
    public static double Conductance(double boreM) => 0.6 * 1.992e-9 * Math.PI / 4 * Math.Pow(boreM * 1e3, 2);

    /// <summary>Size of leaks: a pinhole, and a torn or pulled-off joint.</summary>
    public static readonly double Pinhole = Conductance(0.35e-3), Torn = Conductance(1.6e-3), Off = Conductance(4e-3);
}

internal sealed class VacuumPump : PartKind
{
    public override string Key => "vacuum-source";

    public override string Summary => "bench pump or engine that supplies vacuum";

    public override IReadOnlyList<KeySpec> Keys =>
    [
        new(Key, "hose", "the hose that it draws on", true), Size("depression", Dimension.Pressure, "at no flow, 60 kPa"), Size("tolerance", Dimension.Pressure, "5 kPa"),
        Size("bore", Dimension.Length, "what its flow is limited by, 4 mm"),
    ];

    public override void Build(PartBuilder part)
    {
        int hose = part.Hose(Key), pump = part.Unit.Hose(part.Id);
        int level = part.Unit.Parameter($"{part.Id} depression", part.Keys.Quantity("depression", Dimension.Pressure, 60e3));
        part.Unit.Tolerances.Add(new(level, part.Keys.Quantity("tolerance", Dimension.Pressure, 5e3), false, part.Index, "pump"));
        part.Unit.VacuumSources.Add(new(part.Index, pump, level));
        int branch = part.Restriction("suction", hose, pump, Bore.Conductance(part.Keys.Quantity("bore", Dimension.Length, 4e-3)));
        part.Fault("weak", 0.3, "all vacuum functions are lazy", PartBuilder.Scale(level, 0.45));
        part.Fault("dead", 0.2, "no vacuum function moves", PartBuilder.Set(part.Unit.Vacuum[branch].Parameter, 0));
    }
}

internal sealed class CheckValve : PartKind
{
    public override string Key => "check-valve";

    public override string Summary => "check valve that keeps vacuum in the reservoir";

    public override IReadOnlyList<KeySpec> Keys => [new(Key, "hoses", "from, toward the source", true), Size("bore", Dimension.Length, "3 mm")];

    public override void Build(PartBuilder part)
    {
        (int from, int to) = part.HosePair(Key);
        int through = part.Restriction("valve", from, to, Bore.Conductance(part.Keys.Quantity("bore", Dimension.Length, 3e-3)), oneWay: true);
        int back = part.Restriction("seat", to, from, 0, oneWay: true, tolerance: 0);
        part.Watch(ObservableKind.Falls, part.Unit.HoseNames.ElementAt(from), minutes: 1.6);
        part.Fault("leaks-back", 0.9, "vacuum is lost when the source stops", PartBuilder.Set(part.Unit.Vacuum[back].Parameter, Bore.Torn));
        part.Fault("blocked", 0.3, "no vacuum behind it", PartBuilder.Set(part.Unit.Vacuum[through].Parameter, 0));
    }
}

internal sealed class Reservoir : PartKind
{
    public override string Key => "reservoir";

    public override string Summary => "vacuum reservoir";

    public override IReadOnlyList<KeySpec> Keys => [new(Key, "hose", "the hose that it hangs on", true), Size("volume", Dimension.Volume, "1.5 l")];

    public override void Build(PartBuilder part)
    {
        int hose = part.Hose(Key);
        part.Unit.AddVolume(hose, part.Keys.Quantity("volume", Dimension.Volume, 1.5e-3));
        int leak = part.Leak("crack", hose);
        part.Fault("cracked@pinhole", 0.5, "vacuum leaks away slowly", PartBuilder.Set(leak, Bore.Pinhole));
        part.Fault("cracked@wide", 0.4, "vacuum is weak everywhere", PartBuilder.Set(leak, Bore.Torn));
        part.Watch(ObservableKind.Loses, part.Id, when: PointState.HandPump, minutes: 2);
    }
}

internal sealed class Hose : PartKind
{
    public override string Key => "hose";

    public override string Summary => "vacuum hose or pipe";

    public override IReadOnlyList<KeySpec> Keys => [new(Key, "hoses", "its two ends", true), Size("bore", Dimension.Length, "3 mm"), Size("length", Dimension.Length, "0.5 m")];

    public override void Build(PartBuilder part)
    {
        (int a, int b) = part.HosePair(Key);
        double bore = part.Keys.Quantity("bore", Dimension.Length, 3e-3), length = part.Keys.Quantity("length", Dimension.Length, 0.5);
        int through = part.Unit.Vacuum[part.Restriction("hose", a, b, Bore.Conductance(bore) / Math.Sqrt(1 + (0.02 * length / bore)))].Parameter;
        part.Unit.AddVolume(b, Math.PI / 4 * bore * bore * length);
        int leak = part.Leak("split", b), openEnd = part.Leak("open end", a);
        part.Fault("split@pinhole", 0.5, "hisses faintly", PartBuilder.Set(leak, Bore.Pinhole));
        part.Fault("split@wide", 0.8, "hisses, what it feeds is weak", PartBuilder.Set(leak, Bore.Torn));
        part.Fault("off", 0.5, "hisses loudly", PartBuilder.Set(through, 0), PartBuilder.Set(openEnd, Bore.Off), PartBuilder.Set(leak, Bore.Off));
        part.Fault("blocked", 0.4, "what it feeds gets nothing", PartBuilder.Set(through, 0));
    }
}

internal sealed class Restrictor : PartKind
{
    public override string Key => "restrictor";

    public override string Summary => "restrictor in a vacuum line";

    public override IReadOnlyList<KeySpec> Keys => [new(Key, "hoses", "its two ends", true), Size("bore", Dimension.Length, "0.6 mm")];

    public override void Build(PartBuilder part)
    {
        (int a, int b) = part.HosePair(Key);
        int through = part.Unit.Vacuum[part.Restriction("orifice", a, b, Bore.Conductance(part.Keys.Quantity("bore", Dimension.Length, 0.6e-3)))].Parameter;
        part.Fault("blocked", 0.8, "nothing behind it", PartBuilder.Set(through, 0));
    }
}
