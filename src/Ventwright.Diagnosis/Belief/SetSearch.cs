namespace Ventwright.Diagnosis;

/// <summary>A hypothesis that was worked out: what it shows at each reading, and how likely it makes each.</summary>
internal sealed record Scored(FaultSet Atoms, double LogPrior, Foretold Predictions, double[] LogFactors)
{
    public double LogLikelihood => LogFactors.Sum();

    public double LogJoint => LogPrior + LogLikelihood;
}

/// <summary>
/// Finds the sets of faults that carry the posterior: the sound unit and all singles exactly, then larger sets in order of what they can still
/// contribute, each worked out as a set because faults mask each other. What is left out is bounded.
/// </summary>
internal sealed class SetSearch
{
    private const int Batch = 64;
    private const int LeastBases = 24, MaxBases = 120;

    /// <summary>By so much, as a logarithm, a larger set may weigh more than its parts say reading by reading: readings bear on each other through what the unit's parts share.</summary>
    private const double Leeway = 7;
    private readonly EvidenceView _view;
    private readonly PredictionCache _cache;
    private readonly DiagnosisOptions _options;
    private readonly ReadingFilter _filter;
    private readonly PriorTable _prior;
    private readonly double[] _sharpest;
    private readonly int _bases;
    private readonly List<Scored> _pool = [];
    private readonly Dictionary<FaultSet, Scored> _known = [];
    private readonly LeftOutSum _leftOut = new();
    private EvidencePattern[] _singles = [];
    private EvidencePattern _sound = null!;
    private double _leader;

    public SetSearch(EvidenceView view, PredictionCache cache, DiagnosisOptions options, ReadingFilter filter, PriorTable prior)
    {
        (_view, _cache, _options, _filter, _prior) = (view, cache, options, filter, prior);
        _sharpest = [.. view.Readings.Select(Sharpest)];
        _bases = Math.Clamp(options.MaxInterplay / 8, LeastBases, MaxBases);
    }

    /// <summary>Hypotheses that were worked out, in a fixed order.</summary>
    public IReadOnlyList<Scored> Pool => _pool;

    /// <summary>Logarithm of the most that all sets left out can weigh together (joint, not normalised).</summary>
    public double LogLeftOut => _leftOut.Log;

    public void Run()
    {
        Search();
        if (_view.Readings.Count > 0) CloserScore.Apply(_pool, _filter);
    }

    private void Search()
    {
        WorkOutSingles();
        int max = _options.MaxFaults + Math.Min(2, _view.Epochs - 1);
        if (max < 2 || _view.Atoms.Length < 2) return;
        int room = _options.MaxSets;
        var pairs = new PairBounds(_view, _prior, _sound, _singles, _leader, _options);
        _leftOut.Add(pairs.LogLeftOut);
        int share = max == 2 ? room : Math.Max(1, room * 2 / 3);
        List<Scored> level = WorkOut(pairs.Candidates, share, _options.MaxInterplay);
        room -= level.Count;
        for (int size = 3; size <= max && room > 0; size++)
        {
            IEnumerable<(FaultSet Atoms, EvidencePattern Pattern)> bases = size == 3 ? PairBases(pairs, level) : Best(level);
            level = WorkOut(Extensions(bases), size == max ? room : Math.Max(1, room / 2), _options.MaxInterplay / 4);
            room -= level.Count;
        }
    }

    private void WorkOutSingles()
    {
        Scored sound = Score(FaultSet.None, null)!;
        _known[FaultSet.None] = sound;
        var singles = new Scored[_view.Atoms.Length];
        Parallel.For(0, singles.Length, _filter.Loops, a => singles[a] = Score(FaultSet.Of(a), null)!);
        foreach (int again in _filter.LookAgain([sound, .. singles])) singles[again - 1] = Score(singles[again - 1].Atoms, null)!;
        _pool.Add(sound);
        _pool.AddRange(singles);
        foreach (Scored s in singles) _known[s.Atoms] = s;
        _leader = _pool.Max(s => s.LogJoint);
        _sound = EvidencePattern.Of(sound.LogFactors, _sharpest, _ => false);
        _singles = new EvidencePattern[singles.Length];
        Parallel.For(0, singles.Length, _filter.Loops, a => _singles[a] = Pattern(singles[a]));
    }

    private EvidencePattern Pattern(Scored scored) =>
        EvidencePattern.Of(scored.LogFactors, _sharpest, r => scored.Atoms.Any(a => Acts(a, _view.Readings[r])));

    private bool Acts(int atom, ReadingView reading)
    {
        Atom a = _view.Atoms[atom];
        return a.FirstEpoch <= reading.Epoch && reading.Epoch < a.EndEpoch && _cache.Acts(a.Fault, reading.Check);
    }

    /// <summary>
    /// Works out candidates: first those that explain enough without any interplay of their faults, then some of those that might with one. Batches
    /// have a fixed size, so that the result does not depend on the number of cores.
    /// </summary>
    private List<Scored> WorkOut(IEnumerable<Candidate> candidates, int room, int interplay)
    {
        double enough = _leader + Math.Log(_options.KeepFraction);
        Candidate[] all = [.. candidates];
        Candidate[] likely = Sorted([.. all.Where(c => c.LogLikely >= enough)], c => c.LogLikely);
        Candidate[] sorted = [.. likely, .. Sorted([.. all.Where(c => !(c.LogLikely >= enough))], c => c.LogBound)];
        int first = Math.Min(room, likely.Length);
        var done = new List<Scored>();
        int next = 0;
        int last = Math.Min(sorted.Length, Math.Min(room, first + interplay));
        while (next < last)
        {
            double threshold = _leader + Math.Log(_options.KeepFraction);
            if (next >= first && sorted[next].LogBound < threshold) break;
            int count = Math.Min(Batch, last - next);
            var results = new Scored?[count];
            var bounds = new double[count];
            int start = next;
            Parallel.For(0, count, _filter.Loops, i =>
            {
                bounds[i] = sorted[start + i].LogBound;
                results[i] = Score(sorted[start + i].Atoms, new Cutoff(sorted[start + i], threshold, b => bounds[i] = b));
            });
            for (int i = 0; i < count; i++)
            {
                if (results[i] is { } scored) done.Add(scored);
                else _leftOut.Add(bounds[i]);
            }

            next += count;
            _leader = Math.Max(_leader, done.Count == 0 ? double.NegativeInfinity : done.Max(d => d.LogJoint));
        }

        for (int i = next; i < sorted.Length; i++) _leftOut.Add(sorted[i].LogBound);
        _pool.AddRange(done);
        foreach (Scored s in done) _known[s.Atoms] = s;
        return done;
    }

    /// <summary>Greatest first; equal ones in an order that depends on nothing but the list.</summary>
    private static Candidate[] Sorted(Candidate[] candidates, Func<Candidate, double> by)
    {
        double[] keys = [.. candidates.Select(c => -by(c))];
        Array.Sort(keys, candidates);
        return candidates;
    }

    private Scored? Score(FaultSet atoms, Cutoff? cutoff)
    {
        Foretold predictions = _filter.Predictions(atoms);
        if (Twin(atoms, predictions) is { } twin) return new(atoms, _prior.Log(atoms), predictions, twin.LogFactors);
        bool stopped = false;
        FilterResult result = _filter.Run(predictions, cutoff is null ? null : (factors, count) => stopped |= cutoff.Reached(factors, count));
        return stopped ? null : new(atoms, _prior.Log(atoms), predictions, result.LogFactors);
    }

    /// <summary>The set without one member, if no reading can tell them apart.</summary>
    private Scored? Twin(FaultSet atoms, Foretold predictions)
    {
        for (int i = 0; i < atoms.Count; i++)
        {
            if (_known.TryGetValue(atoms.Without(atoms[i]), out Scored? less) && predictions.SameAs(less.Predictions)) return less;
        }

        return null;
    }

    /// <summary>Pairs that triples grow from: those whose triples can still contribute most, whether or not the pair itself explains much.</summary>
    private List<(FaultSet Atoms, EvidencePattern Pattern)> PairBases(PairBounds pairs, List<Scored> level)
    {
        var scored = level.ToDictionary(s => s.Atoms);
        FaultSet[] bases = pairs.Promising(_leader + Math.Log(_options.KeepFraction), _bases);
        _leftOut.Add(pairs.LogTriplesWithout(bases));
        return [.. bases.Select(b =>
        {
            EvidencePattern union = _singles[b[0]].Union(_singles[b[1]]);
            return (b, scored.TryGetValue(b, out Scored? known) ? union.Sharpened(known.LogFactors, _singles[b[0]], _singles[b[1]]) : union);
        })];
    }

    private IEnumerable<(FaultSet Atoms, EvidencePattern Pattern)> Best(List<Scored> level) =>
        level.Where(s => s.LogJoint >= _leader + Math.Log(_options.KeepFraction)).OrderByDescending(s => s.LogJoint).ThenBy(s => s.Atoms)
            .Take(_bases).Select(s => (s.Atoms, Pattern(s)));

    /// <summary>Sets of one more fault that reach the threshold, each once. What falls short is counted for each base that it grows from: that is too much, never too little.</summary>
    private Candidate[] Extensions(IEnumerable<(FaultSet Atoms, EvidencePattern Pattern)> bases)
    {
        (FaultSet Atoms, EvidencePattern Pattern)[] all = [.. bases];
        var found = new List<Candidate>[all.Length];
        var below = new LeftOutSum[all.Length];
        double threshold = _leader + Math.Log(_options.KeepFraction);
        Parallel.For(0, all.Length, _filter.Loops, i => (found[i], below[i]) = Extend(all[i].Atoms, all[i].Pattern, threshold));
        foreach (LeftOutSum sum in below) _leftOut.Add(sum.Log);
        var best = new Dictionary<FaultSet, Candidate>();
        foreach (Candidate c in found.SelectMany(f => f))
        {
            FaultSet atoms = c.Atoms;
            if (!best.TryGetValue(atoms, out Candidate? other) || c.LogBound < other.LogBound) best[atoms] = c;
        }

        return [.. best.Values];
    }

    private (List<Candidate> Found, LeftOutSum Short) Extend(FaultSet known, EvidencePattern pattern, double threshold)
    {
        var found = new List<Candidate>();
        var interplay = new Foremost<(int Other, double LogPrior, double Log, double LogLikely)>(Math.Max(4, _options.MaxInterplay / 50));
        var sum = new LeftOutSum();
        int[] atoms = [.. known, -1];
        for (int c = 0; c < _singles.Length; c++)
        {
            if (known.Contains(c) || Excluded(known, c)) continue;
            atoms[^1] = c;
            double logPrior = _prior.Log(atoms), log = logPrior + pattern.Bound(_singles[c]);
            if (log < threshold)
            {
                sum.Add(log);
                continue;
            }

            // Any pair explains something badly that a third fault might hide; thousands of such triples would be worked out in vain. Some are, as interplay.
            double likely = logPrior + pattern.Unmasked(_singles[c]) + Leeway;
            if (likely >= threshold) found.Add(new(known, c, logPrior, log, likely, pattern, _singles[c]));
            else if (interplay.Offer((c, logPrior, log, likely), log) is { } passed) sum.Add(passed.Log);
        }

        foreach (((int other, double logPrior, double log, double likely), _) in interplay.Items)
            found.Add(new(known, other, logPrior, log, likely, pattern, _singles[other]));
        return (found, sum);
    }

    private bool Excluded(FaultSet known, int atom)
    {
        for (int i = 0; i < known.Count; i++)
        {
            if (_view.Exclusive(known[i], atom)) return true;
        }

        return false;
    }

    private double Sharpest(ReadingView reading)
    {
        double density = reading.Event.Outcome.Kind == OutcomeKind.Number ? 1 / (Math.Sqrt(2 * Math.PI) * reading.Meter.Absolute) : 1;
        return Math.Log(((1 - reading.Misread) * density) + (reading.Misread * reading.Broad));
    }

    /// <summary>Breaks a run off once the set can no longer reach the threshold.</summary>
    private sealed class Cutoff(Candidate candidate, double threshold, Action<double> report)
    {
        private readonly float[] _each = candidate.First.BoundEach(candidate.Second);

        public bool Reached(double[] factors, int count)
        {
            double log = candidate.LogPrior;
            for (int r = 0; r < factors.Length; r++) log += r < count ? factors[r] : _each[r];
            if (count == factors.Length || log >= threshold) return false;
            report(log);
            return true;
        }
    }
}

/// <summary>A set and one more fault that may be worth working out: the most it can weigh, and what it weighs if its parts do not interplay.</summary>
internal sealed record Candidate(FaultSet Base, int Added, double LogPrior, double LogBound, double LogLikely, EvidencePattern First, EvidencePattern Second)
{
    /// <summary>The set; made on demand, since most candidates are never worked out.</summary>
    public FaultSet Atoms => Base.With(Added);
}

/// <summary>Sum of numbers that are given as logarithms.</summary>
internal sealed class LeftOutSum
{
    private double _top = double.NegativeInfinity;
    private double _sum;

    public double Log => _sum > 0 ? _top + Math.Log(_sum) : double.NegativeInfinity;

    public void Add(double log)
    {
        if (double.IsNegativeInfinity(log)) return;
        if (log > _top)
        {
            _sum = (_sum * Math.Exp(_top - log)) + 1;
            _top = log;
        }
        else
        {
            _sum += Math.Exp(log - _top);
        }
    }
}
