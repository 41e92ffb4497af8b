using CsCheck;
using Ventwright.Quantities;
using Ventwright.Reports;
using Ventwright.Reports.Page;

namespace Ventwright.Tests.Reports;

public class PageTests
{
    [Fact]
    public void No_line_is_wider_than_it_may_be_and_no_letter_is_lost()
    {
        using var fonts = new Fonts();
        Gen.Select(Gen.String[Gen.Char["abcWi \u03A9(-.\u00A0"], 0, 120], Gen.Float[14, 200]).Sample((text, width) =>
        {
            List<string> lines = LineBreaker.Break(fonts, text, TextStyle.Body, width);
            static string Letters(string s) => string.Concat(s.Where(c => c is not (' ' or '\u00A0')));
            return lines.TrueForAll(l => fonts.Width(l, TextStyle.Body) <= width + 0.01f) && Letters(string.Concat(lines)) == Letters(text);
        });
    }

    [Fact]
    public void A_number_stays_with_its_unit()
    {
        using var fonts = new Fonts();
        List<string> lines = LineBreaker.Break(fonts, "reads 12.1\u00A0kOhm", TextStyle.Body, fonts.Width("reads 12.1", TextStyle.Body) + 2);
        Assert.Equal(["reads", "12.1 kOhm"], lines);
    }

    [Fact]
    public void The_head_of_a_table_stands_again_on_each_page_and_rows_are_not_torn()
    {
        using var fonts = new Fonts();
        var flow = new Flow(fonts, Paper.Of(PaperSize.A4), "Title", "Unit", Samples.Day);
        flow.Put(new Table([new("left head", 1), new("right head", 1)], [.. Enumerable.Range(0, 90).Select(i => new Row([new TextBlock($"row {i}\nsecond line {i}", TextStyle.Body), Blank.Cell]))]));
        Pages pages = flow.Finish();
        Assert.True(pages.Sheets.Count > 2, "the table should need several pages");
        Assert.All(pages.Sheets, s => Assert.Single(s.Marks.OfType<TextMark>(), t => t.Text == "left head"));
        for (int i = 0; i < 90; i++)
            Assert.Single(pages.Sheets, s => s.Marks.OfType<TextMark>().Any(t => t.Text == $"row {i}") && s.Marks.OfType<TextMark>().Any(t => t.Text == $"second line {i}"));
    }

    [Fact]
    public void A_character_that_no_font_has_is_printed_as_a_question_mark()
    {
        using var fonts = new Fonts();
        Assert.Equal("a?b", string.Concat(fonts.Runs("a\U000F1234b", TextStyle.Body).Select(r => r.Text)));
    }

    [Theory]
    [InlineData(100, 300, "overlap")]
    [InlineData(580, 300, "outside the margins")]
    [InlineData(300, 830, "outside the margins")]
    public void Text_over_text_or_outside_the_margins_would_be_found(float x, float y, string complaint)
    {
        using var fonts = new Fonts();
        var flow = new Flow(fonts, Paper.Of(PaperSize.A4), "Title", "Unit", Samples.Day);
        Pages pages = flow.Finish();
        pages.Sheets[0].Text(100, 303, "first", TextStyle.Title);
        pages.Sheets[0].Text(x, y, "second", TextStyle.Title);
        using var pdf = new ReadBack(to => Painter.Pdf(pages, fonts, Samples.Day, to));
        var e = Assert.ThrowsAny<Exception>(() => pdf.AssertCalm(Paper.Margin));
        Assert.Contains(complaint, e.Message, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(12100, Dimension.Ohm, "12.1 k\u03A9")]
    [InlineData(-0.25, Dimension.Volt, "\u2212250 mV")]
    [InlineData(2e-5, Dimension.Ampere, "20.0 \u00B5A")]
    [InlineData(273.15, Dimension.Temperature, "0.0 \u00B0C")]
    public void Quantities_carry_the_signs_of_print(double si, Dimension dimension, string text) =>
        Assert.Equal(text, PaperText.Quantity(si, dimension, UnitSystem.Metric).Replace('\u00A0', ' '));

    [Theory]
    [InlineData(2.2, 2.4, "2.20 \u2013 2.40 V")]
    [InlineData(0.9, 1.1, "900 mV \u2013 1.10 V")]
    [InlineData(-0.1, 1.1, "\u2212100 mV to 1.10 V")]
    [InlineData(0, 0.3, "0 \u2013 300 mV")]
    [InlineData(5, 5, "5.00 V")]
    public void A_unit_that_both_ends_have_stands_once(double low, double high, string text) =>
        Assert.Equal(text, PaperText.Range(low, high, Dimension.Volt, UnitSystem.Metric).Replace('\u00A0', ' '));

    [Fact]
    public void A_page_can_be_drawn_as_a_picture_with_ink_on_it()
    {
        using var fonts = new Fonts();
        Pages pages = new Flow(fonts, Paper.Of(PaperSize.Letter), "Title", "Unit", Samples.Day).Finish();
        using var stream = new MemoryStream();
        Painter.Png(pages, 0, fonts, 72, stream);
        using var picture = SkiaSharp.SKBitmap.Decode(stream.ToArray());
        Assert.Equal((612, 792), (picture.Width, picture.Height));
        Assert.Contains(picture.Pixels, p => p.Red < 100);
        Assert.Equal(SkiaSharp.SKColors.White, picture.GetPixel(10, 10));
    }
}
