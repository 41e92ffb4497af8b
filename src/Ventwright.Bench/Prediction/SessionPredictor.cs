using Ventwright.Diagnosis;

namespace Ventwright.Bench;

/// <summary>What the sheet predicts, as one session asks for it: single faults are shared by all sessions, sets of several are its own.</summary>
/// <param name="sheet">What all sessions share.</param>
internal sealed class SessionPredictor(SheetPredictor sheet) : IFaultPredictor
{
    private readonly SetShelf _sets = new();

    /// <summary>How many sets are kept, in how many settings each.</summary>
    public int Kept => _sets.Count;

    /// <inheritdoc/>
    public IReadOnlyList<FaultEntry> Faults => sheet.Faults;

    /// <inheritdoc/>
    public IReadOnlyList<CheckEntry> Checks => sheet.Checks;

    /// <inheritdoc/>
    public int SharedCount => sheet.SharedCount;

    /// <inheritdoc/>
    public Prediction Predict(FaultSet faults, int check) => sheet.Predict(faults, check, _sets);

    /// <inheritdoc/>
    public Prediction PredictClosely(FaultSet faults, int check) => sheet.PredictClosely(faults, check, _sets);

    /// <inheritdoc/>
    public bool MayAct(int fault, int check) => sheet.MayAct(fault, check);
}
