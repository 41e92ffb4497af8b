using System.ComponentModel;
using System.Diagnostics;
using System.Globalization;
using System.Text;

namespace Ventwright.Benchmarks;

/// <summary>One ngspice process that works through operating points by commands of a control block.</summary>
internal static class NgspiceRun
{
    /// <summary>Volts of the nodes at each point; without nodes nothing is printed and nothing returned.</summary>
    /// <exception cref="InvalidOperationException">ngspice is missing or failed.</exception>
    public static double[][] Points(string netlist, string[][] alters, string[] nodes)
    {
        string path = Path.Combine(Path.GetTempPath(), $"ventwright-{Guid.NewGuid():N}.cir");
        File.WriteAllText(path, Script(netlist, alters, nodes));
        try
        {
            using Process process = Start(path);
            Task<string> errors = process.StandardError.ReadToEndAsync();
            string output = process.StandardOutput.ReadToEnd();
            process.WaitForExit();
            string said = errors.GetAwaiter().GetResult();
            if (said.Contains("rror", StringComparison.Ordinal) || said.Contains("no convergence", StringComparison.OrdinalIgnoreCase)) throw new InvalidOperationException($"ngspice: {said.Trim()}");
            return nodes.Length == 0 ? [] : Values(output, nodes);
        }
        finally
        {
            File.Delete(path);
        }
    }

    /// <summary>The netlist without the tight tolerances that the tests compare at.</summary>
    public static string AtItsOwnTolerances(string netlist) => netlist.Replace(" reltol=1e-7 abstol=1e-12 vntol=1e-9 gmin=1e-15", "", StringComparison.Ordinal);

    private static string Script(string netlist, string[][] alters, string[] nodes)
    {
        var text = new StringBuilder(netlist.Replace(".op\n.print op all\n.end\n", "", StringComparison.Ordinal)).Append(".control\nset numdgt=10\n");
        foreach (string[] point in alters)
        {
            foreach (string alter in point) text.Append(alter).Append('\n');
            text.Append("op\n");
            foreach (string node in nodes) text.Append(CultureInfo.InvariantCulture, $"print v({node})\n");
            text.Append("destroy all\n");
        }

        return text.Append("quit 0\n.endc\n.end\n").ToString();
    }

    private static double[][] Values(string output, string[] nodes)
    {
        double[] all = [.. output.Split('\n').Where(l => l.StartsWith("v(", StringComparison.Ordinal)).Select(l => double.Parse(l[(l.IndexOf('=', StringComparison.Ordinal) + 1)..], CultureInfo.InvariantCulture))];
        return [.. all.Chunk(nodes.Length)];
    }

    private static Process Start(string path)
    {
        try
        {
            return Process.Start(new ProcessStartInfo("ngspice", ["-b", path]) { RedirectStandardOutput = true, RedirectStandardError = true, UseShellExecute = false })!;
        }
        catch (Win32Exception e)
        {
            throw new InvalidOperationException("ngspice is needed for this comparison: install the package ngspice", e);
        }
    }
}
