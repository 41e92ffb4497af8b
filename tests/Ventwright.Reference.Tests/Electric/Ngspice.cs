using System.ComponentModel;
using System.Diagnostics;
using System.Globalization;
using System.Text.RegularExpressions;

namespace Ventwright.Reference.Tests.Electric;

/// <summary>Runs a netlist through ngspice in batch mode and reads the operating point that it prints.</summary>
internal static partial class Ngspice
{
    private const string Install = "These tests compare with ngspice: install the package ngspice.";

    /// <summary>Volts of each node; empty with what ngspice said if it found no operating point.</summary>
    public static (Dictionary<string, double> Volts, string Said) Run(string netlist)
    {
        string path = Path.Combine(Path.GetTempPath(), $"ventwright-{Guid.NewGuid():N}.cir");
        File.WriteAllText(path, netlist);
        try
        {
            using Process process = Start(path);
            Task<string> errors = process.StandardError.ReadToEndAsync(TestContext.Current.CancellationToken);
            string output = process.StandardOutput.ReadToEnd();
            process.WaitForExit();
            var volts = new Dictionary<string, double>(StringComparer.Ordinal) { ["0"] = 0 };
            foreach (Match row in NodeRow().Matches(output)) volts.TryAdd(row.Groups["node"].Value, double.Parse(row.Groups["volts"].Value, CultureInfo.InvariantCulture));
            return (volts, errors.GetAwaiter().GetResult());
        }
        finally
        {
            File.Delete(path);
        }
    }

    private static Process Start(string path)
    {
        try
        {
            return Process.Start(new ProcessStartInfo("ngspice", ["-b", path]) { RedirectStandardOutput = true, RedirectStandardError = true, UseShellExecute = false })!;
        }
        catch (Win32Exception)
        {
            Assert.Fail(Install);
            throw;
        }
    }

    [GeneratedRegex(@"^\s*(?<node>n\d+)\s+(?<volts>-?\d\.\d+e[-+]\d+)\s*$", RegexOptions.Multiline | RegexOptions.ExplicitCapture, 5000)]
    private static partial Regex NodeRow();
}
