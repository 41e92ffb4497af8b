using System.Diagnostics;
using System.Globalization;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;
using Ventwright.Simulation.Spice;

namespace Ventwright.Benchmarks;

/// <summary>
/// Operating points a second, here and in ngspice, on the same netlist with the same altered resistors. One ngspice process works through all points; what it
/// takes to start and to read the netlist is measured with a run of no points and taken off. Rounds are interleaved, so that a busy machine hits all alike.
/// </summary>
internal static class SpiceRace
{
    public const int UsualRounds = 9;
    private const int Points = 2000, Altered = 3, Compared = 25, Seed = 5;
    private const double LeastVolts = 1e-3, Share = 1e-3;

    public static int Run(int rounds)
    {
        UnitModel model = Unit.Compile();
        Setting setting = Unit.Set(model, "mode=auto, warmth=0, cabin=30 degC");
        var simulator = new Simulator(model);
        Settled settled = simulator.Settle(setting, []);
        string netlist = SpiceExport.Write(simulator, setting, [], out IReadOnlyDictionary<string, string> nodes);
        var points = AlteredPoints.Make(model, settled, netlist, Points, Altered, Seed);
        Console.WriteLine(FormattableString.Invariant($"{model.Nets.Length - 1} nets, {model.Electric.Length} branches; {Points} points, {Altered} resistors altered in each; {rounds} rounds"));
        if (Disagreement(model, settled, setting, netlist, nodes, points) is { } wrong)
        {
            Console.Error.WriteLine(wrong);
            return 1;
        }

        string loose = NgspiceRun.AtItsOwnTolerances(netlist);
        List<double> nets = [], whole = [], spice = [], easy = [];
        for (int round = -1; round < rounds; round++)
        {
            double a = Seconds(() => Electric(model, settled, setting, points, null));
            double b = Seconds(() => Settle(simulator, setting, points));
            double start = Seconds(() => NgspiceRun.Points(netlist, [], []));
            double c = Seconds(() => NgspiceRun.Points(netlist, points.Alters, [])) - start;
            double d = Seconds(() => NgspiceRun.Points(loose, points.Alters, [])) - start;
            if (round < 0) continue;
            nets.Add(Points / a);
            whole.Add(Points / b);
            spice.Add(Points / c);
            easy.Add(Points / d);
            Console.WriteLine(FormattableString.Invariant($"round {round + 1}: nets alone {nets[^1]:0}/s, whole unit {whole[^1]:0}/s, ngspice {spice[^1]:0}/s, ngspice at its own tolerances {easy[^1]:0}/s"));
        }

        Console.WriteLine(FormattableString.Invariant($"medians: nets alone {Median(nets):0}/s, whole unit {Median(whole):0}/s, ngspice {Median(spice):0}/s, ngspice at its own tolerances {Median(easy):0}/s"));
        Console.WriteLine(FormattableString.Invariant($"nets alone over ngspice (like with like): {Median([.. nets.Zip(spice, (x, y) => x / y)]):0.0}"));
        Console.WriteLine(FormattableString.Invariant($"nets alone over ngspice at its own tolerances: {Median([.. nets.Zip(easy, (x, y) => x / y)]):0.0}"));
        Console.WriteLine(FormattableString.Invariant($"whole unit over ngspice (more work here): {Median([.. whole.Zip(spice, (x, y) => x / y)]):0.0}"));
        return 0;
    }

    /// <summary>The nets for contacts, shafts and module outputs as settled: what ngspice works out too. Each point starts from nothing.</summary>
    private static void Electric(UnitModel model, Settled settled, Setting setting, AlteredPoints points, Action<int, double[]>? see)
    {
        var solver = new ElectricSolver(model, new Topology(model, []));
        for (int i = 0; i < points.Parameters.Length; i++)
        {
            solver.Reset();
            if (!solver.Solve(points.Parameters[i], settled.Variables, setting.Feeds)) throw new InvalidOperationException($"point {i} has no solution here");
            see?.Invoke(i, solver.Volts);
        }
    }

    private static void Settle(Simulator simulator, Setting setting, AlteredPoints points)
    {
        foreach (double[] parameters in points.Parameters)
        {
            if (simulator.Settle(setting, [], parameters).Verdict == Verdict.NotSolved) throw new InvalidOperationException("a point does not settle here");
        }
    }

    private static string? Disagreement(
        UnitModel model, Settled settled, Setting setting, string netlist, IReadOnlyDictionary<string, string> nodes, AlteredPoints points)
    {
        string[] names = [.. nodes.Where(n => n.Value != "0").Select(n => n.Key)];
        var first = points with { Parameters = [.. points.Parameters.Take(Compared)], Alters = [.. points.Alters.Take(Compared)] };
        double[][] there = NgspiceRun.Points(netlist, first.Alters, [.. names.Select(n => nodes[n])]);
        string? wrong = there.Length == Compared ? null : $"ngspice gave {there.Length} points of {Compared}";
        double worst = 0;
        Electric(model, settled, setting, first, (i, volts) =>
        {
            for (int n = 0; wrong is null && n < names.Length; n++)
            {
                double here = volts[Array.IndexOf(model.Nets, names[n])], off = Math.Abs(here - there[i][n]);
                worst = Math.Max(worst, off);
                if (!(off <= Math.Max(LeastVolts, Share * Math.Abs(here)))) wrong = string.Create(CultureInfo.InvariantCulture, $"point {i}: {names[n]} is {here} V here, {there[i][n]} V in ngspice");
            }
        });
        if (wrong is null) Console.WriteLine(FormattableString.Invariant($"{Compared} points compared on {names.Length} nets: largest difference {worst * 1e6:0.000} uV"));
        return wrong;
    }

    private static double Seconds(Action work)
    {
        long start = Stopwatch.GetTimestamp();
        work();
        return Stopwatch.GetElapsedTime(start).TotalSeconds;
    }

    private static double Median(List<double> values)
    {
        double[] sorted = [.. values.Order()];
        int middle = sorted.Length / 2;
        return sorted.Length % 2 == 1 ? sorted[middle] : (sorted[middle - 1] + sorted[middle]) / 2;
    }
}
