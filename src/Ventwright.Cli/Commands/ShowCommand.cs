using System.CommandLine;
using System.Globalization;
using Ventwright.Cli.Output;
using Ventwright.Model.Kernel;
using Ventwright.Quantities;
using Ventwright.Workshop;

namespace Ventwright.Cli.Commands;

/// <summary><c>show SHEET [PART]</c>: the parts of a unit, or all about one.</summary>
internal static class ShowCommand
{
    /// <summary>Makes the command.</summary>
    public static Command Make()
    {
        var command = new Command("show", "Lists the parts of a unit, or tells all about one part.");
        var input = new SheetInput(command);
        var part = new Argument<string?>("PART") { Description = "Id of a part.", Arity = ArgumentArity.ZeroOrOne };
        command.Arguments.Add(part);
        command.SetAction(parsed =>
        {
            UnitModel model = input.Load(parsed);
            if (parsed.GetValue(part) is { } id) One(model, id, input.AsJson(parsed), input.Units(parsed));
            else All(model, input.AsJson(parsed));
            return ExitCodes.Fine;
        });
        return command;
    }

    private static void All(UnitModel model, bool json)
    {
        if (json)
        {
            Json.Write(new
            {
                V = 1,
                Unit = model.Title,
                Parts = model.Parts.Select(p => new { p.Id, p.Name, p.Kind, Place = model.Places[p.Place].Name }),
                Controls = model.Controls.Select(c => new { c.Name, Positions = c.Positions.Length > 0 ? c.Positions : null, c.Low, c.High }),
                Conditions = model.Conditions.Select(c => c.Name),
                Places = model.Places.Select(p => new { p.Name, p.Minutes, p.Opens, p.Caution }),
            });
            return;
        }

        Screen.Line(model.Title);
        Screen.Table(["id", "name", "kind", "place"], model.Parts.Select(p => (string[])[p.Id, p.Name, p.Kind, model.Places[p.Place].Name]));
        Screen.Line($"controls: {string.Join("; ", model.Controls.Select(Stops))}");
        Screen.Line($"conditions: {string.Join(", ", model.Conditions.Select(c => c.Name))}");
    }

    private static string Stops(Control control) => control.Positions.Length > 0
        ? $"{control.Name} ({string.Join(", ", control.Positions)})"
        : string.Create(CultureInfo.InvariantCulture, $"{control.Name} ({control.Low} to {control.High})");

    private static void One(UnitModel model, string id, bool json, UnitSystem units)
    {
        if (CheckNames.Unknown("part", id, [.. model.Parts.Select(p => p.Id)]) is { } problem) throw new BadInputException(problem);
        var sheet = new PartSheet(model, model.PartIndex(id));
        if (json) Json.Write(sheet.Json(units));
        else sheet.Write(units);
    }
}
