namespace Ventwright.Diagnosis;

/// <summary>
/// The leading explanations, each with the run of its most probable history, and the lines in which they are shown: sets that no available check
/// separates are one line.
/// </summary>
internal sealed class LeadingSets
{
    private const double ToldApart = 0.5;
    private const int MaxMerged = 60;
    private readonly Posterior _posterior;
    private readonly IReadOnlyDictionary<int, OutcomeTable> _tables;

    public LeadingSets(Posterior posterior, IReadOnlyList<int> available)
    {
        _posterior = posterior;
        Sets = [.. posterior.Leaders.Select(l => l.Explanation.Set)];
        Runs = [.. posterior.Leaders.Select(l => l.Run)];
        Weights = [.. posterior.Leaders.Select(l => l.Explanation.Probability)];
        _tables = BuildTables(available.Distinct());
        Lines = Merge();
    }

    public FaultSet[] Sets { get; }

    public FilterResult[] Runs { get; }

    public double[] Weights { get; }

    /// <summary>Line of each set, from 0 on; the most probable set has line 0.</summary>
    public int[] Lines { get; }

    public OutcomeTable Table(int check) => _tables[check];

    private Dictionary<int, OutcomeTable> BuildTables(IEnumerable<int> checks)
    {
        IReadOnlyList<CheckEntry> entries = _posterior.Cache.Predictor.Checks;
        int[] sorted = [.. checks.OrderBy(c => entries[c].Setting).ThenBy(c => c)];
        var predictions = new CompiledPrediction[Sets.Length][];
        Parallel.For(0, Sets.Length, _posterior.Filter.Loops, s => predictions[s] = [.. sorted.Select(c => _posterior.Cache.Get(Sets[s], c))]);
        var tables = new OutcomeTable[sorted.Length];
        Parallel.For(0, sorted.Length, _posterior.Filter.Loops, i =>
            tables[i] = OutcomeTable.Of(_posterior, sorted[i], [.. Sets.Select((_, s) => (predictions[s][i], Runs[s]))]));
        return sorted.Select((c, i) => (c, i)).ToDictionary(p => p.c, p => tables[p.i]);
    }

    private int[] Merge()
    {
        var lines = new int[Sets.Length];
        var heads = new List<int>();
        for (int s = 0; s < Sets.Length; s++)
        {
            int at = s < MaxMerged ? heads.FindIndex(h => _tables.Values.All(t => t.Apart(h, s) < ToldApart)) : -1;
            if (at < 0)
            {
                at = heads.Count;
                heads.Add(s);
            }

            lines[s] = at;
        }

        return lines;
    }
}
