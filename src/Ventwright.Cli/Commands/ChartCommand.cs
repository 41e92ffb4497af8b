using System.CommandLine;
using System.Globalization;
using Ventwright.Cli.Output;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;
using Ventwright.Workshop;

namespace Ventwright.Cli.Commands;

/// <summary><c>chart SHEET</c>: what everything that moves does in each position of each control.</summary>
internal static class ChartCommand
{
    /// <summary>Makes the command.</summary>
    public static Command Make()
    {
        var command = new Command("chart", "The function chart: what flaps, actuators, servos, motors and vents do in each position of each control.");
        var input = new SheetInput(command);
        var set = new Option<string[]>("--set") { Description = "A control or condition that is held, unless the chart turns it: mode=vent.", Arity = ArgumentArity.OneOrMore };
        command.Options.Add(set);
        command.SetAction(parsed =>
        {
            UnitModel model = input.Load(parsed);
            FunctionChart chart = FunctionChart.Make(new Simulator(model), [.. (parsed.GetValue(set) ?? []).Select(t => SettingOptions.Pair("--set", t))]);
            if (input.AsJson(parsed)) WriteJson(chart);
            else WriteText(model, chart);
            return ExitCodes.Fine;
        });
        return command;
    }

    private static void WriteText(UnitModel model, FunctionChart chart)
    {
        Control? dial = chart.Dial;
        foreach (var byControl in chart.Columns.GroupBy(c => c.Control))
        {
            var positions = byControl.GroupBy(c => c.Position).ToArray();
            Screen.Line($"{byControl.Key.Name}{(dial is null ? "" : $" (with {dial.Name} low / middle / high where that makes a difference)")}");
            Screen.Table(
                ["", .. positions.Select(p => p.Key)],
                chart.Rows.Select((r, i) => (string[])[Title(model, r), .. positions.Select(p => Cell([.. p.Select(c => Word(c, i))]))]));
        }

        foreach (ChartColumn column in chart.Columns.Where(c => c.Rest.Verdict != Verdict.Settled))
            Screen.Line(string.Create(CultureInfo.InvariantCulture, $"{column.Control.Name} {column.Position}{(column.Dial is { } d ? $", {dial!.Name} {d}" : "")}: {Expectation.Word(column.Rest.Verdict)}, {column.Rest.Note}"));
    }

    private static void WriteJson(FunctionChart chart) => Json.Write(new
    {
        V = 1,
        Dial = chart.Dial?.Name,
        Chart = chart.Columns.Select(c => new
        {
            Control = c.Control.Name,
            c.Position,
            c.Dial,
            Verdict = Expectation.Word(c.Rest.Verdict),
            c.Rest.Note,
            Shows = chart.Rows.Select((r, i) => new { At = r.ToString(), c.Shows[i].Word, Value = Json.Number(c.Shows[i].Value) }),
        }),
    });

    private static string Title(UnitModel model, Observable row)
    {
        string name = model.Parts[model.PartIndex(row.Target)].Name;
        return name == row.Target ? row.Target : $"{row.Target} {name}";
    }

    private static string Word(ChartColumn column, int row) => column.Shows[row].Word ?? "?";

    private static string Cell(string[] words) => words.Distinct().Count() == 1 ? words[0] : string.Join(" / ", words);
}
