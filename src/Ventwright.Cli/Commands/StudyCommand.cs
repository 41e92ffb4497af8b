using System.CommandLine;
using System.Globalization;
using Ventwright.Bench;
using Ventwright.Cli.Output;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Cli.Commands;

/// <summary><c>study SHEET</c>: how well faults can be found with a sheet.</summary>
internal static class StudyCommand
{
    /// <summary>Makes the command.</summary>
    public static Command Make()
    {
        var command = new Command("study", "Puts known faults into the model, follows the suggested checks, and counts how often they are found.");
        var input = new SheetInput(command);
        Option<string?> singles = Number("--singles", "Cases with one fault, 20."), doubles = Number("--doubles", "Cases with two faults, 0."), seed = Number("--seed", "Seed, 1.");
        Option<string?> perturb = Number("--perturb", "Real parameters lie within so many tolerances of the sheet's, 1.");
        var random = new Option<bool>("--random") { Description = "Checks in random order instead of the suggested one, for comparison." };
        foreach (Option option in (Option[])[singles, doubles, seed, perturb, random]) command.Options.Add(option);
        command.SetAction(parsed =>
        {
            UnitModel model = input.Load(parsed);
            var study = new InjectionStudy(new Simulator(model), (int)Value(parsed.GetValue(seed), 1), Value(parsed.GetValue(perturb), 1));
            StudyOrder order = parsed.GetValue(random) ? StudyOrder.Random : StudyOrder.Suggested;
            var runs = new List<(string Name, StudyCase[] Cases)>();
            foreach ((string name, int faults, int count) in new[] { ("singles", 1, (int)Value(parsed.GetValue(singles), 20)), ("doubles", 2, (int)Value(parsed.GetValue(doubles), 0)) })
            {
                if (count > 0) runs.Add((name, [.. study.Run(count, faults, order, progress: n => Progress.Say($"{name} {n} of {count}"))]));
            }

            if (input.AsJson(parsed)) Json.Write(new { V = 1, Runs = runs.Select(r => Summary(r.Name, r.Cases)) });
            else Write(runs);
            return ExitCodes.Fine;
        });
        return command;
    }

    private static object Summary(string name, StudyCase[] cases) => new
    {
        Name = name,
        Cases = cases.Length,
        Found = Json.Number(cases.Average(c => c.Found ? 1.0 : 0)),
        Readings = Json.Number(cases.Average(c => c.Readings)),
        Minutes = Json.Number(cases.Average(c => c.Minutes)),
        Missed = cases.Where(c => !c.Found).Select(c => new { c.Truth, c.Leader, c.Probability, c.Log }),
    };

    private static void Write(List<(string Name, StudyCase[] Cases)> runs)
    {
        Screen.Table(["faults", "cases", "found first", "readings", "minutes"], runs.Select(r => (string[])
        [
            r.Name, r.Cases.Length.ToString(CultureInfo.InvariantCulture), r.Cases.Average(c => c.Found ? 1.0 : 0).ToString("0.0 %", CultureInfo.InvariantCulture),
            r.Cases.Average(c => c.Readings).ToString("0.0", CultureInfo.InvariantCulture), r.Cases.Average(c => c.Minutes).ToString("0.0", CultureInfo.InvariantCulture),
        ]));
        var sure = runs.SelectMany(r => r.Cases).SelectMany(c => c.Calibration).Where(c => c.Probability is > 0.85 and < 0.95).ToArray();
        if (sure.Length > 0) Screen.Line(string.Create(CultureInfo.InvariantCulture, $"Of {sure.Length} lines given 85 to 95 %, {sure.Average(c => c.True ? 1.0 : 0):0.0 %} were true."));
        foreach (StudyCase missed in runs.SelectMany(r => r.Cases).Where(c => !c.Found))
            Screen.Line(string.Create(CultureInfo.InvariantCulture, $"Missed: {string.Join(" with ", missed.Truth)}; thought {missed.Leader} ({missed.Probability:0.00}) after {missed.Readings} readings"));
    }

    private static Option<string?> Number(string name, string text) => new(name) { Description = text };

    private static double Value(string? text, double otherwise) => text is null ? otherwise
        : double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out double value) && value >= 0 && value < 1e6 ? value
        : throw new BadInputException($"'{text}' is not a number from 0 to a million");
}
