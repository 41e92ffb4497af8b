using Ventwright.Quantities;
using Ventwright.Reports;
using Ventwright.Reports.Page;
using Ventwright.Store;
using Ventwright.Tests.Store;
using Ventwright.Workshop;

namespace Ventwright.Tests.Reports;

/// <summary>Paper filled from the record of a session, read back with PdfPig. Expected words come from what was entered; no outside source.</summary>
public sealed class SessionPaperTests : StoreFolder
{
    private static readonly PaperWanted Wanted = new(PaperSize.A4, UnitSystem.Metric, new(2032, 1, 2));

    [Fact]
    public async Task The_report_tells_the_record_of_the_session_and_only_what_stands()
    {
        using SqliteSessionStore store = SqliteSessionStore.Open(DatabasePath);
        OpenSession session = Start(store);
        session.Read([("mode", "vent")], "volts(feed.ctl)", "12.9 V", "Ann");
        long slip = session.Read([], "volts(feed.fan)", "1.23 V", "Ann").Number;
        session.Undo(slip);
        session.Read([("mode", "cold")], "volts(cl.line)", "0.1 V", "Ben");
        session.Renewed("PS1", SessionEventKind.Swapped, "Ben");
        session.Say(SessionEventKind.Note, "foam was dust", "Ben");
        var said = new List<string>();
        SessionReportModel model = await SessionPaper.ReportAsync(session, Wanted, said.Add, TestContext.Current.CancellationToken);

        Assert.Equal([1, 3], model.Readings.Select(r => r.Number));
        Assert.Equal([ReadingVerdict.AsExpected, ReadingVerdict.Differs], model.Readings.Select(r => r.Verdict));
        Assert.Equal(["Low-pressure switch (PS1) exchanged", "foam was dust"], model.Events.Select(e => e.Text));
        Assert.Equal("Ann, Ben", model.By);
        Assert.Equal(2, model.CoverageAfter.Count);
        Assert.All(model.CoverageAfter, c => Assert.InRange(c, 0, 1));
        Assert.Equal(session.Unit.Model.Faults.Select(f => f.Part).Distinct().Count(), model.Findings.Parts.Count);
        Assert.Contains(model.Findings.Parts.SelectMany(p => p.Open), f => f.Why == OpenReason.NotOnBench);
        Assert.Contains(said, s => s.Contains("after reading 2 of 2", StringComparison.Ordinal));
        using var pdf = new ReadBack(to => SessionReport.Write(model, PaperSize.A4, to));
        Assert.All((string[])["Bench report", "12.9 V", "foam was dust", "2032-01-02", "Drawing"], w => Assert.Contains(w, pdf.Text, StringComparison.Ordinal));
        Assert.DoesNotContain("1.23 V", pdf.Text, StringComparison.Ordinal);
        pdf.AssertCalm(Paper.Margin);
    }

    [Fact]
    public async Task The_report_names_readings_that_the_present_sheet_cannot_read()
    {
        using SqliteSessionStore store = SqliteSessionStore.Open(DatabasePath);
        OpenSession session = Start(store);
        session.Read([], "volts(feed.lights)", "12.9 V", "Ann");
        var sheets = new SheetVersions(store);
        string id = sheets.Create(session.SheetText);
        session.MoveTo(sheets.Save(id, session.SheetText.Replace("feed.lights", "feed.dim", StringComparison.Ordinal), "Ann"), "Ann");
        SessionReportModel model = await SessionPaper.ReportAsync(session, Wanted, null, TestContext.Current.CancellationToken);
        Assert.Empty(model.Readings);
        Assert.Contains(model.Events, e => e.Number == 1 && e.Text.Contains("no net `feed.lights`", StringComparison.Ordinal));
        Assert.Contains(model.Events, e => e.Text.Contains("version 1", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData(PaperKind.CheckList, "Bench check list", 595, 842)]
    [InlineData(PaperKind.FunctionChart, "Function chart", 842, 595)]
    [InlineData(PaperKind.PinTable, "Pin table", 842, 595)]
    public async Task Cards_come_for_a_session_whose_sheet_is_no_file(PaperKind kind, string title, double width, double height)
    {
        using SqliteSessionStore store = SqliteSessionStore.Open(DatabasePath);
        OpenSession session = Start(store);
        byte[] pdf = await SessionPaper.WriteAsync(session, kind, Wanted, null, TestContext.Current.CancellationToken);
        using var read = new ReadBack(to => to.Write(pdf));
        Assert.Contains(title, read.Text, StringComparison.Ordinal);
        if (kind == PaperKind.PinTable) Assert.Contains("XT", read.Text, StringComparison.Ordinal);
        Assert.Equal((width, height), (read.Pages[0].Width, read.Pages[0].Height));
        Assert.EndsWith($"-{session.Record.Id}.pdf", SessionPaper.FileName(session, kind), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Lines_typed_in_have_the_numbers_of_the_printed_list_and_a_correction_takes_the_slip_back()
    {
        using SqliteSessionStore store = SqliteSessionStore.Open(DatabasePath);
        OpenSession session = Start(store);
        Checklist list = await SessionPaper.ListAsync(session, UnitSystem.Metric, null, TestContext.Current.CancellationToken);
        IReadOnlyList<PaperRow> rows = PaperRow.Of(session.Unit.Model, await session.Unit.Plan);
        Assert.Equal(list.Groups.SelectMany(g => g.Checks).Select(c => (c.Number, c.Code)), rows.Select(r => (r.Number, r.What.ToString())));

        PaperRow row = rows.First(r => r.Words.Count > 1);
        Assert.Null(row.Kept(session));
        Assert.Throws<RefusedException>(() => row.Keep(session, "sideways", "Ann"));
        SessionEvent slip = row.Keep(session, row.Words[0], "Ann");
        Assert.Equal(slip, row.Keep(session, row.Words[0], "Ann"));
        SessionEvent right = row.Keep(session, row.Words[1], "Ann");
        Assert.Equal(right.Number, row.Kept(session)!.Number);
        Assert.Equal([right.Number], store.Events(session.Record.Id).Where(e => !e.Undone).Select(e => e.Number));
    }

    private static OpenSession Start(SqliteSessionStore store)
    {
        var desk = new SessionDesk(store);
        return desk.Open(desk.Start("bench", "uploaded.yaml", File.ReadAllText(SheetShelf.Find("single-blower-manual.yaml")!)).Id);
    }
}
