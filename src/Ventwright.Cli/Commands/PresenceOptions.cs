using System.CommandLine;
using Ventwright.Bench;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;
using Ventwright.Workshop;

namespace Ventwright.Cli.Commands;

/// <summary>The options that say what is on the bench.</summary>
internal sealed class PresenceOptions
{
    private readonly Option<string[]> _absent = Many("--absent", "A part that is not on the bench; several with commas.");
    private readonly Option<string[]> _alone = Many("--alone", "A part that lies alone on the table, without the supply; several with commas.");
    private readonly Option<string[]> _unplug = Many("--unplug", "A connector or part that is unplugged; several with commas.");

    /// <summary>The options.</summary>
    public IReadOnlyList<Option> All => [_absent, _alone, _unplug];

    /// <summary>Adds the options to a command.</summary>
    public PresenceOptions Add(Command command)
    {
        foreach (Option option in All) command.Options.Add(option);
        return this;
    }

    /// <summary>What is absent or unplugged, as a setting names it.</summary>
    /// <exception cref="RefusedException">A part is not known.</exception>
    public IReadOnlyList<(string Name, string Value)> Words(UnitModel model, ParseResult parsed)
    {
        string[] ids = [.. model.Parts.Select(p => p.Id)];
        string[] absent = Named(parsed, _absent), unplugged = Named(parsed, _unplug);
        foreach (string id in (string[])[.. absent, .. unplugged])
        {
            if (CheckNames.Unknown("part", id, ids) is { } problem) throw new BadInputException(problem);
        }

        return [.. absent.Select(id => ($"absent {id}", "yes")).Concat(SettingWords.Alone(model, Named(parsed, _alone))).Distinct(), .. unplugged.Distinct().Select(id => ($"unplug {id}", "yes"))];
    }

    /// <summary>A diagnosis for what is on the bench.</summary>
    public BenchDiagnosis Diagnosis(Simulator simulator, ParseResult parsed)
    {
        Presence presence = Presence.TryMake(simulator.Model, Words(simulator.Model, parsed), out string? problem) ?? throw new BadInputException(problem ?? "that cannot be on the bench");
        return new(simulator, catalog: new(simulator, presence));
    }

    private static string[] Named(ParseResult parsed, Option<string[]> option) =>
        [.. (parsed.GetValue(option) ?? []).SelectMany(t => t.Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries))];

    private static Option<string[]> Many(string name, string description) => new(name) { Description = description, Arity = ArgumentArity.OneOrMore };
}
