using System.CommandLine;
using Ventwright.Bench;
using Ventwright.Cli.Output;
using Ventwright.Diagnosis;
using Ventwright.Model.Kernel;
using Ventwright.Model.Sheet.Text;
using Ventwright.Simulation;
using Ventwright.Workshop;

namespace Ventwright.Cli.Commands;

/// <summary><c>find SHEET READINGS</c>: suspects, proof and the next check from a file of readings.</summary>
internal static class FindCommand
{
    /// <summary>Makes the command.</summary>
    public static Command Make()
    {
        var command = new Command("find", "Says from a file of readings which parts are suspect, which are proven, and what to check next.");
        var input = new SheetInput(command);
        var file = new Argument<string>("READINGS") { Description = "Readings in YAML or CSV: set, at, got." };
        command.Arguments.Add(file);
        PresenceOptions presence = new PresenceOptions().Add(command);
        command.SetAction(parsed =>
        {
            UnitModel model = input.Load(parsed);
            var problems = new ProblemList();
            var readings = ReadingsFile.Load(parsed.GetRequiredValue(file), problems);
            BenchDiagnosis bench = presence.Diagnosis(new Simulator(model), parsed);
            int number = 0;
            foreach (WrittenReading reading in readings)
            {
                number++;
                try
                {
                    Take(bench, model, $"reading {number}", reading with { Set = [.. reading.Set, .. bench.Catalog.Presence.Words] }, problems);
                }
                catch (RefusedException e)
                {
                    problems.Error("reading", reading.Where, e.Message);
                }
            }

            if (problems.HasErrors) throw new BadInputException("the readings cannot be used:\n" + string.Join('\n', problems.Sorted.Select(p => p.ToString())));
            Progress.Say($"weighing {number} readings against {model.Faults.Length} faults");
            Findings findings = bench.Find();
            FindingsView.Show(model, bench, findings, input.AsJson(parsed), input.Units(parsed));
            return ExitCodes.Fine;
        });
        return command;
    }

    private static void Take(BenchDiagnosis bench, UnitModel model, string id, WrittenReading reading, ProblemList problems)
    {
        if (reading.IsSymptom)
        {
            (Setting stood, Observable noticed, Outcome word) = WrittenEntries.CheckSymptom(model, reading.Set, reading.At, reading.Got);
            if (reading.Accuracy is not null) problems.Error("accuracy", reading.AccuracyAt, "a symptom is told in words; an accuracy belongs to numbers");
            bench.TakeSymptom(id, stood, noticed, word);
            return;
        }

        (Setting setting, Observable what, Outcome outcome) = WrittenEntries.Check(model, reading.Set, reading.At, reading.Got);
        MeterAccuracy? meter = null;
        if (reading.Accuracy is { } text)
        {
            if (bench.Meters.TryRead(text, what, outcome, out MeterAccuracy own, out string? problem)) meter = own;
            else problems.Error("accuracy", reading.AccuracyAt, problem ?? $"'{text}' is no accuracy");
        }

        bench.Take(id, setting, what, outcome, meter);
    }
}

/// <summary>A line on standard error while something takes its time.</summary>
internal static class Progress
{
    private const double SilentSeconds = 2;

    /// <summary>Says how far something is that has taken over two seconds, once a second.</summary>
    public static Action<double> Share(string what)
    {
        var watch = System.Diagnostics.Stopwatch.StartNew();
        double next = SilentSeconds;
        var gate = new Lock();
        return share =>
        {
            lock (gate)
            {
                if (watch.Elapsed.TotalSeconds < next) return;
                next = watch.Elapsed.TotalSeconds + 1;
            }

            Say(string.Create(System.Globalization.CultureInfo.InvariantCulture, $"{what}: {share:0 %}"));
        };
    }

    /// <summary>Says what is being worked out.</summary>
    public static void Say(string what)
    {
        if (!Console.IsErrorRedirected) Console.Error.WriteLine($"{what} ...");
    }
}
