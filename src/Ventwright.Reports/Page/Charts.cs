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

/// <summary>Coverage as steps over the readings. A session that has just begun has a scale that shows its first steps.</summary>
internal sealed class CoverageChart(IReadOnlyList<double> coverageAfter) : IBlock
{
    private const float Body = 84, Axis = 14, Side = 34;
    private const int MostLabels = 10;
    private static readonly double[] Scales = [0.1, 0.25, 0.5, 1];
    private readonly double _most = Scales.First(s => s >= Math.Min(1, coverageAfter.Max()));

    public float Height(Fonts fonts, float width) => Body + Axis + 6;

    public void Place(Sheet sheet, Fonts fonts, float x, float y, float width)
    {
        float left = x + Side, top = y + 6, wide = width - Side - 8, each = wide / coverageAfter.Count;
        foreach (double share in (double[])[0, _most / 2, _most])
        {
            float at = Height(share, top);
            sheet.Line(left, at, left + wide, at, share == 0 ? 0.8f : 0.4f, share == 0 ? Ink.Heavy : Ink.Rule);
            new TextBlock((100 * share).ToString("0.#", CultureInfo.InvariantCulture) + "\u00A0%", TextStyle.Small, right: true).Place(sheet, fonts, x, at - 6, Side - 5);
        }

        Steps(sheet, left, top, each);
        Labels(sheet, fonts, left, top + Body + 2, each);
    }

    private float Height(double share, float top) => top + (Body * (1 - (float)(Math.Clamp(share, 0, 1) / _most)));

    private void Steps(Sheet sheet, float left, float top, float each)
    {
        float before = top + Body;
        for (int i = 0; i < coverageAfter.Count; i++)
        {
            float at = Height(coverageAfter[i], top), from = left + (i * each);
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
