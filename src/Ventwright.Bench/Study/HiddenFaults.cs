using Ventwright.Diagnosis;

namespace Ventwright.Bench;

/// <summary>Which of the faults in a unit hide the others: with a main fuse blown nothing on the bench shows what else is wrong, before the fuse is replaced.</summary>
/// <param name="bench">The bench with its checks.</param>
/// <param name="all">All faults that are there.</param>
internal sealed class HiddenFaults(BenchDiagnosis bench, FaultSet all)
{
    private readonly Dictionary<FaultSet, bool> _known = [];

    /// <summary>Whether some of the faults make every check of the bench show what all of them together do.</summary>
    public bool Hides(FaultSet some)
    {
        if (some.IsEmpty || !some.IsSubsetOf(all)) return false;
        if (!_known.TryGetValue(some, out bool hides)) _known[some] = hides = bench.Candidates.All(c => SameAt(some, c));
        return hides;
    }

    private bool SameAt(FaultSet some, int check) =>
        CheckClasses.Alike(bench.Predict(some, check), bench.Predict(all, check), bench.Predictor.Checks[check]);
}
