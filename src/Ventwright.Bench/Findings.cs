using Ventwright.Diagnosis;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Bench;

/// <summary>A check to make next, or a look round: several checks by eye, ear and hand in one setting.</summary>
/// <param name="Setting">How the unit is to stand.</param>
/// <param name="What">What to look at, or to look at first.</param>
/// <param name="Place">Where that is.</param>
/// <param name="Minutes">How long it takes as the bench stands, everything that is looked at.</param>
/// <param name="Gain">Expected drop of entropy in bits, or share of fault weight that it may rule out.</param>
/// <param name="Proves">True if it is there to prove parts good, false to find the bad one.</param>
/// <param name="Why">The reason in words.</param>
public sealed record Advice(Setting Setting, Observable What, Place Place, double Minutes, double Gain, bool Proves, string Why)
{
    /// <summary>What else to look at in the same setting, in the order that saves steps; mostly nothing.</summary>
    public IReadOnlyList<Observable> Also { get; init; } = [];

    /// <summary>Everything to look at.</summary>
    public IReadOnlyList<Observable> Looks => [What, .. Also];
}

/// <summary>What the readings say.</summary>
/// <param name="Suspects">Lines of suspects: the sets that no check separates, most probable first.</param>
/// <param name="NoFault">Probability that nothing is wrong.</param>
/// <param name="OffSheet">Probability of something that is not on the sheet.</param>
/// <param name="Proof">What is proven.</param>
/// <param name="Next">Checks to make next, best first.</param>
/// <param name="Notes">Readings that fit nothing, readings that contradict each other.</param>
/// <param name="LeftOutAtMost">Largest share of probability that sets not worked out could hold.</param>
public sealed record Findings(
    IReadOnlyList<Suspect> Suspects, double NoFault, double OffSheet, ProofReport Proof, IReadOnlyList<Advice> Next, IReadOnlyList<string> Notes, double LeftOutAtMost)
{
    private const int MostByThemselves = 6;
    private const double UnlikelySet = 0.5, LeastByItself = 0.05;

    /// <summary>Probability of each fault being there, alone or with others, by index.</summary>
    public IReadOnlyList<double> Present { get; init; } = [];

    /// <summary>
    /// The likeliest faults by themselves, where the leading set has several and is itself not likely: which of its faults are the more certain ones is not seen from the sets. Else none.
    /// </summary>
    public IReadOnlyList<int> ByThemselves =>
        Suspects.FirstOrDefault(s => !s.Sets[0].Set.IsEmpty) is { Probability: < UnlikelySet } leader && leader.Sets[0].Set.Count > 1
            ? [.. Enumerable.Range(0, Present.Count).Where(f => Present[f] > LeastByItself).OrderByDescending(f => Present[f]).Take(MostByThemselves)] : [];
}
