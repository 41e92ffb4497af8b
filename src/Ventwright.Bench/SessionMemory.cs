using Ventwright.Diagnosis;

namespace Ventwright.Bench;

/// <summary>What a session has worked out so far, for itself and the copies that look ahead. Not for use from several threads at once.</summary>
/// <param name="sheet">What all sessions share.</param>
/// <param name="mostSets">Sets of faults that may be kept; beyond them all are forgotten and those still wanted are worked out anew, which costs a second or so and changes no answer.</param>
internal sealed class SessionMemory(SheetPredictor sheet, int mostSets = SessionMemory.UsualSets)
{
    private const int UsualSets = 60_000;
    private SessionPredictor _predictor = new(sheet);
    private Diagnoser? _diagnoser;

    /// <summary>How many sets of faults are kept, in how many settings each.</summary>
    public int Kept => _predictor.Kept;

    /// <summary>Works out the posterior.</summary>
    public Posterior Explain(IReadOnlyList<EvidenceEvent> events, ParallelOptions? loops)
    {
        // Both together: what shows the same is known by its being the same object.
        if (_predictor.Kept > mostSets) (_predictor, _diagnoser) = (new(sheet), null);
        return (_diagnoser ??= new(_predictor)).Explain(events, loops);
    }

    /// <summary>What a set of faults makes a check show.</summary>
    public Prediction Predict(FaultSet faults, int check) => _predictor.Predict(faults, check);
}
