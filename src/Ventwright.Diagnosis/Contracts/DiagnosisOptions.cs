namespace Ventwright.Diagnosis;

/// <summary>Stated assumptions and limits of a diagnosis.</summary>
public sealed record DiagnosisOptions
{
    /// <summary>Prior probability that nothing is wrong; null to let the odds of the faults alone decide.</summary>
    public double? PriorNoFault { get; init; } = 0.1;

    /// <summary>Prior probability of something that is not on the sheet; 0 to leave it out.</summary>
    public double PriorOffSheet { get; init; } = 0.02;

    /// <summary>Shares of checks that something off the sheet may disturb; the prior is divided evenly between them.</summary>
    public IReadOnlyList<double> OffSheetShares { get; init; } = [0.05, 0.2, 0.5];

    /// <summary>Share of misreads, spread evenly over the meter's range.</summary>
    public double MisreadShare { get; init; } = 0.01;

    /// <summary>Share of "unsteady" among broad outcomes of number checks.</summary>
    public double BroadUnsteadyShare { get; init; } = 0.05;

    /// <summary>Share of cases in which a person writes down some number although the meter shows nothing steady.</summary>
    public double UnsteadyReadAsNumber { get; init; } = 0.2;

    /// <summary>Factor on the odds of a set for each member beyond the first that shares a common cause.</summary>
    public double CommonCauseFactor { get; init; } = 5;

    /// <summary>Share of readings in which an intermittent fault shows while its part is wiggled.</summary>
    public double WiggleShare { get; init; } = 0.8;

    /// <summary>Largest number of faults in a set; each renewal of a part allows one more, up to two.</summary>
    public int MaxFaults { get; init; } = 3;

    /// <summary>Largest number of sets of two or more faults that are worked out.</summary>
    public int MaxSets { get; init; } = 1500;

    /// <summary>Largest number of pairs that are worked out only because their faults might explain the readings by acting on each other; a quarter of it for larger sets.</summary>
    public int MaxInterplay { get; init; } = 200;

    /// <summary>A set is worked out when it might reach this fraction of the leader.</summary>
    public double KeepFraction { get; init; } = 1e-3;

    /// <summary>A fault is ruled out when adding it makes the readings at least this much less likely under every credible set.</summary>
    public double RuledOutRatio { get; init; } = 1.0 / 30;

    /// <summary>Credible sets hold together at least this probability.</summary>
    public double CredibleShare { get; init; } = 0.95;

    /// <summary>Largest number of credible sets.</summary>
    public int MaxCredible { get; init; } = 12;

    /// <summary>Suspects are settled, and checks are chosen to prove parts, once the leading line has this probability.</summary>
    public double SettledShare { get; init; } = 0.95;

    /// <summary>Width of what a person can tell apart, in standard deviations of the reading.</summary>
    public double DistinctSigmas { get; init; } = 3;
}
