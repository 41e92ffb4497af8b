namespace Ventwright.Diagnosis;

/// <summary>A check as a plan sees it.</summary>
/// <param name="Check">Index by which the caller knows it.</param>
/// <param name="Shows">Faults that it shows, as indices into <see cref="CoverProblem.FaultWeights"/>.</param>
/// <param name="ReadMinutes">Minutes for the reading alone.</param>
/// <param name="Setting">Setting that it needs, as an index into <see cref="CoverProblem.SettingMinutes"/>.</param>
/// <param name="Places">Places that must be opened, as indices into <see cref="CoverProblem.PlaceMinutes"/>.</param>
public sealed record CoverCheck(int Check, IReadOnlyList<int> Shows, double ReadMinutes, int Setting, IReadOnlyList<int> Places);

/// <summary>What a plan has to cover.</summary>
/// <param name="Checks">Checks to choose from.</param>
/// <param name="FaultWeights">Prior weight of each fault.</param>
/// <param name="SettingMinutes">Minutes to make each setting; paid once.</param>
/// <param name="PlaceMinutes">Minutes to open each place; paid once.</param>
public sealed record CoverProblem(
    IReadOnlyList<CoverCheck> Checks,
    IReadOnlyList<double> FaultWeights,
    IReadOnlyList<double> SettingMinutes,
    IReadOnlyList<double> PlaceMinutes);

/// <summary>A list of checks and what it is worth.</summary>
/// <param name="Checks">Chosen checks, by setting and then by index.</param>
/// <param name="Minutes">Minutes of the plan.</param>
/// <param name="ShownWeight">Weight of the faults that it shows.</param>
/// <param name="Bound">
/// Proven limit: no plan that shows everything takes fewer minutes than this or, for a plan within a time, no plan shows more weight than this.
/// </param>
/// <param name="Gap">Difference between the plan and the bound as a fraction of the larger; 0 for a plan that is proven best.</param>
/// <param name="NotShown">Faults that the plan does not show.</param>
/// <param name="ShownByNone">Faults that no check shows.</param>
public sealed record CoverPlan(
    IReadOnlyList<int> Checks,
    double Minutes,
    double ShownWeight,
    double Bound,
    double Gap,
    IReadOnlyList<int> NotShown,
    IReadOnlyList<int> ShownByNone);

/// <summary>Faults that checks cannot tell apart.</summary>
public static class FaultClasses
{
    /// <summary>Classes of two or more faults with the same outcome at every check, in order of their first fault.</summary>
    /// <param name="outcomeClasses">For each fault, the class of its predicted outcome at each check.</param>
    public static IReadOnlyList<IReadOnlyList<int>> Identical(IReadOnlyList<IReadOnlyList<int>> outcomeClasses) =>
        [.. outcomeClasses.Select((signature, fault) => (Key: string.Join(',', signature), Fault: fault))
            .GroupBy(p => p.Key, StringComparer.Ordinal).Where(g => g.Count() > 1)
            .Select(g => (IReadOnlyList<int>)[.. g.Select(p => p.Fault)])];
}
