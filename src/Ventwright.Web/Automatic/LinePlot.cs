using System.Globalization;
using System.Text;

namespace Ventwright.Web.Automatic;

/// <summary>What is drawn as a line: a value for each time, in the unit that is shown.</summary>
public sealed record PlotSource(string Name, double[] Values, int Colour, bool Dashed);

/// <summary>A line of a plot: its points as an SVG path, and where its label stands.</summary>
public sealed record PlotLine(string Name, string Path, int Colour, bool Dashed, double LabelY);

/// <summary>Geometry of a line chart over time.</summary>
public sealed class LinePlot
{
    public const double Width = 900, Left = 64, Right = 650, Top = 10;

    /// <summary>Letters of a name that have room beside the lines.</summary>
    public const int LongestName = 31;

    /// <summary>Colours that lines have in turn.</summary>
    public const int Colours = 5;

    private const double LabelGap = 17, Least = 216, TimesHeight = 34, LongestInSeconds = 180;
    private static readonly double[] Steps = [1, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10];
    private readonly double[] _seconds;
    private readonly double _low, _high;

    /// <summary>Lays the lines out.</summary>
    /// <param name="seconds">Times, s.</param>
    /// <param name="sources">What is drawn.</param>
    /// <param name="leastSpan">Least that the upright axis spans where it goes round the values: the noise of a line at rest is not to fill the chart.</param>
    /// <param name="fromNought">Whether the upright axis begins at nought and reaches one at least; else it goes round the values.</param>
    public LinePlot(double[] seconds, IReadOnlyList<PlotSource> sources, bool fromNought, double leastSpan = 1e-3)
    {
        _seconds = seconds;
        // Many lines have many names, and each wants its place beside the lines.
        Bottom = Top + Math.Max(Least, LabelGap * (sources.Count - 1));
        double[] values = [.. sources.SelectMany(s => s.Values).Where(double.IsFinite)];
        (_low, _high) = fromNought ? (0, UpTo(Math.Max(1, values.DefaultIfEmpty(1).Max()))) : Round(values, leastSpan);
        Lines = Label([.. sources.Select(s => new PlotLine(s.Name, Path(s.Values), s.Colour, s.Dashed, Y(s.Values.LastOrDefault(double.IsFinite))))]);
    }

    /// <summary>Where the upright axis begins.</summary>
    public double Bottom { get; }

    /// <summary>Height with the marks of the time axis.</summary>
    public double Height => Bottom + TimesHeight;

    /// <summary>The lines.</summary>
    public IReadOnlyList<PlotLine> Lines { get; }

    /// <summary>Whether the time axis is in seconds; else in minutes.</summary>
    public bool IsInSeconds => End < LongestInSeconds;

    /// <summary>Marks of the upright axis.</summary>
    public IEnumerable<(double Y, string Text)> Marks => Enumerable.Range(0, 5).Select(i => _low + ((_high - _low) * i / 4))
        .Select(v => (Y(v), v.ToString("0.##", CultureInfo.InvariantCulture)));

    /// <summary>Marks of the time axis.</summary>
    public IEnumerable<(double X, string Text)> Times => Enumerable.Range(0, 6).Select(i => End * i / 5)
        .Select(s => (X(s), (IsInSeconds ? s : s / 60).ToString(IsInSeconds && End >= 10 ? "0" : "0.#", CultureInfo.InvariantCulture)));

    private double End => _seconds.Length == 0 ? 0 : _seconds[^1];

    /// <summary>A name cut to some letters.</summary>
    public static string Fit(string name, int letters) => name.Length > letters ? name[..(letters - 1)] + "…" : name;

    /// <summary>Where a time stands.</summary>
    public double X(double seconds) => Left + ((Right - Left) * (End <= 0 ? 0 : seconds / End));

    /// <summary>Where a value stands.</summary>
    public double Y(double value) => Bottom - ((Bottom - Top) * (value - _low) / (_high - _low));

    private string Path(double[] values)
    {
        var path = new StringBuilder();
        bool isDown = false;
        for (int i = 0; i < Math.Min(_seconds.Length, values.Length); i++)
        {
            if (!double.IsFinite(values[i]))
            {
                isDown = false;
                continue;
            }

            path.Append(CultureInfo.InvariantCulture, $"{(isDown ? 'L' : 'M')}{X(_seconds[i]):0.#} {Y(values[i]):0.#}");
            isDown = true;
        }

        return path.ToString();
    }

    /// <summary>The next value whose quarters are plain numbers.</summary>
    private static double UpTo(double most)
    {
        double tens = Math.Pow(10, Math.Floor(Math.Log10(most / 4)));
        return 4 * tens * Steps.First(s => s * tens >= (most / 4) - 1e-9);
    }

    private static (double Low, double High) Round(double[] values, double leastSpan)
    {
        if (values.Length == 0) return (0, 1);
        double low = values.Min(), high = values.Max(), step = Math.Pow(10, Math.Floor(Math.Log10(Math.Max(high - low, leastSpan))));
        return (Math.Floor(low / step) * step, Math.Max(Math.Ceiling(high / step) * step, (Math.Floor(low / step) * step) + step));
    }

    /// <summary>Labels are moved apart so that none covers another.</summary>
    private PlotLine[] Label(PlotLine[] lines)
    {
        double at = Top - LabelGap;
        foreach ((PlotLine line, int i) in lines.Select((l, i) => (l, i)).OrderBy(l => l.l.LabelY).ToArray())
        {
            at = Math.Max(line.LabelY, at + LabelGap);
            lines[i] = line with { LabelY = at };
        }

        // What ran out below is pushed up again.
        double limit = Bottom + LabelGap;
        foreach ((PlotLine line, int i) in lines.Select((l, i) => (l, i)).OrderByDescending(l => l.l.LabelY).ToArray())
        {
            limit = Math.Min(line.LabelY, limit - LabelGap);
            lines[i] = line with { LabelY = limit };
        }

        return lines;
    }
}
