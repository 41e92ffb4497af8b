using Ventwright.Bench;
using Ventwright.Diagnosis;
using Ventwright.Model.Kernel;
using Ventwright.Quantities;
using Ventwright.Simulation;
using Ventwright.Workshop;

namespace Ventwright.Reports;

/// <summary>A bench plan as it is printed.</summary>
/// <param name="Unit">Name of the unit.</param>
/// <param name="Start">How the controls stand at the start, in words.</param>
/// <param name="Groups">Checks by setting.</param>
/// <param name="Minutes">Minutes in all.</param>
/// <param name="ShownShare">Share of the weight of all faults that the list shows, 0 to 1.</param>
/// <param name="NotShown">Faults that some check would show, but none on the list; a line a part.</param>
/// <param name="ShownByNone">Faults that no check on the bench shows; a line a part.</param>
/// <param name="Inseparable">Faults that no check tells apart, in lines.</param>
/// <param name="Units">Units of the bands.</param>
public sealed record Checklist(
    string Unit, string Start, IReadOnlyList<ChecklistGroup> Groups, double Minutes, double ShownShare, IReadOnlyList<string> NotShown, IReadOnlyList<string> ShownByNone,
    IReadOnlyList<string> Inseparable, UnitSystem Units)
{
    /// <summary>Puts a plan into words.</summary>
    /// <param name="plan">The plan.</param>
    /// <param name="bench">The bench for which it was made.</param>
    /// <param name="model">The unit.</param>
    /// <param name="units">Units of the bands.</param>
    public static Checklist Of(BenchPlan plan, BenchDiagnosis bench, UnitModel model, UnitSystem units)
    {
        ArgumentNullException.ThrowIfNull(plan);
        ArgumentNullException.ThrowIfNull(bench);
        ArgumentNullException.ThrowIfNull(model);
        var words = new UnitWords(model, units);
        int number = 0;
        var groups = new List<ChecklistGroup>();
        foreach ((Setting setting, IReadOnlyList<int> checks) in plan.Groups)
            groups.Add(new(words.Setting(setting), [.. checks.Select(c => Check(++number, c, bench.Predictor, model, words, units))]));
        return new(
            model.Title, words.Start(), groups, plan.Minutes, plan.ShownShare, words.ByPart(plan.NotShown), words.ByPart(plan.ShownByNone), words.Alike(plan.Inseparable), units);
    }

    private static ChecklistCheck Check(int number, int check, SheetPredictor predictor, UnitModel model, UnitWords words, UnitSystem units)
    {
        Observable what = predictor[check].What;
        CheckEntry entry = predictor.Checks[check];
        Place place = model.Places[entry.Place];
        return new(
            number, words.Check(what), what.ToString(), PlaceWords.Name(place), place.Opens, place.Caution, PaperText.Band(predictor.Sound(check), units), words.Answers(what),
            PaperText.WritingUnit(what, units), entry.ReadMinutes);
    }
}

/// <summary>The checks in one setting.</summary>
/// <param name="Setting">How to make the setting, one thing a line.</param>
/// <param name="Checks">The checks.</param>
public sealed record ChecklistGroup(IReadOnlyList<string> Setting, IReadOnlyList<ChecklistCheck> Checks);

/// <summary>One line of the check list.</summary>
/// <param name="Number">Its number on the list, from 1.</param>
/// <param name="What">What to look at, in words.</param>
/// <param name="Code">The check as it is typed in, such as <c>volts(mod.7)</c>.</param>
/// <param name="Place">Where.</param>
/// <param name="Opens">What is opened to get there, or null.</param>
/// <param name="Caution">A caution for work there, or null.</param>
/// <param name="Expected">What a sound unit shows.</param>
/// <param name="Answers">Words to choose from; empty when a number is written.</param>
/// <param name="Unit">Unit of the number.</param>
/// <param name="Minutes">Minutes for the reading.</param>
public sealed record ChecklistCheck(
    int Number, string What, string Code, string Place, string? Opens, string? Caution, string Expected, IReadOnlyList<string> Answers, string Unit, double Minutes);
