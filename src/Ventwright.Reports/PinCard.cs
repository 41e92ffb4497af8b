using Ventwright.Quantities;
using Ventwright.Reports.Page;

namespace Ventwright.Reports;

/// <summary>The pin table of the module and the test connectors, with room for the readings.</summary>
public static class PinCard
{
    private const string Title = "Pin table";

    /// <summary>Writes the table as a PDF, across the paper.</summary>
    /// <param name="table">The table.</param>
    /// <param name="paper">Size of the paper.</param>
    /// <param name="date">Date in the foot and in the file.</param>
    /// <param name="showExpected">Whether what is expected stands above the room for each reading.</param>
    /// <param name="to">Where the PDF goes; stays open.</param>
    /// <exception cref="ReportException">The system has no fit font.</exception>
    public static void Write(PinTable table, PaperSize paper, DateOnly date, bool showExpected, Stream to)
    {
        using var fonts = new Fonts();
        Painter.Pdf(LayOut(table, paper, date, showExpected, fonts), fonts, date, to);
    }

    internal static Pages LayOut(PinTable table, PaperSize paper, DateOnly date, bool showExpected, Fonts fonts)
    {
        var flow = new Flow(fonts, Paper.Of(paper, landscape: true), Title, table.Unit, date);
        if (table.Rows.Count == 0)
        {
            flow.Paragraph("There are no pins to show: the sheet has neither a module nor a test connector.", TextStyle.Body);
            return flow.Finish();
        }

        string limit = showExpected ? $" Tick when the reading is as expected. {PaperText.NextToNothing(table.Units, Dimension.Volt)}" : "";
        flow.Paragraph($"Volts to the unit's ground. At the start: {table.Start}; each column turns one control from there.{limit}", TextStyle.Body, 8);
        Column[] columns = [new("pin", 62), new("net", 72), new("what it is", 136), .. table.Settings.Select(s => new Column(s, 490f / table.Settings.Count))];
        flow.Put(new Table(columns, [.. table.Rows.Select(r => Row(r, showExpected))]));
        return flow.Finish();
    }

    private static Row Row(PinRow row, bool showExpected) => new(
    [
        new Stack(0, new TextBlock(row.Pins.Count > 0 ? row.Pins[0] : "", TextStyle.Strong), new TextBlock(string.Join(", ", row.Pins.Skip(1)), TextStyle.Body)),
        new TextBlock(row.Net, TextStyle.Body), new TextBlock(row.What, TextStyle.Small),
        .. row.Expected.Select(e => Cell(e, showExpected)),
    ]);

    private static IBlock Cell(string expected, bool showExpected)
    {
        IBlock reading = new Ticked(new WriteLine("V", 15));
        return showExpected ? new Stack(0, new TextBlock(expected, new(8, false, Ink.Text)), reading) : reading;
    }
}
