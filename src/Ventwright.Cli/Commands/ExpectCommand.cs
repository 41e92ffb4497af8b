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
        var why = new Option<bool>("--why") { Description = "Tells which parts and laws make each value." };
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
            if (input.AsJson(parsed)) WriteJson(model, expected, bands, parsed.GetValue(why), input.Units(parsed));
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
            Screen.Line($"{band.What}:");
            foreach (string line in Why(model, band, units)) Screen.Line($"  {line}");
        }
    }

    private static void WriteJson(UnitModel model, Expectation expected, Band[] bands, bool why, UnitSystem units) => Json.Write(new
    {
        V = 1,
        Verdict = Expectation.Word(expected.Rest.Verdict),
        expected.Rest.Note,
        Checks = bands.Select(b => BandJson.Of(b, units)),
        Stated = bands.Select(b => expected.Stated(b)).OfType<StatedRow>().Select(r => new { At = r.What.ToString(), Is = ReadingWords.Stated(r, units), r.Source }),
        Why = why ? bands.Select(b => new { At = b.What.ToString(), Lines = Why(model, b, units) }) : null,
    });

    /// <summary>The band; where the model has no answer, what the manual states, and that it is stated.</summary>
    private static string BandText(Expectation expected, Band band, UnitSystem units) =>
        expected.Stated(band) is { } row ? $"stated: {ReadingWords.Stated(row, units)} ({row.Source})" : ReadingWords.Of(band, units);

    private static string Owner(UnitModel model, Observable what)
    {
        PartInfo part = model.Parts[Array.Find(model.Points, p => p.What == what)!.Part];
        return part.Name == part.Id ? part.Id : $"{part.Id} {part.Name}";
    }

    private static IEnumerable<string> Why(UnitModel model, Band band, UnitSystem units)
    {
        foreach ((string name, double effect) in band.Drivers)
            yield return band.Nominal.Word is null ? $"{name}: moves it by {ReadingWords.Of(effect, Spread(band.What), units)} within its tolerance" : $"{name}: moves it within its tolerance";
        IEnumerable<string> laws = band.What.Kind switch
        {
            ObservableKind.Volts or ObservableKind.Ohms => Laws.OfNet(model, band.What.Target),
            ObservableKind.Vacuum => model.Vacuum.Where(b => model.Hoses[b.A] == band.What.Target || model.Hoses[b.B] == band.What.Target).Select(b => b.Part).Distinct()
                .SelectMany(p => Laws.OfPart(model, p).Select(l => $"{model.Parts[p].Id} {l}")),
            _ => Laws.OfPart(model, model.PartIndex(band.What.Target)),
        };
        foreach (string law in laws) yield return law;
    }

    private static Dimension Spread(Observable what) => what.Dimension() == Dimension.Temperature ? Dimension.TemperatureDifference : what.Dimension();
}
