using System.Collections.Concurrent;

namespace Ventwright.Diagnosis;

/// <summary>Keeps what each set of faults predicts, intermittent faults mixed in. Safe to use from several threads.</summary>
internal sealed class PredictionCache(IFaultPredictor predictor, double wiggleShare)
{
    private const int MaxKeptSets = 40_000;
    private readonly ConcurrentDictionary<FaultSet, CompiledPrediction?[]> _plain = new();
    private readonly ConcurrentDictionary<FaultSet, CompiledPrediction?[]> _mixed = new();
    private readonly bool _anyIntermittent = predictor.Faults.Any(f => f.IntermittentShare > 0);

    public IFaultPredictor Predictor => predictor;

    /// <summary>Drops the sets of several faults when too many are kept; nothing but time is lost.</summary>
    public void Trim()
    {
        Trim(_plain);
        Trim(_mixed);
    }

    /// <summary>Prediction with each intermittent fault of the set showing in its share of readings.</summary>
    public CompiledPrediction Get(FaultSet faults, int check)
    {
        if (!_anyIntermittent || !faults.Any(f => predictor.Faults[f].IntermittentShare > 0)) return Plain(faults, check);
        CompiledPrediction?[] row = Row(_mixed, faults, check);
        return row[check] ??= Mix(faults, check);
    }

    /// <summary>True when a single fault changes what a check shows.</summary>
    public bool Acts(int fault, int check) =>
        !Get(FaultSet.One(fault), check).SameAs(Get(FaultSet.None, check), predictor.Checks[check]);

    private static void Trim(ConcurrentDictionary<FaultSet, CompiledPrediction?[]> kept)
    {
        if (kept.Count <= MaxKeptSets) return;
        foreach (FaultSet set in kept.Keys.Where(s => s.Count > 1)) kept.TryRemove(set, out _);
    }

    private CompiledPrediction Plain(FaultSet faults, int check)
    {
        CompiledPrediction?[] row = Row(_plain, faults, check);
        return row[check] ??= CompiledPrediction.Of(predictor.Predict(faults, check), predictor.Checks[check]);
    }

    private CompiledPrediction?[] Row(ConcurrentDictionary<FaultSet, CompiledPrediction?[]> kept, FaultSet faults, int check)
    {
        CompiledPrediction?[] row = kept.GetOrAdd(faults, static (_, count) => new CompiledPrediction?[count], predictor.Checks.Count);
        if (check < row.Length) return row;
        var longer = new CompiledPrediction?[predictor.Checks.Count];
        row.CopyTo(longer, 0);
        return kept[faults] = longer;
    }

    private CompiledPrediction Mix(FaultSet faults, int check)
    {
        int[] hidden = [.. faults.Where(f => predictor.Faults[f].IntermittentShare > 0)];
        var weights = new double[1 << hidden.Length];
        var parts = new CompiledPrediction[weights.Length];
        for (int mask = 0; mask < weights.Length; mask++)
        {
            double weight = 1;
            FaultSet shown = faults;
            for (int i = 0; i < hidden.Length; i++)
            {
                double share = Share(predictor.Faults[hidden[i]], predictor.Checks[check]);
                bool shows = (mask >> i & 1) == 1;
                weight *= shows ? share : 1 - share;
                if (!shows) shown = shown.Without(hidden[i]);
            }

            weights[mask] = weight;
            parts[mask] = Plain(shown, check);
        }

        return CompiledPrediction.Mix(weights, parts);
    }

    private double Share(FaultEntry fault, CheckEntry check) =>
        check.WigglePart == fault.Part ? Math.Max(fault.IntermittentShare, wiggleShare) : fault.IntermittentShare;
}
