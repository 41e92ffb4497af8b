using Ventwright.Bench;
using Ventwright.Diagnosis;
using Ventwright.Model.Kernel;
using Ventwright.Quantities;
using Ventwright.Simulation;

namespace Ventwright.Workshop;

/// <summary>A line of suspects in words.</summary>
/// <param name="Title">The most probable set, name first.</param>
/// <param name="Probability">Probability of the line.</param>
/// <param name="Reason">Which reading speaks for it, or that none does yet.</param>
/// <param name="Symptom">What one would notice.</param>
/// <param name="Parts">Ids of the parts of the most probable set.</param>
/// <param name="Faults">Indices of its faults.</param>
/// <param name="Alike">Other sets that no check tells from it.</param>
public sealed record SuspectLine(
    string Title, double Probability, string Reason, string Symptom, IReadOnlyList<string> Parts, IReadOnlyList<int> Faults, IReadOnlyList<string> Alike);

/// <summary>What the readings of a session say, in words.</summary>
/// <param name="Findings">The findings.</param>
/// <param name="Suspects">Suspects that are worth a line, most probable first; "nothing wrong" is one of them.</param>
/// <param name="Notes">Readings that fit nothing or contradict each other.</param>
public sealed record SessionFindings(Findings Findings, IReadOnlyList<SuspectLine> Suspects, IReadOnlyList<string> Notes)
{
    private const int MostLines = 8, MostAlike = 4, MostSuggestions = 48;
    private const double LeastNamed = 0.004, LeastShown = 1.5;

    /// <summary>Asks a diagnosis and puts the answer in words. The caller holds the unit's turn.</summary>
    internal static SessionFindings Of(UnitOnSheet unit, BenchDiagnosis bench, IReadOnlyList<SessionEvent> evidence)
    {
        Findings findings = bench.Find(MostSuggestions);
        WrittenReading[] readings = [.. evidence.Where(e => e.Kind == SessionEventKind.Reading).Select(e => WrittenReading.Of(unit, e))];
        Suspect[] lines = [.. findings.Suspects.Take(MostLines).Where((s, i) => i < 3 || s.Probability > LeastNamed)];
        return new(findings, [.. lines.Select(s => Line(unit, readings, s))], findings.Notes);
    }

    /// <summary>What a list of evidence says on a unit, worked out from nothing. Takes from seconds to a minute or two.</summary>
    public static SessionFindings Of(UnitOnSheet unit, IReadOnlyList<SessionEvent> evidence) => unit.Ask(bench =>
    {
        foreach (SessionEvent entry in evidence) WrittenEntries.Apply(bench, unit.Model, entry);
        return Of(unit, bench, evidence);
    });

    private static SuspectLine Line(UnitOnSheet unit, WrittenReading[] readings, Suspect suspect)
    {
        UnitModel model = unit.Model;
        FaultSet set = suspect.Sets[0].Set;
        string[] alike = [.. suspect.Sets.Skip(1).Where(s => s.Probability > 0.05 * suspect.Probability).Take(MostAlike).Select(s => CheckTitles.OfFaults(model, s.Set))];
        string symptom = string.Join("; ", set.Select(f => model.Faults[f].Symptom).Distinct());
        return new(
            CheckTitles.OfFaults(model, set), suspect.Probability, Reason(unit, readings, set), symptom, [.. set.Select(f => model.Parts[model.Faults[f].Part].Id).Distinct()], [.. set], alike);
    }

    /// <summary>The reading that speaks most for a set of faults against the sound unit.</summary>
    private static string Reason(UnitOnSheet unit, WrittenReading[] readings, FaultSet set)
    {
        if (set.IsEmpty) return readings.Length == 0 ? "before the first reading" : "the readings are those of a sound unit";
        var best = readings.Select(r => (Reading: r, Gain: Misfit(unit, FaultSet.None, r) - Misfit(unit, set, r))).DefaultIfEmpty().MaxBy(r => r.Gain);
        if (best.Reading is null || best.Gain < LeastShown) return "no reading speaks against it yet";
        return $"explains {best.Reading.Got} at {best.Reading.What}; sound would be {ReadingWords.Of(unit.Expect(best.Reading.Setting, best.Reading.What), UnitSystem.Metric)}";
    }

    /// <summary>How badly a set of faults fits a reading, in squares of standard deviations; rough, for choosing words only.</summary>
    private static double Misfit(UnitOnSheet unit, FaultSet set, WrittenReading reading)
    {
        PredictionComponent main = unit.Predictor.Predict(set, reading.Check).Components[0];
        CheckEntry check = unit.Predictor.Checks[reading.Check];
        const double worst = 50;
        if (main.Kind == ComponentKind.Words) return reading.Outcome.Kind == OutcomeKind.Word ? -2 * Math.Log(Math.Max(1e-6, main.WordShares[reading.Outcome.WordIndex])) : worst;
        if (main.Kind != ComponentKind.Number) return reading.Outcome.Kind == OutcomeKind.Unsteady ? 0 : worst;
        if (reading.Outcome.Kind != OutcomeKind.Number) return worst;
        double variance = Math.Pow(check.Meter.Absolute, 2) + Math.Pow(check.Meter.RelativeGain * main.Mean, 2) + (main.Sd * main.Sd) + main.Shared.Sum(s => s * s);
        return Math.Min(worst, Math.Pow(reading.Outcome.Value - main.Mean, 2) / Math.Max(variance, 1e-12));
    }

    private sealed record WrittenReading(Setting Setting, Observable What, Outcome Outcome, string Got, int Check)
    {
        public static WrittenReading Of(UnitOnSheet unit, SessionEvent entry)
        {
            ReadingBody body = WrittenEntries.Body<ReadingBody>(entry);
            (Setting setting, Observable what, Outcome outcome) = WrittenEntries.Check(unit.Model, body.Set.Select(s => (s.Key, s.Value)), body.At, body.Got);
            return new(setting, what, outcome, body.Got, unit.Predictor.Check(setting, what));
        }
    }
}
