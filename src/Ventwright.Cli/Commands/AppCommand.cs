using System.CommandLine;
using System.Globalization;
using Ventwright.Cli.Output;
using Ventwright.Store;
using Ventwright.Web;

namespace Ventwright.Cli.Commands;

/// <summary><c>app</c>, and what the program does without arguments: the bench app in a browser on this computer.</summary>
internal static class AppCommand
{
    private const int UsualPort = 5240;

    /// <summary>Makes the command.</summary>
    public static Command Make()
    {
        var command = new Command("app", "Starts the bench app and prints its address; the same as no command at all.");
        var path = new Option<string?>("--store") { Description = "The store's file; the usual place unless told." };
        var port = new Option<string?>("--port") { Description = $"Port to listen on, {UsualPort} unless told; 0 for any that is free." };
        var lan = new Option<bool>("--lan") { Description = "Lets tablets in the workshop's network join by scanning a code." };
        command.Options.Add(path);
        command.Options.Add(lan);
        command.Options.Add(port);
        command.SetAction(parsed => Run(new(parsed.GetValue(path) ?? SqliteSessionStore.DefaultPath, Port(parsed.GetValue(port)), parsed.GetValue(lan))));
        return command;
    }

    /// <summary>Starts the app with the usual store and port.</summary>
    public static int Run() => Run(new(SqliteSessionStore.DefaultPath, UsualPort, false));

    private static int Run(AppOptions options)
    {
        try
        {
            WorkshopApp.RunAsync(options, address =>
            {
                Screen.Line($"Ventwright is at {address}");
                Screen.Line($"It keeps its sessions in {options.StorePath}. Stop it with Ctrl+C.");
                if (options.Lan) Screen.Line($"Other devices join by the code on {address}/devices; until then they get nothing.");
                Screen.Flush();
            }).GetAwaiter().GetResult();
        }
        catch (StoreException e)
        {
            throw new BadInputException(e.Message);
        }

        return ExitCodes.Fine;
    }

    private static int Port(string? text)
    {
        if (text is null) return UsualPort;
        return int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out int port) && port <= 65535
            ? port : throw new BadInputException($"--port wants a number from 0 to 65535, not '{text}'");
    }
}
