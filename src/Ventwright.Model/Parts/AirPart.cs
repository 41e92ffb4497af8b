using Ventwright.Model.Build;
using Ventwright.Model.Kernel;
using Ventwright.Quantities;

namespace Ventwright.Model.Parts;

/// <summary>Entries of the <c>air</c> section: paths, vents, inlets, filters, exchangers, seals, aspirators.</summary>
internal static class AirPart
{
    /// <summary>Keys of an air entry.</summary>
    public static IReadOnlyList<KeySpec> Keys { get; } =
    [
        new("from", "space", "space at one end", true), new("to", "space", "space at the other end", true), new("area", "Area", "free area", true),
        new("gate", "name", "FLAP word, or FLAP: open when the flap shows that word"), new("tolerance", "Fraction", "of the area, 10 %"),
        new("vent", "name", "a vent, with its name in words"), new("inlet", "flag", "an inlet"), new("filter", "flag", "a filter or debris screen"),
        new("exchanger", "name", "evaporator or heater"), new("seal", "flag", "a seal that leaks when perished"), new("perished", "number", "leak of a bad seal, times the sound one, 30"),
        new("aspirator", "name", "the sensor whose air it draws"), new("suction-of", "name", "the blower that draws it"), new("suction", "Pressure", "at rated speed, 60 Pa"),
    ];

    /// <summary>The kind that an entry's keys make it.</summary>
    public static string KindOf(Sheet.Text.SheetMap entry) =>
        entry["vent"] is not null ? "vent" : entry["aspirator"] is not null ? "aspirator" : entry["exchanger"] is not null ? "exchanger"
        : entry["filter"] is not null ? "filter" : entry["seal"] is not null ? "seal" : entry["inlet"] is not null ? "inlet" : "duct";

    /// <summary>Adds the entry to the model.</summary>
    public static void Build(PartBuilder part)
    {
        string kind = part.Unit.Parts[part.Index].Kind;
        foreach (string flag in (string[])["inlet", "filter", "seal"]) part.Keys.Flag(flag, false);
        double area = part.Keys.Quantity("area", Dimension.Area, true) ?? 1e-3, tolerance = part.Keys.Quantity("tolerance", Dimension.Fraction, kind == "seal" ? 0.3 : 0.1);
        (int speed, double suction) = Suction(part);
        int from = part.Space("from"), to = part.Space("to");
        int air = part.AirPath(kind, from, to, area, part.FlapGate("gate"), fanPa: suction, speed: speed, tolerance: tolerance);
        int parameter = part.Unit.Air[air].Parameter, blocked = parameter + 3;
        Faults(part, kind, parameter, blocked);
        if (part.Keys.Text("vent") is { } name) part.Unit.Vents.Add((name, air));
        if (part.Keys.Word("exchanger", ["evaporator", "heater"]) is { } role) part.Unit.Exchangers.Add(new(role == "heater" ? ExchangerRole.Heater : ExchangerRole.Evaporator, air));
        if (part.Keys.Text("aspirator") is { } sensor && part.Unit.FindPart(sensor) >= 0) part.Unit.Aspirators.Add(new(air, part.Unit.FindPart(sensor)));
        if (kind is "vent" or "aspirator" or "inlet") part.Watch(ObservableKind.Airflow, part.Id, minutes: 0.15);
        part.Unit.AirBranchOf[part.Index] = air;
    }

    private static (int Speed, double Suction) Suction(PartBuilder part)
    {
        if (part.Keys.Text("aspirator") is { } sensor && part.Unit.FindPart(sensor) < 0) part.Unknown("aspirator", "part", sensor, part.Unit.Parts.Select(p => p.Id));
        double suction = part.Keys.Quantity("suction", Dimension.Pressure, 60);
        if (part.Keys.Text("suction-of") is not { } blower) return (-1, 0);
        int speed = part.Unit.FindVariable(blower);
        if (speed < 0) part.Unknown("suction-of", "blower", blower, part.Unit.VariableNames);
        return (speed, suction);
    }

    private static void Faults(PartBuilder part, string kind, int area, int blocked)
    {
        double perished = part.Keys.Number("perished", 30);
        switch (kind)
        {
            case "seal":
                part.Fault("perished", 1.5, "air goes past where it should not", PartBuilder.Scale(area, perished));
                break;
            case "filter" or "exchanger":
                part.Fault("blocked@half", 0.8, "all vents are weaker", PartBuilder.Set(blocked, 0.7));
                part.Fault("blocked@fully", 0.5, "hardly any air", PartBuilder.Set(blocked, 0.96));
                break;
            case "aspirator":
                part.Fault("hose-off", 1, "sensor sits in still air", PartBuilder.Set(blocked, 0.97));
                part.Fault("clogged", 0.5, "sensor sits in still air", PartBuilder.Set(blocked, 0.9));
                break;
            default:
                part.Fault("blocked", 0.3, "little air comes through", PartBuilder.Set(blocked, 0.93));
                break;
        }
    }
}
