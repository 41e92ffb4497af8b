using System.CommandLine;
using Ventwright.Store;

namespace Ventwright.Cli.Commands;

/// <summary>The options that name a bench session of the store: <c>--session</c> and <c>--store</c>.</summary>
internal sealed class SessionOptions
{
    private readonly Option<string?> _session;
    private readonly Option<string?> _store = new("--store") { Description = "The store's file; the usual place unless told." };

    /// <summary>Adds the options to a command.</summary>
    /// <param name="command">The command.</param>
    /// <param name="text">What is done with the session.</param>
    public SessionOptions(Command command, string text)
    {
        _session = new("--session") { Description = text };
        command.Options.Add(_session);
        command.Options.Add(_store);
    }

    /// <summary>Id of the session, or null when none was named.</summary>
    public string? Id(ParseResult parsed) => parsed.GetValue(_session);

    /// <summary>Opens the store, or nothing when no session was named.</summary>
    /// <exception cref="BadInputException">The store cannot be used, or has no such session.</exception>
    public SqliteSessionStore? Open(ParseResult parsed)
    {
        string? id = Id(parsed);
        if (id is null) return parsed.GetValue(_store) is null ? null : throw new BadInputException("--store says where sessions are kept; say with --session which one");
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
}
