using System.CommandLine;
using Ventwright.Bench.StandIns;
using Ventwright.Cli.Output;
using Ventwright.Model.Kernel;
using Ventwright.Quantities;
using Ventwright.Simulation;

namespace Ventwright.Cli.Commands;

/// <summary><c>standin SHEET RT1=30C</c>: what to put in place of a sensor, a feedback, a switch or the vacuum.</summary>
internal static class StandInCommand
{
    /// <summary>Makes the command.</summary>
    public static Command Make()
    {
        var command = new Command("standin", "What to put in place of a sensor, a feedback, a switch or the vacuum, so that the unit believes it is in a car.");
        var input = new SheetInput(command);
        var what = new Argument<string[]>("WHAT") { Description = "RT1=30C, M3=0.4, PS1=closed, A1=20kPa; several may be given.", Arity = ArgumentArity.OneOrMore };
        var drawer = new Option<string>("--drawer") { Description = "Resistors at hand: E3 to E192, with decades E24@100ohm..100kohm, or a file with value, tolerance, count on each line.", DefaultValueFactory = _ => "E24" };
        var most = new Option<int>("--most") { Description = "Most resistors to join: 1, 2 or 3.", DefaultValueFactory = _ => 3 };
        var choices = new Option<int>("--choices") { Description = "How many choices to list.", DefaultValueFactory = _ => 5 };
        var dissipation = new Option<string>("--dissipation") { Description = "Power that warms the sensor by 1 K: 1.5mW, a small bead in still air, unless told.", DefaultValueFactory = _ => "1.5mW" };
        var air = new Option<bool>("--air") { Description = "The temperature is that of the air: the sensor's own warming goes into the resistance." };
        var set = new Option<string[]>("--set") { Description = "A control or condition of the unit: mode=auto.", Arity = ArgumentArity.OneOrMore };
        command.Arguments.Add(what);
        foreach (Option option in (Option[])[drawer, most, choices, dissipation, air, set]) command.Options.Add(option);
        command.SetAction(parsed =>
        {
            UnitModel model = input.Load(parsed);
            if (parsed.GetValue(most) is < 1 or > 3) throw new BadInputException("--most is 1, 2 or 3");
            if (parsed.GetValue(choices) is < 1 or > 50) throw new BadInputException("--choices is 1 to 50");
            if (!QuantityText.TryParse(parsed.GetValue(dissipation)!, Dimension.Watt, out double watts, out string? problem)) throw new BadInputException($"--dissipation: {problem}");
            var options = new StandInOptions(
                watts, parsed.GetValue(air), parsed.GetValue(most), parsed.GetValue(choices), [.. (parsed.GetValue(set) ?? []).Select(t => SettingOptions.Pair("--set", t))]);
            Drawer resistors = Drawer.TryRead(parsed.GetValue(drawer)!, out problem) ?? throw new BadInputException($"--drawer: {problem}");
            var simulator = new Simulator(model);
            StandIn[] found = [.. (parsed.GetValue(what) ?? []).Select(text =>
            {
                (string id, string value) = SettingOptions.Pair("WHAT", text);
                return StandInSearch.TryMake(simulator, id, value, resistors, options, out string? wrong) ?? throw new BadInputException(wrong!);
            })];
            if (input.AsJson(parsed)) Json.Write(new { V = 1, Drawer = resistors.Name, StandIns = found.Select(f => StandInView.Json(f, input.Units(parsed))) });
            else foreach (StandIn one in found) StandInView.Write(one, resistors, input.Units(parsed));
            return ExitCodes.Fine;
        });
        return command;
    }
}
