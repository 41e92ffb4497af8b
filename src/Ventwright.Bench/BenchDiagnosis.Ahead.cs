using Ventwright.Diagnosis;

namespace Ventwright.Bench;

/// <summary>Makes use of the time in which a person makes the check: what the findings after it will need is worked out before.</summary>
public sealed partial class BenchDiagnosis
{
    private const int MostAnswers = 3;
    private const double EnoughShare = 0.95, ApartInMeterSigmas = 6;

    /// <summary>What the latest findings came from.</summary>
    private Posterior? _latest;

    /// <summary>Findings that were worked out ahead, and the evidence that they go on from.</summary>
    private readonly List<Ahead> _ahead = [];
    private EvidenceEvent[] _aheadOf = [];

    /// <summary>A copy that is thrown away; it shares all predictions.</summary>
    private BenchDiagnosis(BenchDiagnosis of)
    {
        (_simulator, _diagnoser, _candidates, _costs) = (of._simulator, of._diagnoser, of._candidates, new(of._costs));
        (Predictor, Catalog, StepsAhead, Meters) = (of.Predictor, of.Catalog, of.StepsAhead, of.Meters);
        _quick = new(Predictor, _candidates, _costs);
        _events.AddRange(of._events);
    }

    /// <summary>
    /// Works through the likeliest answers to the first check that was suggested, so that the findings after the real one come sooner, or at once where the answer is one of them
    /// to the word. Nothing is taken, and no answer changes.
    /// </summary>
    /// <param name="found">The latest findings.</param>
    /// <param name="stop">Asked between answers; true breaks it off.</param>
    /// <param name="suggestions">How many next checks <see cref="Find"/> will be asked for.</param>
    public void LookAhead(Findings found, Func<bool> stop, int suggestions = UsualSuggestions)
    {
        ArgumentNullException.ThrowIfNull(found);
        ArgumentNullException.ThrowIfNull(stop);
        if (found.Next is not [Advice next, ..] || _latest is null) return;
        int[] checks = [.. next.Looks.Select(look => Predictor.Check(next.Setting, look))];
        _ahead.Clear();
        _aheadOf = [.. _events];
        foreach (Outcome[] answer in LikelyAnswers(_latest, checks))
        {
            if (stop()) return;
            var ahead = new BenchDiagnosis(this);
            for (int i = 0; i < checks.Length; i++) ahead.Take($"ahead {i}", next.Setting, next.Looks[i], answer[i]);
            Findings then = ahead.Find(suggestions);
            // Notes name readings, and those ahead have no name yet.
            if (then.Notes.Count == 0) _ahead.Add(new(Unnamed(ahead._events), suggestions, then, ahead._latest!));
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

    /// <summary>What the leading explanations would show most likely at some checks, each answer once.</summary>
    private List<Outcome[]> LikelyAnswers(Posterior posterior, int[] checks)
    {
        var answers = new List<Outcome[]>();
        double sum = 0;
        foreach (Explanation e in posterior.Explanations)
        {
            if (sum >= EnoughShare || answers.Count == MostAnswers) break;
            sum += e.Probability;
            Outcome[] answer = [.. checks.Select(c => LikelyAnswer(e.Set, c))];
            if (!answers.Exists(a => checks.Select((c, i) => IsAlike(a[i], answer[i], Predictor.Checks[c].Meter)).All(alike => alike))) answers.Add(answer);
        }

        return answers;
    }

    private Outcome LikelyAnswer(FaultSet faults, int check)
    {
        CheckEntry entry = Predictor.Checks[check];
        PredictionComponent most = Predictor.Predict(faults, check).Components.MaxBy(c => c.Weight)!;
        return most.Kind switch
        {
            ComponentKind.Number => Outcome.Number(Math.Clamp(most.Mean, entry.RangeLow, entry.RangeHigh)),
            ComponentKind.Words => Outcome.Word(most.WordShares.Select((share, word) => (share, word)).MaxBy(w => w.share).word),
            _ => Outcome.Unsteady,
        };
    }

    private static bool IsAlike(Outcome a, Outcome b, MeterAccuracy meter) =>
        a.Kind == b.Kind && a.WordIndex == b.WordIndex && !(Math.Abs(a.Value - b.Value) > ApartInMeterSigmas * (meter.Absolute + (meter.RelativeGain * Math.Abs(a.Value))));

    /// <summary>Findings after an answer that was not given yet.</summary>
    private sealed record Ahead(EvidenceEvent[] Answer, int Suggestions, Findings Found, Posterior From);
}
