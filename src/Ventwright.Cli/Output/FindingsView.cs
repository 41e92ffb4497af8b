using System.Globalization;
using Ventwright.Bench;
using Ventwright.Diagnosis;
using Ventwright.Model.Kernel;
using Ventwright.Quantities;
using Ventwright.Simulation;
using Ventwright.Workshop;

namespace Ventwright.Cli.Output;

/// <summary>Shows what the readings say, as text and as JSON.</summary>
internal static class FindingsView
{
    private const int MostLines = 8;

    /// <summary>Writes findings with a closer look at what leads.</summary>
    public static void Show(UnitModel model, BenchDiagnosis bench, Findings findings, bool json, UnitSystem units)
    {
        CloserLook look = bench.LookCloser(findings, Commands.Progress.Share("trying whether a line of the sheet, if changed, would fit the readings"));
        if (json)
        {
            Output.Json.Write(Json(model, findings, look, units));
            return;
        }

        Write(model, findings);
        CloserView.Write(model, look, units);
    }

    /// <summary>Writes tables for people.</summary>
    public static void Write(UnitModel model, Findings findings)
    {
        Screen.Line("Suspects");
        Screen.Table(["belief", "suspect", "what one would notice"], findings.Suspects.Take(MostLines).Select(s => (string[])[Percent(s.Probability), Name(model, s), Symptom(model, s)]));
        if (findings.ByThemselves.Count > 0)
        {
            Screen.Line("Each fault by itself, with whatever else");
            Screen.Table(["belief", "fault"], findings.ByThemselves.Select(f => (string[])[Percent(findings.Present[f]), CheckTitles.FaultTitle(model, model.Faults[f])]));
        }

        Screen.Line($"Something that is not on the sheet: {Percent(findings.OffSheet)}. Sets not worked out hold at most {Percent(findings.LeftOutAtMost)}.");
        foreach (string note in findings.Notes) Screen.Line($"Note: {note}.");
        string[] proven = [.. findings.Proof.Parts.Where(p => p.Proven).Select(p => model.Parts[model.PartIndex(p.Part)].Title)];
        Screen.Line($"Proven: {(proven.Length == 0 ? "nothing yet" : string.Join(", ", proven))}. Coverage {Percent(findings.Proof.Coverage)} of the fault weight.");
        Screen.Line();
        Screen.Line("Next checks");
        Screen.Table(["set", "look at", "where", "min", "why"], findings.Next.Select(a => (string[])
            [Set(a.Setting), string.Join(", ", a.Looks), PlaceWords.WithWay(a.Place), a.Minutes.ToString("0.0", CultureInfo.InvariantCulture), a.Why]));
        foreach (string caution in findings.Next.SelectMany(a => Cautions(model, a)).Distinct()) Screen.Line($"Caution: {caution}.");
    }

    /// <summary>The object that is written as JSON.</summary>
    public static object Json(UnitModel model, Findings findings, CloserLook look, UnitSystem units) => new
    {
        V = 1,
        Suspects = findings.Suspects.Take(40).Select(s => new
        {
            Faults = Ids(model, s.Sets[0].Set),
            Probability = Output.Json.Number(s.Probability),
            Inseparable = s.Sets.Skip(1).Take(12).Select(o => Ids(model, o.Set)),
        }),
        Proven = findings.Proof.Parts.Where(p => p.Proven).Select(p => p.Part),
        Unproven = findings.Proof.Parts.Where(p => !p.Proven).Select(p => new { p.Part, Faults = p.Open.Select(f => model.Faults[f].Name) }),
        Next = findings.Next.Select(a => new
        {
            Set = a.Setting.Words,
            At = a.What.ToString(),
            Minutes = Output.Json.Number(a.Minutes),
            Gain = Output.Json.Number(a.Gain),
            Purpose = a.Proves ? "prove" : "find",
            a.Why,
            Place = a.Place.Name,
            Caution = Cautions(model, a) is { Length: > 0 } cautions ? string.Join("; ", cautions) : null,
            Also = a.Also.Select(w => w.ToString()),
        }),
        Coverage = Output.Json.Number(findings.Proof.Coverage),
        OffSheet = Output.Json.Number(findings.OffSheet),
        NoFault = Output.Json.Number(findings.NoFault),
        LeftOutAtMost = Output.Json.Number(findings.LeftOutAtMost),
        findings.Notes,
        Swaps = CloserView.Swaps(look),
        Size = CloserView.Size(model, look, units),
        SheetLine = CloserView.SheetLines(model, look, units),
        ByThemselves = findings.ByThemselves.Select(f => new { Fault = model.Faults[f].Id, Probability = Output.Json.Number(findings.Present[f]) }),
    };

    /// <summary>Setting in words; a long list of what is absent is told by its number.</summary>
    public static string Set(Setting setting)
    {
        const int mostNamed = 5;
        if (setting.Key.Length == 0) return "as it stands at the start";
        int absent = setting.Words.Keys.Count(IsAbsent);
        if (absent <= mostNamed) return setting.Key;
        return string.Join(' ', [.. setting.Words.Where(w => !IsAbsent(w.Key)).Select(w => $"{w.Key}={w.Value}"), $"({absent} parts absent)"]);
    }

    /// <summary>What to beware of where the check, or any look of a round, is made.</summary>
    private static string[] Cautions(UnitModel model, Advice advice) =>
        [.. advice.Also.Select(look => CheckTitles.PlaceOf(model, look)?.Caution).Prepend(advice.Place.Caution).OfType<string>().Distinct()];

    private static bool IsAbsent(string name) => name.StartsWith("absent ", StringComparison.Ordinal);

    private static string[] Ids(UnitModel model, FaultSet set) => [.. set.Select(f => model.Faults[f].Id)];

    private static string Name(UnitModel model, Suspect suspect)
    {
        int others = suspect.Sets.Count(s => s.Probability > 0.05 * suspect.Probability) - 1;
        string also = string.Join(", ", suspect.Sets.Skip(1).Take(Math.Min(others, 3)).Select(s => CheckTitles.OfFaults(model, s.Set)));
        string first = CheckTitles.OfFaults(model, suspect.Sets[0].Set);
        return others <= 0 ? first : $"{first}; no check tells it from {also}{(others > 3 ? $" and {others - 3} more" : "")}";
    }

    private static string Symptom(UnitModel model, Suspect suspect) => suspect.Sets[0].Set.IsEmpty ? "" : string.Join("; ", suspect.Sets[0].Set.Select(f => model.Faults[f].Symptom));

    private static string Percent(double share) => share.ToString("0.0 %", CultureInfo.InvariantCulture);
}
