using Ventwright.Diagnosis;

namespace Ventwright.Bench;

/// <summary>
/// What a person would tell apart at each check of a setting: for each single fault a small number, the same for faults that look the same, 0 for
/// those that look like the sound unit. A quick look at thousands of checks; the few that matter are then worked out exactly.
/// </summary>
internal sealed class CheckClasses
{
    private const double DistinctSigmas = 3;
    private const double WeightSteps = 20, MostWeight = 6, Telling = 2, Slip = 1e-3;
    private static readonly double[] TakenAway = [.. Enumerable.Range(0, 256).Select(w => 1 - Math.Exp(-w / WeightSteps))];
    private readonly ushort[][] _classes;
    private readonly byte[][] _weights;
    private readonly ushort[][] _shown;

    private CheckClasses(ushort[][] classes, byte[][] weights)
    {
        (_classes, _weights) = (classes, weights);
        _shown = [.. weights.Select(row => Enumerable.Range(0, row.Length).Where(f => row[f] > 0).Select(f => (ushort)f).ToArray())];
    }

    /// <summary>Share of a single fault's weight that the outcome expected of the sound unit takes away, 0 to 1.</summary>
    public double Shown(int column, int fault) => TakenAway[_weights[column][fault]];

    /// <summary>Sum over all single faults of the weight that the outcome expected of the sound unit takes away.</summary>
    /// <param name="column">The column.</param>
    /// <param name="weight">Weight of each fault.</param>
    public double TakenAwayOf(int column, double[] weight)
    {
        byte[] row = _weights[column];
        double sum = 0;
        foreach (ushort fault in _shown[column]) sum += weight[fault] * TakenAway[row[fault]];
        return sum;
    }

    /// <summary>The same for several columns, each fault counted where it shows best.</summary>
    public double TakenAwayOf(IReadOnlyList<int> columns, double[] weight)
    {
        byte[] best = new byte[weight.Length];
        double sum = 0;
        foreach (int column in columns)
        {
            byte[] row = _weights[column];
            foreach (ushort fault in _shown[column])
            {
                if (row[fault] <= best[fault]) continue;
                sum += weight[fault] * (TakenAway[row[fault]] - TakenAway[best[fault]]);
                best[fault] = row[fault];
            }
        }

        return sum;
    }

    /// <summary>Whether the outcome expected of the sound unit speaks at any column at least seven to one against a single fault.</summary>
    public bool Shows(int fault) => _weights.Any(c => c[fault] >= Telling * WeightSteps);

    /// <summary>Class of a single fault at a column.</summary>
    public int Of(int column, int fault) => _classes[column][fault];

    /// <summary>Class of a set at a column: that of the member that acts; members that both act are taken to make an outcome of their own.</summary>
    public int Of(int column, FaultSet set)
    {
        int result = 0;
        ushort[] row = _classes[column];
        for (int i = 0; i < set.Count; i++)
        {
            int own = row[set[i]];
            if (own != 0) result = result == 0 ? own : ((result * 31) + own) & 0x3FFF;
        }

        return result;
    }

    /// <summary>Works the classes out for a setting.</summary>
    /// <param name="columns">Number of columns.</param>
    /// <param name="faults">Number of faults.</param>
    /// <param name="only">Faults to look at; the others count as if they changed nothing.</param>
    /// <param name="predict">Prediction of a fault at a column, -1 for the sound unit; the same object where a fault changes nothing.</param>
    /// <param name="entry">The check of a column.</param>
    public static CheckClasses Make(int columns, int faults, IReadOnlyList<int> only, Func<int, int, Prediction> predict, Func<int, CheckEntry> entry)
    {
        ushort[][] classes = new ushort[columns][];
        byte[][] weights = new byte[columns][];
        for (int c = 0; c < columns; c++) (classes[c], weights[c]) = Column(c, faults, only, predict, entry(c));
        return new(classes, weights);
    }

    private static (ushort[] Classes, byte[] Weights) Column(int column, int faults, IReadOnlyList<int> only, Func<int, int, Prediction> predict, CheckEntry entry)
    {
        ushort[] row = new ushort[faults];
        byte[] weights = new byte[faults];
        Prediction sound = predict(column, -1);
        (double Mean, double Sd, int Fault) healthy = Place(sound, entry, -1);
        var numbers = new List<(double Mean, double Sd, int Fault)> { healthy };
        foreach (int f in only)
        {
            Prediction bad = predict(column, f);
            if (ReferenceEquals(bad, sound)) continue;
            numbers.Add(Place(bad, entry, f));
            weights[f] = (byte)(Math.Clamp(-Math.Log(Share(bad, numbers[^1], healthy, sound)), 0, MostWeight) * WeightSteps);
        }

        if (numbers.Count == 1) return (row, weights);
        numbers.Sort();
        int[] clusters = new int[numbers.Count];
        int soundCluster = 0;
        for (int i = 0; i < numbers.Count; i++)
        {
            bool apart = i > 0 && numbers[i].Mean - numbers[i - 1].Mean > DistinctSigmas * Math.Max(numbers[i].Sd, numbers[i - 1].Sd);
            clusters[i] = i == 0 ? 1 : clusters[i - 1] + (apart ? 1 : 0);
            if (numbers[i].Fault < 0) soundCluster = clusters[i];
        }

        for (int i = 0; i < numbers.Count; i++)
        {
            if (numbers[i].Fault >= 0 && clusters[i] != soundCluster) row[numbers[i].Fault] = (ushort)clusters[i];
        }

        return (row, weights);
    }

    /// <summary>Whether a person with the usual meter would take two outcomes for the same.</summary>
    public static bool Alike(Prediction one, Prediction other, CheckEntry entry)
    {
        if (ReferenceEquals(one, other)) return true;
        (double Mean, double Sd, int) a = Place(one, entry, 0), b = Place(other, entry, 0);
        return Math.Abs(a.Mean - b.Mean) <= DistinctSigmas * Math.Max(a.Sd, b.Sd);
    }

    /// <summary>How likely the outcome expected of the sound unit is with the fault, as a share of how likely it is without.</summary>
    private static double Share(Prediction bad, (double Mean, double Sd, int Fault) at, (double Mean, double Sd, int Fault) sound, Prediction healthy)
    {
        PredictionComponent main = bad.Components[0], good = healthy.Components[0];
        if (main.Kind != good.Kind) return 0.05;
        if (main.Kind == ComponentKind.Words) return (main.WordShares[(int)sound.Mean] + Slip) / (good.WordShares[(int)sound.Mean] + Slip);
        if (main.Kind != ComponentKind.Number) return 1;
        double low = sound.Mean - (DistinctSigmas * sound.Sd), high = sound.Mean + (DistinctSigmas * sound.Sd), sd = Math.Max(at.Sd, 1e-9);
        return WordLaw.Below((high - at.Mean) / sd) - WordLaw.Below((low - at.Mean) / sd) + Slip;
    }

    /// <summary>Where an outcome lies on a line: numbers as they are, words a long way apart, nothing steady beyond all.</summary>
    private static (double Mean, double Sd, int Fault) Place(Prediction prediction, CheckEntry entry, int fault)
    {
        PredictionComponent main = prediction.Components[0];
        switch (main.Kind)
        {
            case ComponentKind.Number:
                double mean = Math.Clamp(main.Mean, entry.RangeLow, entry.RangeHigh), gain = entry.Meter.RelativeGain * mean;
                double variance = (entry.Meter.Absolute * entry.Meter.Absolute) + (gain * gain) + (main.Sd * main.Sd);
                for (int i = 0; i < main.Shared.Count; i++) variance += main.Shared[i] * main.Shared[i];
                return (mean, Math.Sqrt(variance), fault);
            case ComponentKind.Words:
                int best = 0;
                for (int w = 1; w < main.WordShares.Count; w++)
                {
                    if (main.WordShares[w] > main.WordShares[best]) best = w;
                }

                return (best, 0, fault);
            default:
                return (1e12 + (int)main.Kind, 0, fault);
        }
    }
}
