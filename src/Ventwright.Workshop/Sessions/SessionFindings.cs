using Ventwright.Bench;
using Ventwright.Diagnosis;
using Ventwright.Model.Kernel;
using Ventwright.Quantities;
using Ventwright.Simulation;

namespace Ventwright.Workshop;

/// <summary>A fault of a suspected set, with the reading that speaks for it.</summary>
/// <param name="Fault">Index of the fault.</param>
/// <param name="Part">Id of its part.</param>
/// <param name="Title">The part's name, its id, what is wrong with it.</param>
/// <param name="Got">What was read that speaks most for it, given the others; null when no reading does.</param>
/// <param name="Sound">What a sound unit shows there; null when no reading speaks for it.</param>
public sealed record SuspectedFault(int Fault, string Part, string Title, string? Got, Band? Sound)
{
    /// <summary>Why it is suspected, in one line.</summary>
    /// <param name="model">The unit.</param>
    /// <param name="units">Units to write in.</param>
    public string Reason(UnitModel model, UnitSystem units) => Got is null || Sound is null ? "no reading speaks against it yet"
        : $"{CheckAnswer.Of(model, Sound.What, Got)}; a sound unit shows {Judgement.Text(Sound, units)}";
}

/// <summary>A line of suspects in words.</summary>
/// <param name="Faults">The faults of the most probable set; none for "nothing wrong".</param>
/// <param name="Probability">Probability of the line.</param>
/// <param name="Symptom">What one would notice.</param>
/// <param name="Alike">Other sets that no check tells from it.</param>
public sealed record SuspectLine(IReadOnlyList<SuspectedFault> Faults, double Probability, string Symptom, IReadOnlyList<string> Alike)
{
    /// <summary>The line in one phrase.</summary>
    public string Title => Faults.Count == 0 ? "nothing wrong has shown" : string.Join(" with ", Faults.Select(f => f.Title));

    /// <summary>Ids of the parts of the most probable set.</summary>
    public IReadOnlyList<string> Parts => [.. Faults.Select(f => f.Part).Distinct(StringComparer.Ordinal)];
}

/// <summary>What the readings of a session say, in words.</summary>
/// <param name="Findings">The findings.</param>
/// <param name="Suspects">Suspects that are worth a line, most probable first; "nothing wrong" is one of them.</param>
/// <param name="Notes">Readings that fit nothing or contradict each other.</param>
public sealed record SessionFindings(Findings Findings, IReadOnlyList<SuspectLine> Suspects, IReadOnlyList<string> Notes)
{
    /// <summary>Next checks that are asked for.</summary>
    internal const int MostSuggestions = 48;

    private const int MostLines = 8, MostAlike = 4;
    private const double LeastNamed = 0.004, LeastShown = 1.5;

    /// <summary>Asks a diagnosis and puts the answer in words.</summary>
    internal static SessionFindings Of(UnitOnSheet unit, BenchDiagnosis bench, IReadOnlyList<SessionEvent> evidence)
    {
        Findings findings = bench.Find(MostSuggestions);
        WrittenReading[] readings = [.. evidence.Select(e => WrittenReading.Of(unit, e)).OfType<WrittenReading>()];
        Suspect[] lines = [.. findings.Suspects.Take(MostLines).Where((s, i) => i < 3 || s.Probability > LeastNamed)];
        return new(findings, [.. lines.Select(s => Line(unit, bench, readings, s))], findings.Notes);
    }

    /// <summary>What a list of evidence says on a unit, worked out from nothing. Takes from seconds to a minute or two.</summary>
    public static SessionFindings Of(UnitOnSheet unit, IReadOnlyList<SessionEvent> evidence)
    {
        BenchDiagnosis bench = unit.NewDiagnosis();
        foreach (SessionEvent entry in evidence) WrittenEntries.Apply(bench, unit.Model, entry);
        return Of(unit, bench, evidence);
    }

    private static SuspectLine Line(UnitOnSheet unit, BenchDiagnosis bench, WrittenReading[] readings, Suspect suspect)
    {
        UnitModel model = unit.Model;
        FaultSet set = suspect.Sets[0].Set;
        string[] alike = [.. suspect.Sets.Skip(1).Where(s => s.Probability > 0.05 * suspect.Probability).Take(MostAlike).Select(s => CheckTitles.OfFaults(model, s.Set))];
        string symptom = string.Join("; ", set.Select(f => model.Faults[f].Symptom).Distinct());
        return new([.. set.Select(f => Suspected(unit, bench, readings, set, f))], suspect.Probability, symptom, alike);
    }

    private static SuspectedFault Suspected(UnitOnSheet unit, BenchDiagnosis bench, WrittenReading[] readings, FaultSet set, int fault)
    {
        FaultSet others = set.Without(fault);
        var best = readings.Select(r => (Reading: r, Gain: Misfit(bench, others, r) - Misfit(bench, set, r))).DefaultIfEmpty().MaxBy(r => r.Gain);
        WrittenReading? speaks = best.Gain < LeastShown ? null : best.Reading;
        Fault known = unit.Model.Faults[fault];
        return new(fault, unit.Model.Parts[known.Part].Id, CheckTitles.FaultTitle(unit.Model, known), speaks?.Got, speaks is null ? null : unit.Expect(speaks.Setting, speaks.What));
    }

    /// <summary>How badly a set of faults fits a reading, in squares of standard deviations; rough, for choosing words only.</summary>
    private static double Misfit(BenchDiagnosis bench, FaultSet set, WrittenReading reading)
    {
        PredictionComponent main = bench.Predict(set, reading.Check).Components[0];
        CheckEntry check = bench.Predictor.Checks[reading.Check];
        const double worst = 50, steadyOnFloating = 8;
        if (main.Kind == ComponentKind.Words) return reading.Outcome.Kind == OutcomeKind.Word ? -2 * Math.Log(Math.Max(1e-6, main.WordShares[reading.Outcome.WordIndex])) : worst;
        if (main.Kind != ComponentKind.Number) return reading.Outcome.Kind == OutcomeKind.Unsteady ? 0 : steadyOnFloating;
        if (reading.Outcome.Kind != OutcomeKind.Number) return worst;
        double variance = Math.Pow(check.Meter.Absolute, 2) + Math.Pow(check.Meter.RelativeGain * main.Mean, 2) + (main.Sd * main.Sd) + main.Shared.Sum(s => s * s);
        return Math.Min(worst, Math.Pow(reading.Outcome.Value - main.Mean, 2) / Math.Max(variance, 1e-12));
    }

    private sealed record WrittenReading(Setting Setting, Observable What, Outcome Outcome, string Got, int Check)
    {
        public static WrittenReading? Of(UnitOnSheet unit, SessionEvent entry)
        {
            ReadingBody? body = entry.Kind == SessionEventKind.Reading ? WrittenEntries.Body<ReadingBody>(entry) : WrittenEntries.Told(entry);
            if (body is null) return null;
            (Setting setting, Observable what, Outcome outcome) = WrittenEntries.Check(unit.Model, body.Set.Select(s => (s.Key, s.Value)), body.At, body.Got);
            return new(setting, what, outcome, body.Got, unit.Predictor.Check(setting, what));
        }
    }
}
