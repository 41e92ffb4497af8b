namespace Ventwright.Diagnosis;

/// <summary>Accuracy of the meter that a reading is taken with.</summary>
/// <param name="RelativeGain">Standard deviation of the gain error, as a fraction; one error for all readings with the same meter.</param>
/// <param name="Absolute">Standard deviation of the rest, in the check's unit; fresh at each reading; above 0 for number checks.</param>
/// <param name="MeterId">Readings with the same id share their gain error; 0 or more.</param>
public readonly record struct MeterAccuracy(double RelativeGain, double Absolute, int MeterId);

/// <summary>One thing that can be measured or watched in one setting of the bench.</summary>
/// <param name="Id">Unique name.</param>
/// <param name="Setting">Index of the bench setting; predictions are asked grouped by it.</param>
/// <param name="Place">Index of the place where the probe goes.</param>
/// <param name="Unit">Unit of the reading; empty for words.</param>
/// <param name="RangeLow">Lowest number that the meter can show; numbers beyond the range read as its end.</param>
/// <param name="RangeHigh">Highest number that the meter can show; above <paramref name="RangeLow"/> for number checks.</param>
/// <param name="Words">The words to choose from; empty for a number check.</param>
/// <param name="ReadMinutes">Minutes for the reading alone.</param>
/// <param name="WigglePart">Part that is wiggled or warmed during the reading, so that its intermittent faults show more often; or null.</param>
/// <param name="Meter">Meter that the check is normally read with.</param>
public sealed record CheckEntry(
    string Id,
    int Setting,
    int Place,
    string Unit,
    double RangeLow,
    double RangeHigh,
    IReadOnlyList<string> Words,
    double ReadMinutes,
    string? WigglePart,
    MeterAccuracy Meter)
{
    /// <summary>True when the outcome is a number rather than a word.</summary>
    public bool IsNumber => Words.Count == 0;
}
