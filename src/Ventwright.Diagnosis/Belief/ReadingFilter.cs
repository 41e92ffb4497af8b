namespace Ventwright.Diagnosis;

/// <summary>Result of running all readings through one hypothesis.</summary>
/// <param name="LogFactors">Logarithm of each reading's likelihood given the readings before it in canonical order.</param>
/// <param name="Misread">Probability of each reading being a misread under the hypothesis.</param>
/// <param name="State">What is known of the shared unknowns in the end.</param>
/// <param name="Memory">What is known of each check that was read, by check.</param>
internal sealed record FilterResult(double[] LogFactors, double[] Misread, SharedState State, Dictionary<int, GroupMemory> Memory)
{
    public double LogLikelihood => LogFactors.Sum();
}

/// <summary>
/// Likelihood of readings under a hypothesis: Gaussian conditioning on the shared unknowns, reading by reading in canonical order; mixtures
/// (components, misreads) are brought back to one Gaussian with the same mean and covariance after each reading.
/// </summary>
internal sealed class ReadingFilter
{
    private readonly EvidenceView _view;
    private readonly PredictionCache _cache;
    private readonly DiagnosisOptions _options;
    private readonly Lazy<SoundRun> _sound;
    private SecondLook? _again;

    public ReadingFilter(EvidenceView view, PredictionCache cache, DiagnosisOptions options, ParallelOptions? loops = null) =>
        (_view, _cache, _options, _sound, Loops) = (view, cache, options, new(RunSound), loops ?? new());

    /// <summary>How the loops that take long are run, here and in all that works with these readings; they end when the answer is not wanted any more.</summary>
    public ParallelOptions Loops { get; }

    public int StateSize => _cache.Predictor.SharedCount + _view.Meters + 1;

    /// <summary>What a set of atoms makes each reading's check show.</summary>
    public Foretold Predictions(FaultSet atoms) => Predictions(atoms, (r, acting, check) => Latest(r, acting, _cache.Get(acting, check)));

    /// <summary>What the faults that act at a reading make its check show.</summary>
    /// <param name="reading">Index of the reading.</param>
    /// <param name="acting">The faults.</param>
    public CompiledPrediction Predict(int reading, FaultSet acting) => Latest(reading, acting, _cache.Get(acting, _view.Readings[reading].Check));

    /// <summary>Uses other predictions from now on for faults that only slips would save.</summary>
    /// <param name="scored">The sound unit and the single faults.</param>
    /// <returns>Which of them have to be worked out anew.</returns>
    public int[] LookAgain(IReadOnlyList<Scored> scored)
    {
        if (SecondLook.Of(scored, _view, _cache, Loops) is not { } again) return [];
        _again = again.Look;
        return again.Changed;
    }

    /// <summary>Runs all readings with a set of atoms.</summary>
    /// <param name="atoms">The hypothesis.</param>
    /// <param name="detailed">True to keep what is known of each check that was read.</param>
    public FilterResult Run(FaultSet atoms, bool detailed = false) => Run(Predictions(atoms), detailed: detailed);

    /// <summary>Runs all readings with a set of atoms, each prediction from units that have these very faults.</summary>
    public FilterResult RunClosely(FaultSet atoms) => Run(Predictions(atoms, (_, acting, check) => _cache.GetClosely(acting, check)));

    /// <summary>
    /// Runs all readings with one prediction for each. Up to the first check that shows something else than the sound unit, the sound unit's run is the same to the last
    /// bit and is not gone through again.
    /// </summary>
    /// <param name="predictions">The predictions.</param>
    /// <param name="stop">Asked at the end of each check with the factors so far and their number; true breaks off.</param>
    /// <param name="detailed">True to keep what is known of each check that was read.</param>
    public FilterResult Run(Foretold predictions, Func<double[], int, bool>? stop = null, bool detailed = false)
    {
        if (detailed) return Go(predictions, 0, new(predictions.Length, new(StateSize), new()), memories: []);
        SoundRun sound = _sound.Value;
        int from = sound.SameUpTo(predictions, _view.Readings);
        for (int r = 0; r < from && stop is not null; r++)
        {
            if (_view.Readings[r].EndsGroup && stop(sound.Factors, r + 1)) return sound.Result;
        }

        return from == predictions.Length ? sound.Result : Go(predictions, from, sound.Until(from), stop);
    }

    private Foretold Predictions(FaultSet atoms, Func<int, FaultSet, int, CompiledPrediction> of)
    {
        var acting = new FaultSet[_view.Epochs];
        for (int e = 0; e < acting.Length; e++) acting[e] = _view.Acting(atoms, e);
        return new(_view.Readings, (r, reading) => of(r, acting[reading.Epoch], reading.Check));
    }

    private CompiledPrediction Latest(int reading, FaultSet acting, CompiledPrediction plain) => _again?.At(reading, acting, plain) ?? plain;

    private SoundRun RunSound()
    {
        Foretold predictions = Predictions(FaultSet.None);
        var starts = new Course?[predictions.Length];
        FilterResult result = Go(predictions, 0, new(predictions.Length, new(StateSize), new()), starts: starts);
        return new(predictions, starts, result);
    }

    private FilterResult Go(
        Foretold predictions, int from, Course course, Func<double[], int, bool>? stop = null, Dictionary<int, GroupMemory>? memories = null, Course?[]? starts = null)
    {
        GroupMemory? memory = null;
        for (int r = from; r < predictions.Length; r++)
        {
            ReadingView reading = _view.Readings[r];
            if (reading.StartsGroup)
            {
                starts?[r] = course.Copy(r);
                course.State.RenewOwn();
                memory = new GroupMemory();
                memories?[reading.Check] = memory;
            }

            (double likelihood, course.Misread[r]) = Step(course.State, memory!, reading, predictions[r], reading.Misread, course.Likeness);
            course.Factors[r] = Math.Log(likelihood);
            if (!reading.EndsGroup) continue;
            memory!.OwnMean = course.State.Mean[course.State.OwnSlot];
            memory.OwnVariance = course.State.Covariance[^1];
            if (stop is not null && stop(course.Factors, r + 1)) break;
        }

        return new(course.Factors, course.Misread, course.State, memories ?? []);
    }

    /// <summary>
    /// Likelihood of all readings when something unknown disturbs a share of the checks: each check shows what the sound unit shows, or anything,
    /// and in that case the same again when it is repeated.
    /// </summary>
    public double LogOffSheet(double share)
    {
        var state = new SharedState(StateSize);
        double log = 0;
        for (int first = 0, next; first < _view.Readings.Count; first = next)
        {
            SharedState before = state.Copy();
            state.RenewOwn();
            var memory = new GroupMemory();
            double sound = 1 - share, disturbed = share;
            next = first;
            do
            {
                ReadingView r = _view.Readings[next];
                sound *= Step(state, memory, r, _cache.Get(FaultSet.None, r.Check), r.Misread).Likelihood;
                disturbed *= next == first ? r.Broad : Repeat(_view.Readings[next - 1], r);
            }
            while (!_view.Readings[next++].EndsGroup);

            log += Math.Log(sound + disturbed);
            if (disturbed > sound) state.Set(before);
        }

        return log;
    }

    /// <summary>One reading: its likelihood and the probability that it is a misread; the state and the memory learn from it.</summary>
    public (double Likelihood, double Misread) Step(
        SharedState state, GroupMemory memory, ReadingView reading, CompiledPrediction prediction, double misread, UnitLikeness? likeness = null)
    {
        // A repeated reading has its own memory of which state the unit is in.
        if (!prediction.TellsUnits || !reading.StartsGroup) likeness = null;
        double blunder = misread * reading.Broad;
        double total = blunder;
        var blend = new MomentBlend(state);
        Span<double> slope = stackalloc double[state.Size];
        bool repeated = !(reading.StartsGroup && reading.EndsGroup);
        Span<double> likelihoods = stackalloc double[prediction.Count], weights = stackalloc double[prediction.Count];
        for (int m = 0, at = 0; m < prediction.Modes.Length; at += prediction.Modes[m++].Length)
        {
            Component[] mode = prediction.Modes[m];
            bool isLike = likeness is not null && likeness.Weigh(mode, weights);
            for (int c = 0; c < mode.Length; c++)
            {
                double weight = (1 - misread) * prediction.ModeWeights[m] * (isLike ? weights[c] : repeated ? memory.Weight(mode, c) : mode[c].Weight);
                double density = mode[c].Kind == ComponentKind.Number
                    ? blend.Add(mode[c], reading, Slope(mode[c], reading.Meter.RelativeGain, reading.MeterSlot, slope), weight)
                    : OutcomeLaw.Plain(mode[c], reading.Entry, reading.Event.Outcome, _options);
                likelihoods[at + c] = blunder + ((1 - misread) * density);
                total += weight * density;
            }
        }

        if (total <= 0) return (1e-300, 1);
        blend.Apply(total);
        if (repeated) Remember(memory, prediction, likelihoods);
        likeness?.Learn(prediction, likelihoods);
        return (total, blunder / total);
    }

    /// <summary>Sensitivity of a number to each unknown of the state; numbers at the end of the range have none.</summary>
    internal Span<double> Slope(in Component component, double relativeGain, int meterSlot, Span<double> slope)
    {
        slope.Clear();
        int shared = Math.Min(component.Shared.Length, _cache.Predictor.SharedCount);
        component.Shared.AsSpan(0, shared).CopyTo(slope);
        if (meterSlot >= 0) slope[_cache.Predictor.SharedCount + meterSlot] = relativeGain * component.Mean;
        slope[^1] = component.Sd;
        return slope;
    }

    private static void Remember(GroupMemory memory, CompiledPrediction prediction, ReadOnlySpan<double> likelihoods)
    {
        Span<double> sums = stackalloc double[prediction.Modes.Length];
        double all = 0;
        for (int m = 0, at = 0; m < sums.Length; at += prediction.Modes[m++].Length)
        {
            sums[m] = 0;
            for (int c = 0; c < prediction.Modes[m].Length; c++)
                sums[m] += prediction.ModeWeights[m] * memory.Weight(prediction.Modes[m], c) * likelihoods[at + c];
            all += sums[m];
        }

        for (int m = 0, at = 0; m < sums.Length && all > 0; at += prediction.Modes[m++].Length)
            memory.Learn(prediction.Modes[m], likelihoods.Slice(at, prediction.Modes[m].Length), sums[m] / all);
    }

    private static double Repeat(ReadingView before, ReadingView now)
    {
        double again = 0;
        if (now.Event.Outcome.Kind == before.Event.Outcome.Kind)
        {
            double variance = Math.Pow(before.Meter.Absolute, 2) + Math.Pow(now.Meter.Absolute, 2);
            again = now.Event.Outcome.Kind == OutcomeKind.Number
                ? OutcomeLaw.Normal(now.Event.Outcome.Value - before.Event.Outcome.Value, variance)
                : now.Event.Outcome.WordIndex == before.Event.Outcome.WordIndex ? 1 : 0;
        }

        return ((1 - now.Misread) * again) + (now.Misread * now.Broad);
    }
}
