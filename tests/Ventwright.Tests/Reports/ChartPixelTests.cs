using SkiaSharp;
using Ventwright.Drawing;
using Ventwright.Reports;
using Ventwright.Reports.Page;
using Ventwright.Simulation;
using Drawn = Ventwright.Drawing.SvgDrawing;

namespace Ventwright.Tests.Reports;

/// <summary>What is drawn on paper, looked at dot by dot: it stands where the numbers say, whatever the fonts.</summary>
public sealed class ChartPixelTests
{
    private const float DotsPerPoint = 4, Near = 2.5f;

    public static TheoryData<double[]> Coverages => new() { new double[] { 0, 0.2, 0.75, 1 }, new double[] { 0, 0.31, 0.34, 0.6, 0.62, 0.9, 1 }, new double[] { 0, 0.02, 0.07, 0.1 } };

    [Theory]
    [MemberData(nameof(Coverages))]
    public void The_chart_of_coverage_stands_at_each_share_with_ground_below_and_paper_above(double[] coverage)
    {
        using SKBitmap page = FirstPage(Samples.Report() with { CoverageAfter = coverage, Findings = new([], 0, [], 1, []) });
        (int left, int right) = Reach(page, Ink.Accent);
        double whole = coverage[^1]; // the top of the scale
        Assert.True(right - left > page.Width / 2, "the chart is narrower than half of the page");
        int[] across = [.. coverage.Select((_, i) => left + (int)((i + 0.5) * (right - left) / coverage.Length))];
        double[] heights = [.. across.Select(x => Enumerable.Range(0, page.Height).Where(y => page.GetPixel(x, y) == Ink.Accent).Average())];
        double foot = heights[0], top = heights[^1];
        Assert.InRange(foot - top, 60 * DotsPerPoint, 120 * DotsPerPoint);
        for (int i = 0; i < coverage.Length; i++)
        {
            double wanted = foot - (coverage[i] / whole * (foot - top));
            Assert.InRange(heights[i], wanted - Near, wanted + Near);
            if (i == 0 || i == coverage.Length - 1) continue;
            Assert.Equal(Ink.Ground, page.GetPixel(across[i], (int)(heights[i] + foot) / 2));
            Assert.Equal(SKColors.White, page.GetPixel(across[i], (int)(heights[i] - (3 * DotsPerPoint))));
        }
    }

    [Fact]
    public void The_bar_of_a_suspect_is_as_long_as_its_belief()
    {
        double[] beliefs = [0.8, 0.4, 0.1];
        SessionReportModel report = Samples.Report();
        report = report with { CoverageAfter = [], Findings = report.Findings with { Suspects = [.. beliefs.Select(b => new ReportSuspect("Valve (Y1): stuck shut", b, "stays at rest"))] } };
        using SKBitmap page = FirstPage(report);
        (int left, _) = Reach(page, Ink.Accent);
        int[] rows = [.. Enumerable.Range(0, page.Height).Where(y => page.GetPixel(left + 2, y) == Ink.Accent)];
        int[] bars = [.. rows.Where(y => !rows.Contains(y - 1)).Select(y => y + 4)];
        Assert.Equal(beliefs.Length, bars.Length);
        foreach ((int y, double belief) in bars.Zip(beliefs))
        {
            int filled = Run(page, left, y, Ink.Accent), empty = Run(page, left + filled + 1, y, Ink.Ground);
            Assert.InRange((double)filled / (filled + empty), belief - 0.02, belief + 0.02);
        }
    }

    [Fact]
    public void The_drawing_on_paper_has_the_river_in_its_tints()
    {
        Simulator unit = ShippedSheets.Automatic;
        UnitLayout layout = UnitLayout.Of(unit.Model);
        var sheet = new Sheet();
        using var fonts = new Fonts();
        new Ventwright.Reports.Page.SvgDrawing(Drawn.Write(layout, DrawingState.Of(unit, ShippedSheets.Set(unit, "mode=screen")), null, forPaper: true), 2000).Place(sheet, fonts, 0, 0, (float)layout.Width);
        using var picture = new SKBitmap((int)layout.Width, (int)layout.Height);
        using (var canvas = new SKCanvas(picture)) canvas.DrawPicture(Assert.IsType<PictureMark>(Assert.Single(sheet.Marks)).Picture);
        SKColor evaporator = Inside("air:evaporator-core"), heater = Inside("air:heater"), vent = Inside("air:screen-left"), shut = Inside("air:upper-cold");
        Assert.True(evaporator.Blue > evaporator.Red, $"before the heater core the air is not blue but {evaporator}");
        Assert.True(heater.Red > heater.Blue, $"at the heater core the air is not warm but {heater}");
        Assert.Equal(heater, vent);
        Assert.Equal(shut.Red, shut.Blue);

        SKColor Inside(string key)
        {
            Box box = layout.ByKey[key].Box;
            return picture.GetPixel((int)(box.X + (box.Width / 2)), (int)box.Y + 2);
        }
    }

    private static SKBitmap FirstPage(SessionReportModel report)
    {
        using var fonts = new Fonts();
        using var stream = new MemoryStream();
        Painter.Png(SessionReport.LayOut(report, PaperSize.A4, fonts), 0, fonts, 72 * DotsPerPoint, stream);
        return SKBitmap.Decode(stream.ToArray());
    }

    /// <summary>Leftmost and rightmost dot of a colour.</summary>
    private static (int Left, int Right) Reach(SKBitmap page, SKColor colour)
    {
        int[] columns = [.. Enumerable.Range(0, page.Width).Where(x => Enumerable.Range(0, page.Height).Any(y => page.GetPixel(x, y) == colour))];
        Assert.NotEmpty(columns);
        return (columns[0], columns[^1]);
    }

    private static int Run(SKBitmap page, int x, int y, SKColor colour) => Enumerable.Range(x, page.Width - x).TakeWhile(at => page.GetPixel(at, y) == colour).Count();
}
