namespace Ventwright.Diagnosis;

/// <summary>
/// Bounds of all pairs, and of the triples that could grow out of them. A third fault c raises the bound of a pair at most by
/// min(G(c), K), where G(c) is what c can add to the sound unit and K what any fault can still add to the pair. Every triple has three pairs
/// and is bounded by each, so a third of the sum over its pairs bounds it. (An interplay of three is not allowed for in this sum.)
/// </summary>
internal sealed class PairBounds
{
    private const int Steps = 2048;

    /// <summary>Bounds beyond this many natural units over the leader are held there: they say "all of it" either way, and their products stay finite.</summary>
    private const double FarAbove = 300;

    /// <summary>Pairs and triples bounded by less than the leader's e-to-the-minus-this are counted, not added up one by one.</summary>
    private const double FarBelow = 40;
    private readonly int _perRow;
    private readonly double _leader, _keep, _most, _step;
    private readonly double[] _third = [], _logThird = [];
    private readonly Dictionary<FaultSet, double> _tripleOf = [];
    private readonly double _triples;

    public PairBounds(
        EvidenceView view, PriorTable prior, EvidencePattern sound, EvidencePattern[] singles, double leader, DiagnosisOptions options)
    {
        int n = singles.Length;
        _perRow = Math.Max(8, options.MaxInterplay / 16);
        (_leader, _keep, _most) = (leader, options.KeepFraction, MostPossible(sound, singles));
        if (options.MaxFaults >= 3) (_third, _step) = Thirds(view, sound, singles, options.CommonCauseFactor);
        _logThird = [.. _third.Select(t => Math.Log(t))];
        var rows = new Row[n];
        Parallel.For(0, n, a => rows[a] = Scan(a, view, prior, singles));
        var candidates = new List<Candidate>();
        double leftOut = 0;
        for (int a = 0; a < n; a++)
        {
            Row row = rows[a];
            var alone = FaultSet.One(a);
            foreach (var (other, logPrior, log, likely) in row.Likely.Concat(row.Interplay.Items.Select(i => i.Item)))
                candidates.Add(new(alone, other, logPrior, log, likely, singles[a], singles[other]));
            leftOut += row.LeftOut;
            _triples += row.Triples;
            foreach (((int first, int second), double share) in row.Bases.Items) _tripleOf[FaultSet.One(first).With(second)] = share;
        }

        (Candidates, LogLeftOut) = (candidates, Math.Log(leftOut) + leader);
    }

    /// <summary>Pairs that reach the threshold without interplay, and for each fault the foremost of those that might with one.</summary>
    public IReadOnlyList<Candidate> Candidates { get; }

    /// <summary>Logarithm of the sum of the bounds of the pairs that are not candidates.</summary>
    public double LogLeftOut { get; }

    /// <summary>Pairs whose triples can together reach the threshold, most promising first.</summary>
    public FaultSet[] Promising(double threshold, int count)
    {
        double least = Math.Exp(threshold - _leader);
        return [.. _tripleOf.Where(p => p.Value >= least).OrderByDescending(p => p.Value).ThenBy(p => p.Key).Take(count).Select(p => p.Key)];
    }

    /// <summary>Logarithm of the bound of all triples of which no pair is among those given.</summary>
    public double LogTriplesWithout(IEnumerable<FaultSet> extended)
    {
        double rest = _triples - extended.Sum(pair => _tripleOf.GetValueOrDefault(pair));
        return Math.Log(Math.Max(rest, _triples * 1e-12) / 3) + _leader;
    }

    private static double MostPossible(EvidencePattern sound, EvidencePattern[] singles)
    {
        var best = new float[sound.Width];
        Array.Fill(best, -600);
        sound.Raise(best);
        foreach (EvidencePattern single in singles) single.Raise(best);
        return best.Sum(b => (double)b);
    }

    /// <summary>
    /// Sum over a third fault of its odds times min(G, K), by K in equal steps from 0 to the largest G; each value is the one at the upper end of its step, so that
    /// it is never too little.
    /// </summary>
    private static (double[] Thirds, double Step) Thirds(EvidenceView view, EvidencePattern sound, EvidencePattern[] singles, double causeFactor)
    {
        double Odds(Atom a) => Math.Exp(a.LogOdds) * (a.CauseKey >= 0 ? Math.Max(1, causeFactor) : 1);
        (double Gain, double Odds)[] sorted = [.. singles.Select((s, a) => (Gain: Math.Min(s.GainOver(sound), FarAbove), Odds: Odds(view.Atoms[a]))).OrderBy(p => p.Gain)];
        double step = sorted[^1].Gain / Steps, above = sorted.Sum(p => p.Odds), below = 0;
        var thirds = new double[Steps + 1];
        for (int i = 0, next = 0; i <= Steps; i++)
        {
            double room = i == Steps ? sorted[^1].Gain : (i + 1) * step;
            for (; next < sorted.Length && sorted[next].Gain <= room; next++)
            {
                below += sorted[next].Odds * Math.Exp(sorted[next].Gain);
                above -= sorted[next].Odds;
            }

            thirds[i] = below + (Math.Max(above, 0) * Math.Exp(room));
        }

        return (thirds, step);
    }

    private Row Scan(int a, EvidenceView view, PriorTable prior, EvidencePattern[] singles)
    {
        var row = new Row(_perRow);
        double threshold = _leader + Math.Log(_keep), far = _leader - FarBelow;
        EvidencePattern one = singles[a];
        int family = view.Atoms[a].FamilyKey, passed = 0;
        for (int b = a + 1; b < singles.Length; b++)
        {
            if (view.Atoms[b].FamilyKey == family) continue;
            double logPrior = prior.Log(a, b);
            double fit = one.Bound(singles[b]);
            double log = logPrior + fit;
            int room = RoomFor(Math.Max(0, _most - fit));
            if (log < far && (_third.Length == 0 || log + _logThird[room] < far))
            {
                passed++;
                continue;
            }

            double share = Share(log);
            if (_third.Length > 0) AddTriples(row, (a, b), share * _third[room]);
            if (log < threshold)
            {
                row.LeftOut += share;
                continue;
            }

            double likely = logPrior + one.Likely(singles[b]);
            if (likely >= threshold) row.Likely.Add((b, logPrior, log, likely));
            else if (row.Interplay.Offer((b, logPrior, log, likely), log) is { } fallen) row.LeftOut += Share(fallen.Log);
        }

        row.LeftOut += passed * Math.Exp(-FarBelow);
        row.Triples += passed * Math.Exp(-FarBelow);
        return row;
    }

    private int RoomFor(double gain) => gain < _step * Steps ? (int)(gain / _step) : Steps;

    private double Share(double log) => Math.Exp(Math.Min(log - _leader, FarAbove));

    private void AddTriples(Row row, (int, int) pair, double triples)
    {
        row.Triples += triples;
        if (triples >= _keep) row.Bases.Offer(pair, triples);
    }

    /// <summary>What one fault's pairs come to; sums are shares of the leader.</summary>
    private sealed class Row(int most)
    {
        public List<(int Other, double LogPrior, double Log, double LogLikely)> Likely { get; } = [];

        public Foremost<(int Other, double LogPrior, double Log, double LogLikely)> Interplay { get; } = new(most);

        public Foremost<(int, int)> Bases { get; } = new(most);

        public double LeftOut { get; set; }

        public double Triples { get; set; }
    }
}

/// <summary>Keeps the foremost few of many.</summary>
internal sealed class Foremost<T>(int most)
    where T : struct
{
    private readonly PriorityQueue<T, double> _kept = new();

    public IEnumerable<(T Item, double Rank)> Items => _kept.UnorderedItems;

    /// <summary>Takes an item in; gives the one that falls out, if any.</summary>
    public T? Offer(T item, double rank)
    {
        if (_kept.Count < most)
        {
            _kept.Enqueue(item, rank);
            return null;
        }

        return _kept.EnqueueDequeue(item, rank);
    }
}
