using Ventwright.Bench;
using Ventwright.Diagnosis;
using Ventwright.Model.Kernel;
using Ventwright.Quantities;
using Ventwright.Simulation;

namespace Ventwright.Reports;

/// <summary>A reading that went into the diagnosis.</summary>
/// <param name="Number">Its number in the record.</param>
/// <param name="Setting">How the unit stood.</param>
/// <param name="What">What was looked at.</param>
public sealed record TakenReading(int Number, Setting Setting, Observable What);

/// <summary>What the readings of a session say, in words.</summary>
/// <param name="Suspects">What may be wrong, most probable first.</param>
/// <param name="OffSheet">Probability of something that is not on the sheet, 0 to 1.</param>
/// <param name="Parts">What is known of each part.</param>
/// <param name="Coverage">Share of the weight of all faults that show on the bench that is ruled out, 0 to 1.</param>
/// <param name="Notes">Remarks on single readings.</param>
public sealed record SessionFindings(IReadOnlyList<ReportSuspect> Suspects, double OffSheet, IReadOnlyList<ReportPart> Parts, double Coverage, IReadOnlyList<string> Notes)
{
    private const double LeastShown = 0.005;
    private const int MostSuspects = 10, MostAlike = 3;

    /// <summary>Puts a diagnosis into words.</summary>
    /// <param name="model">The unit.</param>
    /// <param name="bench">The diagnosis.</param>
    /// <param name="findings">What it found.</param>
    /// <param name="readings">The readings that it took.</param>
    /// <param name="renewedAt">For each part that was repaired or exchanged, the number of the last such entry: only later readings speak on it.</param>
    /// <param name="shownByNone">Faults that no check on the bench shows; empty when that was not worked out.</param>
    public static SessionFindings Of(
        UnitModel model, BenchDiagnosis bench, Findings findings, IReadOnlyList<TakenReading> readings, IReadOnlyDictionary<string, int> renewedAt, IReadOnlyCollection<Fault> shownByNone)
    {
        ArgumentNullException.ThrowIfNull(findings);
        var words = new UnitWords(model, UnitSystem.Metric);
        var evidence = new Evidence(bench, readings);
        ReportSuspect[] suspects = [.. findings.Suspects.Where(s => s.Probability >= LeastShown).Take(MostSuspects).Select(s => Suspect(model, words, s))];
        ReportPart[] parts = [.. findings.Proof.Parts.Select(p => new ReportPart(
            words.Part(p.Part), p.Proven, evidence.On(model, p.Part, renewedAt.GetValueOrDefault(p.Part)), Open(model, findings.Proof, p, shownByNone)))];
        return new(suspects, findings.OffSheet, parts, findings.Proof.Coverage, findings.Notes);
    }

    private static ReportSuspect Suspect(UnitModel model, UnitWords words, Suspect suspect)
    {
        string Name(FaultSet set) => set.IsEmpty ? "nothing wrong" : string.Join(" with ", set.Select(f => words.Fault(model.Faults[f])));
        FaultSet first = suspect.Sets[0].Set;
        string[] alike = [.. suspect.Sets.Skip(1).Where(s => s.Probability > 0.05 * suspect.Probability).Select(s => Name(s.Set))];
        string more = alike.Length > MostAlike ? $" or {alike.Length - MostAlike} more" : "";
        string or = alike.Length == 0 ? "" : $"; no check tells it from {string.Join(" or ", alike.Take(MostAlike))}{more}";
        return new(Name(first) + or, suspect.Probability, string.Join("; ", first.Select(f => model.Faults[f].Symptom)));
    }

    private static OpenFault[] Open(UnitModel model, ProofReport proof, PartProof part, IReadOnlyCollection<Fault> shownByNone)
    {
        OpenReason Why(int fault) =>
            proof.Faults[fault].Suspected ? OpenReason.Suspected : shownByNone.Contains(model.Faults[fault]) ? OpenReason.NotOnBench : OpenReason.NotYet;
        IEnumerable<OpenFault> bench = part.Open.Select(f => new OpenFault(UnitWords.FaultName(model.Faults[f]), Why(f)));
        return [.. bench, .. part.OnlyInCar.Select(f => new OpenFault(UnitWords.FaultName(model.Faults[f]), OpenReason.OnlyInCar))];
    }
}
