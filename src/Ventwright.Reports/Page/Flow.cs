using System.Globalization;
using SkiaSharp;

namespace Ventwright.Reports.Page;

/// <summary>Pages that are laid out and can be drawn.</summary>
internal sealed record Pages(string Title, string Unit, Paper Paper, IReadOnlyList<Sheet> Sheets);

/// <summary>Fills pages from top to bottom: what does not fit goes on the next page.</summary>
internal sealed class Flow
{
    /// <summary>Rows that a table's head does not leave behind at the foot of a page.</summary>
    private const int RowsTogether = 2;

    private readonly List<Sheet> _sheets = [];
    private readonly Paper _paper;
    private readonly string _title, _unit, _date;
    private float _y;

    /// <summary>Starts the first page with the title, and under it the unit's full name.</summary>
    public Flow(Fonts fonts, Paper paper, string title, string unit, DateOnly date)
    {
        (Fonts, _paper, _title, _unit) = (fonts, paper, title, unit);
        _date = date.ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
        NewPage();
        Put(new TextBlock(title, TextStyle.Title), 2);
        Put(new TextBlock(unit, new(11, false, Ink.Text), mostLines: 6), 8);
    }

    /// <summary>Fonts for measuring.</summary>
    public Fonts Fonts { get; }

    /// <summary>Width between the margins.</summary>
    public float Width => _paper.BodyWidth;

    private Sheet Page => _sheets[^1];

    private float Free => _paper.BodyBottom - _y;

    /// <summary>Text over the full width; breaks over pages.</summary>
    public void Paragraph(string text, TextStyle style, float after = 5)
    {
        foreach (string line in LineBreaker.Break(Fonts, text, style, Width))
        {
            if (Free < style.Leading) NewPage();
            Page.Text(Paper.Left, _y + style.Rise, line, style);
            _y += style.Leading;
        }

        _y += after;
    }

    /// <summary>A heading that stays with at least so much of what comes after it.</summary>
    public void Heading(string text, float with = 60, float before = 8)
    {
        var block = new TextBlock(text, TextStyle.Heading);
        float height = block.Height(Fonts, Width) + 4;
        if (Free < before + height + with) NewPage();
        else if (_y > Paper.BodyTop) _y += before;
        Put(block, 4);
    }

    /// <summary>A block that is not broken.</summary>
    public void Put(IBlock block, float after = 0)
    {
        float height = block.Height(Fonts, Width);
        if (Free < height) NewPage();
        block.Place(Page, Fonts, Paper.Left, _y, Width);
        _y += height + after;
    }

    /// <summary>A table; its head stands again on each page.</summary>
    /// <param name="table">The table.</param>
    /// <param name="title">What stands on a band above its head, again on each page; null for no band.</param>
    /// <param name="after">White space after it.</param>
    public void Put(Table table, string? title = null, float after = 10)
    {
        float[] widths = table.Widths(Width);
        float top = TitleHeight(title) + table.HeadHeight(Fonts, widths);
        float first = table.Rows.Take(RowsTogether).Sum(r => Table.RowHeight(Fonts, widths, r));
        if (Free < top + first && _y > Paper.BodyTop) NewPage();
        PutHead(table, widths, title);
        foreach (Row row in table.Rows)
        {
            float height = Table.RowHeight(Fonts, widths, row);
            if (Free < height)
            {
                NewPage();
                PutHead(table, widths, title is null ? null : title + " (continued)");
            }

            Table.PlaceRow(Page, Fonts, Paper.Left, _y, widths, row);
            _y += height;
        }

        _y += after;
    }

    /// <summary>Moves on, unless that leaves the page.</summary>
    public void Space(float height) => _y = Math.Min(_y + height, _paper.BodyBottom);

    /// <summary>Adds head and foot to each page.</summary>
    public Pages Finish()
    {
        for (int i = 0; i < _sheets.Count; i++) Furnish(_sheets[i], i);
        return new(_title, _unit, _paper, _sheets);
    }

    private const float TitlePad = 4;

    private float TitleHeight(string? title) => title is null ? 0 : new TextBlock(title, TextStyle.Band).Height(Fonts, Width - (2 * TitlePad)) + (2 * TitlePad);

    private void PutHead(Table table, float[] widths, string? title)
    {
        if (title is not null)
        {
            float height = TitleHeight(title);
            Page.Box(SKRect.Create(Paper.Left, _y, Width, height), Ink.Ground, null);
            new TextBlock(title, TextStyle.Band).Place(Page, Fonts, Paper.Left + TitlePad, _y + TitlePad, Width - (2 * TitlePad));
            _y += height;
        }

        table.PlaceHead(Page, Fonts, Paper.Left, _y, widths);
        _y += table.HeadHeight(Fonts, widths);
    }

    private void NewPage()
    {
        _sheets.Add(new());
        _y = Paper.BodyTop;
    }

    private void Furnish(Sheet sheet, int index)
    {
        TextStyle style = TextStyle.Small;
        float head = Paper.Margin + style.Rise, foot = _paper.Height - Paper.Margin - 2;
        float titleWidth = Fonts.Width(_title, style);
        new TextBlock(_unit, style, mostLines: 1).Place(sheet, Fonts, Paper.Left, Paper.Margin, Width - titleWidth - 20);
        sheet.Text(_paper.Right - titleWidth, head, _title, style);
        sheet.Line(Paper.Left, Paper.Margin + 13, _paper.Right, Paper.Margin + 13, 0.5f, Ink.Rule);
        string number = string.Create(CultureInfo.InvariantCulture, $"page {index + 1} of {_sheets.Count}");
        sheet.Line(Paper.Left, foot - 11, _paper.Right, foot - 11, 0.5f, Ink.Rule);
        sheet.Text(Paper.Left, foot, _date, style);
        sheet.Text(_paper.Right - Fonts.Width(number, style), foot, number, style);
    }
}
