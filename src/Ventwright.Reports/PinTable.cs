using System.Text.RegularExpressions;
using Ventwright.Model.Kernel;
using Ventwright.Quantities;
using Ventwright.Simulation;

namespace Ventwright.Reports;

/// <summary>The pins of the module and of the test connectors, and what they should show.</summary>
/// <param name="Unit">Name of the unit.</param>
/// <param name="Start">How the controls stand at the start, in words.</param>
/// <param name="Settings">The settings, in words.</param>
/// <param name="Rows">The pins.</param>
/// <param name="Units">Units of the bands.</param>
public sealed record PinTable(string Unit, string Start, IReadOnlyList<string> Settings, IReadOnlyList<PinRow> Rows, UnitSystem Units)
{
    private const int MostParts = 3;

    /// <summary>Works the table out: volts to ground in each position of the first control that has positions.</summary>
    /// <param name="simulator">The unit.</param>
    /// <param name="units">Units of the bands.</param>
    public static PinTable Of(Simulator simulator, UnitSystem units)
    {
        ArgumentNullException.ThrowIfNull(simulator);
        UnitModel model = simulator.Model;
        TestPin[] testPins = model.TestPins;
        Control? first = Array.Find(model.Controls, c => c.Positions.Length > 0);
        (string Name, Setting Setting)[] settings = first is null
            ? [("as at the start", Setting.Default(model))]
            : [.. first.Positions.Select(p => ($"{first.Name} {p}", Setting.TryMake(model, [(first.Name, p)], out _)!))];
        int[] nets = [.. ModulePins(model).Concat(testPins.Select(p => Array.IndexOf(model.Nets, p.Net))).Distinct()];
        Observable[] looks = [.. nets.Select(n => new Observable(ObservableKind.Volts, model.Nets[n]))];
        Band[][] bands = [.. settings.Select(s => Bands.Of(simulator, s.Setting, [], looks))];
        var words = new UnitWords(model, units);
        IEnumerable<PinRow> rows = nets.Select((net, i) => new PinRow(
            Pins(model, net, testPins), model.Nets[net], What(model, words, net),
            looks[i].ToString(), [.. bands.Select(b => PaperText.Band(b[i], units))]));
        return new(model.Title, words.Start(), [.. settings.Select(s => s.Name)], [.. rows.OrderBy(SortKey, StringComparer.Ordinal)], units);
    }

    /// <summary>Nets of the module's own plug: supply, ground, reference, inputs and outputs.</summary>
    private static IEnumerable<int> ModulePins(UnitModel model)
    {
        if (model.Module is not { } module) return [];
        IEnumerable<int> own = model.Electric.Where(b => b.Part == module.Part).SelectMany(b => (int[])[b.A, b.B]);
        IEnumerable<int> named = model.Parts.Where(p => p.Kind is "module-input" or "module-output").Select(p => Array.IndexOf(model.Nets, p.Id)).Where(n => n >= 0);
        return own.Concat(module.Inputs.SelectMany(i => i.Pins)).Concat(named).Where(n => n > 0);
    }

    /// <summary>First pin with its figures made equally long, so that pin 10 comes after pin 2.</summary>
    private static string SortKey(PinRow row) => Regex.Replace(row.Pins.Count > 0 ? row.Pins[0] : row.Net, "[0-9]+", m => m.Value.PadLeft(8, '0'), RegexOptions.None, TimeSpan.FromSeconds(1));

    /// <summary>Pins on a net. A person looks a pin of the module up by the module's plug, else by the test connector: that comes first.</summary>
    private static string[] Pins(UnitModel model, int net, IReadOnlyList<TestPin> testPins)
    {
        IEnumerable<string> plugs = ConnectorPins(model).Where(b => b.A == net || b.B == net).Select(b => $"{model.Parts[b.Part].Id} {b.Name["pin ".Length..]}");
        IEnumerable<string> tests = testPins.Where(p => p.Net == model.Nets[net]).Select(p => $"{p.Connector} {p.Pin}");
        return model.Module is null ? [.. tests, .. plugs] : [.. plugs, .. tests];
    }

    private static IEnumerable<ElectricBranch> ConnectorPins(UnitModel model) => model.Electric.Where(b => IsConnector(model, b));

    private static bool IsConnector(UnitModel model, ElectricBranch branch) => model.Parts[branch.Part].Kind == "connector" && branch.Name.StartsWith("pin ", StringComparison.Ordinal);

    /// <summary>What the module does with the pin, and the parts that hang on it, plugs left out.</summary>
    private static string What(UnitModel model, UnitWords words, int net)
    {
        string[] parts = [.. PartsOn(model, net).Select(p => words.Part(model.Parts[p].Id))];
        string hang = string.Join(", ", parts.Take(MostParts)) + (parts.Length > MostParts ? $" and {parts.Length - MostParts} more" : "");
        return Role(model, net) is not { } role ? hang : parts.Length == 0 ? role : $"{role}: {hang}";
    }

    private static string? Role(UnitModel model, int net)
    {
        if (model.Module is not { } module) return null;
        int part = model.PartIndex(model.Nets[net]);
        if (part >= 0 && model.Parts[part].Kind is "module-input" or "module-output") return Capital(model.Parts[part].Name["module ".Length..].Replace(model.Nets[net], "", StringComparison.Ordinal).Trim());
        if (net == module.Ground) return "Module ground";
        ElectricBranch? own = Array.Find(model.Electric, b => b.Part == module.Part && (b.A == net || b.B == net));
        return own is null ? null : own.Law == ElectricLaw.Source ? "Reference" : "Module supply";
    }

    private static string Capital(string text) => text.Length == 0 ? text : char.ToUpperInvariant(text[0]) + text[1..];

    private static IEnumerable<int> PartsOn(UnitModel model, int net)
    {
        var seen = new List<int> { net };
        for (int i = 0; i < seen.Count; i++)
        {
            foreach (ElectricBranch pin in ConnectorPins(model).Where(b => b.A == seen[i] || b.B == seen[i]))
            {
                int other = pin.A == seen[i] ? pin.B : pin.A;
                if (other != 0 && !seen.Contains(other)) seen.Add(other);
            }
        }

        return model.Electric.Where(b => (seen.Contains(b.A) || seen.Contains(b.B)) && b.Part != model.Module?.Part && !IsConnector(model, b))
            .Select(b => b.Part).Where(p => model.Parts[p].Kind is not ("module-input" or "module-output")).Distinct();
    }
}

/// <summary>A pin.</summary>
/// <param name="Pins">Pins of plugs and test connectors on its net, such as <c>XA 5</c>; the one to look it up by first.</param>
/// <param name="Net">Its net.</param>
/// <param name="What">What it is, in words.</param>
/// <param name="Code">The check as it is typed in.</param>
/// <param name="Expected">What it should show in each setting.</param>
public sealed record PinRow(IReadOnlyList<string> Pins, string Net, string What, string Code, IReadOnlyList<string> Expected);
