using System.CommandLine;
using Ventwright.Cli.Output;
using Ventwright.Model.Kernel;
using Ventwright.Quantities;
using Ventwright.Simulation;
using Ventwright.Workshop;

namespace Ventwright.Cli.Commands;

/// <summary><c>expect SHEET</c>: what checks should show in a setting, as bands.</summary>
internal static class ExpectCommand
{
    /// <summary>Makes the command.</summary>
    public static Command Make()
    {
        var command = new Command("expect", "Says what checks should show in a setting, as bands that the parts' tolerances allow.");
        var input = new SheetInput(command);
        var setting = new SettingOptions(command);
        var at = new Option<string[]>("--at") { Description = "A check: 'volts(mod.7)', 'position(FL1)'. All that can be seen while it runs unless told.", Arity = ArgumentArity.OneOrMore };
        var from = new Option<string[]>("--from") { Description = "A control or condition as it stood before, for what stays as it was: mode=auto.", Arity = ArgumentArity.OneOrMore };
        var why = new Option<bool>("--why") { Description = "Tells the chain of parts and laws that makes each value." };
        command.Options.Add(at);
        command.Options.Add(from);
        command.Options.Add(why);
        command.SetAction(parsed =>
        {
            UnitModel model = input.Load(parsed);
            var expected = new Expectation(model, setting.Setting(model, parsed), setting.Faults(model, parsed), parsed.GetValue(from) ?? []);
            string[] asked = parsed.GetValue(at) ?? [];
            Observable[] checks = asked.Length > 0 ? [.. asked.Select(a => CheckNames.Parse(model, a))] : expected.Usual();
            Band[] bands = expected.Bands(checks);
            if (input.AsJson(parsed)) WriteJson(expected, bands, parsed.GetValue(why), input.Units(parsed));
            else WriteText(model, expected, bands, asked.Length > 0, parsed.GetValue(why), input.Units(parsed));
            return expected.Rest.Verdict == Verdict.NotSolved ? ExitCodes.No : ExitCodes.Fine;
        });
        return command;
    }

    private static void WriteText(UnitModel model, Expectation expected, Band[] bands, bool asked, bool why, UnitSystem units)
    {
        if (expected.Rest.Verdict != Verdict.Settled) Screen.Line($"{Expectation.Word(expected.Rest.Verdict)}: {expected.Rest.Note}");
        if (expected.Rest.Verdict == Verdict.NotSolved) return;
        IEnumerable<string[]> rows = bands.Select(b => (string[])
            [.. asked ? (string[])[] : [Owner(model, b.What)], b.What.ToString(), ReadingWords.Of(b.Nominal, b.What, units), BandText(expected, b, units)]);
        Screen.Table(asked ? ["check", "reading", "band"] : ["part", "check", "reading", "band"], rows);
        foreach (Band band in why ? bands : [])
        {
            Screen.Line();
            WhyView.Write(expected.Why(band), units);
        }
    }

    private static void WriteJson(Expectation expected, Band[] bands, bool why, UnitSystem units) => Json.Write(new
    {
        V = 1,
        Verdict = Expectation.Word(expected.Rest.Verdict),
        expected.Rest.Note,
        Checks = bands.Select(b => BandJson.Of(b, units)),
        Stated = bands.Select(b => expected.Stated(b)).OfType<StatedRow>().Select(r => new { At = r.What.ToString(), Is = ReadingWords.Stated(r, units), r.Source }),
        Why = why ? bands.Select(b => WhyView.Json(expected.Why(b), units)) : null,
    });

    /// <summary>The band; where the model has no answer, what the manual states, and that it is stated.</summary>
    private static string BandText(Expectation expected, Band band, UnitSystem units) =>
        expected.Stated(band) is { } row ? $"stated: {ReadingWords.Stated(row, units)} ({row.Source})" : ReadingWords.Of(band, units);

    private static string Owner(UnitModel model, Observable what)
    {
        // What runs from end to end through several parts belongs to none of them.
        if (Array.Find(model.Points, p => p.What == what) is not { } point) return "";
        PartInfo part = model.Parts[point.Part];
        return part.Name == part.Id ? part.Id : $"{part.Id} {part.Name}";
    }
}
