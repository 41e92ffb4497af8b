using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Bench;

/// <summary>
/// Wires measured from end to end with the supply off: ohms between the two far ends of a run of fuses, pins, wires, closed contacts and ground points. One
/// such reading looks at all that the current would pass, where a reading over each part looks at one. The runs follow from the sheet's nets: the two ends
/// are nets where nothing else of low resistance goes on, and both can be reached without opening more than one cover.
/// </summary>
internal static class WireRuns
{
    /// <summary>Most ohms of a link of a run; a sound pin, fuse or contact has some milliohms.</summary>
    private const double MostOhms = 0.1;

    /// <summary>Most ohms of a motor's winding at rest that a run may lead through: a bad pin of a few ohms still shows beside it.</summary>
    private const double MostWinding = 20;
    private const int LeastNewLinks = 2;
    private const double ReadMinutes = 0.5;

    /// <summary>The runs worth measuring in a setting with the supply off: first those with most links that no run before has.</summary>
    /// <param name="simulator">The unit.</param>
    /// <param name="setting">The setting; none when its supply is on.</param>
    public static IReadOnlyList<Point> In(Simulator simulator, Setting setting)
    {
        if (setting.State != PointState.Dead) return [];
        UnitModel model = simulator.Model;
        ILookup<int, (int Net, int Link)> joined = Links(simulator, setting);
        Dictionary<int, int> ends = Ends(model, joined);
        var open = new List<Run>();
        foreach (int from in ends.Keys.Order())
        {
            Dictionary<int, (int Net, int Link)> back = Walk(joined, from);
            foreach (int to in ends.Keys.Where(n => n > from && back.ContainsKey(n)).Order())
            {
                if (Reach(model, ends[from], ends[to]) is not { } reach) continue;
                open.Add(new(from, to, Path(back, from, to), reach.Place, ReadMinutes + reach.More));
            }
        }

        return [.. Cover(open).Select(r => new Point(
            new(ObservableKind.Ohms, model.Nets[r.To], model.Nets[r.From]), model.Electric[r.Links[0]].Part, r.Place, PointState.Dead, r.Minutes))];
    }

    private static IEnumerable<Run> Cover(List<Run> open)
    {
        var seen = new HashSet<int>();
        while (open.Count > 0)
        {
            Run best = open.OrderByDescending(r => r.Links.Count(l => !seen.Contains(l))).ThenBy(r => r.Minutes).ThenBy(r => r.Links.Length).First();
            if (best.Links.Count(l => !seen.Contains(l)) < LeastNewLinks) yield break;
            seen.UnionWith(best.Links);
            open.Remove(best);
            yield return best;
        }
    }

    /// <summary>By net: the nets that a closed link of low resistance leads to.</summary>
    private static ILookup<int, (int Net, int Link)> Links(Simulator simulator, Setting setting)
    {
        ElectricBranch[] all = simulator.Model.Electric;
        double[] ohms = simulator.Parameters(setting, []);
        bool Closed(Gate? gate) => gate is null || (gate.Mode == GateMode.Conduct && gate.At(setting.Start[gate.Variable]) >= 0.5);
        return Enumerable.Range(0, all.Length)
            .Where(i => all[i].A != all[i].B && ohms[all[i].Parameter] <= Most(all[i].Law) && Closed(all[i].Gate))
            .SelectMany(i => ((int From, int Net, int Link)[])[(all[i].A, all[i].B, i), (all[i].B, all[i].A, i)])
            .ToLookup(l => l.From, l => (l.Net, l.Link));
    }

    private static double Most(ElectricLaw law) => law switch
    {
        ElectricLaw.Ohmic => MostOhms,
        ElectricLaw.Motor => MostWinding,
        _ => double.NegativeInfinity,
    };

    /// <summary>Nets where runs end, each with the place where it is easiest reached; the unit's ground is at hand everywhere (-1).</summary>
    private static Dictionary<int, int> Ends(UnitModel model, ILookup<int, (int Net, int Link)> joined)
    {
        var ends = new Dictionary<int, int>();
        if (joined.Contains(0)) ends[0] = -1;
        foreach (IGrouping<int, (int Net, int Link)> net in joined.Where(n => n.Key > 0 && n.Count() == 1))
        {
            int[] places = [.. model.Points.Where(p => p.What.Kind == ObservableKind.Volts && p.What.Second is null && p.What.Target == model.Nets[net.Key]).Select(p => p.Place)];
            if (places.Length > 0) ends[net.Key] = places.MinBy(p => (model.Places[p].Opens is null ? 0 : 1000) + model.Places[p].Minutes);
        }

        return ends;
    }

    /// <summary>The place that the check belongs to, and the minutes for the other end; null when both ends have a cover of their own.</summary>
    private static (int Place, double More)? Reach(UnitModel model, int first, int second)
    {
        if (first < 0 || first == second) return (second, 0);
        if (second < 0) return (first, 0);
        if (model.Places[first].Opens is not null && model.Places[second].Opens is not null) return null;
        bool firstHarder = model.Places[first].Opens is not null || (model.Places[second].Opens is null && model.Places[first].Minutes >= model.Places[second].Minutes);
        (int place, int other) = firstHarder ? (first, second) : (second, first);
        return (place, model.Places[other].Minutes);
    }

    /// <summary>By net that can be walked to: where the walk came from.</summary>
    private static Dictionary<int, (int Net, int Link)> Walk(ILookup<int, (int Net, int Link)> joined, int from)
    {
        var back = new Dictionary<int, (int Net, int Link)> { [from] = (-1, -1) };
        var queue = new Queue<int>([from]);
        while (queue.TryDequeue(out int at))
        {
            foreach ((int net, int link) in joined[at])
            {
                if (back.TryAdd(net, (at, link))) queue.Enqueue(net);
            }
        }

        return back;
    }

    private static int[] Path(Dictionary<int, (int Net, int Link)> back, int from, int to)
    {
        var links = new List<int>();
        for (int at = to; at != from; at = back[at].Net) links.Add(back[at].Link);
        return [.. links];
    }

    private sealed record Run(int From, int To, int[] Links, int Place, double Minutes);
}
