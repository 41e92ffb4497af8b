using System.Globalization;
using Ventwright.Quantities;
using Ventwright.Reports.Page;

namespace Ventwright.Reports;

/// <summary>The bench plan as a list to tick, with room for the readings.</summary>
public static class ChecklistCard
{
    private const string Title = "Bench check list";

    /// <summary>Writes the list as a PDF.</summary>
    /// <param name="list">The list.</param>
    /// <param name="paper">Size of the paper.</param>
    /// <param name="date">Date in the foot and in the file.</param>
    /// <param name="showExpected">Whether what is expected stands beside each check; without it a person is not led.</param>
    /// <param name="to">Where the PDF goes; stays open.</param>
    /// <exception cref="ReportException">The system has no fit font.</exception>
    public static void Write(Checklist list, PaperSize paper, DateOnly date, bool showExpected, Stream to)
    {
        using var fonts = new Fonts();
        Painter.Pdf(LayOut(list, paper, date, showExpected, fonts), fonts, date, to);
    }

    internal static Pages LayOut(Checklist list, PaperSize paper, DateOnly date, bool showExpected, Fonts fonts)
    {
        var flow = new Flow(fonts, Paper.Of(paper), Title, list.Unit, date);
        int count = list.Groups.Sum(g => g.Checks.Count);
        if (count == 0) flow.Paragraph("There is nothing to check: the plan has no checks.", TextStyle.Body);
        else Preface(flow, list, count);
        if (showExpected && count > 0) flow.Paragraph(PaperText.NextToNothing(list.Units, Dimension.Ohm, Dimension.Volt, Dimension.Ampere, Dimension.Pressure), TextStyle.Body);
        if (count > 0) WhoAndWhen(flow);
        foreach (ChecklistGroup group in list.Groups) Group(flow, group, showExpected);
        Limits(flow, list);
        return flow.Finish();
    }

    private static void Preface(Flow flow, Checklist list, int count)
    {
        string size = string.Create(CultureInfo.InvariantCulture, $"{count} checks in {list.Groups.Count} settings, about {list.Minutes:0} minutes.");
        string share = string.Create(CultureInfo.InvariantCulture, $"{list.ShownShare * 100:0.0} % of the known faults, by weight, are not there.");
        flow.Paragraph($"{size} A good reading at each shows that {share}", TextStyle.Body);
        flow.Paragraph($"At the start: {list.Start}. A setting names only what differs from that; put everything else back.", TextStyle.Body);
    }

    private static void WhoAndWhen(Flow flow)
    {
        flow.Put(new Columns(14, new WriteLine("done by"), new WriteLine("date"), new WriteLine("unit number")), 8);
    }

    private static void Group(Flow flow, ChecklistGroup group, bool showExpected)
    {
        var table = new Table(
            showExpected
                ? [new("", 17), new("", 23, true), new("look at", 160), new("where", 70), new("expected", 92), new("reading", 125), new("min", 28, true)]
                : [new("", 17), new("", 23, true), new("look at", 208), new("where", 96), new("reading", 147), new("min", 28, true)],
            Rows(group.Checks, showExpected));
        flow.Put(table, $"Set: {string.Join("  \u00B7  ", group.Setting)}");
    }

    /// <summary>A row a check; what is opened and what to beware of stands at the first check in that place.</summary>
    private static List<Row> Rows(IReadOnlyList<ChecklistCheck> checks, bool showExpected)
    {
        var rows = new List<Row>();
        string? place = null;
        foreach (ChecklistCheck check in checks)
        {
            bool there = check.Place == place;
            place = check.Place;
            string where = check.Opens is null || there ? check.Place : $"{check.Place}; open: {check.Opens}";
            IBlock? caution = check.Caution is null || there ? null : new TextBlock($"Caution: {check.Caution}", TextStyle.Caution);
            IBlock reading = check.Answers.Count > 0 ? new Choice(check.Answers) : new WriteLine(check.Unit);
            IBlock[] front =
            [
                new TickBox("", TextStyle.Body), new TextBlock(check.Number.ToString(CultureInfo.InvariantCulture), TextStyle.Strong, right: true),
                new Stack(0, new TextBlock(check.What, TextStyle.Body), new TextBlock(check.Code, TextStyle.Small)), new TextBlock(where, TextStyle.Body),
            ];
            IBlock[] back = [reading, new TextBlock(check.Minutes.ToString("0.0#", CultureInfo.InvariantCulture), TextStyle.Quiet, right: true)];
            rows.Add(new(showExpected ? [.. front, new TextBlock(check.Expected, TextStyle.Body), .. back] : [.. front, .. back], caution, 2));
        }

        return rows;
    }

    private static void Limits(Flow flow, Checklist list)
    {
        List(flow, "Left unseen by this list, though another check would show it", list.NotShown);
        List(flow, "Shown by no check on the bench", list.ShownByNone);
        List(flow, "Told apart by no check on the bench", list.Inseparable);
    }

    private static void List(Flow flow, string title, IReadOnlyList<string> lines)
    {
        if (lines.Count == 0) return;
        flow.Heading(title);
        foreach (string line in lines) flow.Paragraph(line, TextStyle.Body, 2);
    }
}
