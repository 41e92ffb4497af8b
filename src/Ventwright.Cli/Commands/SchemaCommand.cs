using System.CommandLine;
using Ventwright.Cli.Output;
using Ventwright.Model.Schema;

namespace Ventwright.Cli.Commands;

/// <summary><c>schema</c>: the JSON Schema of a sheet.</summary>
internal static class SchemaCommand
{
    /// <summary>Makes the command.</summary>
    public static Command Make()
    {
        var command = new Command("schema", "Prints the JSON Schema (2020-12) of a sheet, for editors.");
        command.Options.Add(new Option<bool>("--json") { Description = "No difference: a schema is JSON." });
        command.Options.Add(new Option<bool>("--us") { Description = "No difference: sheets take metric and US units." });
        command.SetAction(_ =>
        {
            Screen.Line(SheetSchema.Text());
            return ExitCodes.Fine;
        });
        return command;
    }
}
