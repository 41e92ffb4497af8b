namespace Ventwright.Diagnosis;

/// <summary>
/// Explains evidence by sets of faults. It keeps predictions between calls, so that one more reading costs little; the answer depends on the
/// evidence alone, not on earlier calls and not on the order in which readings came in between two renewals. Not for use from several threads at once.
/// </summary>
public sealed class Diagnoser
{
    private readonly DiagnosisOptions _options;
    private readonly PredictionCache _cache;

    /// <summary>Starts with a model.</summary>
    /// <param name="predictor">The model.</param>
    /// <param name="options">Assumptions and limits; null for the usual ones.</param>
    /// <exception cref="ArgumentException">The odds of a fault, or its intermittent share, are out of range.</exception>
    public Diagnoser(IFaultPredictor predictor, DiagnosisOptions? options = null)
    {
        foreach (FaultEntry fault in predictor.Faults)
        {
            if (!(fault.Odds > 0) || !double.IsFinite(fault.Odds)) throw new ArgumentException($"Fault '{fault.Id}' needs odds above 0.", nameof(predictor));
            if (fault.IntermittentShare is < 0 or >= 1)
                throw new ArgumentException($"Fault '{fault.Id}' needs an intermittent share from 0 to below 1.", nameof(predictor));
        }

        _options = options ?? new();
        _cache = new(predictor, _options.WiggleShare);
    }

    /// <summary>Works out the posterior.</summary>
    /// <param name="events">All events in the order of time; leave one out to take it back.</param>
    /// <param name="loops">How loops are run, here and for what is asked of the posterior. Broken off, what was predicted until then is kept.</param>
    /// <exception cref="ArgumentException">An event names no check, has an outcome that its check cannot have, or has the name of another event.</exception>
    /// <exception cref="OperationCanceledException">It was broken off.</exception>
    public Posterior Explain(IReadOnlyList<EvidenceEvent> events, ParallelOptions? loops = null)
    {
        _cache.Trim();
        EvidenceView view = EvidenceView.Of(_cache.Predictor, _options, events);
        var filter = new ReadingFilter(view, _cache, _options, loops);
        var prior = new PriorTable(view, _options);
        var search = new SetSearch(view, _cache, _options, filter, prior);
        search.Run();
        return new(view, _cache, _options, filter, prior, search);
    }
}
