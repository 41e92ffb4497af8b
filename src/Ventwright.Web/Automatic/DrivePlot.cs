using System.Globalization;
using System.Text;
using Ventwright.Bench.Car;
using Ventwright.Quantities;
using Ventwright.Workshop.Automatic;

namespace Ventwright.Web.Automatic;

/// <summary>A line of a plot: its points as an SVG path, and where its label stands.</summary>
internal sealed record PlotLine(string Name, string Path, int Colour, bool Dashed, double LabelY);

/// <summary>Geometry of a line chart of some series of a drive.</summary>
internal sealed class DrivePlot
{
    public const double Width = 900, Height = 260, Left = 64, Right = 690, Top = 10, Bottom = 226;
    private const double LabelGap = 17, Colours = 5;
    private readonly double[] _seconds;
    private readonly double _low, _high;
    private readonly UnitSystem _units;
    private readonly bool _isTemperature;

    public DrivePlot(DrivePair pair, SeriesGroup group, IReadOnlyList<Series> shown, UnitSystem units)
    {
        (_seconds, _units, _isTemperature) = (pair.Sound.Seconds, units, group == SeriesGroup.Temperatures);
        (Series Series, bool Dashed)[] all = [.. shown.Select(s => (s, false)), .. shown.Select(s => (Series: pair.Suspect?.Find(group, s.Id), true)).Where(s => s.Series is not null).Select(s => (s.Series!, true))];
        double[] values = [.. all.SelectMany(s => s.Series.Values).Where(double.IsFinite).Select(Unit)];
        (_low, _high) = _isTemperature || group == SeriesGroup.Signals ? Round(values) : (0, Math.Max(1, values.DefaultIfEmpty(1).Max()));
        // A suspect's line that lies on the sound one says nothing and would only crowd the labels.
        Lines = Label([.. all.Select((s, i) => (s.Series, s.Dashed, Colour: (int)(i % shown.Count % Colours))).Where(s => !s.Dashed || Differs(s.Series, shown.First(o => o.Id == s.Series.Id)))
            .Select(s => new PlotLine(s.Dashed ? s.Series.Name + ", suspect" : s.Series.Name, Path(s.Series), s.Colour, s.Dashed, Y(LastOf(s.Series))))]);
    }

    /// <summary>The lines.</summary>
    public IReadOnlyList<PlotLine> Lines { get; }

    /// <summary>Marks of the upright axis.</summary>
    public IEnumerable<(double Y, string Text)> Marks => Enumerable.Range(0, 5).Select(i => _low + ((_high - _low) * i / 4))
        .Select(v => (YOf(v), v.ToString("0.##", CultureInfo.InvariantCulture)));

    /// <summary>Marks of the time axis, min.</summary>
    public IEnumerable<(double X, string Text)> Times => Enumerable.Range(0, 6).Select(i => _seconds[^1] * i / 5).Select(s => (X(s), (s / 60).ToString("0.#", CultureInfo.InvariantCulture)));

    /// <summary>Where a time stands.</summary>
    public double X(double seconds) => Left + ((Right - Left) * (_seconds[^1] <= 0 ? 0 : seconds / _seconds[^1]));

    private double Unit(double si) => _isTemperature ? QuantityText.ToUnit(si, Dimension.Temperature, _units) : si;

    private double Y(double si) => YOf(Unit(si));

    private double YOf(double value) => Bottom - ((Bottom - Top) * (value - _low) / (_high - _low));

    private bool Differs(Series suspect, Series sound) => suspect.Values.Zip(sound.Values, (a, b) => Math.Abs(Y(a) - Y(b))).Any(gap => gap > 1.5);

    private static double LastOf(Series series) => series.Values.LastOrDefault(double.IsFinite);

    private string Path(Series series)
    {
        var path = new StringBuilder();
        bool isDown = false;
        for (int i = 0; i < Math.Min(_seconds.Length, series.Values.Length); i++)
        {
            if (!double.IsFinite(series.Values[i]))
            {
                isDown = false;
                continue;
            }

            path.Append(CultureInfo.InvariantCulture, $"{(isDown ? 'L' : 'M')}{X(_seconds[i]):0.#} {Y(series.Values[i]):0.#}");
            isDown = true;
        }

        return path.ToString();
    }

    private static (double Low, double High) Round(double[] values)
    {
        if (values.Length == 0) return (0, 1);
        double low = values.Min(), high = values.Max(), step = Math.Max(1e-3, Math.Pow(10, Math.Floor(Math.Log10(Math.Max(high - low, 1e-3)))));
        return (Math.Floor(low / step) * step, Math.Max(Math.Ceiling(high / step) * step, (Math.Floor(low / step) * step) + step));
    }

    /// <summary>Labels are moved apart so that none covers another.</summary>
    private static PlotLine[] Label(PlotLine[] lines)
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
