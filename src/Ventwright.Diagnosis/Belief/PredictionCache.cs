using System.Collections.Concurrent;

namespace Ventwright.Diagnosis;

/// <summary>Keeps what each set of faults predicts, intermittent faults mixed in. Safe to use from several threads.</summary>
internal sealed class PredictionCache(IFaultPredictor predictor, double wiggleShare)
{
    private const int MaxKept = 400_000;
    private readonly ConcurrentDictionary<(FaultSet, int), CompiledPrediction> _plain = new();
    private readonly ConcurrentDictionary<(FaultSet, int), CompiledPrediction> _mixed = new();
    private readonly ConcurrentDictionary<(FaultSet, int), CompiledPrediction> _close = new();
    private readonly bool[] _intermittent = [.. predictor.Faults.Select(f => f.IntermittentShare > 0)];

    public IFaultPredictor Predictor => predictor;

    /// <summary>Forgets everything when too much is kept; nothing but time is lost.</summary>
    public void Trim()
    {
        if (_plain.Count > MaxKept) _plain.Clear();
        if (_mixed.Count > MaxKept) _mixed.Clear();
        if (_close.Count > MaxKept) _close.Clear();
    }

    /// <summary>Prediction with each intermittent fault of the set showing in its share of readings.</summary>
    public CompiledPrediction Get(FaultSet faults, int check)
    {
        if (!AnyIntermittent(faults)) return Plain(faults, check);
        return _mixed.TryGetValue((faults, check), out CompiledPrediction? known) ? known : _mixed.GetOrAdd((faults, check), Mix(faults, check));
    }

    /// <summary>Prediction from units that have these very faults; for sets with intermittent faults the same as <see cref="Get"/>.</summary>
    public CompiledPrediction GetClosely(FaultSet faults, int check)
    {
        if (faults.IsEmpty || AnyIntermittent(faults)) return Get(faults, check);
        return _close.TryGetValue((faults, check), out CompiledPrediction? known)
            ? known : _close.GetOrAdd((faults, check), predictor.PredictClosely(faults, check).Compiled(predictor.Checks[check]));
    }

    /// <summary>True when a single fault changes what a check shows.</summary>
    public bool Acts(int fault, int check) =>
        !Get(FaultSet.One(fault), check).SameAs(Get(FaultSet.None, check), predictor.Checks[check]);

    private bool AnyIntermittent(FaultSet faults)
    {
        for (int i = 0; i < faults.Count; i++)
        {
            if (_intermittent[faults[i]]) return true;
        }

        return false;
    }

    private CompiledPrediction Plain(FaultSet faults, int check) => _plain.TryGetValue((faults, check), out CompiledPrediction? known)
        ? known : _plain.GetOrAdd((faults, check), predictor.Predict(faults, check).Compiled(predictor.Checks[check]));

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
