using System.CommandLine;
using System.Globalization;
using Ventwright.Bench;
using Ventwright.Cli.Output;
using Ventwright.Diagnosis;
using Ventwright.Model.Build;
using Ventwright.Model.Kernel;
using Ventwright.Model.Sheet.Text;
using Ventwright.Simulation;
using Ventwright.Workshop;

namespace Ventwright.Cli.Commands;

/// <summary><c>demo</c>: a bench session on an invented unit with a fault in it, as a transcript.</summary>
internal static class Demo
{
    private const string Sheet = "single-blower-manual.yaml", Fault = "VV1:vac.recirc-port-blocked";
    private const int MostReadings = 15;

    /// <summary>Makes the command.</summary>
    public static Command Make()
    {
        var command = new Command("demo", "A bench session on an invented unit with a fault in it, as a transcript.");
        command.SetAction(_ => Run());
        return command;
    }

    private static int Run()
    {
        string path = SheetShelf.Find(Sheet) ?? throw new BadInputException($"the demo's sheet sheets/{Sheet} is not beside the program; `ventwright --help` lists the commands");
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
            Screen.Line(string.Create(CultureInfo.InvariantCulture, $"{i,2}. Set {FindingsView.Set(next.Setting)}; {next.Why}"));
            foreach (Observable look in next.Looks)
            {
                Outcome seen = unit.Observe(bench.Predictor, bench.Predictor.Check(next.Setting, look));
                Screen.Line($"    look at {look}: {ReadingWords.Written(model, look, seen)}");
                bench.Take($"reading {i} {look}", next.Setting, look, seen);
            }

            Screen.Flush();
        }

        Screen.Line();
        FindingsView.Write(model, bench.Find());
        Screen.Line($"What was wrong: {Fault}. Your own unit: ventwright bench new SHEET, then ventwright bench resume SESSION.");
        return ExitCodes.Fine;
    }
}
