namespace Ventwright.Diagnosis;

/// <summary>
/// Bounds of all pairs, and of the triples that could grow out of them. A third fault c raises the bound of a pair at most by
/// min(G(c), K), where G(c) is what c can add to the sound unit and K what any fault can still add to the pair. Every triple has three pairs
/// and is bounded by each, so a third of the sum over its pairs bounds it. (An interplay of three is not allowed for in this sum.)
/// </summary>
internal sealed class PairBounds
{
    private readonly List<double> _leftOut = [];
    private readonly double[] _gains = [];
    private readonly double[] _oddsBelow = [];
    private readonly double[] _weightBelow = [];
    private readonly LeftOutSum _triples = new();
    private readonly Dictionary<FaultSet, double> _tripleOf = [];

    public PairBounds(
        EvidenceView view, PriorTable prior, EvidencePattern sound, EvidencePattern[] singles, double threshold, DiagnosisOptions options)
    {
        int n = singles.Length;
        double most = MostPossible(sound, singles);
        if (options.MaxFaults >= 3) (_gains, _oddsBelow, _weightBelow) = Gains(view, sound, singles, options.CommonCauseFactor);
        var rows = new Row[n];
        Parallel.For(0, n, a => rows[a] = Scan(a, view, prior, singles, threshold, most));
        var candidates = new List<Candidate>();
        foreach (Row row in rows)
        {
            candidates.AddRange(row.Candidates);
            _leftOut.Add(row.LeftOut.Log);
            _triples.Add(row.Triples.Log);
            foreach ((FaultSet pair, double log) in row.TripleOf) _tripleOf[pair] = log;
        }

        Candidates = candidates;
    }

    /// <summary>Pairs whose bound reaches the threshold.</summary>
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
        var row = new Row();
        for (int b = a + 1; b < singles.Length; b++)
        {
            if (view.Exclusive(a, b)) continue;
            double logPrior = prior.Log(a, b);
            double fit = singles[a].Bound(singles[b]);
            double log = logPrior + fit;
            bool candidate = log >= threshold;
            if (!candidate) row.LeftOut.Add(log);
            double triples = _gains.Length == 0 ? double.NegativeInfinity : log + Third(Math.Max(0, most - fit));
            row.Triples.Add(triples);
            if (!candidate && triples < threshold) continue;
            FaultSet pair = FaultSet.Of(a, b);
            if (candidate) row.Candidates.Add(new(pair, logPrior, log, logPrior + singles[a].Likely(singles[b]), singles[a], singles[b]));
            row.TripleOf.Add((pair, triples));
        }

        return row;
    }

    /// <summary>Logarithm of the sum over a third fault of its odds times min(G, K).</summary>
    private double Third(double room)
    {
        int at = Array.BinarySearch(_gains, room);
        if (at < 0) at = ~at;
        double above = _oddsBelow[^1] - _oddsBelow[at];
        return Math.Log(_weightBelow[at] + (Math.Max(above, 0) * Math.Exp(Math.Min(room, 300))) + 1e-300);
    }

    private sealed class Row
    {
        public List<Candidate> Candidates { get; } = [];

        public LeftOutSum LeftOut { get; } = new();

        public LeftOutSum Triples { get; } = new();

        public List<(FaultSet Pair, double Log)> TripleOf { get; } = [];
    }
}
