using System.Diagnostics;
using System.Globalization;

namespace Ventwright.Web.Tests;

/// <summary>The bench app, serving on a real socket.</summary>
internal interface IServer : IAsyncDisposable
{
    /// <summary>Where it listens.</summary>
    string Address { get; }
}

/// <summary>The program as a process of its own from its build folder, as a person starts it.</summary>
internal sealed class Server : IServer
{
    private readonly string _store;
    private Process _process;

    private Server(string store, Process process, string address) => (_store, _process, Address) = (store, process, address);

    public string Address { get; private set; }

    /// <summary>Time on all processors that it has used so far.</summary>
    public TimeSpan Worked
    {
        get
        {
            _process.Refresh();
            return _process.TotalProcessorTime;
        }
    }

    /// <summary>Starts it on a store.</summary>
    public static async Task<Server> StartAsync(string store, params string[] more)
    {
        (Process process, string address) = await LaunchAsync(store, "0", more);
        return new(store, process, address);
    }

    /// <summary>Kills it at once (SIGKILL) and starts it again on the same store and port.</summary>
    public async Task KillAndRestartAsync()
    {
        _process.Kill();
        await _process.WaitForExitAsync();
        (_process, Address) = await LaunchAsync(_store, new Uri(Address).Port.ToString(CultureInfo.InvariantCulture));
    }

    /// <summary>Tells it to end (SIGTERM), as the system does that is shut down; waits for nothing.</summary>
    public async Task TellToEndAsync()
    {
        using Process tell = Process.Start("kill", ["-TERM", _process.Id.ToString(CultureInfo.InvariantCulture)]);
        await tell.WaitForExitAsync();
    }

    public async ValueTask DisposeAsync()
    {
        _process.Kill();
        await _process.WaitForExitAsync();
        _process.Dispose();
    }

    private static async Task<(Process Process, string Address)> LaunchAsync(string store, string port, params string[] more)
    {
        var start = new ProcessStartInfo("dotnet", [Path.Combine(AppContext.BaseDirectory, "ventwright.dll"), "app", "--store", store, "--port", port, .. more])
        {
            RedirectStandardOutput = true,
            UseShellExecute = false,
        };
        Process process = Process.Start(start)!;
        string line = await process.StandardOutput.ReadLineAsync() ?? throw new InvalidOperationException("the program ended without printing its address");
        return (process, line[line.IndexOf("http", StringComparison.Ordinal)..]);
    }
}

/// <summary>The same app on a store and a socket of its own, but in the process of the tests: what was worked out from a sheet is there for the next class as well.</summary>
internal sealed class ServerWithin : IServer
{
    private readonly CancellationTokenSource _stop = new();
    private readonly TaskCompletionSource<string> _started = new(TaskCreationOptions.RunContinuationsAsynchronously);
    private readonly Task _serving;

    private ServerWithin(string store) => _serving = Task.Run(() => WorkshopApp.RunAsync(new(store, 0, Lan: false), _started.SetResult, _stop.Token));

    public string Address => _started.Task.Result;

    /// <summary>Starts it on a store.</summary>
    public static async Task<ServerWithin> StartAsync(string store)
    {
        var server = new ServerWithin(store);
        if (await Task.WhenAny(server._started.Task, server._serving) == server._serving) await server._serving;
        return server;
    }

    public async ValueTask DisposeAsync()
    {
        await _stop.CancelAsync();
        await _serving;
        _stop.Dispose();
    }
}
