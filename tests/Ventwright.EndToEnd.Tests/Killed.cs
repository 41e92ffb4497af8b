using System.Diagnostics;
using System.Globalization;
using System.Text.RegularExpressions;

namespace Ventwright.EndToEnd.Tests;

/// <summary>Runs the program and kills it (SIGKILL) at some moment; tells which readings it had acknowledged by then.</summary>
internal static partial class Killed
{
    /// <summary>What the system gives for a program ended by SIGKILL: 128 + 9.</summary>
    private const int KilledCode = 137;

    /// <summary>One <c>bench read</c>, killed after some time; the number of the reading if it was acknowledged,
    /// and how long the program ran if it ended before the kill.</summary>
    public static async Task<(List<long> Numbers, TimeSpan? Ended)> ReadAsync(string id, string store, TimeSpan after, CancellationToken cancel)
    {
        DateTime began = DateTime.Now;
        using Process process = Start("bench", "read", id, "volts(feed.ctl)", "12.9 V", "--store", store);
        Task<string> output = process.StandardOutput.ReadToEndAsync(cancel), error = process.StandardError.ReadToEndAsync(cancel);
        await Task.Delay(after, cancel);
        process.Kill();
        await process.WaitForExitAsync(cancel);
        await error;
        List<long> numbers = Number(await output) is { } number ? [number] : [];
        return (numbers, process.ExitCode == KilledCode ? null : process.ExitTime - began);
    }

    /// <summary>A <c>bench resume</c> with readings typed one after another without a pause and without an end, killed some time after so many
    /// of them were acknowledged; the numbers acknowledged. It cannot end before the kill.</summary>
    /// <exception cref="InvalidOperationException">The program ended all the same.</exception>
    public static async Task<List<long>> ResumedAsync(string id, string store, int answers, TimeSpan after, CancellationToken cancel)
    {
        using Process process = Start("bench", "resume", id, "--store", store);
        Task<string> error = process.StandardError.ReadToEndAsync(cancel);
        // More than it can answer before the kill, and few enough for the pipe to take at once.
        for (int i = 0; i < answers + 200; i++) await process.StandardInput.WriteLineAsync("at volts(feed.ctl) 12.9 V");
        await process.StandardInput.FlushAsync(cancel);
        var numbers = new List<long>();
        bool killed = false;
        while (await process.StandardOutput.ReadLineAsync(cancel) is { } line)
        {
            if (Number(line) is { } number) numbers.Add(number);
            if (killed || numbers.Count < answers) continue;
            await Task.Delay(after, cancel);
            process.Kill();
            killed = true;
        }

        await process.WaitForExitAsync(cancel);
        return process.ExitCode == KilledCode ? numbers : throw new InvalidOperationException($"ended by itself with code {process.ExitCode}: {await error}");
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
