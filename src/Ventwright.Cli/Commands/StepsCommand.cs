using System.CommandLine;
using System.Globalization;
using Ventwright.Bench;
using Ventwright.Bench.StepTest;
using Ventwright.Cli.Output;
using Ventwright.Model.Kernel;
using Ventwright.Quantities;
using Ventwright.Simulation;
using Ventwright.Workshop;

namespace Ventwright.Cli.Commands;

/// <summary><c>steps SHEET</c>: automatic mode proven by hand, with resistances in place of the sensors.</summary>
internal static class StepsCommand
{
    /// <summary>Makes the command.</summary>
    public static Command Make()
    {
        var command = new Command("steps", "The step test of automatic mode: which resistance goes where, and what must then happen within which time.");
        var input = new SheetInput(command);
        var study = new Option<int?>("--study") { Description = "Puts so many faults of module, sensors and feedback in, one after another, and counts how many the steps find; 0 for all." };
        var seed = new Option<int>("--seed") { Description = "Seed of the study, 1.", DefaultValueFactory = _ => 1 };
        command.Options.Add(study);
        command.Options.Add(seed);
        command.SetAction(parsed =>
        {
            UnitModel model = input.Load(parsed);
            var simulator = new Simulator(model);
            if (parsed.GetValue(study) is { } cases) return Study(simulator, cases, parsed.GetValue(seed), input.AsJson(parsed));
            Progress.Say("turning every sensor and dial through the module's thresholds");
            AutomaticTest test = AutomaticTest.Make(simulator, new(simulator), Progress.Share("working out what each fault does to each step"))
                ?? throw new BadInputException("this unit has no module: there is no automatic mode to test");
            if (input.AsJson(parsed)) WriteJson(test, input.Units(parsed));
            else WriteText(model, test, input.Units(parsed));
            return ExitCodes.Fine;
        });
        return command;
    }

    private static int Study(Simulator simulator, int cases, int seed, bool json)
    {
        if (cases < 0) throw new BadInputException($"--study wants a number of cases, 0 for all, not {cases}");
        IReadOnlyList<StepCase> results = StepStudy.Run(simulator, seed, most: cases == 0 ? null : cases, progress: Progress.Share("going through the steps with one fault after another"));
        if (results.Count == 0) throw new BadInputException("this unit has no module: there is no automatic mode to test");
        double Share(Func<StepCase, bool> is_) => results.Count(is_) / (double)results.Count;
        StepCase[] shown = [.. results.Where(r => r.ShownAtStep > 0)];
        double steps = shown.Length == 0 ? 0 : shown.Average(s => s.ShownAtStep);
        if (json)
            Json.Write(new { V = 1, Cases = results.Count, Shown = Json.Number(Share(r => r.ShownAtStep > 0)), Found = Json.Number(Share(r => r.Found)), PartFound = Json.Number(Share(r => r.PartFound)), StepsUntilShown = Json.Number(steps), FurtherChecks = Json.Number(results.Average(r => r.FurtherChecks)), Results = results });
        else
        {
            Screen.Line(string.Create(CultureInfo.InvariantCulture, $"{results.Count} faults: {Share(r => r.ShownAtStep > 0):0 %} shown, at step {steps:0.0} on average; {Share(r => r.Found):0 %} told apart from all others, {Share(r => r.PartFound):0 %} traced to their part, with {results.Average(r => r.FurtherChecks):0.0} further checks on average."));
            foreach (StepCase missed in results.Where(r => !r.Found)) Screen.Line(string.Create(CultureInfo.InvariantCulture, $"Not told: {missed.Fault}{(missed.ShownAtStep == 0 ? ", not shown" : $", shown at step {missed.ShownAtStep}")}; thought {missed.Line} ({missed.Belief:0.00})"));
        }

        return ExitCodes.Fine;
    }

    private static void WriteText(UnitModel model, AutomaticTest test, UnitSystem units)
    {
        Screen.Line(string.Create(CultureInfo.InvariantCulture, $"{test.Steps.Count} steps, about {test.Minutes:0} minutes, show {test.ShownShare:0 %} of the fault weight of module, sensors and feedback."));
        Screen.Line("Caution: the blowers start in several steps: keep hands, sleeves and hair off them, and feed the unit through a fuse. Resistances go in with the supply off.");
        Setting stands = Setting.Default(model);
        int number = 0;
        foreach (TestStep step in test.Steps)
        {
            Screen.Line();
            Screen.Line($"Step {++number}: {step.Purpose}.");
            foreach (SettingStep turn in SettingWords.Steps(model, stands, step.Setting)) Screen.Line($"  {turn.Text}.");
            if (step.Restart) Screen.Line("  Switch the supply off for some seconds and on again: the module follows something slowly on purpose.");
            Screen.Table(["look at", "where", "must show", "within"], step.Looks.Select(l => (string[])
                [l.What.ToString(), PlaceWords.WithWay(l.Place), ReadingWords.Of(l.Band, units), l.WithinS > 0 ? $"{l.WithinS.ToString("0", CultureInfo.InvariantCulture)} s" : ""]));
            stands = step.Setting;
        }

        if (test.NotShown.Count > 0) Screen.Line($"No step shows: {CheckTitles.ByPart(model, test.NotShown)}.");
        foreach (IReadOnlyList<Fault> group in test.Inseparable) Screen.Line($"No step tells apart: {CheckTitles.ByPart(model, group)}.");
    }

    private static void WriteJson(AutomaticTest test, UnitSystem units) => Json.Write(new
    {
        V = 1,
        Minutes = Json.Number(test.Minutes),
        ShownShare = Json.Number(test.ShownShare),
        Steps = test.Steps.Select(s => new
        {
            Set = s.Setting.Words,
            s.Purpose,
            s.Restart,
            Looks = s.Looks.Select(l => new { Check = BandJson.Of(l.Band, units), l.WithinS, Place = l.Place.Name, l.Place.Caution }),
        }),
        NotShown = test.NotShown.Select(f => f.Id),
        Inseparable = test.Inseparable.Select(g => g.Select(f => f.Id)),
    });
}
