using System.Globalization;
using Ventwright.Reports.Page;

namespace Ventwright.Reports;

/// <summary>The report of a bench session: what was read, what was done, what is proven and what is not.</summary>
public static class SessionReport
{
    private const string Title = "Bench report";

    /// <summary>Lines of a cell; a row of the report has nothing below them.</summary>
    private const int MostLines = 44;

    private const string Statement =
        "This report tells what was read on the bench and what follows from it for the unit as its sheet describes it. It does not replace the vehicle maker's procedure, "
        + "nor local law, nor licensed practice for work on the refrigerant circuit. What shows only in the car has to be tried in the car.";

    private static readonly (OpenReason Why, string Title)[] Reasons =
    [
        (OpenReason.Suspected, "Suspected"), (OpenReason.NotYet, "Not looked for yet, or left open by the readings"), (OpenReason.NotOnBench, "Shown by no check on the bench"),
        (OpenReason.OnlyInCar, "Shown only in the car"),
    ];

    /// <summary>Writes the report as a PDF.</summary>
    /// <param name="report">What it says.</param>
    /// <param name="paper">Size of the paper.</param>
    /// <param name="to">Where the PDF goes; stays open.</param>
    /// <exception cref="ReportException">The system has no fit font, or the drawing cannot be read.</exception>
    public static void Write(SessionReportModel report, PaperSize paper, Stream to)
    {
        using var fonts = new Fonts();
        Painter.Pdf(LayOut(report, paper, fonts), fonts, report.Ended, to);
    }

    internal static Pages LayOut(SessionReportModel report, PaperSize paper, Fonts fonts)
    {
        var flow = new Flow(fonts, Paper.Of(paper), Title, report.Unit, report.Ended);
        InShort(flow, report);
        Done(flow, report.Events);
        Suspects(flow, report);
        Readings(flow, report.Readings);
        Proven(flow, report.Findings);
        Open(flow, report.Findings);
        if (report.DrawingSvg is not null)
        {
            var drawing = new SvgDrawing(report.DrawingSvg, Paper.Of(paper).BodyWidth * 0.95f);
            flow.Heading("Drawing", drawing.Height(fonts, flow.Width));
            flow.Put(drawing, 8);
        }

        flow.Heading("What this report is not", 40);
        flow.Paragraph(Statement, TextStyle.Body);
        return flow.Finish();
    }

    private static void InShort(Flow flow, SessionReportModel report)
    {
        string days = report.Started == report.Ended ? Day(report.Ended) : $"{Day(report.Started)} to {Day(report.Ended)}";
        flow.Put(new Table([new("", 70), new("", 445)],
        [
            Fact("session", report.Title), Fact("days", days), Fact("done by", report.By), Fact("in short", Summary(report)),
        ]), null, 12);
        if (report.CoverageAfter.Count > 0)
        {
            flow.Put(new TextBlock("Coverage: how much of the weight of all faults that show on the bench is ruled out after each reading", TextStyle.Head), 4);
            flow.Put(new CoverageChart(report.CoverageAfter), 8);
        }
    }

    private static string Summary(SessionReportModel report)
    {
        if (report.Readings.Count == 0) return "No reading was taken; nothing is proven.";
        int differ = report.Readings.Count(r => r.Verdict == ReadingVerdict.Differs), proven = report.Findings.Parts.Count(p => p.Proven);
        string readings = $"{Count(report.Readings.Count, "reading")}, {(differ == 0 ? "all as expected or not judged" : Count(differ, "not as expected", ""))}.";
        return $"{readings} {Count(proven, $"of {Count(report.Findings.Parts.Count, "part")}", "")} proven. Coverage {Percent(report.Findings.Coverage)}.";
    }

    private static void Done(Flow flow, IReadOnlyList<ReportEvent> events)
    {
        flow.Heading("What was done");
        if (events.Count == 0) flow.Paragraph("No repair, exchange or note is on record.", TextStyle.Body);
        else
        {
            Column[] columns = [new("no.", 28, true), new("day", 60), new("what", 330), new("by", 97)];
            flow.Put(new Table(columns, [.. events.Select(e => new Row([Number(e.Number), Body(Day(e.Date)), Body(e.Text), Body(e.By)]))]));
        }
    }

    private static void Suspects(Flow flow, SessionReportModel report)
    {
        flow.Heading("What may be wrong with the unit as it stands");
        if (report.Readings.Count == 0 || report.Findings.Suspects.Count == 0) flow.Paragraph("The readings name no suspects.", TextStyle.Body);
        else
        {
            flow.Put(new Table([new("belief", 92), new("what", 243), new("what one would notice", 180)],
                [.. report.Findings.Suspects.Select(s => new Row([new Bar(s.Probability, Percent(s.Probability)), Body(s.Name), Body(s.Sign)]))]), null, 5);
            flow.Paragraph($"Something that is not on the sheet: {Percent(report.Findings.OffSheet)}.", TextStyle.Body);
        }

        foreach (string note in report.Findings.Notes) flow.Paragraph($"Note: {note}.", TextStyle.Body, 2);
    }

    private static void Proven(Flow flow, SessionFindings findings)
    {
        ReportPart[] proven = [.. findings.Parts.Where(p => p.Proven)];
        flow.Heading("Proven");
        if (proven.Length == 0) flow.Paragraph("No part is proven yet.", TextStyle.Body);
        else flow.Put(new Table([new("part", 250), new("by readings", 265)], [.. proven.Select(p => new Row([Body(p.Name), Body(Numbers(p.By))]))]));
    }

    private static void Open(Flow flow, SessionFindings findings)
    {
        flow.Heading("Not proven, and why");
        bool any = false;
        foreach ((OpenReason why, string title) in Reasons)
        {
            Row[] rows = [.. findings.Parts.Select(p => (Part: p, Faults: p.Open.Where(f => f.Why == why).Select(f => f.Name).ToArray())).Where(p => p.Faults.Length > 0)
                .Select(p => new Row([Body(p.Part.Name), Body(string.Join(", ", p.Faults))]))];
            if (rows.Length == 0) continue;
            any = true;
            flow.Put(new Table([new("part", 190), new("faults that are not ruled out", 325)], rows), title);
        }

        if (!any) flow.Paragraph("Nothing that the sheet knows is left open.", TextStyle.Body);
    }

    private static void Readings(Flow flow, IReadOnlyList<ReportReading> readings)
    {
        flow.Heading("Readings");
        if (readings.Count == 0) flow.Paragraph("No reading is on record.", TextStyle.Body);
        else
        {
            Column[] columns = [new("no.", 26, true), new("setting", 122), new("check", 158), new("got", 62), new("expected", 82), new("verdict", 65)];
            flow.Put(new Table(columns, [.. readings.Select(r => new Row(
                [Number(r.Number), Body(r.Setting), Body(r.Check), new TextBlock(r.Got, TextStyle.Strong), Body(r.Expected), Verdict(r.Verdict)]))]));
        }
    }

    private static TextBlock Verdict(ReadingVerdict verdict) => verdict switch
    {
        ReadingVerdict.AsExpected => new("as expected", TextStyle.Body),
        ReadingVerdict.Differs => new("\u2260 differs", new(TextStyle.Strong.Size, true, Ink.Warn)),
        _ => new("not judged", TextStyle.Quiet),
    };

    private static Row Fact(string name, string text) => new([new TextBlock(name, TextStyle.Quiet), Body(text)]);

    private static TextBlock Body(string text) => new(text, TextStyle.Body, mostLines: MostLines);

    private static TextBlock Number(int number) => new(number.ToString(CultureInfo.InvariantCulture), TextStyle.Strong, right: true);

    private static string Numbers(IReadOnlyList<int> numbers) => numbers.Count == 0 ? "all readings together" : string.Join(", ", numbers.Select(n => n.ToString(CultureInfo.InvariantCulture)));

    private static string Count(int count, string noun, string plural = "s") => string.Create(CultureInfo.InvariantCulture, $"{count} {noun}{(count == 1 ? "" : plural)}");

    private static string Day(DateOnly day) => day.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);

    private static string Percent(double share) => share is > 0 and < 0.0005 ? "under 0.1\u00A0%" : (share * 100).ToString(share is > 0 and < 0.1 ? "0.0" : "0", CultureInfo.InvariantCulture) + "\u00A0%";
}
