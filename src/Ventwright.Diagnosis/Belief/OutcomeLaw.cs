namespace Ventwright.Diagnosis;

/// <summary>Densities of outcomes that do not depend on numbers being right: broad guesses, words, unsteady meters.</summary>
internal static class OutcomeLaw
{
    /// <summary>Density (per unit) or probability of an outcome when anything may be shown.</summary>
    public static double Broad(CheckEntry check, Outcome outcome, DiagnosisOptions options)
    {
        double unsteady = options.BroadUnsteadyShare;
        return outcome.Kind switch
        {
            OutcomeKind.Unsteady => unsteady,
            OutcomeKind.Number => (1 - unsteady) / (check.RangeHigh - check.RangeLow),
            _ => (1 - unsteady) / check.Words.Count,
        };
    }

    /// <summary>Density or probability of an outcome under a component that is not a number.</summary>
    public static double Plain(in Component component, CheckEntry check, Outcome outcome, DiagnosisOptions options) => component.Kind switch
    {
        ComponentKind.Unknown => Broad(check, outcome, options),
        ComponentKind.Words => outcome.Kind == OutcomeKind.Word && outcome.WordIndex == component.Word ? 1 : 0,
        ComponentKind.Unsteady => outcome.Kind switch
        {
            OutcomeKind.Unsteady => 1 - options.UnsteadyReadAsNumber,
            OutcomeKind.Number => options.UnsteadyReadAsNumber / (check.RangeHigh - check.RangeLow),
            _ => options.UnsteadyReadAsNumber / check.Words.Count,
        },
        _ => 0,
    };

    /// <summary>Density of a normal variable.</summary>
    public static double Normal(double deviation, double variance) =>
        Math.Exp(-0.5 * deviation * deviation / variance) / Math.Sqrt(2 * Math.PI * variance);
}
