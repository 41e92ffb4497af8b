using System.Globalization;
using System.Text;
using Ventwright.Model.Kernel;

namespace Ventwright.Simulation.Spice;

/// <summary>
/// Writes the electrical side of a settled unit as a SPICE netlist. Contacts, module outputs and shaft positions stand as settled; what the nets do is left
/// to the circuit simulator: diodes, lamps and motors go in as laws, not as the values that were found.
/// </summary>
public static class SpiceExport
{
    /// <summary>Writes the netlist.</summary>
    /// <param name="simulator">The model's simulator.</param>
    /// <param name="setting">The setting.</param>
    /// <param name="faults">Faults that are there.</param>
    /// <param name="nodes">Gets the node of each net that does not float, by net; ground is <c>0</c>.</param>
    /// <exception cref="InvalidOperationException">The unit cannot be solved in this setting.</exception>
    public static string Write(Simulator simulator, Setting setting, IReadOnlyList<Fault> faults, out IReadOnlyDictionary<string, string> nodes) =>
        Write(simulator, setting, faults, simulator.Settle(setting, faults), out nodes);

    /// <summary>Writes the netlist of a unit that was settled before, with the same setting and faults.</summary>
    internal static string Write(
        Simulator simulator, Setting setting, IReadOnlyList<Fault> faults, Settled settled, out IReadOnlyDictionary<string, string> nodes)
    {
        UnitModel model = simulator.Model;
        if (settled.Verdict == Verdict.NotSolved) throw new InvalidOperationException($"the unit cannot be solved in this setting: {settled.Note}");
        var topology = new Topology(model, [.. faults.SelectMany(f => f.Rewires)]);
        var text = new StringBuilder();
        Head(text, model, setting, faults, settled);
        for (int i = 0; i < model.Electric.Length; i++)
        {
            ElectricBranch branch = model.Electric[i];
            text.Append("* ").Append(model.Parts[branch.Part].Id).Append(' ').Append(branch.Name).Append('\n');
            text.Append(new SpiceElement(model, settled, branch, i, topology.A[i], topology.B[i]).Text()).Append('\n');
        }

        for (int f = 0; f < setting.Feeds.Count; f++)
        {
            (int net, double volts, double ohms) = setting.Feeds[f];
            text.Append(CultureInfo.InvariantCulture, $"* feed on {model.Nets[net]}\nVF{f} xf{f} 0 {volts:R}\nRF{f} xf{f} {SpiceElement.Node(net)} {ohms:R}\n");
        }

        nodes = Enumerable.Range(0, model.Nets.Length).Where(n => !settled.Floating[n]).ToDictionary(n => model.Nets[n], SpiceElement.Node, StringComparer.Ordinal);
        return text.Append(".op\n.print op all\n.end\n").ToString();
    }

    private static void Head(StringBuilder text, UnitModel model, Setting setting, IReadOnlyList<Fault> faults, Settled settled)
    {
        text.Append("* ").Append(model.Title.ReplaceLineEndings(" ")).Append('\n');
        text.Append("* setting: ").Append(setting.Key.Length == 0 ? "as on the sheet" : setting.Key.ReplaceLineEndings(" ")).Append('\n');
        if (faults.Count > 0) text.Append("* faults: ").AppendJoin(", ", faults.Select(f => f.Id)).Append('\n');
        if (settled.Verdict != Verdict.Settled) text.Append("* one state of many: ").Append(settled.Note).Append('\n');
        text.Append("* contacts, module outputs and shafts stand as settled; a far resistance to ground keeps floating nets in hand\n");
        text.Append(".options rshunt=1e12 reltol=1e-7 abstol=1e-12 vntol=1e-9 gmin=1e-15 itl1=2000\n");
        for (int n = 1; n < model.Nets.Length; n++) text.Append("* ").Append(SpiceElement.Node(n)).Append(" = ").Append(model.Nets[n]).Append(settled.Floating[n] ? " (floats)" : "").Append('\n');
    }
}
