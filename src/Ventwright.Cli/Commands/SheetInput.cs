using System.CommandLine;
using Ventwright.Model.Build;
using Ventwright.Model.Kernel;
using Ventwright.Model.Sheet.Text;
using Ventwright.Quantities;

namespace Ventwright.Cli.Commands;

/// <summary>What nearly every command takes: the sheet, <c>--json</c> and <c>--us</c>.</summary>
internal sealed class SheetInput
{
    private readonly Argument<string> _sheet = new("SHEET") { Description = "The sheet that describes the unit, a YAML file." };
    private readonly Option<bool> _json = new("--json") { Description = "Answer in JSON for other programs." };
    private readonly Option<bool> _us = new("--us") { Description = "US units: degF, inHg, cfm." };

    /// <summary>Adds them to a command.</summary>
    /// <param name="command">The command.</param>
    /// <param name="isOptional">Whether the sheet may be left out.</param>
    public SheetInput(Command command, bool isOptional = false)
    {
        if (isOptional) _sheet.Arity = ArgumentArity.ZeroOrOne;
        command.Arguments.Add(_sheet);
        command.Options.Add(_json);
        command.Options.Add(_us);
    }

    /// <summary>The path of the sheet.</summary>
    public string Path(ParseResult parsed) => parsed.GetRequiredValue(_sheet);

    /// <summary>Whether a sheet was named.</summary>
    public bool IsTold(ParseResult parsed) => parsed.GetValue(_sheet) is not null;

    /// <summary>Whether the answer is JSON.</summary>
    public bool AsJson(ParseResult parsed) => parsed.GetValue(_json);

    /// <summary>Units to write.</summary>
    public UnitSystem Units(ParseResult parsed) => parsed.GetValue(_us) ? UnitSystem.US : UnitSystem.Metric;

    /// <summary>The compiled sheet.</summary>
    /// <exception cref="BadInputException">The sheet has errors; the message tells each.</exception>
    public UnitModel Load(ParseResult parsed) => Load(Path(parsed));

    /// <summary>The compiled sheet of a path.</summary>
    /// <exception cref="BadInputException">The sheet has errors; the message tells each.</exception>
    public static UnitModel Load(string path)
    {
        var problems = new ProblemList();
        UnitModel? model = SheetFile.Load(path, problems);
        if (model is not null && !problems.HasErrors) return model;
        IEnumerable<string> errors = problems.Sorted.Where(p => p.Severity == Severity.Error).Select(p => p.ToString());
        throw new BadInputException($"the sheet cannot be used:\n{string.Join('\n', errors)}");
    }
}
