using Ventwright.Model.Kernel;
using Ventwright.Quantities;
using Ventwright.Simulation;
using Ventwright.Workshop;

namespace Ventwright.Cli.Commands;

/// <summary>How a stated row stands to the model.</summary>
internal enum StatedAnswer
{
    /// <summary>Both say the same.</summary>
    Agrees,

    /// <summary>They differ.</summary>
    Disagrees,

    /// <summary>The model has no answer; the row serves as the expectation.</summary>
    NoAnswer,
}

/// <summary>A stated row beside what the model computes.</summary>
/// <param name="Row">The row.</param>
/// <param name="Answer">How they stand.</param>
/// <param name="Band">What the model computes, or null if it cannot be asked.</param>
/// <param name="Problem">Why the row cannot be compared, or null.</param>
internal sealed record StatedResult(StatedRow Row, StatedAnswer Answer, Band? Band, string? Problem)
{
    /// <summary>What the manual says.</summary>
    public string StatedText(UnitSystem units) => ReadingWords.Stated(Row, units);

    /// <summary>The comparison in a sentence.</summary>
    public string Sentence(UnitSystem units)
    {
        string with = Row.Settings.Count == 0 ? "" : $" with {string.Join(", ", Row.Settings.Select(s => $"{s.Name} {s.Value}"))}", where = $"{Row.What}{with} ({Row.Source})";
        if (Problem is not null) return $"stated row {where} cannot be compared: {Problem}";
        string computed = ReadingWords.Of(Band!.Nominal, Row.What, units), band = ReadingWords.Of(Band, units);
        return Answer switch
        {
            StatedAnswer.Agrees => $"stated {StatedText(units)} and computed {computed} agree for {where}",
            StatedAnswer.Disagrees => $"stated {StatedText(units)}, but the model computes {computed} ({band}) for {where}; one of the two is wrong: look at the parts on the way",
            _ => $"the model has no answer for {where}; the stated {StatedText(units)} serves as the expectation",
        };
    }
}

/// <summary>Holds the stated rows of a sheet against its model.</summary>
internal static class StatedRows
{
    /// <summary>Share of the narrower band that must lie in the other for bands to overlap clearly.</summary>
    private const double ClearOverlap = 0.5;

    /// <summary>Compares all rows, in the order of the sheet.</summary>
    public static StatedResult[] Compare(UnitModel model)
    {
        var simulator = new Simulator(model);
        var results = new Dictionary<StatedRow, StatedResult>();
        foreach (var group in model.Stated.GroupBy(r => string.Join(' ', r.Settings.Select(s => $"{s.Name}={s.Value}"))))
        {
            Setting? setting = Setting.TryMake(model, group.First().Settings, out string? problem);
            StatedRow[] askable = setting is null ? [] : [.. group.Where(r => CheckNames.Problem(model, r.What) is null)];
            foreach (StatedRow row in group.Except(askable))
                results[row] = new(row, StatedAnswer.Disagrees, null, problem ?? CheckNames.Problem(model, row.What));
            if (askable.Length == 0) continue;
            if (simulator.Settle(setting!, []) is { Verdict: Verdict.NotSolved } rest)
            {
                foreach (StatedRow row in askable) results[row] = new(row, StatedAnswer.Disagrees, null, rest.Note);
                continue;
            }

            Band[] bands = Bands.Of(simulator, setting!, [], [.. askable.Select(r => r.What)]);
            for (int i = 0; i < askable.Length; i++) results[askable[i]] = new(askable[i], Judge(askable[i], bands[i]), bands[i], null);
        }

        return [.. model.Stated.Select(r => results[r])];
    }

    private static StatedAnswer Judge(StatedRow row, Band band)
    {
        if (band.Nominal.Unsteady || (row.Word is null && double.IsNaN(band.Nominal.Value))) return StatedAnswer.NoAnswer;
        bool same = row.Word is not null
            ? string.Equals(row.Word, band.Nominal.Word, StringComparison.OrdinalIgnoreCase)
            : (band.Nominal.Value >= row.Low && band.Nominal.Value <= row.High) || Overlap(row, band);
        return same ? StatedAnswer.Agrees : StatedAnswer.Disagrees;
    }

    private static bool Overlap(StatedRow row, Band band)
    {
        double common = Math.Min(row.High, band.High) - Math.Max(row.Low, band.Low), narrower = Math.Min(row.High - row.Low, band.High - band.Low);
        return common > 0 && common >= ClearOverlap * narrower;
    }
}
