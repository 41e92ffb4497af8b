using System.CommandLine;

namespace Ventwright.Cli.Commands;

/// <summary><c>rig ...</c>: instruments and outputs wired to the bench unit.</summary>
internal static class RigCommand
{
    /// <summary>Makes the command.</summary>
    public static Command Make()
    {
        var command = new Command("rig", "Instruments and outputs wired to the unit: checks a rig file and the wiring, reads, sets, runs, takes readings from logs.");
        foreach (Command part in (Command[])[RigCheckCommand.Make(), RigWiringCommand.Make(), RigReadCommand.Make(), RigSetCommand.Make(), RigRunCommand.Make(), RigLogCommand.Make()])
            command.Subcommands.Add(part);
        return command;
    }
}
