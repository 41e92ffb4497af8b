namespace Ventwright.Diagnosis;

/// <summary>
/// Bounds of all pairs, and of the triples that could grow out of them. A third fault c raises the bound of a pair at most by
/// min(G(c), K), where G(c) is what c can add to the sound unit and K what any fault can still add to the pair. Every triple has three pairs
/// and is bounded by each, so a third of the sum over its pairs bounds it. (An interplay of three is not allowed for in this sum.)
/// </summary>
internal sealed class PairBounds
{
    /// <summary>How far below the threshold, as a logarithm, the triples of a pair are no longer bounded one by one but by this limit.</summary>
    private const double FarBelow = 9;
    private readonly List<double> _leftOut = [];
    private readonly int _perRow;
    private readonly double[] _gains = [];
    private readonly double[] _oddsBelow = [];
    private readonly double[] _weightBelow = [];
    private readonly double _logOddsAll, _logWeightAll;
    private readonly LeftOutSum _triples = new();
    private readonly Dictionary<FaultSet, double> _tripleOf = [];

    public PairBounds(
        EvidenceView view, PriorTable prior, EvidencePattern sound, EvidencePattern[] singles, double threshold, DiagnosisOptions options)
    {
        int n = singles.Length;
        _perRow = Math.Max(8, options.MaxInterplay / 16);
        double most = MostPossible(sound, singles);
        if (options.MaxFaults >= 3) (_gains, _oddsBelow, _weightBelow) = Gains(view, sound, singles, options.CommonCauseFactor);
        _logOddsAll = _oddsBelow.Length == 0 ? 0 : Math.Log(_oddsBelow[^1] + 1e-300);
        _logWeightAll = _weightBelow.Length == 0 ? 0 : Math.Log(_weightBelow[^1] + 1e-300);
        var rows = new Row[n];
        Parallel.For(0, n, a => rows[a] = Scan(a, view, prior, singles, threshold, most));
        var candidates = new List<Candidate>();
        for (int a = 0; a < n; a++)
        {
            Row row = rows[a];
            foreach (var (other, logPrior, log, likely) in row.Likely.Concat(row.Interplay.Items.Select(i => i.Item)))
                candidates.Add(new(FaultSet.One(a).With(other), logPrior, log, likely, singles[a], singles[other]));
            _leftOut.Add(row.LeftOut.Log);
            _triples.Add(row.Triples.Log);
            if (row.FarBelow > 0) _triples.Add(Math.Log(row.FarBelow) + threshold - FarBelow);
            foreach (((int first, int second), double log) in row.Bases.Items) _tripleOf[FaultSet.One(first).With(second)] = log;
        }

        Candidates = candidates;
    }

    /// <summary>Pairs that reach the threshold without interplay, and for each fault the foremost of those that might with one.</summary>
    public IReadOnlyList<Candidate> Candidates { get; }

    /// <summary>Logarithms of sums of bounds of the pairs that are not candidates.</summary>
    public IReadOnlyList<double> LeftOut => _leftOut;

    /// <summary>Pairs whose triples can together reach the threshold, most promising first.</summary>
    public FaultSet[] Promising(double threshold, int count) =>
        [.. _tripleOf.Where(p => p.Value >= threshold).OrderByDescending(p => p.Value).ThenBy(p => p.Key).Take(count).Select(p => p.Key)];

    /// <summary>Logarithm of the bound of all triples of which no pair is among those given.</summary>
    public double LogTriplesWithout(IEnumerable<FaultSet> extended)
    {
        if (double.IsNegativeInfinity(_triples.Log)) return _triples.Log;
        double rest = Math.Exp(_triples.Log - _triples.Log);
        foreach (FaultSet pair in extended)
        {
            if (_tripleOf.TryGetValue(pair, out double log)) rest -= Math.Exp(log - _triples.Log);
        }

        return Math.Log(Math.Max(rest, 1e-12)) + _triples.Log - Math.Log(3);
    }

    private static double MostPossible(EvidencePattern sound, EvidencePattern[] singles)
    {
        var best = new float[sound.Width];
        Array.Fill(best, -600);
        sound.Raise(best);
        foreach (EvidencePattern single in singles) single.Raise(best);
        return best.Sum(b => (double)b);
    }

    private static (double[] Gains, double[] OddsBelow, double[] WeightBelow) Gains(
        EvidenceView view, EvidencePattern sound, EvidencePattern[] singles, double causeFactor)
    {
        double Odds(Atom a) => Math.Exp(a.LogOdds) * (a.CauseKey >= 0 ? Math.Max(1, causeFactor) : 1);
        var sorted = singles.Select((s, a) => (Gain: s.GainOver(sound), Odds: Odds(view.Atoms[a]))).OrderBy(p => p.Gain).ToArray();
        var odds = new double[sorted.Length + 1];
        var weight = new double[sorted.Length + 1];
        for (int i = 0; i < sorted.Length; i++)
        {
            odds[i + 1] = odds[i] + sorted[i].Odds;
            weight[i + 1] = weight[i] + (sorted[i].Odds * Math.Exp(Math.Min(sorted[i].Gain, 300)));
        }

        return ([.. sorted.Select(p => p.Gain)], odds, weight);
    }

    private Row Scan(int a, EvidenceView view, PriorTable prior, EvidencePattern[] singles, double threshold, double most)
    {
        var row = new Row(_perRow);
        for (int b = a + 1; b < singles.Length; b++)
        {
            if (view.Exclusive(a, b)) continue;
            double logPrior = prior.Log(a, b);
            double fit = singles[a].Bound(singles[b]);
            double log = logPrior + fit;
            if (_gains.Length > 0) AddTriples(row, (a, b), log, Math.Max(0, most - fit), threshold);
            if (log < threshold)
            {
                row.LeftOut.Add(log);
                continue;
            }

            double likely = logPrior + singles[a].Likely(singles[b]);
            if (likely >= threshold) row.Likely.Add((b, logPrior, log, likely));
            else if (row.Interplay.Offer((b, logPrior, log, likely), log) is { } passed) row.LeftOut.Add(passed.Log);
        }

        return row;
    }

    private void AddTriples(Row row, (int, int) pair, double log, double room, double threshold)
    {
        double limit = threshold - FarBelow;
        if (log + _logOddsAll + room < limit || log + _logWeightAll < limit)
        {
            row.FarBelow++;
            return;
        }

        double triples = log + Third(room);
        row.Triples.Add(triples);
        if (triples >= threshold) row.Bases.Offer(pair, triples);
    }

    /// <summary>Logarithm of the sum over a third fault of its odds times min(G, K).</summary>
    private double Third(double room)
    {
        int at = Array.BinarySearch(_gains, room);
        if (at < 0) at = ~at;
        double above = _oddsBelow[^1] - _oddsBelow[at];
        return Math.Log(_weightBelow[at] + (Math.Max(above, 0) * Math.Exp(Math.Min(room, 300))) + 1e-300);
    }

    private sealed class Row(int most)
    {
        public int FarBelow { get; set; }

        public List<(int Other, double LogPrior, double Log, double LogLikely)> Likely { get; } = [];

        public Foremost<(int Other, double LogPrior, double Log, double LogLikely)> Interplay { get; } = new(most);

        public Foremost<(int, int)> Bases { get; } = new(most);

        public LeftOutSum LeftOut { get; } = new();

        public LeftOutSum Triples { get; } = new();
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
