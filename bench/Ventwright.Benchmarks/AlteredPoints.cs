using System.Globalization;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Benchmarks;

/// <summary>The same points for both sides: resistors of the netlist altered at random by up to a tenth.</summary>
/// <param name="Parameters">Parameters of each point.</param>
/// <param name="Alters">Commands of ngspice that bring it from one point to the next.</param>
internal sealed record AlteredPoints(double[][] Parameters, string[][] Alters)
{
    private const double By = 0.1;

    /// <summary>Draws points with a fixed seed.</summary>
    public static AlteredPoints Make(UnitModel model, Settled settled, string netlist, int count, int altered, int seed)
    {
#pragma warning disable CA5394 // A fixed seed is wanted, not secrecy.
        var random = new Random(seed);
        int[] resistors = [.. Enumerable.Range(0, model.Electric.Length).Where(i => IsPlain(model.Electric[i]) && netlist.Contains($"\nR{i} ", StringComparison.Ordinal))];
        double[][] parameters = new double[count][];
        string[][] alters = new string[count][];
        List<int> last = [];
        for (int i = 0; i < count; i++)
        {
            int[] chosen = [.. Enumerable.Range(0, altered).Select(_ => resistors[random.Next(resistors.Length)]).Distinct()];
            parameters[i] = (double[])settled.Parameters.Clone();
            foreach (int r in chosen) parameters[i][model.Electric[r].Parameter] *= 1 + (((2 * random.NextDouble()) - 1) * By);
            double[] now = parameters[i];
            alters[i] = [.. last.Union(chosen).Select(r => string.Create(CultureInfo.InvariantCulture, $"alter r{r} = {Math.Max(now[model.Electric[r].Parameter], 1e-4):R}"))];
            last = [.. chosen];
        }

        return new(parameters, alters);
#pragma warning restore CA5394
    }

    private static bool IsPlain(ElectricBranch branch) => branch.Law == ElectricLaw.Ohmic && branch.Gate is not { Mode: GateMode.Scale };
}
