using System.Diagnostics;
using CsCheck;
using Ventwright.Physics.Sensing;

namespace Ventwright.Tests.Sensing;

public class ResistorTests
{
    /// <summary>IEC 60063:2015 as a public list has it.</summary>
    private static readonly double[] E24 = [1.0, 1.1, 1.2, 1.3, 1.5, 1.6, 1.8, 2.0, 2.2, 2.4, 2.7, 3.0, 3.3, 3.6, 3.9, 4.3, 4.7, 5.1, 5.6, 6.2, 6.8, 7.5, 8.2, 9.1];

    [Fact]
    public void E24_is_the_list_and_leaves_the_rule_in_eight_places()
    {
        Assert.Equal(E24, PreferredNumbers.Decade(24));
        double[] odd = [.. PreferredNumbers.Decade(24).Where((v, i) => Math.Abs(v - Math.Round(Math.Pow(10, i / 24.0), 1)) > 1e-9)];
        Assert.Equal([2.7, 3.0, 3.3, 3.6, 3.9, 4.3, 4.7, 8.2], odd);
    }

    /// <summary>E96 as a public list has it: places and the sum of all.</summary>
    [Fact]
    public void E96_has_the_published_values()
    {
        double[] e96 = PreferredNumbers.Decade(96);
        Assert.Equal((96, 1.02, 1.33, 1.78, 3.16, 5.62, 9.76), (e96.Length, e96[1], e96[12], e96[24], e96[48], e96[72], e96[95]));
        Assert.Equal(370.70, e96.Sum(), 1e-6);
    }

    [Fact]
    public void Coarser_series_are_members_of_finer_ones_and_all_rise()
    {
        foreach ((int coarse, int fine) in new[] { (3, 6), (6, 12), (12, 24), (48, 96), (96, 192) }) Assert.Subset(PreferredNumbers.Decade(fine).ToHashSet(), PreferredNumbers.Decade(coarse).ToHashSet());
        Assert.All(PreferredNumbers.Series, s => Assert.Equal(s, PreferredNumbers.Decade(s).Distinct().Count()));
        Assert.All(PreferredNumbers.Series, s => Assert.Equal(PreferredNumbers.Decade(s).Order(), PreferredNumbers.Decade(s)));
        Assert.Contains(9.20, PreferredNumbers.Decade(192));
        Assert.DoesNotContain(9.19, PreferredNumbers.Decade(192));
        Assert.Throws<ArgumentException>(() => PreferredNumbers.Decade(5));
    }

    /// <summary>Library examples for E24: nearest to 319 is 330; the two nearest to 5000 are 5100 and 4700.</summary>
    [Fact]
    public void Nearest_single_values()
    {
        var search = new ResistorSearch(PreferredNumbers.Values(24, 1, 6).Select(v => new DrawerResistor(v, 0.05)));
        Assert.Equal(330, search.Closest(319, 1, 1)[0].Ohms);
        Assert.Equal([5100.0, 4700.0], search.Closest(5000, 1, 2).Select(n => n.Ohms));
    }

    /// <summary>Circuit law: 10 k and 15 k side by side are 6 k; 4.7 k and 10 k 3197.279 ohm; 1 k and 2.2 k in a row 3.2 k.</summary>
    [Fact]
    public void Joints_follow_the_circuit_laws()
    {
        Assert.Equal(6000, Make(ResistorJoint.Parallel, 10e3, 15e3).Ohms, 1e-9);
        Assert.Equal(3197.279, Make(ResistorJoint.Parallel, 4700, 10e3).Ohms, 1e-3);
        Assert.Equal(3200, Make(ResistorJoint.Series, 1000, 2200).Ohms, 1e-9);
        Assert.Equal(1000 + (2000.0 / 3), Make(ResistorJoint.SeriesWithPair, 1000, 1000, 2000).Ohms, 1e-9);
        Assert.Equal(750, Make(ResistorJoint.ParallelWithRow, 1000, 1000, 2000).Ohms, 1e-9);
    }

    [Fact]
    public void Equal_tolerances_pass_through_and_shares_add_up_to_one() => Networks.Sample(n =>
    {
        (double low, double high) = n.WorstOhms();
        Assert.Equal(0.95, low / n.Ohms, 1e-9);
        Assert.Equal(1.05, high / n.Ohms, 1e-9);
        Assert.Equal(1, n.Shares().Sum(), 1e-9);
        Assert.InRange(n.RootSumSquare(), 0.05 / Math.Sqrt(3), 0.05 + 1e-12);
        for (int i = 0; i < n.Values.Count; i++)
        {
            double moved = (n with { Values = [.. n.Values.Select((v, j) => j == i ? v * 1.000001 : v)] }).Ohms;
            Assert.Equal(n.Shares()[i], (moved / n.Ohms - 1) / 1e-6, 1e-4);
        }
    });

    private static readonly Gen<ResistorNetwork> Networks =
        from joint in Gen.Enum<ResistorJoint>()
        from v in Gen.Double[1, 1e5].Array[3]
        select joint switch
        {
            ResistorJoint.Single => Make(joint, v[0]),
            _ => Make(joint, v),
        };

    private static ResistorNetwork Make(ResistorJoint joint, params double[] values) => new(joint, [.. values.Select((_, i) => i)], values, [.. values.Select(_ => 0.05)]);

    /// <summary>Random drawers with few of each, random wishes: the search finds what trying everything finds.</summary>
    [Fact]
    public void Search_finds_what_trying_everything_finds()
    {
        Gen<DrawerResistor> one = from v in Gen.Double[1, 6] from count in Gen.Int[1, 3] select new DrawerResistor(Math.Round(Math.Pow(10, v), 1), 0.05, count);
        (from drawer in one.Array[1, 8] from wish in Gen.Double[0, 6.5] from most in Gen.Int[1, 3] from count in Gen.Int[1, 6] select (drawer, Ohms: Math.Pow(10, wish), most, count)).Sample(x =>
        {
            var search = new ResistorSearch(x.drawer.DistinctBy(d => d.Ohms));
            double[] all = [.. Everything(search.Drawer, x.most).Select(r => Math.Abs(Math.Log(r / x.Ohms))).Order()];
            var found = search.Closest(x.Ohms, x.most, x.count);
            Assert.Equal(Math.Min(x.count, all.Length), found.Count);
            double[] distances = [.. found.Select(n => Math.Abs(Math.Log(n.Ohms / x.Ohms))).Order()];
            for (int i = 0; i < found.Count; i++) Assert.Equal(all[i], distances[i], 1e-9);
            Assert.All(found, n => Assert.All(n.Parts.GroupBy(p => p), g => Assert.True(g.Count() <= search.Drawer[g.Key].Count)));
        }, iter: 400);
    }

    /// <summary>Every joint of up to three, each once, straight from the laws.</summary>
    private static IEnumerable<double> Everything(IReadOnlyList<DrawerResistor> d, int most)
    {
        for (int i = 0; i < d.Count; i++)
        {
            yield return d[i].Ohms;
            for (int j = i; most > 1 && j < d.Count; j++)
            {
                if (!Enough(d, i, j)) continue;
                yield return d[i].Ohms + d[j].Ohms;
                yield return 1 / ((1 / d[i].Ohms) + (1 / d[j].Ohms));
            }
        }

        for (int i = 0; most > 2 && i < d.Count; i++)
        {
            for (int j = 0; j < d.Count; j++)
            {
                for (int k = j; k < d.Count; k++)
                {
                    if (!Enough(d, i, j, k)) continue;
                    double a = d[i].Ohms, b = d[j].Ohms, c = d[k].Ohms;
                    yield return a + (b * c / (b + c));
                    yield return a * (b + c) / (a + b + c);
                    if (i > j) continue;
                    yield return a + b + c;
                    yield return 1 / ((1 / a) + (1 / b) + (1 / c));
                }
            }
        }
    }

    private static bool Enough(IReadOnlyList<DrawerResistor> d, params int[] parts) => parts.GroupBy(p => p).All(g => g.Count() <= d[g.Key].Count);

    [Fact]
    public void Three_out_of_six_decades_of_E24_take_seconds_at_most()
    {
        DrawerResistor[] drawer = [.. PreferredNumbers.Values(24, 1, 6).Select(v => new DrawerResistor(v, 0.05))];
        Assert.Equal(144, drawer.Length);
        long start = Stopwatch.GetTimestamp();
        var found = new ResistorSearch(drawer).Closest(8064.3, 3, 5);
        Assert.True(Stopwatch.GetElapsedTime(start) < TimeSpan.FromSeconds(10), $"took {Stopwatch.GetElapsedTime(start)}");
        Assert.InRange(found[0].Ohms / 8064.3, 1 - 1e-5, 1 + 1e-5);
    }

    [Fact]
    public void Divider_is_the_closest_of_all_pairs() => (from share in Gen.Double[0.02, 0.98] select share).Sample(share =>
    {
        DrawerResistor[] drawer = [.. PreferredNumbers.Values(12, 100, 3).Select(v => new DrawerResistor(v, 0.1))];
        ResistorDivider best = DividerSearch.Closest(drawer, share, 2500, 10000, 3)[0];
        double least = drawer.SelectMany(l => drawer.Select(u => (Total: l.Ohms + u.Ohms, Miss: Math.Abs((l.Ohms / (l.Ohms + u.Ohms)) - share)))).Where(p => p.Total is >= 2500 and <= 10000).Min(p => p.Miss);
        Assert.Equal(least, Math.Abs(best.Share - share), 1.1e-6);
        Assert.InRange(best.TotalOhms, 2500, 10000);
    }, iter: 200);

    [Fact]
    public void Nothing_to_choose_from_or_to_reach_is_refused()
    {
        Assert.Throws<ArgumentException>(() => new ResistorSearch([]));
        Assert.Throws<ArgumentException>(() => new ResistorSearch([new(0, 0.05)]));
        Assert.Throws<ArgumentOutOfRangeException>(() => new ResistorSearch([new(10, 0.05)]).Closest(0, 3, 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => new ResistorSearch([new(10, 0.05)]).Closest(10, 4, 1));
    }
}
