using System.CommandLine;
using Ventwright.Model.Kernel;
using Ventwright.Quantities;
using Ventwright.Simulation;
using Ventwright.Workshop;

namespace Ventwright.Cli.Commands;

/// <summary>The options that say how the unit stands on the bench and what is wrong with it.</summary>
internal sealed class SettingOptions
{
    private readonly Option<string[]> _set = Many("--set", "A control or condition: mode=screen, warmth=0.4, cabin=30C.");
    private readonly Option<string[]> _temp = Many("--temp", "A condition: cabin=30C, coolant=85C, refrigerant='5 bar'.");
    private readonly Option<string[]> _standIn = Many("--stand-in", "A resistor in place of a sensor (RT1=12.1kohm); a switch or mover held (FL1=1, PS1=closed).");
    private readonly Option<string[]> _unplug = Many("--unplug", "A connector or part that is unplugged.");
    private readonly Option<string[]> _absent = Many("--absent", "A part that is not there.");
    private readonly Option<string[]> _alone = Many("--alone", "A part that lies alone on the table: all others are absent, the supply too. May be given several times.");
    private readonly Option<string[]> _feed = Many("--feed", "A net fed directly: sw.on=12V.");
    private readonly Option<string[]> _after = Many("--after", "How it stood before, where the way there matters: 'stand-in RT3=30kohm', mode=auto.");
    private readonly Option<string?> _supply = new("--supply") { Description = "on or off." };
    private readonly Option<string?> _pump = new("--pump") { Description = "on or off." };
    private readonly Option<string[]> _fault = Many("--fault", "A fault that is there: Y1:stuck-shut. May be given several times.");

    /// <summary>Adds the options to a command.</summary>
    public SettingOptions(Command command)
    {
        foreach (Option option in (Option[])[_set, _temp, _standIn, _unplug, _absent, _alone, _feed, _after, _supply, _pump, _fault]) command.Options.Add(option);
    }

    /// <summary>The setting.</summary>
    /// <exception cref="BadInputException">Something does not fit the unit.</exception>
    public Setting Setting(UnitModel model, ParseResult parsed) => SettingWords.Make(model, Words(model, parsed));

    /// <summary>The faults.</summary>
    /// <exception cref="BadInputException">One is not known.</exception>
    public Fault[] Faults(UnitModel model, ParseResult parsed) => [.. (parsed.GetValue(_fault) ?? []).Select(id => FindFault(model, id))];

    /// <summary>Splits <c>name=value</c>.</summary>
    /// <exception cref="BadInputException">There is no equals sign.</exception>
    public static (string Name, string Value) Pair(string option, string text)
    {
        int equals = text.IndexOf('=', StringComparison.Ordinal);
        if (equals <= 0 || equals == text.Length - 1) throw new BadInputException($"{option} wants name=value, not '{text}'");
        return (text[..equals].Trim(), text[(equals + 1)..].Trim());
    }

    /// <summary>The words of the setting.</summary>
    public IReadOnlyList<(string Name, string Value)> Words(UnitModel model, ParseResult parsed)
    {
        List<(string, string)> words = [];
        foreach (Option<string[]> option in (Option<string[]>[])[_set, _temp]) words.AddRange((parsed.GetValue(option) ?? []).Select(t => Pair(option.Name, t)));
        foreach (Option<string[]> option in (Option<string[]>[])[_standIn, _feed])
        {
            foreach (string text in parsed.GetValue(option) ?? [])
            {
                (string name, string value) = Pair(option.Name, text);
                words.Add(($"{option.Name[2..]} {name}", value));
            }
        }

        words.AddRange((parsed.GetValue(_after) ?? []).Select(t => Pair("--after", t)).Select(w => ($"after {w.Name}", w.Value)));
        words.AddRange((parsed.GetValue(_unplug) ?? []).Select(id => ($"unplug {id}", "yes")));
        words.AddRange((parsed.GetValue(_absent) ?? []).Select(id => ($"absent {id}", "yes")));
        words.AddRange(SettingWords.Alone(model, parsed.GetValue(_alone) ?? []));
        if (parsed.GetValue(_supply) is { } supply) words.Add(("supply", supply));
        if (parsed.GetValue(_pump) is { } pump) words.Add(("pump", pump));
        return words;
    }

    /// <summary>A fault of the sheet by its id.</summary>
    /// <exception cref="BadInputException">There is none; the message says which come near.</exception>
    public static Fault FindFault(UnitModel model, string id)
    {
        if (model.FindFault(id) is { } fault) return fault;
        string[] sizes = [.. model.Faults.Where(f => f.Family == id).Select(f => f.Id)];
        if (sizes.Length > 0) throw new BadInputException($"`{id}` comes in sizes: {string.Join(", ", sizes)}");
        string part = id.Split(':')[0];
        string[] own = [.. model.Faults.Where(f => model.Parts[f.Part].Id == part).Select(f => f.Id)];
        string? near = NearMiss.Suggest(id, own) ?? NearMiss.Suggest(id, model.Faults.Select(f => f.Id));
        string hint = near is not null ? $"did you mean `{near}`?"
            : own.Length > 0 ? $"{part} knows {string.Join(", ", own)}"
            : CheckNames.Unknown("part", part, [.. model.Parts.Select(p => p.Id)]) ?? $"{part} has no faults";
        throw new BadInputException($"there is no fault `{id}`; {hint}");
    }

    private static Option<string[]> Many(string name, string description) => new(name) { Description = description, Arity = ArgumentArity.OneOrMore };
}
