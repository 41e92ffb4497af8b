namespace Ventwright.Reports.Page;

/// <summary>A column: its head, and its share of the width.</summary>
internal sealed record Column(string Head, float Share, bool Right = false);

/// <summary>A row of cells, and what stands under them from the given column on.</summary>
internal sealed record Row(IReadOnlyList<IBlock> Cells, IBlock? Under = null, int UnderFrom = 0);

/// <summary>A table with horizontal rules.</summary>
internal sealed class Table(IReadOnlyList<Column> columns, IReadOnlyList<Row> rows)
{
    private const float PadX = 3.5f, PadY = 3.5f;

    public IReadOnlyList<Row> Rows => rows;

    public float[] Widths(float width)
    {
        float sum = columns.Sum(c => c.Share);
        return [.. columns.Select(c => width * c.Share / sum)];
    }

    public float HeadHeight(Fonts fonts, float[] widths) =>
        columns.All(c => c.Head.Length == 0) ? 0 : columns.Select((c, i) => Head(c).Height(fonts, widths[i] - (2 * PadX))).Max() + (2 * PadY);

    public static float RowHeight(Fonts fonts, float[] widths, Row row) =>
        CellsHeight(fonts, widths, row) + (row.Under is null ? 0 : row.Under.Height(fonts, UnderWidth(widths, row)) + 2) + (2 * PadY);

    public void PlaceHead(Sheet sheet, Fonts fonts, float x, float y, float[] widths)
    {
        float height = HeadHeight(fonts, widths);
        if (height <= 0) return;
        float at = x;
        for (int i = 0; i < columns.Count; i++)
        {
            TextBlock head = Head(columns[i]);
            float inner = widths[i] - (2 * PadX);
            head.Place(sheet, fonts, at + PadX, y + height - PadY - head.Height(fonts, inner), inner);
            at += widths[i];
        }

        sheet.Line(x, y + height, x + widths.Sum(), y + height, 0.9f, Ink.Heavy);
    }

    public static void PlaceRow(Sheet sheet, Fonts fonts, float x, float y, float[] widths, Row row)
    {
        float at = x;
        for (int i = 0; i < row.Cells.Count; i++)
        {
            row.Cells[i].Place(sheet, fonts, at + PadX, y + PadY, widths[i] - (2 * PadX));
            at += widths[i];
        }

        row.Under?.Place(sheet, fonts, x + widths.Take(row.UnderFrom).Sum() + PadX, y + PadY + CellsHeight(fonts, widths, row) + 2, UnderWidth(widths, row));
        float bottom = y + RowHeight(fonts, widths, row);
        sheet.Line(x, bottom, x + widths.Sum(), bottom, 0.4f, Ink.Rule);
    }

    private static float CellsHeight(Fonts fonts, float[] widths, Row row) => row.Cells.Select((c, i) => c.Height(fonts, widths[i] - (2 * PadX))).DefaultIfEmpty(0).Max();

    private static float UnderWidth(float[] widths, Row row) => widths.Skip(row.UnderFrom).Sum() - (2 * PadX);

    private static TextBlock Head(Column column) => new(column.Head, TextStyle.Head, column.Right);
}
