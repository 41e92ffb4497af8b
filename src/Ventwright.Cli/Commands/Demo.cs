using System.Globalization;
using Ventwright.Bench;
using Ventwright.Cli.Output;
using Ventwright.Diagnosis;
using Ventwright.Model.Build;
using Ventwright.Model.Kernel;
using Ventwright.Model.Sheet.Text;
using Ventwright.Simulation;

namespace Ventwright.Cli.Commands;

/// <summary>What the program does without arguments: a bench session on an invented unit with a fault in it, as a transcript.</summary>
internal static class Demo
{
    private const string Sheet = "single-blower-manual.yaml", Fault = "VV1:vac.recirc-port-blocked";
    private const int MostReadings = 15;

    /// <summary>Runs the demo.</summary>
    public static int Run()
    {
        string path = FindSheet() ?? throw new BadInputException($"the demo's sheet sheets/{Sheet} is not beside the program; `ventwright --help` lists the commands");
        var problems = new ProblemList();
        UnitModel model = SheetFile.Load(path, problems) ?? throw new BadInputException(string.Join('\n', problems.Sorted.Select(p => p.ToString())));
        var simulator = new Simulator(model);
        var bench = new BenchDiagnosis(simulator);
        var unit = new SimulatedUnit(simulator, [model.FindFault(Fault)!], new Random(4), 1, 0);
        Screen.Line($"Demo: {model.Title}, invented, on the bench with one part bad. The readings come from the simulated unit.");
        for (int i = 1; i <= MostReadings; i++)
        {
            Posterior posterior = bench.Explain();
            Suspect? leader = bench.Lines(posterior).FirstOrDefault(s => !s.Sets[0].Set.IsEmpty);
            if (leader is { Probability: > 0.95 } || bench.Next(posterior, 1) is not [Advice next, ..]) break;
            int check = bench.Predictor.Check(next.Setting, next.What);
            Outcome seen = unit.Observe(bench.Predictor, check);
            Screen.Line(string.Create(CultureInfo.InvariantCulture, $"{i,2}. Set {FindingsView.Set(next.Setting)}; look at {next.What}: {Told(bench.Predictor.Checks[check], next.What, seen)}"));
            Screen.Line($"    {next.Why}");
            Screen.Flush();
            bench.Take($"reading {i}", next.Setting, next.What, seen);
        }

        Screen.Line();
        FindingsView.Write(model, bench.Find());
        Screen.Line($"What was wrong: {Fault}. Your own unit: ventwright bench new SHEET, then ventwright bench resume SESSION.");
        return ExitCodes.Fine;
    }

    private static string Told(CheckEntry check, Observable what, Outcome seen) => seen.Kind switch
    {
        OutcomeKind.Word => check.Words[seen.WordIndex],
        OutcomeKind.Unsteady => "nothing steady",
        _ => Number(what, seen.Value),
    };

    private static string Number(Observable what, double value)
    {
        double si = BenchMeter.FromScale(what.Kind, value);
        return double.IsInfinity(si) ? "OL" : Output.ReadingText.Of(si, what.Dimension(), Quantities.UnitSystem.Metric);
    }

    private static string? FindSheet()
    {
        for (DirectoryInfo? folder = new(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
        {
            string path = Path.Combine(folder.FullName, "sheets", Sheet);
            if (File.Exists(path)) return path;
        }

        return null;
    }
}
