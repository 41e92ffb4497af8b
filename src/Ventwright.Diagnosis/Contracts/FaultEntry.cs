namespace Ventwright.Diagnosis;

/// <summary>One way in which a part can be bad. A soft fault (drift, leak) is several entries, one for each size, of one family.</summary>
/// <param name="Id">Name that is unique among all entries, for example <c>Y1.stuck-shut</c>.</param>
/// <param name="Family">Entries of one family are sizes of the same fault: at most one of them is present at a time.</param>
/// <param name="Part">The part that has the fault; a renewal of the part makes all its faults new unknowns.</param>
/// <param name="Text">The fault in the restorer's words.</param>
/// <param name="Odds">Prior odds of being present, p / (1 - p); above 0.</param>
/// <param name="ShowsOnBench">False for a fault that shows only in the car: it is listed, but no part waits for it to be proven.</param>
/// <param name="IntermittentShare">0 for a fault that is always there; else the share of readings in which it shows, above 0 and below 1.</param>
/// <param name="CommonCause">Name of a cause (water, heat) that it shares with other entries, or null. All entries of a family name the same cause.</param>
public sealed record FaultEntry(
    string Id,
    string Family,
    string Part,
    string Text,
    double Odds,
    bool ShowsOnBench = true,
    double IntermittentShare = 0,
    string? CommonCause = null)
{
    /// <summary>The part as a person says it; its id where it has no other name.</summary>
    public string PartName { get; init; } = Part;
}
