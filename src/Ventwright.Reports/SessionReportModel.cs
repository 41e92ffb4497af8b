namespace Ventwright.Reports;

/// <summary>Whether a reading is what a sound unit shows.</summary>
public enum ReadingVerdict
{
    /// <summary>It is.</summary>
    AsExpected,

    /// <summary>It is not.</summary>
    Differs,

    /// <summary>There is nothing to hold it against.</summary>
    NotJudged,
}

/// <summary>Why a fault is not ruled out.</summary>
public enum OpenReason
{
    /// <summary>The readings speak for it.</summary>
    Suspected,

    /// <summary>It has not been looked for yet, or the readings leave it open.</summary>
    NotYet,

    /// <summary>No check on the bench shows it.</summary>
    NotOnBench,

    /// <summary>It shows only in the car.</summary>
    OnlyInCar,
}

/// <summary>Everything that a bench report says. Plain data: whoever keeps the records fills it.</summary>
/// <param name="Title">What the person calls the session.</param>
/// <param name="Unit">Name of the unit.</param>
/// <param name="By">Who did it.</param>
/// <param name="Started">First day.</param>
/// <param name="Ended">Last day; also the date of the file.</param>
/// <param name="Readings">Readings in the order in which they were taken.</param>
/// <param name="Events">Repairs, exchanges and notes in order.</param>
/// <param name="Findings">What the readings say.</param>
/// <param name="CoverageAfter">Coverage after each reading, 0 to 1; may be empty.</param>
/// <param name="DrawingSvg">A drawing of the unit as SVG text, or null.</param>
public sealed record SessionReportModel(
    string Title, string Unit, string By, DateOnly Started, DateOnly Ended, IReadOnlyList<ReportReading> Readings, IReadOnlyList<ReportEvent> Events,
    SessionFindings Findings, IReadOnlyList<double> CoverageAfter, string? DrawingSvg = null);

/// <summary>A reading in a report.</summary>
/// <param name="Number">Its number in the record.</param>
/// <param name="Setting">How the unit stood, in words.</param>
/// <param name="Check">What was looked at, in words.</param>
/// <param name="Got">What was read.</param>
/// <param name="Expected">What a sound unit shows.</param>
/// <param name="Verdict">Whether they agree.</param>
public sealed record ReportReading(int Number, string Setting, string Check, string Got, string Expected, ReadingVerdict Verdict);

/// <summary>Something that was done to the unit, or noted.</summary>
/// <param name="Number">Its number in the record.</param>
/// <param name="Date">When.</param>
/// <param name="Text">What, in words.</param>
/// <param name="By">Who.</param>
public sealed record ReportEvent(int Number, DateOnly Date, string Text, string By);

/// <summary>A line of suspects.</summary>
/// <param name="Name">What may be wrong, in words.</param>
/// <param name="Probability">How probable, 0 to 1.</param>
/// <param name="Sign">What one would notice.</param>
public sealed record ReportSuspect(string Name, double Probability, string Sign);

/// <summary>A fault that is not ruled out.</summary>
/// <param name="Name">Name in words.</param>
/// <param name="Why">Why not.</param>
public sealed record OpenFault(string Name, OpenReason Why);

/// <summary>What is known of a part.</summary>
/// <param name="Name">Name with id.</param>
/// <param name="Proven">Whether all its faults that show on the bench are ruled out.</param>
/// <param name="By">Numbers of the readings that speak on it.</param>
/// <param name="Open">Its faults that are not ruled out.</param>
public sealed record ReportPart(string Name, bool Proven, IReadOnlyList<int> By, IReadOnlyList<OpenFault> Open);
