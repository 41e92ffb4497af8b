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
    private static readonly (string Name, StudyFaults Kind, string Text, int Usual)[] Kinds =
    [
        ("--singles", StudyFaults.Single, "Cases with one fault, 20.", 20),
        ("--doubles", StudyFaults.Double, "Cases with two faults, 0.", 0),
        ("--masked", StudyFaults.Masked, "Cases with two faults of which one hides the other somewhere, 0.", 0),
        ("--repairs", StudyFaults.Repair, "Cases with two faults, the first repaired once found, 0.", 0),
        ("--intermittent", StudyFaults.Intermittent, "Cases with a fault that comes and goes, 0.", 0),
        ("--off-sheet", StudyFaults.OffSheet, "Cases with something wrong that the sheet does not list, 0.", 0),
    ];

    private static readonly (double Low, double High)[] Bins = [(0.5, 0.7), (0.7, 0.85), (0.85, 0.95), (0.95, 1.0001)];

    /// <summary>Makes the command.</summary>
    public static Command Make()
    {
        var command = new Command("study", "Puts known faults into the model, follows the suggested checks, and counts how often they are found.");
        var input = new SheetInput(command);
        Option<string?>[] counts = [.. Kinds.Select(k => Number(k.Name, k.Text))];
        Option<string?> seed = Number("--seed", "Seed, 1."), perturb = Number("--perturb", "Real parameters lie within so many tolerances of the sheet's, 1.");
        Option<string?> most = Number("--checks", "Checks after which a case is given up, a look round counted as one, 30.");
        var order = new Option<string?>("--order") { Description = "How checks are chosen: suggested, two-ahead (the same, looking two checks ahead), random or plan (the shortest bench test from first to last); suggested." };
        var complaint = new Option<bool>("--complaint") { Description = "Each case starts with what the owner tells: something that he saw the unit do wrong or, where there is nothing to be seen, what works." };
        foreach (Option option in (Option[])[.. counts, seed, perturb, most, order, complaint]) command.Options.Add(option);
        command.SetAction(parsed =>
        {
            StudyOrder by = Order(parsed.GetValue(order));
            UnitModel model = input.Load(parsed);
            var study = new InjectionStudy(new Simulator(model), (int)Value(parsed.GetValue(seed), 1), Value(parsed.GetValue(perturb), 1), parsed.GetValue(complaint));
            var runs = new List<(string Name, IReadOnlyList<StudyCase> Cases)>();
            for (int k = 0; k < Kinds.Length; k++)
            {
                int count = (int)Value(parsed.GetValue(counts[k]), Kinds[k].Usual);
                string name = Kinds[k].Name[2..];
                if (count > 0) runs.Add((name, study.Run(count, Kinds[k].Kind, by, (int)Value(parsed.GetValue(most), 30), n => Progress.Say(n == 0 ? "working out what each fault shows" : $"{name} {n} of {count}"))));
            }

            if (input.AsJson(parsed)) Json.Write(new { V = 1, Runs = runs.Select(r => Summary(r.Name, r.Cases)), Calibration = Claims(runs).Select(c => new { c.Low, c.High, c.Claims, True = Json.Number(c.True) }) });
            else Write(runs);
            return ExitCodes.Fine;
        });
        return command;
    }

    private static StudyOrder Order(string? text) => text switch
    {
        null or "suggested" => StudyOrder.Suggested,
        "two-ahead" => StudyOrder.TwoAhead,
        "random" => StudyOrder.Random,
        "plan" => StudyOrder.Plan,
        _ => throw new BadInputException($"--order is suggested, two-ahead, random or plan, not '{text}'"),
    };

    private static object Summary(string name, IReadOnlyList<StudyCase> cases) => new
    {
        Name = name,
        Cases = cases.Count,
        Found = Json.Number(cases.Average(c => c.Found ? 1.0 : 0)),
        Checks = Json.Number(cases.Average(c => c.Checks)),
        Readings = Json.Number(cases.Average(c => c.Readings)),
        Minutes = Json.Number(cases.Average(c => c.Minutes)),
        OffSheetLeads = Json.Number(cases.Average(c => c.OffSheet > 0.5 ? 1.0 : 0)),
        Missed = cases.Where(c => !c.Found).Select(c => new { c.Truth, c.Leader, c.Probability, c.OffSheet, c.Log }),
    };

    private static void Write(List<(string Name, IReadOnlyList<StudyCase> Cases)> runs)
    {
        Screen.Table(["faults", "cases", "found first", "off sheet leads", "checks", "readings", "minutes"], runs.Select(r => (string[])
        [
            r.Name, r.Cases.Count.ToString(CultureInfo.InvariantCulture), Percent(r.Cases.Average(c => c.Found ? 1.0 : 0)), Percent(r.Cases.Average(c => c.OffSheet > 0.5 ? 1.0 : 0)),
            r.Cases.Average(c => c.Checks).ToString("0.0", CultureInfo.InvariantCulture), r.Cases.Average(c => c.Readings).ToString("0.0", CultureInfo.InvariantCulture), r.Cases.Average(c => c.Minutes).ToString("0.0", CultureInfo.InvariantCulture),
        ]));
        Screen.Line("Lines of faults by the belief they were given after a check, and how often all the faults that they name were there:");
        Screen.Table(["belief", "lines", "true"], Claims(runs).Select(c => (string[])
            [$"{Percent(c.Low)} to {Percent(Math.Min(1, c.High))}", c.Claims.ToString(CultureInfo.InvariantCulture), c.Claims == 0 ? "" : Percent(c.True)]));
        foreach ((string name, IReadOnlyList<StudyCase> cases) in runs.Where(r => r.Name != "off-sheet"))
        {
            foreach (StudyCase missed in cases.Where(c => !c.Found))
                Screen.Line(string.Create(CultureInfo.InvariantCulture, $"Missed ({name}): {string.Join(" with ", missed.Truth)}; thought {missed.Leader} ({missed.Probability:0.00}) after {missed.Checks} checks"));
        }
    }

    private static IEnumerable<(double Low, double High, int Claims, double True)> Claims(List<(string Name, IReadOnlyList<StudyCase> Cases)> runs)
    {
        (double Probability, bool True)[] all = [.. runs.SelectMany(r => r.Cases).SelectMany(c => c.Claims)];
        foreach ((double low, double high) in Bins)
        {
            bool[] inside = [.. all.Where(c => c.Probability >= low && c.Probability < high).Select(c => c.True)];
            yield return (low, high, inside.Length, inside.Length == 0 ? double.NaN : inside.Average(t => t ? 1.0 : 0));
        }
    }

    private static string Percent(double share) => (share * 100).ToString("0.0 '%'", CultureInfo.InvariantCulture);

    private static Option<string?> Number(string name, string text) => new(name) { Description = text };

    private static double Value(string? text, double usual) => text is null ? usual
        : double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out double value) && value is >= 0 and <= 1e6 ? value
        : throw new BadInputException($"'{text}' is not a number from 0 to a million");
}
