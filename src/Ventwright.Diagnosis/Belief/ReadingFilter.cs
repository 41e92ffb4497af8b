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
internal sealed class ReadingFilter(EvidenceView view, PredictionCache cache, DiagnosisOptions options)
{
    public int StateSize => cache.Predictor.SharedCount + view.Meters + 1;

    /// <summary>Runs all readings with predictions from any source.</summary>
    public FilterResult Run(Func<ReadingView, CompiledPrediction> predict, Func<double[], int, bool>? stop = null, bool detailed = false)
    {
        var state = new SharedState(StateSize);
        var factors = new double[view.Readings.Count];
        var misread = new double[factors.Length];
        var memories = new Dictionary<int, GroupMemory>();
        GroupMemory? memory = null;
        var likeness = new UnitLikeness();
        for (int r = 0; r < factors.Length; r++)
        {
            ReadingView reading = view.Readings[r];
            if (reading.StartsGroup)
            {
                state.RenewOwn();
                memory = new GroupMemory();
                if (detailed) memories[reading.Check] = memory;
            }

            (double likelihood, misread[r]) = Step(state, memory!, reading, predict(reading), reading.Misread, likeness);
            factors[r] = Math.Log(likelihood);
            if (!reading.EndsGroup) continue;
            memory!.OwnMean = state.Mean[state.OwnSlot];
            memory.OwnVariance = state.Covariance[^1];
            if (stop is not null && stop(factors, r + 1)) break;
        }

        return new(factors, misread, state, memories);
    }

    /// <summary>Runs all readings with a set of atoms.</summary>
    /// <param name="atoms">The hypothesis.</param>
    /// <param name="stop">Asked at the end of each check with the factors so far and their number; true breaks off.</param>
    /// <param name="detailed">True to keep what is known of each check that was read.</param>
    public FilterResult Run(FaultSet atoms, Func<double[], int, bool>? stop = null, bool detailed = false)
    {
        var acting = new FaultSet[view.Epochs];
        for (int e = 0; e < acting.Length; e++) acting[e] = view.Acting(atoms, e);
        return Run(r => cache.Get(acting[r.Epoch], r.Check), stop, detailed);
    }

    /// <summary>Runs all readings with a set of atoms, each prediction from units that have these very faults.</summary>
    public FilterResult RunClosely(FaultSet atoms)
    {
        var acting = new FaultSet[view.Epochs];
        for (int e = 0; e < acting.Length; e++) acting[e] = view.Acting(atoms, e);
        return Run(r => cache.GetClosely(acting[r.Epoch], r.Check));
    }

    /// <summary>
    /// Likelihood of all readings when something unknown disturbs a share of the checks: each check shows what the sound unit shows, or anything,
    /// and in that case the same again when it is repeated.
    /// </summary>
    public double LogOffSheet(double share)
    {
        var state = new SharedState(StateSize);
        double log = 0;
        for (int first = 0, next; first < view.Readings.Count; first = next)
        {
            SharedState before = state.Copy();
            state.RenewOwn();
            var memory = new GroupMemory();
            double sound = 1 - share, disturbed = share;
            next = first;
            do
            {
                ReadingView r = view.Readings[next];
                sound *= Step(state, memory, r, cache.Get(FaultSet.None, r.Check), r.Misread).Likelihood;
                disturbed *= next == first ? r.Broad : Repeat(view.Readings[next - 1], r);
            }
            while (!view.Readings[next++].EndsGroup);

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
        var likelihoods = repeated || likeness is not null ? new double[prediction.Modes.Length][] : null;
        for (int m = 0; m < prediction.Modes.Length; m++)
        {
            Component[] mode = prediction.Modes[m];
            if (likelihoods is not null) likelihoods[m] = new double[mode.Length];
            double[]? weights = likeness?.Weights(mode);
            for (int c = 0; c < mode.Length; c++)
            {
                double weight = (1 - misread) * prediction.ModeWeights[m] * (weights?[c] ?? (repeated ? memory.Weight(mode, c) : mode[c].Weight));
                double density = mode[c].Kind == ComponentKind.Number
                    ? blend.Add(mode[c], reading, Slope(mode[c], reading.Meter.RelativeGain, reading.MeterSlot, slope), weight)
                    : OutcomeLaw.Plain(mode[c], reading.Entry, reading.Event.Outcome, options);
                if (likelihoods is not null) likelihoods[m][c] = blunder + ((1 - misread) * density);
                total += weight * density;
            }
        }

        if (total <= 0) return (1e-300, 1);
        blend.Apply(total);
        if (repeated) Remember(memory, prediction, likelihoods!);
        likeness?.Learn(prediction, likelihoods!);
        return (total, blunder / total);
    }

    /// <summary>Sensitivity of a number to each unknown of the state; numbers at the end of the range have none.</summary>
    internal Span<double> Slope(in Component component, double relativeGain, int meterSlot, Span<double> slope)
    {
        slope.Clear();
        int shared = Math.Min(component.Shared.Length, cache.Predictor.SharedCount);
        component.Shared.AsSpan(0, shared).CopyTo(slope);
        if (meterSlot >= 0) slope[cache.Predictor.SharedCount + meterSlot] = relativeGain * component.Mean;
        slope[^1] = component.Sd;
        return slope;
    }

    private static void Remember(GroupMemory memory, CompiledPrediction prediction, double[][] likelihoods)
    {
        var sums = new double[likelihoods.Length];
        for (int m = 0; m < sums.Length; m++)
        {
            for (int c = 0; c < likelihoods[m].Length; c++)
                sums[m] += prediction.ModeWeights[m] * memory.Weight(prediction.Modes[m], c) * likelihoods[m][c];
        }

        double all = sums.Sum();
        for (int m = 0; m < sums.Length && all > 0; m++) memory.Learn(prediction.Modes[m], likelihoods[m], sums[m] / all);
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
