using Ventwright.Diagnosis;

namespace Ventwright.Bench;

/// <summary>Makes use of the time in which a person makes the check: what the findings after it will need is worked out before.</summary>
public sealed partial class BenchDiagnosis
{
    private const int MostAnswers = 3;
    private const double EnoughShare = 0.95, ApartInMeterSigmas = 6;

    /// <summary>What the latest findings came from.</summary>
    private Posterior? _latest;

    /// <summary>A copy that is thrown away; it shares all predictions.</summary>
    private BenchDiagnosis(BenchDiagnosis of)
    {
        (_simulator, _diagnoser, _candidates, _quick, _stands, _lastPlace) = (of._simulator, of._diagnoser, of._candidates, of._quick, of._stands, of._lastPlace);
        (Predictor, Catalog, StepsAhead, Meters) = (of.Predictor, of.Catalog, of.StepsAhead, of.Meters);
        _events.AddRange(of._events);
        _opened.UnionWith(of._opened);
    }

    /// <summary>
    /// Works through the likeliest answers to the first check that was suggested, so that the findings after the real one come sooner. Nothing is taken, and no answer changes.
    /// </summary>
    /// <param name="found">The latest findings.</param>
    /// <param name="stop">Asked between answers; true breaks it off.</param>
    public void LookAhead(Findings found, Func<bool> stop)
    {
        ArgumentNullException.ThrowIfNull(found);
        ArgumentNullException.ThrowIfNull(stop);
        if (found.Next is not [Advice next, ..] || _latest is null) return;
        int check = Predictor.Check(next.Setting, next.What);
        foreach (Outcome answer in LikelyAnswers(_latest, check))
        {
            if (stop()) return;
            var ahead = new BenchDiagnosis(this);
            ahead.Take("ahead", next.Setting, next.What, answer);
            ahead.Find();
        }
    }

    /// <summary>What the leading explanations would show most likely, each answer once.</summary>
    private List<Outcome> LikelyAnswers(Posterior posterior, int check)
    {
        CheckEntry entry = Predictor.Checks[check];
        var answers = new List<Outcome>();
        double sum = 0;
        foreach (Explanation e in posterior.Explanations)
        {
            if (sum >= EnoughShare || answers.Count == MostAnswers) break;
            sum += e.Probability;
            PredictionComponent most = Predictor.Predict(e.Set, check).Components.MaxBy(c => c.Weight)!;
            Outcome answer = most.Kind switch
            {
                ComponentKind.Number => Outcome.Number(Math.Clamp(most.Mean, entry.RangeLow, entry.RangeHigh)),
                ComponentKind.Words => Outcome.Word(most.WordShares.Select((share, word) => (share, word)).MaxBy(w => w.share).word),
                _ => Outcome.Unsteady,
            };
            if (!answers.Exists(a => IsAlike(a, answer, entry.Meter))) answers.Add(answer);
        }

        return answers;
    }

    private static bool IsAlike(Outcome a, Outcome b, MeterAccuracy meter) =>
        a.Kind == b.Kind && a.WordIndex == b.WordIndex && !(Math.Abs(a.Value - b.Value) > ApartInMeterSigmas * (meter.Absolute + (meter.RelativeGain * Math.Abs(a.Value))));
}
