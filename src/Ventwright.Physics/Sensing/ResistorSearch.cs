namespace Ventwright.Physics.Sensing;

/// <summary>A kind of resistor in the drawer.</summary>
/// <param name="Ohms">Nominal resistance, ohm.</param>
/// <param name="Tolerance">Tolerance as a share.</param>
/// <param name="Count">How many there are.</param>
public readonly record struct DrawerResistor(double Ohms, double Tolerance, int Count = int.MaxValue);

/// <summary>
/// Finds the resistors of a drawer that come closest to a resistance: alone, two, or three in every joint. Nothing is left out: all pairs are sorted once, and
/// for each third resistor the sorted pairs are walked outward from the best match until they are worse than what is already held.
/// </summary>
public sealed class ResistorSearch
{
    private readonly DrawerResistor[] _drawer;
    private readonly Lazy<Pair[]> _rows, _sides;

    /// <summary>Takes a drawer.</summary>
    /// <param name="drawer">Its resistors, positive.</param>
    /// <exception cref="ArgumentException">There is none, or one is not positive.</exception>
    public ResistorSearch(IEnumerable<DrawerResistor> drawer)
    {
        _drawer = [.. drawer.Where(d => d.Count > 0).OrderBy(d => d.Ohms)];
        if (_drawer.Length == 0 || !(_drawer[0].Ohms > 0) || !double.IsFinite(_drawer[^1].Ohms)) throw new ArgumentException("a drawer holds at least one resistor, all above 0 ohm", nameof(drawer));
        _rows = new(() => Pairs((a, b) => a + b));
        _sides = new(() => Pairs((a, b) => a * b / (a + b)));
    }

    /// <summary>The drawer, rising.</summary>
    public IReadOnlyList<DrawerResistor> Drawer => _drawer;

    /// <summary>The closest networks, best first. What is as close to a millionth stands in the order of fewer resistors.</summary>
    /// <param name="ohms">Resistance that is wanted, positive.</param>
    /// <param name="most">Most resistors, 1 to 3.</param>
    /// <param name="count">How many networks.</param>
    /// <param name="only">Only networks of exactly <paramref name="most"/> resistors.</param>
    public IReadOnlyList<ResistorNetwork> Closest(double ohms, int most, int count, bool only = false)
    {
        if (!(ohms > 0) || !double.IsFinite(ohms)) throw new ArgumentOutOfRangeException(nameof(ohms), ohms, "a resistance is above 0 ohm");
        if (most is < 1 or > 3) throw new ArgumentOutOfRangeException(nameof(most), most, "one to three resistors");
        ArgumentOutOfRangeException.ThrowIfLessThan(count, 1);
        var best = new Best(ohms, count);
        if (most == 1 || !only) Singles(best);
        if (most == 2 || (most > 2 && !only)) Two(best);
        if (most == 3) Three(best, ohms);
        return [.. best.Held.Select(Network)];
    }

    private void Singles(Best best)
    {
        for (int i = 0; i < _drawer.Length; i++) best.Offer(_drawer[i].Ohms, ResistorJoint.Single, i, -1, -1);
    }

    private void Two(Best best)
    {
        Walk(_rows.Value, best.Ohms, best, (p, b) => b.Offer(p.Ohms, ResistorJoint.Series, p.A, p.B, -1));
        Walk(_sides.Value, best.Ohms, best, (p, b) => b.Offer(p.Ohms, ResistorJoint.Parallel, p.A, p.B, -1));
    }

    private void Three(Best best, double ohms)
    {
        for (int i = 0; i < _drawer.Length; i++)
        {
            int single = i;
            double r = _drawer[i].Ohms;
            double row = ohms - r, side = 1 / ((1 / ohms) - (1 / r));
            // Where nothing of a joint can match, the nearest end of the list is still offered.
            Walk(_rows.Value, row, best, (p, b) => Offer(b, r + p.Ohms, ResistorJoint.Series, single, p));
            Walk(_sides.Value, row, best, (p, b) => Offer(b, r + p.Ohms, ResistorJoint.SeriesWithPair, single, p));
            double wanted = side > 0 ? side : double.PositiveInfinity;
            Walk(_sides.Value, wanted, best, (p, b) => Offer(b, 1 / ((1 / r) + (1 / p.Ohms)), ResistorJoint.Parallel, single, p));
            Walk(_rows.Value, wanted, best, (p, b) => Offer(b, 1 / ((1 / r) + (1 / p.Ohms)), ResistorJoint.ParallelWithRow, single, p));
        }
    }

    /// <summary>Offers three resistors; false when they are farther off than all that is held, true also when the drawer has not enough of them.</summary>
    private bool Offer(Best best, double ohms, ResistorJoint joint, int single, Pair pair)
    {
        int same = (pair.A == single ? 1 : 0) + (pair.B == single ? 1 : 0) + 1;
        bool enough = _drawer[single].Count >= same;
        return enough ? best.Offer(ohms, joint, single, pair.A, pair.B) : best.Fits(ohms);
    }

    /// <summary>Goes outward from where a sorted list meets the wanted value, both ways, until the visitor says that it is too far.</summary>
    private static void Walk(Pair[] sorted, double wanted, Best best, Func<Pair, Best, bool> visit)
    {
        int low = 0, high = sorted.Length;
        while (low < high)
        {
            int middle = (low + high) / 2;
            if (sorted[middle].Ohms < wanted) low = middle + 1;
            else high = middle;
        }

        for (int i = low; i < sorted.Length && visit(sorted[i], best); i++) continue;
        for (int i = low - 1; i >= 0 && visit(sorted[i], best); i--) continue;
    }

    private Pair[] Pairs(Func<double, double, double> join)
    {
        var pairs = new List<Pair>(_drawer.Length * (_drawer.Length + 1) / 2);
        for (int a = 0; a < _drawer.Length; a++)
        {
            for (int b = a; b < _drawer.Length; b++)
            {
                if (a != b || _drawer[a].Count > 1) pairs.Add(new(join(_drawer[a].Ohms, _drawer[b].Ohms), a, b));
            }
        }

        Pair[] sorted = [.. pairs];
        Array.Sort(sorted, (x, y) => x.Ohms.CompareTo(y.Ohms));
        return sorted;
    }

    private ResistorNetwork Network(Held held)
    {
        int[] parts = [.. ((int[])[held.A, held.B, held.C]).Where(i => i >= 0)];
        return new(held.Joint, parts, [.. parts.Select(i => _drawer[i].Ohms)], [.. parts.Select(i => _drawer[i].Tolerance)]);
    }

    private readonly record struct Pair(double Ohms, int A, int B);

    private readonly record struct Held(double Distance, ResistorJoint Joint, int A, int B, int C);

    /// <summary>The closest networks so far, best first, none twice.</summary>
    private sealed class Best(double ohms, int count)
    {
        private const double Alike = 1e-6;
        private readonly List<Held> _held = [];

        public double Ohms => ohms;

        public IReadOnlyList<Held> Held => [.. _held.OrderBy(h => Math.Floor(h.Distance / Alike)).ThenBy(h => h.B < 0 ? 1 : h.C < 0 ? 2 : 3).ThenBy(h => h.Distance)];

        public bool Fits(double got) => _held.Count < count || Distance(got) < _held[^1].Distance;

        public bool Offer(double got, ResistorJoint joint, int a, int b, int c)
        {
            if (!Fits(got)) return false;
            var offered = new Held(Distance(got), joint, a, b, c);
            offered = Canonical(offered);
            // The same three come round with each of them as the third; sums in another order differ by a last bit.
            if (_held.Exists(h => h.Joint == offered.Joint && h.A == offered.A && h.B == offered.B && h.C == offered.C)) return true;
            int at = _held.FindIndex(h => h.Distance > offered.Distance);
            _held.Insert(at < 0 ? _held.Count : at, offered);
            if (_held.Count > count) _held.RemoveAt(count);
            return true;
        }

        private static Held Canonical(Held h)
        {
            if (h.C < 0 || h.Joint is not (ResistorJoint.Series or ResistorJoint.Parallel)) return h;
            int low = Math.Min(h.A, Math.Min(h.B, h.C)), high = Math.Max(h.A, Math.Max(h.B, h.C));
            return h with { A = low, B = h.A + h.B + h.C - low - high, C = high };
        }

        private double Distance(double got) => Math.Abs(Math.Log(got / ohms));
    }
}
