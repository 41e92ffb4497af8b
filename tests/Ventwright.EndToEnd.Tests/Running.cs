using System.Diagnostics;
using System.Text.Json;

namespace Ventwright.EndToEnd.Tests;

/// <summary>What the program did.</summary>
internal sealed record Answer(int Code, string Out, string Error)
{
    /// <summary>Its output as JSON.</summary>
    public JsonElement Json() => JsonDocument.Parse(Out).RootElement;
}

/// <summary>Runs the built program as a process of its own.</summary>
internal static class Running
{
    /// <summary>The shipped sheet with a module.</summary>
    public static string Automatic { get; } = Path.Combine(Root(), "sheets", "twin-blower-automatic.yaml");

    /// <summary>The shipped sheet without one.</summary>
    public static string Manual { get; } = Path.Combine(Root(), "sheets", "single-blower-manual.yaml");

    /// <summary>Runs it with arguments until it ends.</summary>
    public static Answer Run(params string[] args) => Run(args, output => output.ReadToEnd());

    /// <summary>Runs it, reads one line of its output and closes the pipe.</summary>
    public static Answer RunAndLeave(params string[] args) => Run(args, output =>
    {
        string first = output.ReadLine() ?? "";
        output.Close();
        return first;
    });

    /// <summary>Runs it with some text on its standard input.</summary>
    public static Answer RunTyping(string typed, params string[] args) => Run(args, output => output.ReadToEnd(), typed);

    private static Answer Run(string[] args, Func<StreamReader, string> read, string typed = "")
    {
        var start = new ProcessStartInfo("dotnet", [Path.Combine(AppContext.BaseDirectory, "ventwright.dll"), .. args])
        {
            RedirectStandardOutput = true,
            RedirectStandardError = true,
            RedirectStandardInput = true,
            UseShellExecute = false,
        };
        using Process process = Process.Start(start)!;
        process.StandardInput.Write(typed);
        process.StandardInput.Close();
        Task<string> error = process.StandardError.ReadToEndAsync(TestContext.Current.CancellationToken);
        string output = read(process.StandardOutput);
        process.WaitForExit();
        return new(process.ExitCode, output, error.GetAwaiter().GetResult());
    }

    /// <summary>Runs it with a file of some content in place of the argument <c>FILE</c>.</summary>
    public static Answer RunWith(byte[] content, params string[] args)
    {
        string path = Path.Combine(Path.GetTempPath(), $"ventwright-{Guid.NewGuid():N}.yaml");
        File.WriteAllBytes(path, content);
        try
        {
            return Run([.. args.Select(a => a == "FILE" ? path : a)]);
        }
        finally
        {
            File.Delete(path);
        }
    }

    private static string Root()
    {
        string? folder = AppContext.BaseDirectory;
        while (folder is not null && !File.Exists(Path.Combine(folder, "Ventwright.slnx"))) folder = Path.GetDirectoryName(folder);
        return folder ?? throw new DirectoryNotFoundException("the folder with Ventwright.slnx was not found above the tests");
    }
}
