using System.CommandLine;
using System.CommandLine.Parsing;
using Ventwright.Cli.Output;
using Ventwright.Workshop;

namespace Ventwright.Cli.Commands;

/// <summary>Runs a command line; turns whatever goes wrong into one message and an exit code.</summary>
internal static class CommandRunner
{
    /// <summary>Runs the arguments and gives the exit code.</summary>
    public static int Run(string[] args)
    {
        var root = new RootCommand("Says what every check on a car's climate unit should show, from a sheet that describes the unit.");
        foreach (Func<Command> make in CommandList.All) root.Subcommands.Add(make());
        try
        {
            int code = args.Length == 0 ? AppCommand.Run() : Invoke(root.Parse(args));
            Screen.Flush();
            return code;
        }
        catch (RefusedException e)
        {
            return Say(e.Message, ExitCodes.BadInput);
        }
        catch (IOException e)
        {
            // The reader of a pipe may be gone: then nobody wants the rest, and there is nothing to say.
            return Screen.IsPipeBroken(e) ? ExitCodes.Fine : Say($"cannot write the output: {e.Message}", ExitCodes.Internal);
        }
#pragma warning disable CA1031 // The last resort: a person gets a message, never a stack trace.
        catch (Exception e)
#pragma warning restore CA1031
        {
            return Say($"this is a fault of the program, not of your input: {e.Message.ReplaceLineEndings(" ")} ({e.GetType().Name})", ExitCodes.Internal);
        }
    }

    private static int Invoke(ParseResult parsed)
    {
        if (parsed.Errors.Count > 0) throw new BadInputException($"{Problem(parsed)}. `ventwright {Path(parsed)}--help` lists what can be said.");
        return parsed.Invoke(new InvocationConfiguration { EnableDefaultExceptionHandler = false, Output = Screen.Out });
    }

    private static string Problem(ParseResult parsed)
    {
        string[] commands = [.. parsed.RootCommandResult.Command.Subcommands.Select(c => c.Name)];
        if (parsed.CommandResult.Command is not RootCommand) return string.Join("; ", parsed.Errors.Select(e => e.Message.TrimEnd('.')));
        if (parsed.UnmatchedTokens.Count == 0) return $"say what to do: {string.Join(", ", commands)}";
        return CheckNames.Unknown("command", parsed.UnmatchedTokens[0], commands) ?? parsed.Errors[0].Message.TrimEnd('.');
    }

    /// <summary>The command as it is typed, such as <c>rig run</c>, with a blank behind it; empty for none.</summary>
    private static string Path(ParseResult parsed)
    {
        string path = "";
        for (CommandResult? at = parsed.CommandResult; at is { Command: not RootCommand }; at = at.Parent as CommandResult) path = $"{at.Command.Name} {path}";
        return path;
    }

    private static int Say(string message, int code)
    {
        try
        {
            Screen.Flush();
        }
        catch (IOException)
        {
            // The message below is what matters now.
        }

        Console.Error.WriteLine($"ventwright: {message}");
        return code;
    }
}
