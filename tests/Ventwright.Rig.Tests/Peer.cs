using System.ComponentModel;
using System.Diagnostics;
using System.Net;
using System.Net.Sockets;

namespace Ventwright.Rig.Tests;

/// <summary>Another program that a test talks to; it ends with the test.</summary>
internal sealed class Peer : IDisposable
{
    private readonly Process _process;

    private Peer(Process process) => _process = process;

    public static string Scripts { get; } = Path.Combine(Root(), "tests", "Ventwright.Rig.Tests", "Peers");

    /// <summary>A port of this computer that is free now.</summary>
    public static int FreePort()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        return ((IPEndPoint)listener.LocalEndpoint).Port;
    }

    public static Peer ModbusTcp(int port) => Python("modbus_server.py", "tcp", $"{port}").Ready();

    public static Peer ModbusRtu(string device) => Python("modbus_server.py", "rtu", device).Ready();

    public static Peer ScpiTcp(int port) => Python("scpi_supply.py", $"{port}").Ready();

    /// <summary>Two ends of a serial cable.</summary>
    public static Peer Cable(string one, string other) =>
        Start("socat", "socat", [$"PTY,link={one},raw,echo=0", $"PTY,link={other},raw,echo=0"]).Until(() => File.Exists(one) && File.Exists(other));

    /// <summary>A program on a serial cable.</summary>
    public static Peer OnCable(string port, string command) => Start("socat", "socat", [$"PTY,link={port},raw,echo=0", $"EXEC:{command}"]).Until(() => File.Exists(port));

    public static Peer Board(string port)
    {
        Assert.SkipUnless(Directory.Exists(Path.Combine(Scripts, "node_modules")), "the Firmata board is not installed; ./test.sh installs it");
        return OnCable(port, $"node {Path.Combine(Scripts, "firmata_board.mjs")}");
    }

    public static string TemporaryPath(string name) => Path.Combine(Path.GetTempPath(), $"rig-{Environment.ProcessId}-{Guid.NewGuid():N}-{name}");

    /// <summary>Says a line and takes the answer.</summary>
    public string Ask(string line)
    {
        _process.StandardInput.WriteLine(line);
        return _process.StandardOutput.ReadLineAsync().WaitAsync(Waiting.Patience).GetAwaiter().GetResult() ?? throw new InvalidOperationException("the peer ended");
    }

    public void Dispose()
    {
        try
        {
            _process.Kill(entireProcessTree: true);
            _process.WaitForExit(Waiting.Patience);
        }
        catch (InvalidOperationException)
        {
            // It ended by itself.
        }

        _process.Dispose();
    }

    private static string Root()
    {
        string folder = AppContext.BaseDirectory;
        while (!File.Exists(Path.Combine(folder, "Ventwright.slnx"))) folder = Path.GetDirectoryName(folder) ?? throw new InvalidOperationException("the tests do not run inside the repository");
        return folder;
    }

    private static Peer Python(string script, params string[] arguments) =>
        Start("/usr/bin/python3", "python3, python3-pymodbus, python3-serial-asyncio", [Path.Combine(Scripts, script), .. arguments]);

    private static Peer Start(string program, string package, string[] arguments)
    {
        var start = new ProcessStartInfo(program, arguments) { RedirectStandardInput = true, RedirectStandardOutput = true, UseShellExecute = false };
        try
        {
            return new(Process.Start(start)!);
        }
        catch (Win32Exception)
        {
            Assert.Fail($"{program} is missing: install {package}, or run ./test.sh, which does.");
            throw;
        }
    }

    private Peer Ready()
    {
        string? line = _process.StandardOutput.ReadLineAsync().WaitAsync(Waiting.Patience).GetAwaiter().GetResult();
        if (line != "ready") Assert.Fail($"{_process.StartInfo.ArgumentList[0]} did not start; are python3-pymodbus and python3-serial-asyncio installed for /usr/bin/python3?");
        return this;
    }

    private Peer Until(Func<bool> isThere)
    {
        var watch = Stopwatch.StartNew();
        while (!isThere())
        {
            if (watch.Elapsed > Waiting.Patience) Assert.Fail($"{_process.StartInfo.FileName} did not start");
            Thread.Sleep(10);
        }

        return this;
    }
}
