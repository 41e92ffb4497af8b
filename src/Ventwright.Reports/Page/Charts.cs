using System.Globalization;
using SkiaSharp;

namespace Ventwright.Reports.Page;

/// <summary>A bar for a share, with the number beside it.</summary>
internal sealed class Bar(double share, string text) : IBlock
{
    private const float Height0 = 8, TextWidth = 36;

    public float Height(Fonts fonts, float width) => TextStyle.Body.Leading;

    public void Place(Sheet sheet, Fonts fonts, float x, float y, float width)
    {
        new TextBlock(text, TextStyle.Strong, right: true, mostLines: 1).Place(sheet, fonts, x, y, TextWidth - 4);
        float whole = width - TextWidth;
        sheet.Box(SKRect.Create(x + TextWidth, y + 2, whole, Height0), Ink.Ground, null);
        sheet.Box(SKRect.Create(x + TextWidth, y + 2, whole * (float)Math.Clamp(share, 0, 1), Height0), Ink.Accent, null);
    }
}

/// <summary>Coverage as steps over the readings.</summary>
internal sealed class CoverageChart(IReadOnlyList<double> coverageAfter) : IBlock
{
    private const float Body = 84, Axis = 14, Side = 34;
    private const int MostLabels = 10;

    public float Height(Fonts fonts, float width) => Body + Axis + 6;

    public void Place(Sheet sheet, Fonts fonts, float x, float y, float width)
    {
        float left = x + Side, top = y + 6, wide = width - Side - 8, each = wide / coverageAfter.Count;
        foreach (int percent in (int[])[0, 50, 100])
        {
            float at = top + (Body * (1 - (percent / 100f)));
            sheet.Line(left, at, left + wide, at, percent == 0 ? 0.8f : 0.4f, percent == 0 ? Ink.Heavy : Ink.Rule);
            new TextBlock(percent.ToString(CultureInfo.InvariantCulture) + "\u00A0%", TextStyle.Small, right: true).Place(sheet, fonts, x, at - 6, Side - 5);
        }

        Steps(sheet, left, top, each);
        Labels(sheet, fonts, left, top + Body + 2, each);
    }

    private void Steps(Sheet sheet, float left, float top, float each)
    {
        float before = top + Body;
        for (int i = 0; i < coverageAfter.Count; i++)
        {
            float at = top + (Body * (1 - (float)Math.Clamp(coverageAfter[i], 0, 1))), from = left + (i * each);
            sheet.Box(new SKRect(from, at, from + each, top + Body), Ink.Ground, null);
            sheet.Line(from, before, from, at, 1.2f, Ink.Accent);
            sheet.Line(from, at, from + each, at, 1.2f, Ink.Accent);
            before = at;
        }
    }

    private void Labels(Sheet sheet, Fonts fonts, float left, float y, float each)
    {
        int step = (coverageAfter.Count + MostLabels - 1) / MostLabels;
        for (int i = 0; i < coverageAfter.Count; i += step)
        {
            string label = (i + 1).ToString(CultureInfo.InvariantCulture);
            sheet.Text(left + (i * each) + ((each - fonts.Width(label, TextStyle.Small)) / 2), y + TextStyle.Small.Rise, label, TextStyle.Small);
        }
    }
}
