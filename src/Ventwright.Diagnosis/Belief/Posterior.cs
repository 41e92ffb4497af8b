namespace Ventwright.Diagnosis;

/// <summary>A set of faults that may explain the readings.</summary>
/// <param name="Current">Faults present in the unit as it stands, as indices of the predictor.</param>
/// <param name="Past">Faults of parts that were renewed since.</param>
/// <param name="Probability">Probability given all readings.</param>
/// <param name="LogLikelihood">Natural logarithm of the likelihood of all readings.</param>
public sealed record Hypothesis(FaultSet Current, FaultSet Past, double Probability, double LogLikelihood)
{
    internal FaultSet Atoms { get; init; } = FaultSet.None;
}

/// <summary>What the readings say: the probability of each set of faults, of no fault and of something that is not on the sheet.</summary>
public sealed class Posterior
{
    private readonly Lazy<IReadOnlyList<Leader>> _leaders;

    internal Posterior(EvidenceView view, PredictionCache cache, DiagnosisOptions options, ReadingFilter filter, PriorTable prior, SetSearch search)
    {
        (View, Cache, Options, Filter, Prior) = (view, cache, options, filter, prior);
        var sum = new LeftOutSum();
        foreach (Scored s in search.Pool) sum.Add(s.LogJoint);
        double logOff = LogOffSheet();
        sum.Add(logOff);
        double log = sum.Log;
        OffSheet = Math.Exp(logOff - log);
        double rest = Math.Exp(Math.Min(search.LogLeftOut - log, 600));
        LeftOutAtMost = rest / (1 + rest);
        Hypotheses = [.. search.Pool.Select(s => Name(s, log)).OrderByDescending(h => h.Probability).ThenBy(h => h.Atoms)];
        var present = new double[cache.Predictor.Faults.Count];
        foreach (Hypothesis h in Hypotheses)
        {
            foreach (int fault in h.Current) present[fault] += h.Probability;
        }

        Present = present;
        CurrentSets = [.. Hypotheses.GroupBy(h => h.Current).Select(g => (Set: g.Key, Probability: g.Sum(h => h.Probability)))
            .OrderByDescending(p => p.Probability).ThenBy(p => p.Set)];
        Explanations = Ventwright.Diagnosis.Explanations.Of(Hypotheses, view);
        _leaders = new(FindLeaders);
    }

    /// <summary>All hypotheses that were worked out, most probable first.</summary>
    public IReadOnlyList<Hypothesis> Hypotheses { get; }

    /// <summary>Probability of each set of faults present in the unit as it stands, most probable first.</summary>
    public IReadOnlyList<(FaultSet Set, double Probability)> CurrentSets { get; }

    /// <summary>What may be wrong, by what explains the readings, most probable first.</summary>
    public IReadOnlyList<Explanation> Explanations { get; }

    /// <summary>Probability of each fault being present in the unit as it stands, by index of the predictor.</summary>
    public IReadOnlyList<double> Present { get; }

    /// <summary>Probability that the unit as it stands has none of the known faults, and nothing off the sheet.</summary>
    public double NoFault => CurrentSets.Where(c => c.Set.IsEmpty).Sum(c => c.Probability);

    /// <summary>Probability of something that is not on the sheet.</summary>
    public double OffSheet { get; }

    /// <summary>
    /// Most that all sets that were not worked out can hold together, as a share of all probability. It holds for sets of up to three faults whose
    /// parts each explain a reading at best as well as the set (two that act on the same reading: as sharply as the meter allows).
    /// </summary>
    public double LeftOutAtMost { get; }

    /// <summary>Entropy over the current sets and "not on the sheet", in bits.</summary>
    public double EntropyBits => Information.Bits([.. CurrentSets.Select(c => c.Probability), OffSheet]);

    /// <summary>Names of the readings that are misreads under every leading set on the sheet.</summary>
    public IReadOnlyList<string> UnexplainedReadings
    {
        get
        {
            Leader[] top = [.. Leaders.Take(20)];
            return [.. Enumerable.Range(0, View.Readings.Count).Where(r => top.All(l => l.Run.Misread[r] > 0.5)).Select(r => View.Readings[r].Event.Id)];
        }
    }

    /// <summary>
    /// Groups of names of readings of one check, in one state of the unit, that contradict each other and that no leading set (with an intermittent
    /// fault, say) explains.
    /// </summary>
    public IReadOnlyList<IReadOnlyList<string>> Contradictions
    {
        get
        {
            var groups = Enumerable.Range(0, View.Readings.Count).GroupBy(r => (View.Readings[r].Check, View.Readings[r].Epoch));
            return [.. groups.Where(g => Disagree([.. g]) && Blamed([.. g])).Select(g => g.Select(r => View.Readings[r].Event.Id).ToArray())];
        }
    }

    internal EvidenceView View { get; }

    internal PredictionCache Cache { get; }

    /// <summary>Assumptions that it was worked out with.</summary>
    public DiagnosisOptions Options { get; }

    internal ReadingFilter Filter { get; }

    internal PriorTable Prior { get; }

    /// <summary>Leading explanations (0.999 of what is on the sheet, at most 200) with what they have learnt of the shared unknowns.</summary>
    internal IReadOnlyList<Leader> Leaders => _leaders.Value;

    /// <summary>Name of a set in words.</summary>
    /// <param name="set">Indices of faults.</param>
    public string Describe(FaultSet set)
    {
        IReadOnlyList<FaultEntry> faults = Cache.Predictor.Faults;
        return set.IsEmpty ? "no fault" : string.Join(" with ", set.Select(f => faults[f].PartName + " " + faults[f].Text));
    }

    /// <summary>Two sets that a check tells apart, in words; a part that both are about is named once.</summary>
    internal string Apart(FaultSet one, FaultSet other)
    {
        IReadOnlyList<FaultEntry> faults = Cache.Predictor.Faults;
        return one is [int a] && other is [int b] && faults[a].Part == faults[b].Part
            ? $"{faults[a].Text} from {faults[b].Text} of {faults[a].PartName}" : $"{Describe(one)} from {Describe(other)}";
    }

    private Hypothesis Name(Scored scored, double log)
    {
        FaultSet current = View.Current(scored.Atoms);
        var past = FaultSet.Of(scored.Atoms.Where(a => !View.Atoms[a].IsCurrent).Select(a => View.Atoms[a].Fault));
        return new(current, past, Math.Exp(scored.LogJoint - log), scored.LogLikelihood) { Atoms = scored.Atoms };
    }

    private double LogOffSheet()
    {
        var sum = new LeftOutSum();
        if (Options.PriorOffSheet <= 0) return sum.Log;
        double each = Math.Log(Options.PriorOffSheet / Options.OffSheetShares.Count);
        foreach (double share in Options.OffSheetShares) sum.Add(each + Filter.LogOffSheet(share));
        return sum.Log;
    }

    private Leader[] FindLeaders()
    {
        double enough = 0.999 * (1 - OffSheet);
        var top = new List<Explanation>();
        double sum = 0;
        foreach (Explanation e in Explanations)
        {
            if (top.Count == 200 || sum >= enough) break;
            top.Add(e);
            sum += e.Probability;
        }

        var leaders = new Leader[top.Count];
        Parallel.For(0, leaders.Length, Filter.Loops, i => leaders[i] = new(top[i], Filter.Run(top[i].Hypothesis.Atoms, detailed: true)));
        return leaders;
    }

    private bool Disagree(int[] readings) => readings.Any(a => readings.Any(b => a < b && Differ(View.Readings[a], View.Readings[b])));

    private static bool Differ(ReadingView a, ReadingView b)
    {
        if (a.Event.Outcome.Kind != b.Event.Outcome.Kind || a.Event.Outcome.WordIndex != b.Event.Outcome.WordIndex) return true;
        double apart = Math.Abs(a.Event.Outcome.Value - b.Event.Outcome.Value);
        return apart > 4 * Math.Sqrt((a.Meter.Absolute * a.Meter.Absolute) + (b.Meter.Absolute * b.Meter.Absolute));
    }

    private bool Blamed(int[] readings)
    {
        double all = Leaders.Sum(l => l.Explanation.Probability);
        double blamed = Leaders.Sum(l => l.Explanation.Probability * readings.Max(r => l.Run.Misread[r]));
        return blamed > 0.5 * all;
    }
}

/// <summary>A leading explanation and its run through the readings.</summary>
internal sealed record Leader(Explanation Explanation, FilterResult Run)
{
    /// <summary>Its most probable hypothesis.</summary>
    public Hypothesis Hypothesis => Explanation.Hypothesis;
}

/// <summary>Entropy.</summary>
internal static class Information
{
    /// <summary>Entropy in bits of weights, which need not add up to 1.</summary>
    public static double Bits(params ReadOnlySpan<double> weights)
    {
        double sum = 0, bits = 0;
        foreach (double w in weights) sum += w;
        foreach (double w in weights)
        {
            if (w > 0) bits -= w / sum * Math.Log2(w / sum);
        }

        return bits;
    }
}
