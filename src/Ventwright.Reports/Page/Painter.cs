using SkiaSharp;

namespace Ventwright.Reports.Page;

/// <summary>Draws laid-out pages: into a PDF, or as pictures.</summary>
internal static class Painter
{
    /// <summary>Writes a PDF. The same pages and date give the same bytes on the same fonts.</summary>
    public static void Pdf(Pages pages, Fonts fonts, DateOnly date, Stream to)
    {
        var day = date.ToDateTime(TimeOnly.MinValue, DateTimeKind.Utc);
        var metadata = new SKDocumentPdfMetadata(96) { Title = pages.Title, Subject = pages.Unit, Creator = "Ventwright", Producer = "Ventwright", Creation = day, Modified = day };
        using var buffer = new MemoryStream();
        using (SKDocument document = SKDocument.CreatePdf(buffer, metadata))
        {
            foreach (Sheet sheet in pages.Sheets)
            {
                Draw(document.BeginPage(pages.Paper.Width, pages.Paper.Height), sheet, fonts);
                document.EndPage();
            }

            document.Close();
        }

        buffer.Position = 0;
        buffer.CopyTo(to);
    }

    /// <summary>One page as a PNG picture.</summary>
    public static void Png(Pages pages, int page, Fonts fonts, float dotsPerInch, Stream to)
    {
        float scale = dotsPerInch / 72;
        using var bitmap = new SKBitmap((int)(pages.Paper.Width * scale), (int)(pages.Paper.Height * scale));
        using var canvas = new SKCanvas(bitmap);
        canvas.Clear(SKColors.White);
        canvas.Scale(scale);
        Draw(canvas, pages.Sheets[page], fonts);
        canvas.Flush();
        bitmap.Encode(to, SKEncodedImageFormat.Png, 100);
    }

    private static void Draw(SKCanvas canvas, Sheet sheet, Fonts fonts)
    {
        using var paint = new SKPaint { IsAntialias = true };
        foreach (Mark mark in sheet.Marks)
        {
            switch (mark)
            {
                case TextMark text: Text(canvas, text, fonts, paint); break;
                case LineMark line:
                    Set(paint, line.Colour, line.Width);
                    canvas.DrawLine(line.From, line.To, paint);
                    break;
                case BoxMark box: Box(canvas, box, paint); break;
                case PictureMark picture: Picture(canvas, picture); break;
            }
        }
    }

    private static void Text(SKCanvas canvas, TextMark mark, Fonts fonts, SKPaint paint)
    {
        Set(paint, mark.Style.Colour, 0);
        float x = mark.X;
        foreach ((string text, SKFont font) in fonts.Runs(mark.Text, mark.Style))
        {
            canvas.DrawText(text, x, mark.Baseline, SKTextAlign.Left, font, paint);
            x += font.MeasureText(text);
        }
    }

    private static void Box(SKCanvas canvas, BoxMark mark, SKPaint paint)
    {
        if (mark.Fill is { } fill)
        {
            Set(paint, fill, 0);
            canvas.DrawRect(mark.Box, paint);
        }

        if (mark.Stroke is not { } stroke) return;
        Set(paint, stroke, mark.Width);
        canvas.DrawRect(mark.Box, paint);
    }

    private static void Picture(SKCanvas canvas, PictureMark mark)
    {
        SKRect from = mark.Picture.CullRect;
        canvas.Save();
        canvas.ClipRect(mark.Box);
        canvas.Translate(mark.Box.Left, mark.Box.Top);
        canvas.Scale(mark.Box.Width / from.Width, mark.Box.Height / from.Height);
        canvas.Translate(-from.Left, -from.Top);
        canvas.DrawPicture(mark.Picture);
        canvas.Restore();
    }

    private static void Set(SKPaint paint, SKColor colour, float stroke)
    {
        paint.Color = colour;
        paint.Style = stroke > 0 ? SKPaintStyle.Stroke : SKPaintStyle.Fill;
        paint.StrokeWidth = stroke;
    }
}
