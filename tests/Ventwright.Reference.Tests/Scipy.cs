using System.ComponentModel;
using System.Diagnostics;
using System.Text.Json;

namespace Ventwright.Reference.Tests;

/// <summary>Runs one of the scripts beside the tests with the system's Python and scipy: JSON in, JSON out.</summary>
internal static class Scipy
{
    private const string Python = "/usr/bin/python3";
    private const string Install = "These tests compare with scipy: install the packages python3 and python3-scipy.";

    public static TOut Run<TOut>(string script, object input)
    {
        string path = Path.Combine(AppContext.BaseDirectory, "Scripts", script);
        var start = new ProcessStartInfo(Python, [path])
        {
            RedirectStandardInput = true,
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            UseShellExecute = false,
        };
        using Process process = Start(start);
        Task<string> error = process.StandardError.ReadToEndAsync(TestContext.Current.CancellationToken);
        Task<string> output = process.StandardOutput.ReadToEndAsync(TestContext.Current.CancellationToken);
        try
        {
            process.StandardInput.Write(JsonSerializer.Serialize(input));
            process.StandardInput.Close();
        }
        catch (IOException)
        {
            // The script ended before it read its input; what it wrote to stderr says why.
        }

        process.WaitForExit();
        string message = error.GetAwaiter().GetResult();
        if (process.ExitCode != 0)
            Assert.Fail(message.Contains("No module named", StringComparison.Ordinal) ? $"{Install}\n{message}" : $"{script} failed:\n{message}");
        return JsonSerializer.Deserialize<TOut>(output.GetAwaiter().GetResult())!;
    }

    private static Process Start(ProcessStartInfo start)
    {
        try
        {
            return Process.Start(start)!;
        }
        catch (Win32Exception)
        {
            Assert.Fail($"{Python} is missing. {Install}");
            throw;
        }
    }
}
