using System.CommandLine;
using System.Globalization;
using Ventwright.Cli.Output;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Cli.Commands;

/// <summary><c>chart SHEET</c>: what everything that moves does in each position of each control.</summary>
internal static class ChartCommand
{
    /// <summary>One column of the chart: a position, with the first dial somewhere, and the unit at rest there.</summary>
    private sealed record Column(Control Control, string Position, double? Dial, Settled Rest, Shown[] Shown);

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
            Observable[] rows = Rows(model);
            Control? dial = Array.Find(model.Controls, c => c.Positions.Length == 0);
            Column[] columns = Columns(model, rows, dial, [.. (parsed.GetValue(set) ?? []).Select(t => SettingOptions.Pair("--set", t))]);
            if (input.AsJson(parsed)) WriteJson(rows, columns, dial);
            else WriteText(model, rows, columns, dial);
            return ExitCodes.Fine;
        });
        return command;
    }

    private static Observable[] Rows(UnitModel model) =>
        [.. model.Points.Where(p => p.When == PointState.Running && IsCharted(model, p)).Select(p => p.What).Distinct()];

    private static bool IsCharted(UnitModel model, Point point) => point.What.Kind switch
    {
        ObservableKind.Position or ObservableKind.Motion => true,
        ObservableKind.Airflow => model.Parts[point.Part].Kind == "vent",
        _ => false,
    };

    private static Column[] Columns(UnitModel model, Observable[] rows, Control? dial, (string, string)[] held)
    {
        var simulator = new Simulator(model);
        double?[] dials = dial is null ? [null] : [dial.Low, (dial.Low + dial.High) / 2, dial.High];
        List<Column> columns = [];
        foreach (Control control in model.Controls.Where(c => c.Positions.Length > 0))
        {
            foreach (string position in control.Positions)
            {
                foreach (double? value in dials)
                {
                    List<(string, string)> words = [.. held, (control.Name, position)];
                    if (value is { } number) words.Add((dial!.Name, number.ToString("R", CultureInfo.InvariantCulture)));
                    Setting setting = SettingOptions.Make(model, words);
                    Settled rest = simulator.Settle(setting, []);
                    columns.Add(new(control, position, value, rest, [.. rows.Select(r => Readings.Read(simulator, setting, [], rest, r))]));
                }
            }
        }

        return [.. columns];
    }

    private static void WriteText(UnitModel model, Observable[] rows, Column[] columns, Control? dial)
    {
        foreach (var byControl in columns.GroupBy(c => c.Control))
        {
            var positions = byControl.GroupBy(c => c.Position).ToArray();
            Screen.Line($"{byControl.Key.Name}{(dial is null ? "" : $" (with {dial.Name} low / middle / high where that makes a difference)")}");
            Screen.Table(
                ["", .. positions.Select(p => p.Key)],
                rows.Select((r, i) => (string[])[Title(model, r), .. positions.Select(p => Cell([.. p.Select(c => Word(c, i))]))]));
        }

        foreach (Column column in columns.Where(c => c.Rest.Verdict != Verdict.Settled))
            Screen.Line(string.Create(CultureInfo.InvariantCulture, $"{column.Control.Name} {column.Position}{(column.Dial is { } d ? $", {dial!.Name} {d}" : "")}: {Expectation.Word(column.Rest.Verdict)}, {column.Rest.Note}"));
    }

    private static void WriteJson(Observable[] rows, Column[] columns, Control? dial) => Json.Write(new
    {
        V = 1,
        Dial = dial?.Name,
        Chart = columns.Select(c => new
        {
            Control = c.Control.Name,
            c.Position,
            c.Dial,
            Verdict = Expectation.Word(c.Rest.Verdict),
            c.Rest.Note,
            Shows = rows.Select((r, i) => new { At = r.ToString(), c.Shown[i].Word, Value = Json.Number(c.Shown[i].Value) }),
        }),
    });

    private static string Title(UnitModel model, Observable row)
    {
        string name = model.Parts[model.PartIndex(row.Target)].Name;
        return name == row.Target ? row.Target : $"{row.Target} {name}";
    }

    private static string Word(Column column, int row) => column.Shown[row].Word ?? "?";

    private static string Cell(string[] words) => words.Distinct().Count() == 1 ? words[0] : string.Join(" / ", words);
}
