using System.CommandLine;
using System.Globalization;
using Ventwright.Bench;
using Ventwright.Cli.Output;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Cli.Commands;

/// <summary><c>chart SHEET</c>: what everything that moves does in each position of each control.</summary>
internal static class ChartCommand
{
    /// <summary>Makes the command.</summary>
    public static Command Make()
    {
        var command = new Command("chart", "The function chart: what flaps, actuators, servos, motors, vents and lamps do in each position of each control.");
        var input = new SheetInput(command);
        var set = new Option<string[]>("--set") { Description = "A control or condition that is held, unless the chart turns it: mode=vent.", Arity = ArgumentArity.OneOrMore };
        command.Options.Add(set);
        command.SetAction(parsed =>
        {
            UnitModel model = input.Load(parsed);
            (string, string)[] held = [.. (parsed.GetValue(set) ?? []).Select(t => SettingOptions.Pair("--set", t))];
            FunctionChart chart = FunctionChart.TryMake(new Simulator(model), held, out string? problem) ?? throw new BadInputException(problem ?? "the chart cannot be made");
            if (input.AsJson(parsed)) WriteJson(chart);
            else WriteText(model, chart);
            return ExitCodes.Fine;
        });
        return command;
    }

    private static void WriteText(UnitModel model, FunctionChart chart)
    {
        foreach (var byControl in chart.Settings.GroupBy(s => s.Control))
        {
            var positions = byControl.GroupBy(s => s.Position).ToArray();
            Screen.Line($"{byControl.Key.Name}{(chart.Dial is null ? "" : $" (with {chart.Dial.Name} low / middle / high where that makes a difference)")}");
            Screen.Table(
                ["", .. positions.Select(p => p.Key)],
                chart.Looks.Select((l, i) => (string[])[Title(model, l), .. positions.Select(p => Cell([.. p.Select(s => s.Shown[i].Word ?? "?")]))]));
        }

        foreach (ChartSetting setting in chart.Settings.Where(s => s.Rest.Verdict != Verdict.Settled))
            Screen.Line(string.Create(CultureInfo.InvariantCulture, $"{setting.Control.Name} {setting.Position}{(setting.Dial is { } d ? $", {chart.Dial!.Name} {d}" : "")}: {Expectation.Word(setting.Rest.Verdict)}, {setting.Rest.Note}"));
    }

    private static void WriteJson(FunctionChart chart) => Json.Write(new
    {
        V = 1,
        Dial = chart.Dial?.Name,
        Chart = chart.Settings.Select(s => new
        {
            Control = s.Control.Name,
            s.Position,
            s.Dial,
            Verdict = Expectation.Word(s.Rest.Verdict),
            s.Rest.Note,
            Shows = chart.Looks.Select((l, i) => new { At = l.ToString(), s.Shown[i].Word, Value = Json.Number(s.Shown[i].Value) }),
        }),
    });

    private static string Title(UnitModel model, Observable look)
    {
        string name = model.Parts[model.PartIndex(look.Target)].Name;
        return name == look.Target ? look.Target : $"{look.Target} {name}";
    }

    private static string Cell(string[] words) => words.Distinct().Count() == 1 ? words[0] : string.Join(" / ", words);
}
