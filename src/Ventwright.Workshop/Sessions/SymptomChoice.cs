using Ventwright.Bench;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Workshop;

/// <summary>One thing that one can see, hear or feel without a meter, with what a bad unit may show there.</summary>
/// <param name="What">The thing.</param>
/// <param name="Sound">The word for a sound unit.</param>
/// <param name="Words">Words for a bad unit, the commonest first, each with its share of the weight of all faults that one would notice in the setting, 0 to 1.</param>
public sealed record SymptomChoice(Observable What, string Sound, IReadOnlyList<(string Word, double Share)> Words)
{
    /// <summary>All that one may notice in a setting: what is felt at the vents first, then what runs, lights or moves. Takes a second or so.</summary>
    /// <param name="unit">The unit.</param>
    /// <param name="set">How it stood, by name and text.</param>
    /// <exception cref="RefusedException">The setting does not fit the unit.</exception>
    public static IReadOnlyList<SymptomChoice> In(UnitOnSheet unit, IEnumerable<(string Name, string Value)> set)
    {
        ArgumentNullException.ThrowIfNull(unit);
        Setting setting = SettingWords.Make(unit.Model, set);
        var single = from symptom in unit.Symptoms(setting)
                     from what in symptom.Checks
                     group symptom by what;
        return [.. single.Select(g => new SymptomChoice(g.Key, g.First().Sound, Shares(g)))
            .OrderBy(c => Order(c.What.Kind)).ThenBy(c => CheckTitles.Of(unit.Model, c.What), StringComparer.Ordinal)];
    }

    private static (string, double)[] Shares(IEnumerable<NoticedSymptom> symptoms) =>
        [.. symptoms.GroupBy(s => s.Got).Select(g => (Word: g.Key, Share: g.Sum(s => s.Share))).OrderByDescending(w => w.Share)];

    private static int Order(ObservableKind kind) => kind switch
    {
        ObservableKind.Airflow => 0,
        ObservableKind.Position => 2,
        _ => 1,
    };
}
