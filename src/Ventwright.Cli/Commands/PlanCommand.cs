using System.CommandLine;
using System.Globalization;
using Ventwright.Bench;
using Ventwright.Cli.Output;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;
using Ventwright.Workshop;

namespace Ventwright.Cli.Commands;

/// <summary><c>plan SHEET</c>: the shortest bench test.</summary>
internal static class PlanCommand
{
    /// <summary>Makes the command.</summary>
    public static Command Make()
    {
        var command = new Command("plan", "The cheapest list of checks that shows every fault that can be shown on the bench.");
        var input = new SheetInput(command);
        var minutes = new Option<string?>("--minutes") { Description = "Show as much as can be shown in so many minutes." };
        var without = new Option<string[]>("--without") { Description = "A place that is not to be opened.", Arity = ArgumentArity.OneOrMore };
        command.Options.Add(minutes);
        command.Options.Add(without);
        PresenceOptions presence = new PresenceOptions().Add(command);
        command.SetAction(parsed =>
        {
            UnitModel model = input.Load(parsed);
            string[] closed = parsed.GetValue(without) ?? [];
            foreach (string place in closed)
            {
                if (CheckNames.Unknown("place", place, [.. model.Places.Select(p => p.Name)]) is { } problem) throw new BadInputException(problem);
            }

            double? limit = null;
            if (parsed.GetValue(minutes) is { } text)
            {
                if (!double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out double value) || !(value > 0)) throw new BadInputException($"--minutes wants a number above 0, not '{text}'");
                limit = value;
            }

            Progress.Say($"working out what {model.Faults.Length} faults do to every check");
            var simulator = new Simulator(model);
            BenchDiagnosis bench = presence.Diagnosis(simulator, parsed);
            BenchPlan plan = BenchPlan.Make(bench, simulator, limit, closed);
            if (input.AsJson(parsed)) Json.Write(AsJson(bench, plan));
            else Write(model, bench, plan);
            return ExitCodes.Fine;
        });
        return command;
    }

    private static void Write(UnitModel model, BenchDiagnosis bench, BenchPlan plan)
    {
        int number = 0;
        foreach ((Setting setting, IReadOnlyList<int> checks) in plan.Groups)
        {
            Screen.Line($"Set: {FindingsView.Set(setting)}");
            Screen.Table(["", "look at", "where"], checks.Select(c => (string[])
                [(++number).ToString(CultureInfo.InvariantCulture), bench.Predictor[c].What.ToString(), PlaceWords.WithWay(model.Places[bench.Predictor.Checks[c].Place])]));
        }

        Screen.Line(string.Create(CultureInfo.InvariantCulture, $"{number} checks, {plan.Minutes:0} minutes, {plan.ShownShare:0.0 %} of the fault weight; at most {plan.Gap:0.0 %} from the best plan."));
        if (plan.NotShown.Count > 0) Screen.Line($"Left unseen by this plan: {CheckTitles.ByPart(model, plan.NotShown)}");
        if (plan.ShownByNone.Count > 0) Screen.Line($"No check on the bench shows: {CheckTitles.ByPart(model, plan.ShownByNone)}");
        foreach (IReadOnlyList<Fault> group in plan.Inseparable) Screen.Line($"No check tells apart: {CheckTitles.ByPart(model, group)}");
    }

    private static object AsJson(BenchDiagnosis bench, BenchPlan plan) => new
    {
        V = 1,
        Groups = plan.Groups.Select(g => new { Set = g.Setting.Words, Checks = g.Checks.Select(c => new { At = bench.Predictor[c].What.ToString() }) }),
        Minutes = Json.Number(plan.Minutes),
        Shown = Json.Number(plan.ShownShare),
        Gap = Json.Number(plan.Gap),
        Unseen = plan.NotShown.Select(f => f.Id),
        ShownByNone = plan.ShownByNone.Select(f => f.Id),
        Inseparable = plan.Inseparable.Select(g => g.Select(f => f.Id)),
    };
}
