using System.Collections.Concurrent;

namespace Ventwright.Diagnosis;

/// <summary>
/// Predictions that are taken from units with the very fault, where the usual one leaves nothing but a slip of whoever read: a fault that moves the unit to where its tolerances
/// weigh more (a sensor that reads wrong brings the module off its flat stretch) has a wider spread than the sound unit, and one that shows nothing in the nominal unit may flip a
/// state in others. Sets in which nothing else acts on the check use the same prediction.
/// </summary>
internal sealed class SecondLook
{
    /// <summary>Most faults of either kind that are looked at again; those that would weigh most if the readings fitted.</summary>
    private const int Most = 12;

    /// <summary>A fault that would weigh less than this share of the leader, if all its slips fitted as well as they fit any fault, is left alone.</summary>
    private const double LeastShare = 0.01;

    /// <summary>Guess at how often a fault that may act at a reading does: few do, and those in some units.</summary>
    private const double QuietShare = 0.05;

    /// <summary>Likelihood of a reading that fits a spread of a quarter of the meter's range, as a multiple of that of a slip's.</summary>
    private const double WideShare = 4;

    /// <summary>A word that is no likelier than this is a slip: predictions leave about a hundredth to words that nobody expects.</summary>
    private const double WordSlip = 0.015;

    private readonly IReadOnlyList<Scored> _scored;
    private readonly EvidenceView _view;
    private readonly PredictionCache _cache;
    private readonly double[] _slip, _best;
    private readonly Dictionary<CompiledPrediction, CompiledPrediction>?[] _instead;
    private readonly Dictionary<int, CompiledPrediction>?[] _quiet;
    private readonly ConcurrentDictionary<(CompiledPrediction, CompiledPrediction), CompiledPrediction> _eitherOf = [];

    private SecondLook(IReadOnlyList<Scored> scored, EvidenceView view, PredictionCache cache)
    {
        (_scored, _view, _cache) = (scored, view, cache);
        _slip = [.. view.Readings.Select(r => Math.Log(Math.Max(2 * r.Misread * r.Broad, r.Event.Outcome.Kind == OutcomeKind.Word ? WordSlip : 0)))];
        _best = [.. view.Readings.Select((reading, r) => Math.Max(Math.Log(WideShare * reading.Broad), scored.Max(s => s.LogFactors[r])))];
        _instead = new Dictionary<CompiledPrediction, CompiledPrediction>?[_slip.Length];
        _quiet = new Dictionary<int, CompiledPrediction>?[_slip.Length];
    }

    private Scored Sound => _scored[0];

    /// <summary>The prediction to use at a reading.</summary>
    /// <param name="reading">Index of the reading.</param>
    /// <param name="acting">The faults.</param>
    /// <param name="plain">What they are usually taken to show.</param>
    public CompiledPrediction At(int reading, FaultSet acting, CompiledPrediction plain)
    {
        CompiledPrediction usual = _instead[reading]?.GetValueOrDefault(plain) ?? plain;
        if (_quiet[reading] is not { } quiet) return usual;
        for (int i = 0; i < acting.Count; i++)
        {
            if (!quiet.TryGetValue(acting[i], out CompiledPrediction? close)) continue;
            if (ReferenceEquals(plain, Sound.Predictions[reading])) return close;
            // Whether it flips beside the others is not known before the set is about to be believed.
            return usual.Modes.Length > 1 || close.Modes.Length > 1 ? usual : _eitherOf.GetOrAdd((usual, close), pair => CompiledPrediction.EitherOf(pair.Item1, pair.Item2));
        }

        return usual;
    }

    /// <summary>Looks through single faults.</summary>
    /// <param name="scored">The sound unit, then the single faults.</param>
    /// <param name="view">The readings.</param>
    /// <param name="cache">What faults show.</param>
    /// <param name="loops">How loops are run.</param>
    /// <returns>The predictions, and which of the list have some; null where nothing calls for them.</returns>
    public static (SecondLook Look, int[] Changed)? Of(IReadOnlyList<Scored> scored, EvidenceView view, PredictionCache cache, ParallelOptions loops)
    {
        var look = new SecondLook(scored, view, cache);
        int[][] slips = [.. Enumerable.Range(0, scored.Count).Select(look.Slips)], quiet = look.QuietSlips();
        int[] again = look.Foremost(slips, _ => 0);
        int[] quietly = look.Foremost([.. quiet.Select((q, i) => q.Length == 0 ? q : [.. slips[i], .. q])], i => quiet[i].Length * Math.Log(QuietShare));
        (int Single, int Reading)[] all = [.. again.SelectMany(i => slips[i].Select(r => (i, r))), .. quietly.SelectMany(i => quiet[i].Select(r => (i, r)))];
        Parallel.ForEach(all, loops, p => look.Closely(p.Single, p.Reading));
        foreach (int i in again) look.Replace(i, slips[i]);
        int[] changed = [.. again.Union(quietly.Where(i => look.Join(i, quiet[i])))];
        return changed.Length == 0 ? null : (look, changed);
    }

    /// <summary>The faults that would weigh most if their slips fitted.</summary>
    /// <param name="slips">Slips of each of the list.</param>
    /// <param name="less">Logarithm of what that takes away from one of the list.</param>
    private int[] Foremost(int[][] slips, Func<int, double> less)
    {
        Scored leader = _scored.MaxBy(s => s.LogJoint)!;
        double least = leader.LogJoint + Math.Log(LeastShare);
        return [.. Enumerable.Range(1, _scored.Count - 1).Select(i => (i, Hope: Hope(leader, _scored[i], slips[i]) + less(i))).Where(p => p.Hope >= least)
            .OrderByDescending(p => p.Hope).ThenBy(p => p.i).Take(Most).Select(p => p.i)];
    }

    private void Replace(int single, int[] slips)
    {
        foreach (int r in slips) (_instead[r] ??= [])[_scored[single].Predictions[r]] = Closely(single, r);
    }

    /// <summary>Keeps what a bystander shows; false where no unit with the fault shows anything of its own.</summary>
    private bool Join(int single, int[] slips)
    {
        bool any = false;
        foreach (int r in slips)
        {
            CompiledPrediction close = Closely(single, r);
            if (close.SameAs(Sound.Predictions[r], _view.Readings[r].Entry)) continue;
            (_quiet[r] ??= [])[FaultAt(single, r)!.Value] = close;
            any = true;
        }

        return any;
    }

    private CompiledPrediction Closely(int single, int reading)
    {
        ReadingView r = _view.Readings[reading];
        return _cache.GetClosely(_view.Acting(_scored[single].Atoms, r.Epoch), r.Check);
    }

    /// <summary>What a fault would weigh if its slips fitted, by itself or beside the leader; nothing where it has none.</summary>
    private double Hope(Scored leader, Scored single, int[] slips)
    {
        double alone = 0, beside = 0;
        foreach (int r in slips)
        {
            alone += _best[r] - single.LogFactors[r];
            beside += Math.Max(0, _best[r] - leader.LogFactors[r]);
        }

        if (alone <= 0) return double.NegativeInfinity;
        double together = beside > 0 && leader != single ? leader.LogJoint + single.LogPrior - Sound.LogPrior + beside : double.NegativeInfinity;
        return Math.Max(single.LogJoint + alone, together);
    }

    /// <summary>Readings that one of the list acts on and that only a slip explains.</summary>
    private int[] Slips(int single) =>
        [.. Enumerable.Range(0, _slip.Length).Where(r => _scored[single].LogFactors[r] <= _slip[r] && !ReferenceEquals(_scored[single].Predictions[r], Sound.Predictions[r]))];

    /// <summary>
    /// For each of the list, readings that only a slip explains in the sound unit and, as far as the usual prediction goes, with the fault, but that the fault may act on in some units.
    /// </summary>
    private int[][] QuietSlips()
    {
        int[] odd = [.. Enumerable.Range(0, _slip.Length).Where(r => Sound.LogFactors[r] <= _slip[r])];
        return [.. _scored.Select((s, i) => (int[])[.. odd.Where(r => ReferenceEquals(s.Predictions[r], Sound.Predictions[r])
            && FaultAt(i, r) is { } fault && _cache.Predictor.MayAct(fault, _view.Readings[r].Check))])];
    }

    /// <summary>The fault of a single, null at a reading in another life of its part.</summary>
    private int? FaultAt(int single, int reading) =>
        _view.Acting(_scored[single].Atoms, _view.Readings[reading].Epoch) is { Count: 1 } acting ? acting[0] : null;
}
