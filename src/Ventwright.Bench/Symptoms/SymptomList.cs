using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Bench;

/// <summary>Something that one would notice without a meter.</summary>
/// <param name="Checks">Where: checks of one kind that answer alike under the same faults.</param>
/// <param name="Got">The word that the bad unit shows.</param>
/// <param name="Sound">The word that the sound unit shows.</param>
/// <param name="Faults">Faults that show it, heaviest first.</param>
/// <param name="Share">Their share of the weight of all faults that one would notice in the setting, 0 to 1.</param>
public sealed record NoticedSymptom(IReadOnlyList<Observable> Checks, string Got, string Sound, IReadOnlyList<Fault> Faults, double Share);

/// <summary>What one would notice in a setting, by the faults behind it, worked out from the model.</summary>
public static class SymptomList
{
    /// <summary>Lists what differs from the sound unit to the eye, ear and hand: motion, airflow, position, light, sound; commonest first.</summary>
    /// <param name="simulator">The unit.</param>
    /// <param name="setting">The setting.</param>
    /// <remarks>A word that tolerances alone may lead to is no symptom. Each fault is taken alone; an intermittent one as it shows itself.</remarks>
    public static IReadOnlyList<NoticedSymptom> In(Simulator simulator, Setting setting)
    {
        ArgumentNullException.ThrowIfNull(simulator);
        UnitModel model = simulator.Model;
        Observable[] looks = [.. model.Points.Where(p => p.When == PointState.Running && Readings.WordsOf(model, p.What).Count > 0).Select(p => p.What).Distinct()];
        var readout = new Readout(simulator, looks);
        Band[] sound = Bands.Of(simulator, setting, [], looks);
        string?[][] seen = new string?[model.Faults.Length][];
        Parallel.For(0, seen.Length, f => seen[f] = Words(readout, simulator, setting, model.Faults[f]));
        double noticed = Enumerable.Range(0, seen.Length).Where(f => looks.Where((_, i) => Differs(sound[i], seen[f][i])).Any()).Sum(f => model.Faults[f].Weight);
        var single = from i in Enumerable.Range(0, looks.Length)
                     from f in Enumerable.Range(0, seen.Length)
                     where Differs(sound[i], seen[f][i])
                     group f by (Look: i, Word: seen[f][i]!) into g
                     select (g.Key.Look, g.Key.Word, Faults: g.ToArray());
        return [.. single.GroupBy(s => (looks[s.Look].Kind, s.Word, Sound: sound[s.Look].Nominal.Word!, Faults: string.Join(',', s.Faults)))
            .Select(g => new NoticedSymptom(
                [.. g.Select(s => looks[s.Look])], g.Key.Word, g.Key.Sound, [.. g.First().Faults.Select(f => model.Faults[f]).OrderByDescending(f => f.Weight)],
                g.First().Faults.Sum(f => model.Faults[f].Weight) / noticed))
            .OrderByDescending(s => s.Share).ThenBy(s => s.Checks[0].ToString(), StringComparer.Ordinal)];
    }

    private static string?[] Words(Readout readout, Simulator simulator, Setting setting, Fault fault)
    {
        Settled settled = simulator.Settle(setting, [fault]);
        return settled.Verdict == Verdict.NotSolved ? new string?[readout.Checks.Count] : [.. readout.Read(setting, [fault], settled).Select(s => s.Word)];
    }

    private static bool Differs(Band sound, string? word) => word is not null && sound.Nominal.Word is not null && !sound.Words.Contains(word, StringComparer.Ordinal);
}
