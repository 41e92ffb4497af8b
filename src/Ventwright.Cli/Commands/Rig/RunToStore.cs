using System.CommandLine;
using Ventwright.Rig.Channels;
using Ventwright.Rig.Running;
using Ventwright.Store;
using Ventwright.Workshop.Rigs;

namespace Ventwright.Cli.Commands;

/// <summary>The options that keep a run with a session of the store, where the rig's page of the app lists it: <c>--session</c> and <c>--store</c>.</summary>
internal sealed class RunToStore
{
    private readonly SessionOptions _session;

    /// <summary>Adds the options to a command.</summary>
    public RunToStore(Command command) => _session = new(command, "Keeps the run with this bench session in the store.");

    /// <summary>Opens the store, or nothing when no session was named.</summary>
    /// <exception cref="BadInputException">The store cannot be used, or has no such session.</exception>
    public SqliteSessionStore? Open(ParseResult parsed) => _session.Open(parsed);

    /// <summary>Begins to keep a run.</summary>
    /// <param name="parsed">The command line.</param>
    /// <param name="store">The store.</param>
    /// <param name="rig">The rig.</param>
    /// <param name="options">How the run is made.</param>
    /// <param name="what">What is played, in words.</param>
    /// <param name="drive">What it is about, where it is one with the car.</param>
    /// <returns>The keeper, and the options with it.</returns>
    public (RunKeeper Keeper, RunOptions Options) Begin(ParseResult parsed, SqliteSessionStore store, RigBench rig, RunOptions options, string what, RunDrive? drive)
    {
        var start = new RigRunStart(_session.Id(parsed)!, rig.Definition.Name, rig.IsVirtual ? "the simulated unit" : "the unit on the bench", what, TimeProvider.System.GetLocalNow(), Environment.UserName, [], drive);
        var keeper = new RunKeeper(store, start, new(rig.Definition, rig.Model, options.Panel), why =>
        {
            Console.Error.WriteLine($"ventwright: the run cannot be kept in the store any further: {why}");
            _ = rig.MakeSafeAsync("the log cannot be kept");
        });
        return (keeper, options with { Heard = options.Heard + (sample => keeper.Take(sample)) });
    }
}
