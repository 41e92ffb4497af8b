using System.CommandLine;
using Ventwright.Rig.Channels;
using Ventwright.Rig.Running;
using Ventwright.Store;
using Ventwright.Workshop.Rigs;

namespace Ventwright.Cli.Commands;

/// <summary>The options that keep a run with a session of the store, where the rig's page of the app lists it: <c>--session</c> and <c>--store</c>.</summary>
internal sealed class RunToStore
{
    private readonly Option<string?> _session = new("--session") { Description = "Keeps the run with this bench session in the store." };
    private readonly Option<string?> _store = new("--store") { Description = "The store's file; the usual place unless told." };

    /// <summary>Adds the options to a command.</summary>
    public RunToStore(Command command)
    {
        command.Options.Add(_session);
        command.Options.Add(_store);
    }

    /// <summary>Opens the store, or nothing when no session was named.</summary>
    /// <exception cref="BadInputException">The store cannot be used, or has no such session.</exception>
    public SqliteSessionStore? Open(ParseResult parsed)
    {
        string? id = parsed.GetValue(_session);
        if (id is null) return parsed.GetValue(_store) is null ? null : throw new BadInputException("--store says where the run is kept; say with --session for which session");
        try
        {
            SqliteSessionStore store = SqliteSessionStore.Open(parsed.GetValue(_store) ?? SqliteSessionStore.DefaultPath);
            if (store.Find(id) is not null) return store;
            store.Dispose();
        }
        catch (StoreException e)
        {
            throw new BadInputException(e.Message);
        }

        throw new BadInputException($"there is no session '{id}'; `ventwright bench list` tells which there are");
    }

    /// <summary>Begins to keep a run.</summary>
    /// <param name="parsed">The command line.</param>
    /// <param name="store">The store.</param>
    /// <param name="rig">The rig.</param>
    /// <param name="options">How the run is made.</param>
    /// <param name="what">What is played, in words.</param>
    /// <returns>The keeper, and the options with it.</returns>
    public (RunKeeper Keeper, RunOptions Options) Begin(ParseResult parsed, SqliteSessionStore store, RigBench rig, RunOptions options, string what)
    {
        var start = new RigRunStart(parsed.GetValue(_session)!, rig.Definition.Name, rig.IsVirtual ? "the simulated unit" : "the unit on the bench", what, TimeProvider.System.GetLocalNow(), Environment.UserName, []);
        var keeper = new RunKeeper(store, start, new(rig.Definition, rig.Model, options.Panel), why =>
        {
            Console.Error.WriteLine($"ventwright: the run cannot be kept in the store any further: {why}");
            _ = rig.MakeSafeAsync("the log cannot be kept");
        });
        return (keeper, options with { Heard = sample => keeper.Take(sample) });
    }
}
