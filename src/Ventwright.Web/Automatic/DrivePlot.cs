using Ventwright.Bench.Car;
using Ventwright.Quantities;
using Ventwright.Workshop.Automatic;

namespace Ventwright.Web.Automatic;

/// <summary>A line chart of some series of a drive: the sound unit solid, the other dashed and over it.</summary>
internal static class DrivePlot
{
    /// <summary>Smallest gap between two lines that is seen, in the chart's own measure.</summary>
    private const double LeastGap = 1.5;

    /// <summary>Lays the chart out.</summary>
    public static LinePlot Of(DrivePair pair, SeriesGroup group, IReadOnlyList<Series> shown, UnitSystem units)
    {
        double[] Unit(Series series) => group == SeriesGroup.Temperatures ? [.. series.Values.Select(v => QuantityText.ToUnit(v, Dimension.Temperature, units))] : series.Values;
        PlotSource[] sound = [.. shown.Select((s, i) => new PlotSource(s.Name, Unit(s), i % LinePlot.Colours, false))];
        (PlotSource Sound, PlotSource Suspect)[] both = [.. shown.Select((s, i) => (Sound: sound[i], Other: pair.Suspect?.Find(group, s.Id))).Where(s => s.Other is not null)
            .Select(s => (s.Sound, new PlotSource($"{LinePlot.Fit(s.Sound.Name, LinePlot.LongestName - pair.Second.Length - 2)}, {pair.Second}", Unit(s.Other!), s.Sound.Colour, true)))];
        bool fromNought = group is not (SeriesGroup.Temperatures or SeriesGroup.Signals);
        var all = new LinePlot(pair.Sound.Seconds, [.. sound, .. both.Select(b => b.Suspect)], fromNought);
        // A suspect's line that lies on the sound one says nothing and would only crowd the labels.
        IEnumerable<PlotSource> differing = both.Where(b => b.Suspect.Values.Zip(b.Sound.Values, (a, s) => Math.Abs(all.Y(a) - all.Y(s))).Any(gap => gap > LeastGap)).Select(b => b.Suspect);
        return new(pair.Sound.Seconds, [.. sound, .. differing], fromNought);
    }
}
