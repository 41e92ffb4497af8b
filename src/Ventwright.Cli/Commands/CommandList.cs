using System.CommandLine;

namespace Ventwright.Cli.Commands;

/// <summary>All commands in the order in which help lists them. A new command is a file of its own and a line here.</summary>
internal static class CommandList
{
    /// <summary>Makers of the commands.</summary>
    public static IReadOnlyList<Func<Command>> All { get; } =
    [
        CheckCommand.Make, ShowCommand.Make, SchemaCommand.Make, ExpectCommand.Make, ChartCommand.Make, ExportCommand.Make,
        PlanCommand.Make, SymptomsCommand.Make, FindCommand.Make, BenchCommand.Make, StudyCommand.Make,
        SensorCommand.Make, SweepCommand.Make, AspiratorCommand.Make, StandInCommand.Make, StepsCommand.Make, SlowCarCommand.Make, DriveCommand.Make, RigCommand.Make,
        CardsCommand.Make, AppCommand.Make, Demo.Make,
    ];
}
