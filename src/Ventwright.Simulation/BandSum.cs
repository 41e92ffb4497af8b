using Ventwright.Model.Kernel;

namespace Ventwright.Simulation;

/// <summary>Gathers what tolerances and random units do to one check, for its band.</summary>
internal sealed class BandSum(int shared)
{
    /// <summary>An effect to one side so many times that to the other is no slope but a state that flips, or a stop.</summary>
    private const double FlipRatio = 4;

    /// <summary>States are apart where nothing lies in so many standard deviations, and in such a share of the whole band, between them.</summary>
    private const double ApartSpreads = 3, ApartShare = 0.3;

    /// <summary>What is less is no difference in any unit of a check.</summary>
    private const double Rounding = 1e-6;

    private readonly double[] _shared = new double[shared];
    private readonly HashSet<string> _words = new(StringComparer.Ordinal);
    private readonly List<(string Name, double Effect)> _drivers = [];
    private readonly List<double> _shown = [];
    private double _squares, _total;

    /// <summary>Takes in what a tolerance does.</summary>
    public void Add(UnitModel model, Tolerance tolerance, Shown middle, Shown up, Shown down)
    {
        foreach (string? word in (string?[])[up.Word, down.Word]) if (word is not null) _words.Add(word);
        if (!double.IsFinite(middle.Value) || !double.IsFinite(up.Value) || !double.IsFinite(down.Value)) return;
        double rise = up.Value - middle.Value, fall = middle.Value - down.Value, larger = Math.Max(Math.Abs(rise), Math.Abs(fall)), gentler = Math.Min(Math.Abs(rise), Math.Abs(fall));
        if (larger < 1e-12) return;
        bool flips = larger > FlipRatio * gentler;
        double counts = flips ? gentler : larger;
        _shown.AddRange([up.Value, down.Value]);
        _total += counts;
        _drivers.Add((model.ParameterNames[tolerance.Parameter], larger));
        int which = Bands.SharedIndex(tolerance);
        if (which >= 0) _shared[which] = flips ? Math.CopySign(gentler, rise + fall) / ToleranceSample.RootThree : (rise + fall) / 2 / ToleranceSample.RootThree;
        else _squares += counts * counts / 3;
    }

    /// <summary>Takes in what a random unit shows.</summary>
    public void Add(Shown unit)
    {
        if (unit.Word is not null) _words.Add(unit.Word);
        if (double.IsFinite(unit.Value)) _shown.Add(unit.Value);
    }

    /// <summary>The band.</summary>
    public Band Band(UnitModel model, Observable what, Shown middle)
    {
        if (middle.Word is not null) _words.Add(middle.Word);
        if (!double.IsFinite(middle.Value)) return new(what, middle, double.NaN, double.NaN, 0, _shared, Ordered(model, what, middle), []);
        double one = Math.Sqrt(_squares + _shared.Sum(s => s * s)), half = Math.Min(2.5 * one, _total);
        (double Low, double High)[] ranges = Ranges(middle.Value, one, half);
        if (middle.Word is not null)
        {
            foreach ((double from, double to) in ranges) _words.UnionWith(Readings.WordsBetween(model, what, from, to));
        }

        return new(what, middle, ranges[0].Low, ranges[^1].High, Math.Sqrt(_squares), _shared, Ordered(model, what, middle), [.. _drivers.OrderByDescending(d => d.Effect).Take(8)])
        {
            Ranges = ranges,
        };
    }

    /// <summary>The word of the nominal unit first, the others in their own order.</summary>
    private string[] Ordered(UnitModel model, Observable what, Shown middle) => [.. Readings.WordsOf(model, what).Where(_words.Contains).OrderBy(w => w == middle.Word ? 0 : 1)];

    /// <summary>
    /// The range round the nominal value, and those of units in another state below and above it, each with a standard deviation more where no slope tells how far it reaches.
    /// What lies beyond a gap is one range: too few units end there to tell more of it.
    /// </summary>
    private (double Low, double High)[] Ranges(double middle, double one, double half)
    {
        double low = middle - half, high = middle + half;
        double[] below = [.. _shown.Where(v => v < low).OrderDescending()], above = [.. _shown.Where(v => v > high).Order()];
        double least = below.Length > 0 ? below[^1] : low, most = above.Length > 0 ? above[^1] : high;
        double apart = Math.Max(Math.Max(ApartSpreads * one, ApartShare * (most - least)), Rounding);
        var ranges = new List<(double Low, double High)>();
        int down = Gap(below, low, apart), up = Gap(above, high, apart);
        if (down < below.Length) ranges.Add((Beyond(least, -1), Beyond(below[down], 1)));
        ranges.Add((Beyond(down > 0 ? below[down - 1] : low, -1), Beyond(up > 0 ? above[up - 1] : high, 1)));
        if (up < above.Length) ranges.Add((Beyond(above[up], -1), Beyond(most, 1)));
        return [.. ranges];

        double Beyond(double end, int side) => Math.Abs(end - middle) > 2 * half ? end + (side * one) : end;
    }

    /// <summary>How many of the values, going away from an end, come before the first gap.</summary>
    private static int Gap(double[] values, double end, double apart)
    {
        for (int i = 0; i < values.Length; i++)
        {
            if (Math.Abs(values[i] - end) > apart) return i;
            end = values[i];
        }

        return values.Length;
    }
}
