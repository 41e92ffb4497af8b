using Ventwright.Bench;
using Ventwright.Diagnosis;
using Ventwright.Model.Kernel;
using Ventwright.Reports;
using Ventwright.Reports.Page;
using Ventwright.Simulation;

namespace Ventwright.Tests.Reports;

public class SessionReportTests
{
    [Theory]
    [InlineData(PaperSize.A4)]
    [InlineData(PaperSize.Letter)]
    public void The_report_tells_readings_events_suspects_proof_and_what_is_left(PaperSize paper)
    {
        using var pdf = new ReadBack(to => SessionReport.Write(Samples.Report(), paper, to));
        string[] wanted =
        [
            "Overhaul of spring", "2026-02-27 to 2026-03-01", "R. Hand", "3 readings, 1 not as expected. 1 of 3 parts proven. Coverage 42 %.", "exchanged for one from the shelf", "93 %",
            "the flap stays at rest", "Something that is not on the sheet: 1.2 %", "Feed fuse (F1) 1, 2", "Suspected", "Shown only in the car", "Shown by no check on the bench", "leaking",
            "as expected", "\u2260 differs", "not judged", "12.1 k\u03A9", "does not replace the vehicle maker's procedure",
        ];
        Assert.All(wanted, w => Assert.Contains(w, pdf.Text, StringComparison.Ordinal));
        Assert.Contains("20260301", pdf.Created, StringComparison.Ordinal);
        pdf.AssertCalm(Paper.Margin);
    }

    [Fact]
    public void A_session_without_readings_says_so()
    {
        SessionReportModel empty = Samples.Report() with { Readings = [], Events = [], Findings = new([], 0, [], 0, []), CoverageAfter = [] };
        using var pdf = new ReadBack(to => SessionReport.Write(empty, PaperSize.A4, to));
        Assert.All((string[])["No reading was taken; nothing is proven.", "No part is proven yet.", "No repair, exchange or note is on record."], w => Assert.Contains(w, pdf.Text, StringComparison.Ordinal));
        Assert.Single(pdf.Pages);
    }

    [Fact]
    public void A_long_session_breaks_over_pages_without_text_over_text_and_with_the_same_bytes_each_time()
    {
        SessionReportModel report = Samples.Report();
        ReportReading[] many = [.. Enumerable.Range(1, 150).Select(i => report.Readings[i % 3] with { Number = i })];
        report = report with { Readings = many, CoverageAfter = [.. many.Select((_, i) => i / 160.0)] };
        using var one = new ReadBack(to => SessionReport.Write(report, PaperSize.A4, to));
        using var two = new ReadBack(to => SessionReport.Write(report, PaperSize.A4, to));
        Assert.Equal(one.Bytes, two.Bytes);
        Assert.True(one.Pages.Length > 5, $"{one.Pages.Length} pages");
        one.AssertCalm(Paper.Margin);
    }

    [Fact]
    public void The_coverage_chart_steps_to_each_value()
    {
        var sheet = new Sheet();
        using var fonts = new Fonts();
        var chart = new CoverageChart([0.25, 0.5, 1]);
        chart.Place(sheet, fonts, 0, 0, 300);
        float[] ys = [.. sheet.Marks.OfType<BoxMark>().Select(b => b.Box.Top)];
        float foot = sheet.Marks.OfType<BoxMark>().First().Box.Bottom;
        Assert.Equal([0.25, 0.5, 1], ys.Select(y => Math.Round((foot - y) / (foot - ys[2]), 3)));
    }

    [Fact]
    public void A_drawing_is_drawn_to_scale_inside_the_margins_and_its_text_stays_text()
    {
        const string Svg = """<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 2000 1000" width="2000" height="1000"><rect width="2000" height="1000" fill="none" stroke="black"/><text x="100" y="500" font-size="60" font-family="Liberation Sans, DejaVu Sans, Arial">evaporator</text></svg>""";
        using var pdf = new ReadBack(to => SessionReport.Write(Samples.Report() with { DrawingSvg = Svg }, PaperSize.A4, to));
        Assert.Contains("evaporator", pdf.Text, StringComparison.Ordinal);
        pdf.AssertCalm(Paper.Margin);
    }

    [Theory]
    [InlineData("<svg><rect")]
    [InlineData("not a drawing")]
    [InlineData("")]
    public void A_drawing_that_is_no_SVG_is_refused_in_words(string svg)
    {
        var e = Assert.Throws<ReportException>(() => SessionReport.Write(Samples.Report() with { DrawingSvg = svg }, PaperSize.A4, Stream.Null));
        Assert.Contains("drawing", e.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_part_is_credited_to_the_readings_that_would_have_shown_its_faults_and_to_no_others()
    {
        Simulator unit = ShippedSheets.Manual;
        var bench = new BenchDiagnosis(unit);
        TakenReading[] readings =
        [
            Take(bench, unit, 1, "mode=vent,fan=1", "volts(feed.fan)"),
            Take(bench, unit, 2, "mode=heat", "vacuum(vac.feet)"),
            Take(bench, unit, 3, "mode=vent,fan=1", "volts(feed.fan)"),
        ];
        var evidence = new Evidence(bench, readings);
        Assert.Equal([1, 3], evidence.On(unit.Model, "F1", 0));
        Assert.Equal([3], evidence.On(unit.Model, "F1", 1));
        Assert.Equal([2], evidence.On(unit.Model, "VV1", 0));
    }

    [Fact]
    public void Findings_of_a_real_diagnosis_name_every_part_and_every_open_fault()
    {
        Simulator unit = ShippedSheets.Manual;
        var bench = new BenchDiagnosis(unit);
        TakenReading[] readings = [Take(bench, unit, 1, "mode=vent,fan=1", "volts(feed.fan)")];
        Findings found = bench.Find(1);
        SessionFindings findings = SessionFindings.Of(unit.Model, bench, found, readings, new Dictionary<string, int>(), [unit.Model.Faults[0]]);
        Assert.Equal(unit.Model.Faults.Select(f => f.Part).Distinct().Count(), findings.Parts.Count);
        int open = found.Proof.Faults.Count(f => !f.ShowsOnBench || !f.RuledOut);
        Assert.Equal(open, findings.Parts.Sum(p => p.Open.Count));
        Assert.Equal(found.Proof.Coverage, findings.Coverage);
        using var pdf = new ReadBack(to => SessionReport.Write(Samples.Report() with { Findings = findings }, PaperSize.A4, to));
        pdf.AssertCalm(Paper.Margin);
    }

    /// <summary>Takes the reading that a sound unit gives.</summary>
    private static TakenReading Take(BenchDiagnosis bench, Simulator unit, int number, string words, string check)
    {
        Setting setting = ShippedSheets.Set(unit, words);
        Assert.True(Observable.TryParse(check, out Observable what, out _));
        bench.Take($"r{number}", setting, what, Outcome.Number(BenchMeter.ToScale(what.Kind, ShippedSheets.Look(unit, words, check).Value)));
        return new(number, setting, what);
    }
}
