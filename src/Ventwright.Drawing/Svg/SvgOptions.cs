namespace Ventwright.Drawing;

/// <summary>What is known of parts beyond what they show.</summary>
/// <param name="Differs">Part, net or hose that is not as it should be, and what was wanted.</param>
/// <param name="Proven">Parts proven good.</param>
/// <param name="CarOnly">Parts of which something can only be seen in the car.</param>
/// <param name="Absent">Parts that are not there.</param>
public sealed record DrawingMarks(
    IReadOnlyDictionary<string, string> Differs, IReadOnlySet<string> Proven, IReadOnlySet<string> CarOnly, IReadOnlySet<string> Absent)
{
    /// <summary>Nothing is known.</summary>
    public static DrawingMarks None { get; } = new(new Dictionary<string, string>(), new HashSet<string>(), new HashSet<string>(), new HashSet<string>());

    /// <summary>Marks for differences alone.</summary>
    public static DrawingMarks Of(IEnumerable<DrawingDifference> differences) =>
        None with { Differs = differences.ToDictionary(d => d.Id, d => d.Wanted, StringComparer.Ordinal) };
}

/// <summary>A change of one element of a drawing.</summary>
/// <param name="Key">The element's <c>data-key</c>.</param>
/// <param name="What">Name of the attribute, or <c>text</c> for what stands in the element.</param>
/// <param name="Value">New value.</param>
public sealed record DrawingPatch(string Key, string What, string Value);
