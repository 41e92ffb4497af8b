namespace Ventwright.Diagnosis;

/// <summary>
/// Predictions that are taken from units with the very fault, where the usual one leaves nothing but a slip of whoever read: a fault that moves the unit to where its tolerances
/// weigh more (a sensor that reads wrong brings the module off its flat stretch) has a wider spread than the sound unit, and would be dropped for it. Sets in which nothing else
/// acts on the check use the same prediction.
/// </summary>
internal sealed class SecondLook
{
    /// <summary>Most faults that are looked at again; those that would weigh most if the readings fitted.</summary>
    private const int Most = 12;

    /// <summary>A fault that would weigh less than this share of the leader, if all its slips fitted as well as they fit any fault, is left alone.</summary>
    private const double LeastShare = 0.01;

    /// <summary>Likelihood of a reading that fits a spread of a quarter of the meter's range, as a multiple of that of a slip's.</summary>
    private const double WideShare = 4;

    private readonly Dictionary<CompiledPrediction, CompiledPrediction>?[] _instead;

    private SecondLook(int readings) => _instead = new Dictionary<CompiledPrediction, CompiledPrediction>?[readings];

    /// <summary>The prediction to use at a reading.</summary>
    public CompiledPrediction At(int reading, CompiledPrediction plain) => _instead[reading]?.GetValueOrDefault(plain) ?? plain;

    /// <summary>Looks through single faults; the first of the list is the sound unit.</summary>
    /// <param name="scored">The sound unit and single faults.</param>
    /// <param name="readings">The readings.</param>
    /// <param name="closely">What units with an atom show at a reading.</param>
    /// <returns>The predictions, and which of the list have some; null where nothing calls for them.</returns>
    public static (SecondLook Look, int[] Changed)? Of(IReadOnlyList<Scored> scored, IReadOnlyList<ReadingView> readings, Func<FaultSet, ReadingView, CompiledPrediction> closely)
    {
        double[] slip = [.. readings.Select(r => Math.Log(2 * r.Misread * r.Broad))];
        double[] best = [.. readings.Select((reading, r) => Math.Max(Math.Log(WideShare * reading.Broad), scored.Max(s => s.LogFactors[r])))];
        Scored leader = scored.MaxBy(s => s.LogJoint)!;
        double least = leader.LogJoint + Math.Log(LeastShare);
        int[] again = [.. Enumerable.Range(1, scored.Count - 1).Select(i => (i, Hope: Hope(scored[0], leader, scored[i], slip, best))).Where(p => p.Hope >= least)
            .OrderByDescending(p => p.Hope).ThenBy(p => p.i).Take(Most).Select(p => p.i)];
        if (again.Length == 0) return null;
        var look = new SecondLook(readings.Count);
        foreach (int i in again)
        {
            foreach (int r in Slips(scored[0], scored[i], slip)) (look._instead[r] ??= [])[scored[i].Predictions[r]] = closely(scored[i].Atoms, readings[r]);
        }

        return (look, again);
    }

    /// <summary>What a fault would weigh if its slips fitted, by itself or beside the leader; nothing where it has none.</summary>
    private static double Hope(Scored sound, Scored leader, Scored single, double[] slip, double[] best)
    {
        double alone = 0, beside = 0;
        foreach (int r in Slips(sound, single, slip))
        {
            alone += best[r] - single.LogFactors[r];
            beside += Math.Max(0, best[r] - leader.LogFactors[r]);
        }

        if (alone <= 0) return double.NegativeInfinity;
        double together = beside > 0 && leader != single ? leader.LogJoint + single.LogPrior - sound.LogPrior + beside : double.NegativeInfinity;
        return Math.Max(single.LogJoint + alone, together);
    }

    /// <summary>Readings that the fault acts on and that only a slip explains.</summary>
    private static IEnumerable<int> Slips(Scored sound, Scored single, double[] slip)
    {
        for (int r = 0; r < slip.Length; r++)
        {
            if (single.LogFactors[r] <= slip[r] && !ReferenceEquals(single.Predictions[r], sound.Predictions[r])) yield return r;
        }
    }
}
