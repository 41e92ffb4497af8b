using System.Diagnostics;
using System.Globalization;
using Ventwright.Rig.Channels;
using Ventwright.Rig.Definition;
using Ventwright.Rig.Running;
using Ventwright.Rig.Wiring;

namespace Ventwright.Rig.Tests;

/// <summary>The whole way, rig file to wire and back, with devices that others made.</summary>
public class WholeRigTests
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task ARunOnAModbusDeviceEndsSafeAndWhenTheCableIsPulledItSaysSo()
    {
        int port = Peer.FreePort();
        using Peer server = Peer.ModbusTcp(port);
        await using RigBench rig = RigBench.Real(Definition(port), Rigs.Model);
        await rig.OpenAsync(Cancel);
        // The server's registers are no unit: the check says so, and a person may know better.
        rig.Confirm(await new WiringCheck(rig).OffAsync(Cancel));
        var options = new RunOptions { Period = TimeSpan.FromMilliseconds(50), WatchdogAfter = TimeSpan.FromSeconds(60) };
        await using (RigRun run = RigRun.Start(rig, ScriptedSurroundings.Holding(rig.Definition, Rigs.Model, [("RT1", "25 degC")]), options))
        {
            await Waiting.UntilAsync(() => run.Statistics.Rounds > 10, run);
            Assert.Equal(17.9, run.Latest!.Measured["lamp"], 9); // input register 0 is 1790
            Assert.Equal("1", server.Ask("coil 5"));
            Assert.Equal("1000", server.Ask("holding 8")); // 10 kohm at 25 degC, in steps of 10 ohm
            await run.StopAsync("enough");
        }

        Assert.Equal("0", server.Ask("coil 5"));
        Assert.Equal("0", server.Ask("coil 6"));
        rig.Confirm(await new WiringCheck(rig).OffAsync(Cancel));
        await using RigRun second = RigRun.Start(rig, ScriptedSurroundings.Holding(rig.Definition, Rigs.Model, [("RT1", "12.1 kohm")]), options);
        await Waiting.UntilAsync(() => second.Statistics.Rounds > 3, second);
        server.Dispose();
        RunReport report = await second.Completion.WaitAsync(Waiting.Patience, Cancel);
        Assert.True(report.IsFault);
        Assert.Contains("cable", report.Why, StringComparison.Ordinal);
        Assert.StartsWith("CUT THE 12 V SUPPLY", report.Safe.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task ASupplyIsOffAgainWhenTheProgramIsToldToEnd()
    {
        int port = Peer.FreePort();
        using Peer server = Peer.ModbusTcp(port);
        string rigPath = Peer.TemporaryPath("rig.yaml"), sheet = Peer.TemporaryPath("small.yaml"), log = Peer.TemporaryPath("log.csv");
        await File.WriteAllTextAsync(rigPath, Text(port).Replace("lamp: {", "# lamp: {", StringComparison.Ordinal)
            .Replace("sensor: {", "# sensor: {", StringComparison.Ordinal).Replace("vacuum: {", "quiet: { device: box, reads: voltage, input: 9, wired-to: load }\n  # vacuum: {", StringComparison.Ordinal), Cancel);
        await File.WriteAllTextAsync(sheet, Rigs.SheetText, Cancel);
        var start = new ProcessStartInfo("dotnet", [Path.Combine(AppContext.BaseDirectory, "ventwright.dll"), "rig", "run", rigPath, sheet, "--confirm", "--hold", "RT1=12.1kohm", "--log", log])
        {
            UseShellExecute = false,
            RedirectStandardInput = true,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        };
        using Process program = Process.Start(start)!;
        Task<string> output = program.StandardOutput.ReadToEndAsync(Cancel), errors = program.StandardError.ReadToEndAsync(Cancel);
        await Waiting.UntilAsync(() => program.HasExited || (server.Ask("coil 5") == "1" && new FileInfo(log) is { Exists: true, Length: > 0 }));
        Assert.False(program.HasExited, program.HasExited ? await output + await errors : "");
        using (Process kill = Process.Start("kill", ["-TERM", program.Id.ToString(CultureInfo.InvariantCulture)])) await kill.WaitForExitAsync(Cancel);
        await program.WaitForExitAsync(Cancel).WaitAsync(Waiting.Patience, Cancel);
        Assert.Equal("0", server.Ask("coil 5"));
        Assert.Equal("0", server.Ask("coil 6"));
        Assert.Contains("the program was told to end", await output + await errors, StringComparison.Ordinal);
        Assert.StartsWith("time,seconds,state", (await File.ReadAllLinesAsync(log, Cancel))[0], StringComparison.Ordinal);
        foreach (string path in (string[])[rigPath, sheet, log]) File.Delete(path);
    }

    private static RigDefinition Definition(int port) => Rigs.Read(Text(port).Replace(", limits: -1 V .. 16 V", "", StringComparison.Ordinal));

    private static string Text(int port) =>
        $"rig: 1\ndevices:\n  box: {{ kind: modbus-tcp, address: 127.0.0.1, port: {port}, unit: 3, identity: Invented, timeout: 20 s }}\n{Rigs.Channels}";
}
