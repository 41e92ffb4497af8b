using System.Diagnostics;
using System.Globalization;
using System.Text.RegularExpressions;

namespace Ventwright.EndToEnd.Tests;

/// <summary>Runs the program and kills it (SIGKILL) at some moment; tells which readings it had acknowledged by then.</summary>
internal static partial class Killed
{
    /// <summary>One <c>bench read</c>, killed after some time; the number of the reading if it was acknowledged, and whether the kill came before the end.</summary>
    public static async Task<(long? Number, bool Cut)> ReadAsync(string id, string store, TimeSpan after, CancellationToken cancel)
    {
        using Process process = Start("bench", "read", id, "volts(feed.ctl)", "12.9 V", "--store", store);
        Task<string> output = process.StandardOutput.ReadToEndAsync(cancel), error = process.StandardError.ReadToEndAsync(cancel);
        await Task.Delay(after, cancel);
        process.Kill();
        await process.WaitForExitAsync(cancel);
        await error;
        return (Number(await output), process.ExitCode == 137);
    }

    /// <summary>A <c>bench resume</c> with readings typed one after another without a pause, killed some time after so many of them were acknowledged;
    /// the numbers acknowledged, and whether the kill came before the end.</summary>
    public static (List<long> Numbers, bool Cut) Resumed(string id, string store, int answers, TimeSpan after)
    {
        using Process process = Start("bench", "resume", id, "--store", store);
        for (int i = 0; i < 4 * answers; i++) process.StandardInput.WriteLine("at volts(feed.ctl) 12.9 V");
        process.StandardInput.Flush();
        _ = process.StandardError.ReadToEndAsync();
        var numbers = new List<long>();
        bool killed = false;
        while (process.StandardOutput.ReadLine() is { } line)
        {
            if (Number(line) is { } number) numbers.Add(number);
            if (killed || numbers.Count < answers) continue;
            Thread.Sleep(after);
            process.Kill();
            killed = true;
        }

        process.WaitForExit();
        return (numbers, process.ExitCode == 137);
    }

    private static long? Number(string text) => Acknowledged().Match(text) is { Success: true } match ? long.Parse(match.Groups["n"].Value, CultureInfo.InvariantCulture) : null;

    private static Process Start(params string[] args) => Process.Start(new ProcessStartInfo("dotnet", [Path.Combine(AppContext.BaseDirectory, "ventwright.dll"), .. args])
    {
        RedirectStandardOutput = true,
        RedirectStandardError = true,
        RedirectStandardInput = true,
        UseShellExecute = false,
    })!;

    [GeneratedRegex(@"kept as number (?<n>\d+):", RegexOptions.ExplicitCapture, matchTimeoutMilliseconds: 1000)]
    private static partial Regex Acknowledged();
}
