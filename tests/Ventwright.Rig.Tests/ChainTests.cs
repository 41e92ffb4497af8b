using System.Diagnostics;
using System.Text.Json;

namespace Ventwright.Rig.Tests;

/// <summary>From the command line: a virtual rig on a unit with a fault, its log, readings from the log, and the fault found by them.</summary>
public class ChainTests
{
    private static CancellationToken Cancel => TestContext.Current.CancellationToken;

    [Fact]
    public async Task AFaultIsFoundFromTheLogOfARun()
    {
        string folder = Directory.CreateTempSubdirectory("rig-chain").FullName;
        string Path(string name) => System.IO.Path.Combine(folder, name);
        await File.WriteAllTextAsync(Path("small.yaml"), Rigs.SheetText, Cancel);
        await File.WriteAllTextAsync(Path("rig.yaml"), "rig: 1\ndevices:\n  box: { kind: modbus-tcp, address: 10.0.0.2 }\n" + Rigs.Channels, Cancel);

        JsonElement check = await JsonAsync(0, "check", Path("rig.yaml"), Path("small.yaml"));
        Assert.True(check.GetProperty("ok").GetBoolean());
        Assert.Equal(3, check.GetProperty("inputs").GetArrayLength());

        (int refused, _, string why) = await RunAsync("rig", "run", Path("rig.yaml"), Path("small.yaml"), "--virtual", "--json", "--seconds", "1");
        Assert.Equal(1, refused);
        Assert.Contains("--confirm", why, StringComparison.Ordinal);

        JsonElement run = await JsonAsync(0, "run", Path("rig.yaml"), Path("small.yaml"), "--virtual", "--confirm", "--set", "mode=on", "--fault", "S1:contact-open",
            "--seconds", "8", "--log", Path("log.csv"));
        Assert.True(run.GetProperty("safe").GetBoolean());
        Assert.True(run.GetProperty("statistics").GetProperty("rounds").GetInt32() > 5);

        (int imported, _, _) = await RunAsync("rig", "import-log", Path("small.yaml"), Path("log.csv"), "--out", Path("readings.yaml"));
        Assert.Equal(0, imported);
        (int found, string findings, _) = await RunAsync("find", Path("small.yaml"), Path("readings.yaml"), "--json");
        Assert.Equal(0, found);
        JsonElement lead = JsonDocument.Parse(findings).RootElement.GetProperty("suspects")[0];
        Assert.StartsWith("S1:", lead.GetProperty("faults")[0].GetString(), StringComparison.Ordinal);
        Assert.True(lead.GetProperty("probability").GetDouble() > 0.5);
        Directory.Delete(folder, recursive: true);
    }

    [Fact]
    public async Task BadInputIsOneMessageAndExitTwo()
    {
        string folder = Directory.CreateTempSubdirectory("rig-bad").FullName;
        string sheet = Path.Combine(folder, "small.yaml"), rig = Path.Combine(folder, "rig.yaml");
        await File.WriteAllTextAsync(sheet, Rigs.SheetText, Cancel);
        await File.WriteAllTextAsync(rig, "rig: 1\ndevices:\n  box: { kind: modbus-tcp, address: 10.0.0.2, prot: 3 }\n", Cancel);
        (int code, string output, string errors) = await RunAsync("rig", "check", rig, sheet);
        Assert.Equal(2, code);
        Assert.Contains("rig.yaml:3:47", output, StringComparison.Ordinal);
        Assert.Contains("did you mean 'port'?", output, StringComparison.Ordinal);
        (code, _, errors) = await RunAsync("rig", "wiring", rig, sheet, "--virtual");
        Assert.Equal(2, code);
        Assert.Contains("did you mean 'port'?", errors, StringComparison.Ordinal);
        Directory.Delete(folder, recursive: true);
    }

    private static async Task<JsonElement> JsonAsync(int code, params string[] args)
    {
        (int got, string output, string errors) = await RunAsync(["rig", .. args, "--json"]);
        Assert.True(got == code, errors);
        JsonElement root = JsonDocument.Parse(output).RootElement;
        Assert.Equal(1, root.GetProperty("v").GetInt32());
        return root;
    }

    private static async Task<(int Code, string Output, string Errors)> RunAsync(params string[] args)
    {
        var start = new ProcessStartInfo("dotnet", [Path.Combine(AppContext.BaseDirectory, "ventwright.dll"), .. args])
        {
            UseShellExecute = false,
            RedirectStandardInput = true,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
        };
        using Process program = Process.Start(start)!;
        program.StandardInput.Close();
        Task<string> output = program.StandardOutput.ReadToEndAsync(Cancel), errors = program.StandardError.ReadToEndAsync(Cancel);
        await program.WaitForExitAsync(Cancel);
        return (program.ExitCode, await output, await errors);
    }
}
