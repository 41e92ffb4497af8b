using Ventwright.Diagnosis;

namespace Ventwright.Bench;

/// <summary>Makes use of the time in which a person makes the check: what the findings after it will need is worked out before.</summary>
public sealed partial class BenchDiagnosis
{
    private const int MostAnswers = 4;
    private const double EnoughShare = 0.95, ApartInMeterSigmas = 2, LeastWord = 0.05;

    /// <summary>What the latest findings came from.</summary>
    private Posterior? _latest;

    /// <summary>Findings that were worked out ahead, and the evidence that they go on from.</summary>
    private readonly List<Ahead> _ahead = [];
    private EvidenceEvent[] _aheadOf = [];

    /// <summary>How many answers are worked out ahead.</summary>
    internal int AnswersAhead => _ahead.Count;

    /// <summary>A copy that is thrown away; it shares all predictions.</summary>
    private BenchDiagnosis(BenchDiagnosis of)
    {
        (_simulator, _memory, _candidates, _costs) = (of._simulator, of._memory, of._candidates, new(of._costs));
        (Predictor, Catalog, StepsAhead, Meters) = (of.Predictor, of.Catalog, of.StepsAhead, of.Meters);
        _quick = new(Predictor, _candidates, _costs);
        _events.AddRange(of._events);
    }

    /// <summary>
    /// Works through the likeliest answers to the first check that was suggested, so that the findings after the real one come sooner, or at once where the answer is one of them
    /// to the word. Nothing is taken, and no answer changes.
    /// </summary>
    /// <param name="found">The latest findings.</param>
    /// <param name="stop">Breaks it off, in the middle of an answer too; the answers worked through until then are kept.</param>
    /// <param name="suggestions">How many next checks <see cref="Find"/> will be asked for.</param>
    public void LookAhead(Findings found, CancellationToken stop, int suggestions = UsualSuggestions)
    {
        ArgumentNullException.ThrowIfNull(found);
        if (found.Next is not [Advice next, ..] || _latest is null) return;
        int[] checks = [.. next.Looks.Select(look => Predictor.Check(next.Setting, look))];
        _ahead.Clear();
        _aheadOf = [.. _events];
        var loops = new ParallelOptions { CancellationToken = stop };
        foreach (Outcome[] answer in LikelyAnswers(_latest, checks))
        {
            var ahead = new BenchDiagnosis(this);
            for (int i = 0; i < checks.Length; i++) ahead.Take($"ahead {i}", next.Setting, next.Looks[i], answer[i]);
            try
            {
                Findings then = ahead.Find(suggestions, loops);
                // Notes name readings, and those ahead have no name yet.
                if (then.Notes.Count == 0) _ahead.Add(new(Unnamed(ahead._events), suggestions, then, ahead._latest!));
            }
            catch (OperationCanceledException)
            {
                return;
            }
        }
    }

    /// <summary>The findings for the present evidence, if they were worked out ahead.</summary>
    private Findings? KnownAhead(int suggestions)
    {
        if (_ahead.Count == 0 || _events.Count <= _aheadOf.Length || !_aheadOf.SequenceEqual(_events.Take(_aheadOf.Length), ReferenceEqualityComparer.Instance)) return null;
        EvidenceEvent[] answer = Unnamed(_events);
        if (_ahead.Find(a => a.Suggestions == suggestions && a.Answer.SequenceEqual(answer)) is not { } known) return null;
        _latest = known.From;
        return known.Found;
    }

    /// <summary>The events that came after those that the look ahead went on from, without their names: everything that findings depend on.</summary>
    private EvidenceEvent[] Unnamed(List<EvidenceEvent> events) => [.. events.Skip(_aheadOf.Length).Select(e => e with { Id = "" })];

    /// <summary>What the leading explanations would show at some checks, likeliest first, each answer once: what each would show most likely, and the same with one check another way.</summary>
    private List<Outcome[]> LikelyAnswers(Posterior posterior, int[] checks)
    {
        var answers = new List<(Outcome[] Answer, double Share)>();
        double sum = 0;
        foreach (Explanation e in posterior.Explanations.Take(MostAnswers))
        {
            if (sum >= EnoughShare) break;
            sum += e.Probability;
            (Outcome Answer, double Share)[][] each = [.. checks.Select(c => LikelyOutcomes(e.Set, c))];
            Outcome[] likely = [.. each.Select(o => o[0].Answer)];
            double share = e.Probability * each.Aggregate(1.0, (product, o) => product * o[0].Share);
            Add(likely, share);
            for (int i = 0; i < checks.Length; i++)
            {
                foreach ((Outcome other, double its) in each[i].Skip(1)) Add([.. likely[..i], other, .. likely[(i + 1)..]], share / each[i][0].Share * its);
            }
        }

        return [.. answers.OrderByDescending(a => a.Share).Take(MostAnswers).Select(a => a.Answer)];

        void Add(Outcome[] answer, double share)
        {
            int known = answers.FindIndex(a => checks.Select((c, i) => IsAlike(a.Answer[i], answer[i], Predictor.Checks[c].Meter)).All(alike => alike));
            if (known < 0) answers.Add((answer, share));
            else answers[known] = (answers[known].Answer, answers[known].Share + share);
        }
    }

    /// <summary>What a set of faults would show at a check, likeliest first, with shares: words that are no surprise; of a number its mean and a value to either side.</summary>
    private (Outcome Answer, double Share)[] LikelyOutcomes(FaultSet faults, int check)
    {
        const double middle = 0.4, side = 0.3, away = 1.2;
        CheckEntry entry = Predictor.Checks[check];
        PredictionComponent most = Predict(faults, check).Components.MaxBy(c => c.Weight)!;
        if (most.Kind is not (ComponentKind.Number or ComponentKind.Words)) return [(Outcome.Unsteady, 1)];
        if (most.Kind == ComponentKind.Words)
            return [.. most.WordShares.Select((share, word) => (Outcome.Word(word), share)).OrderByDescending(w => w.share).Where((w, i) => i == 0 || w.share > LeastWord)];
        Outcome Number(double value) => Outcome.Number(Math.Clamp(value, entry.RangeLow, entry.RangeHigh));
        double far = away * Math.Sqrt((most.Sd * most.Sd) + most.Shared.Sum(s => s * s));
        return [(Number(most.Mean), middle), (Number(most.Mean - far), side), (Number(most.Mean + far), side)];
    }

    private static bool IsAlike(Outcome a, Outcome b, MeterAccuracy meter) =>
        a.Kind == b.Kind && a.WordIndex == b.WordIndex && !(Math.Abs(a.Value - b.Value) > ApartInMeterSigmas * (meter.Absolute + (meter.RelativeGain * Math.Abs(a.Value))));

    /// <summary>Findings after an answer that was not given yet.</summary>
    private sealed record Ahead(EvidenceEvent[] Answer, int Suggestions, Findings Found, Posterior From);
}
