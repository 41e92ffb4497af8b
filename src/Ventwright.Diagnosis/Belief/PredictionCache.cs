using System.Collections.Concurrent;

namespace Ventwright.Diagnosis;

/// <summary>Keeps what each set of faults predicts, intermittent faults mixed in. Safe to use from several threads.</summary>
internal sealed class PredictionCache(IFaultPredictor predictor, double wiggleShare)
{
    private const int MaxKept = 400_000, MaxRows = 4_000;
    private readonly ConcurrentDictionary<(FaultSet, int), CompiledPrediction> _plain = new();
    private readonly ConcurrentDictionary<int, Row> _rows = new();
    private readonly ConcurrentDictionary<(FaultSet, int), CompiledPrediction> _mixed = new();
    private readonly ConcurrentDictionary<(FaultSet, int), CompiledPrediction> _close = new();
    private readonly bool[] _intermittent = [.. predictor.Faults.Select(f => f.IntermittentShare > 0)];

    public IFaultPredictor Predictor => predictor;

    /// <summary>Forgets everything when too much is kept; nothing but time is lost.</summary>
    public void Trim()
    {
        if (_plain.Count > MaxKept) _plain.Clear();
        if (_rows.Count > MaxRows) _rows.Clear();
        if (_mixed.Count > MaxKept) _mixed.Clear();
        if (_close.Count > MaxKept) _close.Clear();
    }

    /// <summary>Prediction with each intermittent fault of the set showing in its share of readings.</summary>
    public CompiledPrediction Get(FaultSet faults, int check)
    {
        if (faults.Count < 2) return RowOf(check).Get(this, faults, check);
        if (!AnyIntermittent(faults)) return Plain(faults, check);
        return _mixed.TryGetValue((faults, check), out CompiledPrediction? known) ? known : _mixed.GetOrAdd((faults, check), Mix(faults, check, Plain));
    }

    /// <summary>As <see cref="Get"/>, from units that have these very faults.</summary>
    public CompiledPrediction GetClosely(FaultSet faults, int check)
    {
        if (faults.IsEmpty) return Get(faults, check);
        return _close.TryGetValue((faults, check), out CompiledPrediction? known) ? known : _close.GetOrAdd((faults, check), AnyIntermittent(faults)
            ? Mix(faults, check, Closely) : Closely(faults, check));
    }

    /// <summary>With all faults of the set showing.</summary>
    private CompiledPrediction Closely(FaultSet faults, int check) =>
        faults.IsEmpty ? Get(faults, check) : predictor.PredictClosely(faults, check).Compiled(predictor.Checks[check]);

    /// <summary>True when a single fault changes what a check shows.</summary>
    public bool Acts(int fault, int check) => RowOf(check).Acts(this, fault, check);

    private Row RowOf(int check) => _rows.TryGetValue(check, out Row? row) ? row : _rows.GetOrAdd(check, new Row(predictor.Faults.Count));

    private bool AnyIntermittent(FaultSet faults)
    {
        for (int i = 0; i < faults.Count; i++)
        {
            if (_intermittent[faults[i]]) return true;
        }

        return false;
    }

    private CompiledPrediction Plain(FaultSet faults, int check)
    {
        if (faults.Count < 2 && !AnyIntermittent(faults)) return RowOf(check).Get(this, faults, check);
        return _plain.TryGetValue((faults, check), out CompiledPrediction? known) ? known : _plain.GetOrAdd((faults, check), Compile(faults, check));
    }

    private CompiledPrediction Compile(FaultSet faults, int check) => predictor.Predict(faults, check).Compiled(predictor.Checks[check]);

    private CompiledPrediction Mix(FaultSet faults, int check, Func<FaultSet, int, CompiledPrediction> of)
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
            parts[mask] = of(shown, check);
        }

        return parts.All(p => ReferenceEquals(p, parts[0])) ? parts[0] : CompiledPrediction.Mix(weights, parts);
    }

    private double Share(FaultEntry fault, CheckEntry check) =>
        check.WigglePart == fault.Part ? Math.Max(fault.IntermittentShare, wiggleShare) : fault.IntermittentShare;

    /// <summary>The sound unit and all single faults at one check; they are asked for far more often than sets.</summary>
    private sealed class Row(int faults)
    {
        private const byte Quiet = 1, Acting = 2;
        private readonly CompiledPrediction?[] _single = new CompiledPrediction?[faults + 1];
        private readonly byte[] _acts = new byte[faults];

        public CompiledPrediction Get(PredictionCache cache, FaultSet set, int check)
        {
            int at = set.IsEmpty ? 0 : set[0] + 1;
            return Volatile.Read(ref _single[at]) ?? Make(cache, set, check, at);
        }

        public bool Acts(PredictionCache cache, int fault, int check)
        {
            if (_acts[fault] == 0)
                _acts[fault] = Get(cache, FaultSet.One(fault), check).SameAs(Get(cache, FaultSet.None, check), cache.Predictor.Checks[check]) ? Quiet : Acting;
            return _acts[fault] == Acting;
        }

        private CompiledPrediction Make(PredictionCache cache, FaultSet set, int check, int at)
        {
            CompiledPrediction made = cache.AnyIntermittent(set) ? cache.Mix(set, check, cache.Plain) : cache.Compile(set, check);
            return Interlocked.CompareExchange(ref _single[at], made, null) ?? made;
        }
    }
}
