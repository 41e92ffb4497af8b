using System.CommandLine;
using Ventwright.Cli.Output;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;
using Ventwright.Simulation.Spice;

namespace Ventwright.Cli.Commands;

/// <summary><c>export SHEET --spice</c>: the electrical side at a setting, for a circuit simulator.</summary>
internal static class ExportCommand
{
    /// <summary>Makes the command.</summary>
    public static Command Make()
    {
        var command = new Command("export", "Writes the electrical side at a setting as a SPICE netlist.");
        var input = new SheetInput(command);
        var setting = new SettingOptions(command);
        var spice = new Option<bool>("--spice") { Description = "As a SPICE netlist." };
        command.Options.Add(spice);
        command.SetAction(parsed =>
        {
            if (!parsed.GetValue(spice)) throw new BadInputException("say what to export: --spice");
            UnitModel model = input.Load(parsed);
            Simulator simulator = new(model);
            Setting stands = setting.Setting(model, parsed);
            Fault[] faults = setting.Faults(model, parsed);
            if (simulator.Settle(stands, faults) is { Verdict: Verdict.NotSolved } rest)
            {
                Console.Error.WriteLine($"ventwright: there is nothing to export: {rest.Note}");
                return ExitCodes.No;
            }

            string netlist = SpiceExport.Write(simulator, stands, faults, out IReadOnlyDictionary<string, string> nodes);
            if (input.AsJson(parsed)) Json.Write(new { V = 1, Netlist = netlist, Nodes = nodes });
            else Screen.Out.Write(netlist);
            return ExitCodes.Fine;
        });
        return command;
    }
}
