using Ventwright.Diagnosis;

namespace Ventwright.Tests.Diagnosis;

/// <summary>A model given by a function, with helpers for faults, checks and readings.</summary>
internal sealed class ToyPredictor(
    IReadOnlyList<FaultEntry> faults, IReadOnlyList<CheckEntry> checks, Func<FaultSet, int, Prediction> predict, int sharedCount = 0) : IFaultPredictor
{
    public IReadOnlyList<FaultEntry> Faults => faults;

    public IReadOnlyList<CheckEntry> Checks => checks;

    public int SharedCount => sharedCount;

    /// <summary>What units with the very faults show; the same where nothing else is said.</summary>
    public Func<FaultSet, int, Prediction>? Closely { get; init; }

    public Prediction Predict(FaultSet set, int check) => predict(set, check);

    public Prediction PredictClosely(FaultSet set, int check) => (Closely ?? predict)(set, check);

    public static FaultEntry Fault(string part, double odds, string text = "bad", double intermittent = 0) =>
        new(part + "." + text, part + "." + text, part, text, odds, IntermittentShare: intermittent);

    public static CheckEntry Volts(string id, double sd = 0.05, double gain = 0, int setting = 0, string? wiggle = null) =>
        new(id, setting, 0, "V", 0, 20, [], 1, wiggle, new(gain, sd, 0));

    public static CheckEntry Words(string id, params string[] words) => new(id, 0, 0, "", 0, 0, words, 1, null, default);

    public static Reading Read(string id, int check, double value) => new(id, check, Outcome.Number(value));

    public static Reading Say(string id, int check, int word) => new(id, check, Outcome.Word(word));

    /// <summary>Options for crisp models: next to no misreads, nothing off the sheet, prior from the odds alone, everything worked out.</summary>
    public static DiagnosisOptions Crisp(int maxFaults) => new()
    {
        PriorNoFault = null,
        PriorOffSheet = 0,
        MisreadShare = 1e-9,
        MaxFaults = maxFaults,
        MaxSets = 100_000,
        MaxInterplay = 100_000,
        KeepFraction = 1e-8,
    };

    /// <summary>Sets that explain every reading without a misread and of which no part does.</summary>
    public static FaultSet[] MinimalExplanations(Posterior posterior)
    {
        FaultSet[] consistent = [.. posterior.Hypotheses.Where(h => h.LogLikelihood > -10).Select(h => h.Current)];
        return [.. consistent.Where(s => !consistent.Any(t => t != s && t.IsSubsetOf(s))).Order()];
    }
}
