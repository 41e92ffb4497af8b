using System.Globalization;
using System.Text.Json;
using Ventwright.Bench;
using Ventwright.Diagnosis;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Workshop;

/// <summary>Gives what was written down to a running diagnosis.</summary>
public static class WrittenEntries
{
    private const double OddsAfterRepair = 0.3, OddsAfterSwap = 0.5;

    /// <summary>Takes a reading as written.</summary>
    /// <exception cref="RefusedException">Something about it cannot be.</exception>
    public static void Take(BenchDiagnosis bench, UnitModel model, string id, IEnumerable<(string Name, string Value)> set, string at, string got, string? accuracy = null)
    {
        (Setting setting, Observable what, Outcome outcome) = Check(model, set, at, got);
        bench.Take(id, setting, what, outcome, accuracy is null ? null : Meter(bench.Meters, accuracy, what, outcome));
    }

    /// <summary>The meter by the accuracy that was written beside a reading.</summary>
    /// <exception cref="RefusedException">It cannot be read, or the check is told in words.</exception>
    public static MeterAccuracy Meter(Meters meters, string accuracy, Observable what, Outcome outcome)
    {
        ArgumentNullException.ThrowIfNull(meters);
        return meters.TryRead(accuracy, what, outcome, out MeterAccuracy meter, out string? problem) ? meter : throw new RefusedException(problem ?? $"'{accuracy}' is no accuracy");
    }

    /// <summary>Reads a reading as written.</summary>
    /// <exception cref="RefusedException">Something about it cannot be.</exception>
    public static (Setting Setting, Observable What, Outcome Outcome) Check(UnitModel model, IEnumerable<(string Name, string Value)> set, string at, string got)
    {
        Observable what = CheckNames.Parse(model, at);
        Setting setting = SettingWords.Make(model, set);
        if (!Bench.ReadingText.TryRead(model, what, got, out Outcome outcome, out string? problem)) throw new RefusedException(problem ?? $"'{got}' is no reading");
        return (setting, what, outcome);
    }

    /// <summary>Reads a symptom as written: a check that is told in words.</summary>
    /// <exception cref="RefusedException">Something about it cannot be.</exception>
    public static (Setting Setting, Observable What, Outcome Outcome) CheckSymptom(UnitModel model, IEnumerable<(string Name, string Value)> set, string at, string got)
    {
        var check = Check(model, set, at, got);
        if (Readings.WordsOf(model, check.What).Count == 0) throw new RefusedException($"{at} is told in numbers; a symptom is told in words, such as `none` at airflow(...), or taken as a reading");
        return check;
    }

    /// <summary>The check and the word of a symptom; null for other entries, and for a symptom in the person's own words.</summary>
    public static ReadingBody? Told(SessionEvent entry) =>
        entry.Kind == SessionEventKind.Symptom && Body<ReadingBody>(entry) is { At: not null, Got: not null, Set: not null } told ? told : null;

    /// <summary>Gives an entry to a running diagnosis; entries that do not bear on it are passed over.</summary>
    public static void Apply(BenchDiagnosis bench, UnitModel model, SessionEvent entry)
    {
        string id = entry.Number.ToString(CultureInfo.InvariantCulture);
        if (Told(entry) is { } symptom)
        {
            (Setting setting, Observable what, Outcome outcome) = CheckSymptom(model, symptom.Set.Select(s => (s.Key, s.Value)), symptom.At, symptom.Got);
            bench.TakeSymptom(id, setting, what, outcome);
        }
        else if (entry.Kind == SessionEventKind.Reading && Body<ReadingBody>(entry) is { } reading)
            Take(bench, model, id, reading.Set.Select(s => (s.Key, s.Value)), reading.At, reading.Got, reading.Accuracy);
        else if (entry.Kind is SessionEventKind.Repaired or SessionEventKind.Swapped && Body<PartBody>(entry) is { } renewed)
            bench.Renew(id, renewed.Part, entry.Kind == SessionEventKind.Repaired ? OddsAfterRepair : OddsAfterSwap);
    }

    /// <summary>Whether an entry bears on the diagnosis.</summary>
    public static bool IsEvidence(SessionEvent entry) =>
        !entry.Undone && (entry.Kind is SessionEventKind.Reading or SessionEventKind.Repaired or SessionEventKind.Swapped || Told(entry) is not null);

    /// <summary>Why an entry that bears on the diagnosis cannot be read with a unit's sheet, in words; null when it can.</summary>
    public static string? Misfit(UnitModel model, SessionEvent entry)
    {
        try
        {
            if (entry.Kind == SessionEventKind.Reading)
            {
                ReadingBody body = Body<ReadingBody>(entry);
                Check(model, body.Set.Select(s => (s.Key, s.Value)), body.At, body.Got);
            }

            return entry.Kind is SessionEventKind.Repaired or SessionEventKind.Swapped ? CheckNames.Unknown("part", Body<PartBody>(entry).Part, [.. model.Parts.Select(p => p.Id)]) : null;
        }
        catch (RefusedException e)
        {
            return e.Message;
        }
    }

    /// <summary>How a reading compares with a sound unit; null where it cannot be read with the unit's sheet.</summary>
    public static Judgement? Judge(UnitOnSheet unit, SessionEvent entry)
    {
        if (Misfit(unit.Model, entry) is not null) return null;
        ReadingBody body = Body<ReadingBody>(entry);
        (Setting setting, Observable what, Outcome outcome) = Check(unit.Model, body.Set.Select(s => (s.Key, s.Value)), body.At, body.Got);
        return Judgement.Of(unit, setting, what, outcome);
    }

    /// <summary>The body of an entry.</summary>
    public static T Body<T>(SessionEvent entry) => JsonSerializer.Deserialize<T>(entry.Body)
        ?? throw new RefusedException($"entry {entry.Number} of the session is empty; take it back");
}
