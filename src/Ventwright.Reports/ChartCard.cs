using System.Globalization;
using Ventwright.Bench;
using Ventwright.Model.Kernel;
using Ventwright.Quantities;
using Ventwright.Reports.Page;
using Ventwright.Simulation;

namespace Ventwright.Reports;

/// <summary>The function chart: settings against all that moves, blows or lights, with a box to tick in each cell.</summary>
public static class ChartCard
{
    private const string Title = "Function chart";
    private const int MostColumns = 9;

    /// <summary>Writes the chart as a PDF, across the paper.</summary>
    /// <param name="model">The unit.</param>
    /// <param name="chart">Its chart.</param>
    /// <param name="paper">Size of the paper.</param>
    /// <param name="date">Date in the foot and in the file.</param>
    /// <param name="to">Where the PDF goes; stays open.</param>
    /// <exception cref="ReportException">The system has no fit font.</exception>
    public static void Write(UnitModel model, FunctionChart chart, PaperSize paper, DateOnly date, Stream to)
    {
        using var fonts = new Fonts();
        Painter.Pdf(LayOut(model, chart, paper, date, fonts), fonts, date, to);
    }

    internal static Pages LayOut(UnitModel model, FunctionChart chart, PaperSize paper, DateOnly date, Fonts fonts)
    {
        var flow = new Flow(fonts, Paper.Of(paper, landscape: true), Title, model.Title, date);
        if (chart.Settings.Count == 0 || chart.Looks.Count == 0)
        {
            flow.Paragraph("There is nothing to chart: the unit has no control with positions, or nothing that moves, blows or lights.", TextStyle.Body);
            return flow.Finish();
        }

        var words = new UnitWords(model, UnitSystem.Metric);
        string dial = chart.Dial is null ? ""
            : $" Where {chart.Dial.Name} makes a difference to {chart.Settings[0].Control.Name}, its low end, middle and high end have a line each; "
              + "for all other controls it stands in the middle.";
        string held = chart.Held.Count == 0 ? "" : $" Held throughout, unless a line turns it: {string.Join(", ", chart.Held.Select(h => $"{h.Name} {h.Value}"))}.";
        flow.Paragraph(
            $"At the start: {words.Start()}.{held} A line names what is turned; everything else stands as at the start.{dial} "
            + "Tick what the unit does as the chart says; write what it does instead beside an empty box.", TextStyle.Body, 8);
        foreach ((string title, int[] looks) in Groups(model, chart))
            flow.Put(Table(words, chart, looks), title);
        Unsettled(flow, chart);
        return flow.Finish();
    }

    /// <summary>Kinds of columns, side by side while they fit; a kind with too many columns is cut into even pieces.</summary>
    private static List<(string Title, int[] Looks)> Groups(UnitModel model, FunctionChart chart)
    {
        var groups = new List<(string Title, int[] Looks)>();
        foreach (var kind in Enumerable.Range(0, chart.Looks.Count).GroupBy(i => Kind(model, chart.Looks[i])).OrderBy(g => g.Key.Order))
        {
            int[] all = [.. kind];
            int pieces = (all.Length + MostColumns - 1) / MostColumns;
            bool joins = pieces == 1 && groups.Count > 0 && groups[^1].Looks.Length + all.Length <= MostColumns;
            if (joins) groups[^1] = ($"{groups[^1].Title}; {kind.Key.Title.ToLowerInvariant()}", [.. groups[^1].Looks, .. all]);
            else groups.AddRange(all.Chunk((all.Length + pieces - 1) / pieces).Select(piece => (kind.Key.Title, piece)));
        }

        return groups;
    }

    private static (int Order, string Title) Kind(UnitModel model, Observable look) => look.Kind switch
    {
        ObservableKind.Position when model.Parts[model.PartIndex(look.Target)].Kind == "flap" => (0, "Flaps"),
        ObservableKind.Position => (1, "Actuators, valves and servos"),
        ObservableKind.Motion => (2, "Motors"),
        ObservableKind.Airflow => (3, "Air at the vents"),
        _ => (4, "Lamps"),
    };

    private static Table Table(UnitWords words, FunctionChart chart, int[] looks)
    {
        Column[] columns = [new("setting", 1.55f), .. looks.Select(i => new Column(words.Part(chart.Looks[i].Target), 1))];
        var rows = new List<Row>();
        foreach (var position in chart.Settings.GroupBy(s => (s.Control, s.Position)))
        {
            ChartSetting[] all = [.. position];
            bool same = looks.All(l => all.Select(s => s.Shown[l].Word).Distinct().Count() == 1), first = position.Key.Control == chart.Settings[0].Control;
            rows.AddRange((same || !first ? [all[all.Length / 2]] : all).Select(s => Row(chart, s, looks, same)));
        }

        return new(columns, rows);
    }

    private static Row Row(FunctionChart chart, ChartSetting setting, int[] looks, bool anyDial)
    {
        var name = new TextBlock($"{setting.Control.Name} {setting.Position}", TextStyle.Strong);
        IBlock first = anyDial || setting.Dial is not { } at ? name : new Stack(0, name, new TextBlock($"{chart.Dial!.Name} {DialWord(chart.Dial, at)}", TextStyle.Small));
        return new([first, .. looks.Select(l => new TickBox(setting.Shown[l].Word ?? "?", new(8, false, Ink.Text)))]);
    }

    private static string DialWord(Control dial, double at) =>
        string.Create(CultureInfo.InvariantCulture, $"{at:0.##}, {(at == dial.Low ? "low end" : at == dial.High ? "high end" : "middle")}");

    private static void Unsettled(Flow flow, FunctionChart chart)
    {
        ChartSetting[] open = [.. chart.Settings.Where(s => s.Rest.Verdict != Verdict.Settled)];
        if (open.Length == 0) return;
        flow.Heading("Settings in which the unit does not come to rest");
        foreach (ChartSetting setting in open)
            flow.Paragraph($"{setting.Control.Name} {setting.Position}{(setting.Dial is { } at ? $", {chart.Dial!.Name} {DialWord(chart.Dial, at)}" : "")}: {setting.Rest.Note}", TextStyle.Body, 1);
    }
}
