using Ventwright.Diagnosis;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Bench;

/// <summary>A check to make next.</summary>
/// <param name="Setting">How the unit is to stand.</param>
/// <param name="What">What to look at.</param>
/// <param name="Place">Where.</param>
/// <param name="Minutes">How long it takes as the bench stands.</param>
/// <param name="Gain">Expected drop of entropy in bits, or share of fault weight that it may rule out.</param>
/// <param name="Proves">True if it is there to prove parts good, false to find the bad one.</param>
/// <param name="Why">The reason in words.</param>
public sealed record Advice(Setting Setting, Observable What, Place Place, double Minutes, double Gain, bool Proves, string Why);

/// <summary>What the readings say.</summary>
/// <param name="Suspects">Lines of suspects: the sets that no check separates, most probable first.</param>
/// <param name="NoFault">Probability that nothing is wrong.</param>
/// <param name="OffSheet">Probability of something that is not on the sheet.</param>
/// <param name="Proof">What is proven.</param>
/// <param name="Next">Checks to make next, best first.</param>
/// <param name="Notes">Readings that fit nothing, readings that contradict each other.</param>
/// <param name="LeftOutAtMost">Largest share of probability that sets not worked out could hold.</param>
public sealed record Findings(
    IReadOnlyList<Suspect> Suspects, double NoFault, double OffSheet, ProofReport Proof, IReadOnlyList<Advice> Next, IReadOnlyList<string> Notes, double LeftOutAtMost);

/// <summary>A bench session's diagnosis: takes readings and repairs, gives suspects, proof and the next check.</summary>
public sealed class BenchDiagnosis
{
    private const int QuickSets = 160;
    private const int RankedChecks = 48;
    private readonly Simulator _simulator;
    private readonly Diagnoser _diagnoser;
    private readonly List<EvidenceEvent> _events = [];
    private readonly List<int> _candidates = [];
    private readonly HashSet<int> _opened = [];
    private readonly System.Collections.Concurrent.ConcurrentDictionary<FaultSet, int[]> _classes = [];
    private Setting _stands;
    private int _lastPlace = -1;

    /// <summary>Starts with a unit laid on the bench.</summary>
    public BenchDiagnosis(Simulator simulator, SheetPredictor? predictor = null, BenchCatalog? catalog = null)
    {
        _simulator = simulator;
        Predictor = predictor ?? new(simulator);
        Catalog = catalog ?? new(simulator);
        _diagnoser = new(Predictor);
        _stands = Setting.Default(simulator.Model);
        for (int s = 0; s < Catalog.Settings.Count; s++)
        {
            foreach (Point point in Catalog.PointsIn(s)) _candidates.Add(Predictor.Check(Catalog.Settings[s], point.What));
        }

        _candidates = [.. _candidates.Distinct()];
    }

    /// <summary>What the sheet predicts.</summary>
    public SheetPredictor Predictor { get; }

    /// <summary>Settings worth making.</summary>
    public BenchCatalog Catalog { get; }

    /// <summary>Minutes spent so far, as the costs on the sheet have it.</summary>
    public double MinutesSpent { get; private set; }

    /// <summary>All checks that can be suggested.</summary>
    public IReadOnlyList<int> Candidates => _candidates;

    /// <summary>Takes a reading.</summary>
    /// <param name="id">Name by which it can be undone.</param>
    /// <param name="setting">How the unit stood.</param>
    /// <param name="what">What was looked at.</param>
    /// <param name="outcome">What was seen, numbers as <see cref="SheetPredictor.ToScale"/> has them.</param>
    /// <param name="meter">The meter that it was read with; null for an ordinary one.</param>
    public void Take(string id, Setting setting, Observable what, Outcome outcome, MeterAccuracy? meter = null)
    {
        int check = Predictor.Check(setting, what);
        MinutesSpent += Minutes(check);
        _stands = setting;
        _lastPlace = Predictor.Checks[check].Place;
        _opened.Add(_lastPlace);
        _events.Add(new Reading(id, check, outcome, meter));
    }

    /// <summary>Notes that a part was repaired or replaced; from here on it is a new unknown.</summary>
    public void Renew(string id, string part, double oddsFactor) => _events.Add(new Renewal(id, part, oddsFactor));

    /// <summary>Takes an event back.</summary>
    public bool Undo(string id) => _events.RemoveAll(e => string.Equals(e.Id, id, StringComparison.Ordinal)) > 0;

    /// <summary>Minutes for a check as the bench stands: changing the setting, reaching the place, reading.</summary>
    public double Minutes(int check)
    {
        CheckEntry entry = Predictor.Checks[check];
        Setting setting = Predictor[check].Setting;
        double minutes = entry.ReadMinutes;
        foreach (string name in setting.Words.Keys.Union(_stands.Words.Keys))
        {
            bool same = setting.Words.TryGetValue(name, out string? wanted) & _stands.Words.TryGetValue(name, out string? now) && wanted == now;
            if (!same) minutes += name.Contains(' ', StringComparison.Ordinal) ? 0.7 : 0.25;
        }

        Place place = _simulator.Model.Places[entry.Place];
        if (place.Opens is not null) minutes += _opened.Contains(entry.Place) ? 0.2 : place.Minutes;
        else if (entry.Place != _lastPlace) minutes += Math.Min(place.Minutes, 2);
        return minutes;
    }

    /// <summary>Posterior over fault sets.</summary>
    public Posterior Explain() => _diagnoser.Explain(_events);

    /// <summary>Everything that the readings say, with the next checks.</summary>
    public Findings Find(int suggestions = 5)
    {
        Posterior posterior = Explain();
        int[] near = Near(posterior);
        var notes = new List<string>();
        if (posterior.UnexplainedReadings.Count > 0) notes.Add($"no fault on the sheet explains: {string.Join(", ", posterior.UnexplainedReadings)}");
        foreach (IReadOnlyList<string> pair in posterior.Contradictions) notes.Add($"these readings contradict each other: {string.Join(", ", pair)}");
        return new(
            Lines(posterior), posterior.NoFault, posterior.OffSheet, Proof.Judge(posterior), Next(posterior, near, suggestions), notes, posterior.LeftOutAtMost);
    }

    /// <summary>The lines of suspects for a posterior.</summary>
    public IReadOnlyList<Suspect> Lines(Posterior posterior) => Suspects.Rank(posterior, Separating(posterior));

    /// <summary>The best next checks for a posterior.</summary>
    public IReadOnlyList<Advice> Next(Posterior posterior, int count) => Next(posterior, Near(posterior), count);

    private Advice[] Next(Posterior posterior, int[] near, int count) => [.. NextCheck.Rank(posterior, near, Minutes, count).Select(s => new Advice(
        Predictor[s.Check].Setting, Predictor[s.Check].What, _simulator.Model.Places[Predictor.Checks[s.Check].Place], s.Minutes, s.Gain, s.Purpose == CheckPurpose.Prove, s.Reason))];

    /// <summary>The checks that may tell the leading sets apart, by a quick look at their nominal outcomes.</summary>
    private int[] Near(Posterior posterior)
    {
        var leading = posterior.CurrentSets.Take(QuickSets).ToArray();
        if (leading.Length == 0) return [.. _candidates.Take(RankedChecks)];
        var taken = _events.OfType<Reading>().Select(r => r.Check).ToHashSet();
        int[] open = [.. _candidates.Where(c => !taken.Contains(c))];
        int[][] classes = [.. leading.Select(l => _classes.GetOrAdd(l.Set, _ => new int[_candidates.Max() + 1]))];
        var scored = new (int Check, double Score)[open.Length];
        Parallel.ForEach(open.Select((check, i) => (check, i)).GroupBy(c => Predictor.Checks[c.check].Setting), group =>
        {
            foreach ((int check, int i) in group) scored[i] = (check, QuickBits(leading, classes, check) / Math.Max(0.1, Minutes(check)));
        });
        int[] best = [.. scored.Where(s => s.Score > 1e-4).OrderByDescending(s => s.Score).ThenBy(s => s.Check).Take(RankedChecks).Select(s => s.Check)];
        return best.Length > 0 ? best : [.. open.OrderBy(Minutes).ThenBy(c => c).Take(RankedChecks)];
    }

    /// <summary>A few checks that together tell apart whatever any check can tell apart among the leading sets.</summary>
    private int[] Separating(Posterior posterior)
    {
        var leading = posterior.CurrentSets.Take(QuickSets).ToArray();
        if (leading.Length == 0) return [];
        int[][] classes = [.. leading.Select(l => _classes.GetOrAdd(l.Set, _ => new int[_candidates.Max() + 1]))];
        Parallel.ForEach(_candidates.GroupBy(c => Predictor.Checks[c].Setting), group =>
        {
            foreach (int check in group) QuickBits(leading, classes, check);
        });
        int[] part = new int[leading.Length];
        int parts = 1;
        List<int> chosen = [];
        foreach (int check in _candidates)
        {
            var renamed = new Dictionary<(int, int), int>();
            int[] finer = [.. part.Select((p, s) => (p, classes[s][check])).Select(k => renamed.TryGetValue(k, out int known) ? known : renamed[k] = renamed.Count)];
            if (renamed.Count <= parts) continue;
            (part, parts) = (finer, renamed.Count);
            chosen.Add(check);
            if (parts == leading.Length || chosen.Count >= 64) break;
        }

        return [.. chosen];
    }

    private double QuickBits((FaultSet Set, double Probability)[] leading, int[][] classes, int check)
    {
        var shares = new Dictionary<int, double>();
        double total = 0;
        for (int s = 0; s < leading.Length; s++)
        {
            if (classes[s][check] == 0) classes[s][check] = OutcomeClass(Predictor.Predict(leading[s].Set, check), Predictor.Checks[check]);
            System.Runtime.InteropServices.CollectionsMarshal.GetValueRefOrAddDefault(shares, classes[s][check], out _) += leading[s].Probability;
            total += leading[s].Probability;
        }

        return shares.Count < 2 ? 0 : -shares.Values.Sum(p => p / total * Math.Log2(p / total));
    }

    /// <summary>A number above 0 for what a person would tell apart: the likeliest word, or the reading in steps of about four standard deviations.</summary>
    internal static int OutcomeClass(Prediction prediction, CheckEntry check)
    {
        PredictionComponent main = prediction.Components[0];
        if (main.Kind == ComponentKind.Words) return 1 + main.WordShares.ToList().IndexOf(main.WordShares.Max());
        if (main.Kind != ComponentKind.Number) return 100 + (int)main.Kind;
        double sd = Math.Sqrt(Math.Pow(check.Meter.Absolute, 2) + Math.Pow(check.Meter.RelativeGain * main.Mean, 2) + Math.Pow(main.Sd, 2) + main.Shared.Sum(s => s * s));
        return 1_000_000 + (int)Math.Clamp(Math.Round(main.Mean / (4 * Math.Max(sd, 1e-9))), -900_000, 900_000);
    }
}
