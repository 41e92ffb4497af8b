namespace Ventwright.Diagnosis;

/// <summary>Something that happened on the bench and bears on the diagnosis.</summary>
/// <param name="Id">Name of the event, unique in the session, by which it can be taken back.</param>
public abstract record EvidenceEvent(string Id);

/// <summary>A reading was taken, or a symptom was told in words.</summary>
/// <param name="Id">Name of the event.</param>
/// <param name="Check">Index of the check.</param>
/// <param name="Outcome">What was read.</param>
/// <param name="Meter">Meter that was used; null for the check's own.</param>
/// <param name="MisreadShare">Share of misreads, 0 to 1; null for the usual one. Symptoms carry a larger share.</param>
public sealed record Reading(string Id, int Check, Outcome Outcome, MeterAccuracy? Meter = null, double? MisreadShare = null) : EvidenceEvent(Id)
{
    /// <summary>Share of misreads among symptoms: people tell what they noticed some time, in a setting that they remember (no source).</summary>
    public const double SymptomMisreadShare = 0.15;

    /// <summary>A symptom in words: a weak reading of a check that has words.</summary>
    public static Reading Symptom(string id, int check, int word, double misreadShare = SymptomMisreadShare) =>
        new(id, check, Outcome.Word(word), null, misreadShare);

    /// <summary>True for what was told rather than read.</summary>
    public bool IsSymptom => MisreadShare >= SymptomMisreadShare;
}

/// <summary>A part was repaired or replaced: from here on it is a new unknown. Earlier readings are judged with the part as it was then.</summary>
/// <param name="Id">Name of the event.</param>
/// <param name="Part">The part.</param>
/// <param name="OddsFactor">Factor on the prior odds of all faults of the part; below 1 for a part that is likely good, above 0.</param>
public sealed record Renewal(string Id, string Part, double OddsFactor) : EvidenceEvent(Id);
