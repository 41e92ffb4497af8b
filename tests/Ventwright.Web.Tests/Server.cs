using System.Diagnostics;

namespace Ventwright.Web.Tests;

/// <summary>The program as a process of its own, serving on a real socket from its build folder, as a person starts it.</summary>
internal sealed class Server : IAsyncDisposable
{
    private readonly string _store;
    private Process _process;

    private Server(string store, Process process, string address) => (_store, _process, Address) = (store, process, address);

    /// <summary>Where it listens.</summary>
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
        (_process, Address) = await LaunchAsync(_store, new Uri(Address).Port.ToString(System.Globalization.CultureInfo.InvariantCulture));
    }

    /// <summary>Tells it to end (SIGTERM), as the system does that is shut down; waits for nothing.</summary>
    public async Task TellToEndAsync()
    {
        using Process tell = Process.Start("kill", ["-TERM", _process.Id.ToString(System.Globalization.CultureInfo.InvariantCulture)]);
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
