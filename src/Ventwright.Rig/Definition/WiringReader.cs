using Ventwright.Model.Kernel;
using Ventwright.Model.Sheet.Text;
using Ventwright.Quantities;

namespace Ventwright.Rig.Definition;

/// <summary>Reads where channels are wired to, and checks it against the sheet.</summary>
internal sealed class WiringReader(UnitModel model, ProblemList problems)
{
    private const string Supply = "supply", Pump = "pump";

    /// <summary>Reads <c>wired-to</c> of an output: a sensor or switch that it stands in for, a net, <c>supply</c> or <c>pump</c>.</summary>
    public WiredOutput? Output(MapReader keys, ChannelKind kind)
    {
        if (keys.Scalar("wired-to", true) is not { } scalar) return null;
        string name = scalar.Text;
        int part = model.PartIndex(name);
        if (name == Supply && kind != ChannelKind.Resistance) return new(name, OutputRole.Supply);
        if (name == Pump && kind == ChannelKind.Relay) return new(name, OutputRole.Pump);
        if (part >= 0) return StandIn(scalar, part, kind);
        if (Array.IndexOf(model.Nets, name) > 0) return Net(keys, scalar, kind);
        IEnumerable<string> known = kind switch
        {
            ChannelKind.Resistance => Sensors(),
            ChannelKind.Voltage => [.. model.Nets.Skip(1), Supply],
            _ => [.. model.Nets.Skip(1), Supply, Pump, .. model.Parts.Where((_, i) => model.MainVariable[i] >= 0).Select(p => p.Id)],
        };
        return Unknown(scalar, known, kind == ChannelKind.Resistance ? $"sensors of the sheet: {string.Join(", ", Sensors())}" : "write a net of the sheet, 'supply' or 'pump'");
    }

    /// <summary>Reads <c>wired-to</c> of an input: a net, two nets, a part (current), a hose (pressure), a condition (temperature), or <c>none</c> for one that is only logged.</summary>
    public WiredInput? Input(MapReader keys, ChannelKind kind)
    {
        List<SheetScalar> names = keys.Scalars("wired-to", true);
        if (names.Count == 0) return null;
        if (names is [{ Text: "none" }]) return new(null, null);
        if (names.Count > 2 || (names.Count == 2 && kind is not (ChannelKind.Voltage or ChannelKind.Switch)))
        {
            problems.Error("wrong-value", names[0].Mark, "'wired-to' takes one name, or two nets for a voltage between them");
            return null;
        }

        return kind switch
        {
            ChannelKind.Current => Part(names[0]),
            ChannelKind.Pressure => One(names[0], model.Hoses.Skip(1), "hose", ObservableKind.Vacuum),
            ChannelKind.Temperature => Condition(names[0]),
            _ => Volts(names),
        };
    }

    private IEnumerable<string> Sensors() => model.Electric.Where(b => b.Law == ElectricLaw.Thermistor).Select(b => model.Parts[b.Part].Id);

    private WiredOutput? StandIn(SheetScalar scalar, int part, ChannelKind kind)
    {
        bool isSensor = Sensors().Contains(scalar.Text, StringComparer.Ordinal);
        if (kind == ChannelKind.Resistance && isSensor) return new(scalar.Text, OutputRole.StandIn);
        if (kind == ChannelKind.Relay && !isSensor && model.MainVariable[part] >= 0) return new(scalar.Text, OutputRole.StandIn);
        string fits = isSensor ? "a resistance stands in for a sensor" : model.MainVariable[part] >= 0 ? "a relay stands in for a switch" : "wire the output to a net";
        problems.Error("wired-to", scalar.Mark, $"a {kind.ToString().ToLowerInvariant()} cannot stand in for {scalar.Text} ({model.Parts[part].Kind})", fits);
        return null;
    }

    private WiredOutput? Net(MapReader keys, SheetScalar scalar, ChannelKind kind)
    {
        if (kind == ChannelKind.Voltage) return new(scalar.Text, OutputRole.Feed);
        if (kind == ChannelKind.Relay) return keys.Word("joins-to", ["battery", "gnd"], true) is { } to ? new(scalar.Text, OutputRole.Join, to) : null;
        problems.Error("wired-to", scalar.Mark, $"a resistance stands in for a sensor; {scalar.Text} is a net", $"sensors of the sheet: {string.Join(", ", Sensors())}");
        return null;
    }

    private WiredInput? Volts(List<SheetScalar> names)
    {
        foreach (SheetScalar name in names)
        {
            if (Array.IndexOf(model.Nets, name.Text) >= 0) continue;
            Unknown(name, model.Nets, "write a net of the sheet");
            return null;
        }

        return new(new Observable(ObservableKind.Volts, names[0].Text, names.Count == 2 ? names[1].Text : null), null);
    }

    private WiredInput? Part(SheetScalar name)
    {
        IEnumerable<string> carrying = model.Parts.Where((_, i) => model.MainBranch[i] >= 0).Select(p => p.Id);
        return One(name, carrying, "part that carries a current", ObservableKind.Amps);
    }

    private WiredInput? One(SheetScalar name, IEnumerable<string> known, string what, ObservableKind kind)
    {
        if (known.Contains(name.Text, StringComparer.Ordinal)) return new(new Observable(kind, name.Text), null);
        Unknown(name, known, $"write a {what} of the sheet");
        return null;
    }

    private WiredInput? Condition(SheetScalar name)
    {
        string[] temperatures = [.. model.Conditions.Where(c => c.Dimension == Dimension.Temperature).Select(c => c.Name)];
        if (temperatures.Contains(name.Text, StringComparer.Ordinal)) return new(null, name.Text);
        Unknown(name, temperatures, $"write a temperature of the sheet ({string.Join(", ", temperatures)}), or 'none' for one that is only logged");
        return null;
    }

    private WiredOutput? Unknown(SheetScalar name, IEnumerable<string> known, string hint)
    {
        string? near = NearMiss.Suggest(name.Text, known);
        problems.Error("wired-to", name.Mark, $"the sheet has nothing called '{name.Text}' that this can be wired to", near is null ? hint : $"did you mean '{near}'?");
        return null;
    }
}
