namespace Ventwright.Bench;

/// <summary>What is put into the units of a study.</summary>
public enum StudyFaults
{
    /// <summary>One fault that is always there.</summary>
    Single,

    /// <summary>Two faults of different families.</summary>
    Double,

    /// <summary>Two faults of which one hides the other in some setting.</summary>
    Masked,

    /// <summary>Two faults; the first part that is found is repaired, and the search goes on.</summary>
    Repair,

    /// <summary>One fault that shows in a share of the readings.</summary>
    Intermittent,

    /// <summary>A part far off its value in a way that the sheet does not list.</summary>
    OffSheet,
}

/// <summary>How the next check is chosen in a study.</summary>
public enum StudyOrder
{
    /// <summary>As the program suggests.</summary>
    Suggested,

    /// <summary>As the program suggests when it looks two checks ahead.</summary>
    TwoAhead,

    /// <summary>At random among all checks.</summary>
    Random,

    /// <summary>By the shortest bench test, from its first check to its last.</summary>
    Plan,
}

/// <summary>How a case of the study went.</summary>
/// <param name="Truth">The faults that were put in.</param>
/// <param name="Leader">The line that ranks first at the end.</param>
/// <param name="Found">
/// Whether that line names the true faults or the group that no check separates them from, such as a main fuse that hides the other fault until it is replaced; for repairs, whether all were found one by one.
/// </param>
/// <param name="Probability">Probability of that line.</param>
/// <param name="OffSheet">Probability of something off the sheet at the end.</param>
/// <param name="Checks">Checks made, a look round counted as one.</param>
/// <param name="Readings">Readings taken, each look of a round counted.</param>
/// <param name="Minutes">Minutes as the sheet's costs have it.</param>
/// <param name="Claims">After each check, for a line of faults given at least half: its probability, and whether all the faults that it names were there.</param>
/// <param name="Log">The readings in order: check, what was read, what the truth and the sound unit would show.</param>
public sealed record StudyCase(
    IReadOnlyList<string> Truth, string Leader, bool Found, double Probability, double OffSheet, int Checks, int Readings, double Minutes,
    IReadOnlyList<(double Probability, bool True)> Claims, IReadOnlyList<string> Log);
