using Ventwright.Diagnosis;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Bench;

/// <summary>A bench session's diagnosis: takes readings and repairs, gives suspects, proof and the next check.</summary>
public sealed partial class BenchDiagnosis
{
    private const int RankedToFind = 40, RankedToProve = 24, UsualSuggestions = 5;
    private readonly Simulator _simulator;
    private readonly SessionMemory _memory;
    private readonly List<EvidenceEvent> _events = [];
    private readonly int[] _candidates;
    private readonly BenchCosts _costs;
    private readonly QuickLook _quick;

    /// <summary>Starts with a unit laid on the bench.</summary>
    public BenchDiagnosis(Simulator simulator, SheetPredictor? predictor = null, BenchCatalog? catalog = null)
    {
        _simulator = simulator;
        Predictor = predictor ?? new(simulator);
        Catalog = catalog ?? new(simulator);
        _memory = new(Predictor);
        _costs = new(simulator.Model, Predictor, Catalog.Settings[0]);
        _candidates = [.. Predictor.Check([.. Enumerable.Range(0, Catalog.Settings.Count).SelectMany(s => Catalog.PointsIn(s).Select(p => (Catalog.Settings[s], p.What)))]).Distinct()];
        _quick = new(Predictor, _candidates, _costs);
    }

    /// <summary>What the sheet predicts.</summary>
    public SheetPredictor Predictor { get; }

    /// <summary>Settings worth making.</summary>
    public BenchCatalog Catalog { get; }

    /// <summary>Steps that the choice of the next check looks ahead: 1, or 2 to compare.</summary>
    public int StepsAhead { get; init; } = 1;

    /// <summary>Minutes spent so far, as the costs on the sheet have it.</summary>
    public double MinutesSpent => _costs.Spent;

    /// <summary>All checks that can be suggested.</summary>
    public IReadOnlyList<int> Candidates => _candidates;

    /// <summary>Meters that the readings were taken with, where an accuracy stands beside them.</summary>
    public Meters Meters { get; } = new();

    /// <summary>Takes a reading.</summary>
    /// <param name="id">Name by which it can be undone.</param>
    /// <param name="setting">How the unit stood.</param>
    /// <param name="what">What was looked at.</param>
    /// <param name="outcome">What was seen, numbers as <see cref="BenchMeter.ToScale"/> has them.</param>
    /// <param name="meter">The meter that it was read with; null for an ordinary one.</param>
    public void Take(string id, Setting setting, Observable what, Outcome outcome, MeterAccuracy? meter = null)
    {
        int check = Predictor.Check(setting, what);
        _costs.Made(check);
        _events.Add(new Reading(id, check, outcome, meter));
    }

    /// <summary>Takes a symptom: what somebody noticed before the bench. It counts as a weak reading, costs no minutes and leaves the bench as it stands.</summary>
    /// <param name="id">Name by which it can be undone.</param>
    /// <param name="setting">How the unit stood.</param>
    /// <param name="what">What was noticed; a check that is told in words.</param>
    /// <param name="outcome">The word.</param>
    /// <exception cref="ArgumentException">The check is told in numbers.</exception>
    public void TakeSymptom(string id, Setting setting, Observable what, Outcome outcome)
    {
        int check = Predictor.Check(setting, what);
        if (Predictor.Checks[check].IsNumber) throw new ArgumentException($"{what} is told in numbers; a symptom is told in words", nameof(what));
        _events.Add(new Reading(id, check, outcome, MisreadShare: Reading.SymptomMisreadShare));
    }

    /// <summary>Notes that a part was repaired or replaced; from here on it is a new unknown.</summary>
    public void Renew(string id, string part, double oddsFactor) => _events.Add(new Renewal(id, part, oddsFactor));

    /// <summary>Takes an event back.</summary>
    public bool Undo(string id) => _events.RemoveAll(e => string.Equals(e.Id, id, StringComparison.Ordinal)) > 0;

    /// <summary>Minutes for a check as the bench stands: changing the setting, reaching the place, reading.</summary>
    public double Minutes(int check) => _costs.Minutes(check);

    /// <summary>Posterior over fault sets.</summary>
    /// <param name="loops">How loops are run, here and for what is asked of the posterior.</param>
    /// <exception cref="OperationCanceledException">It was broken off.</exception>
    public Posterior Explain(ParallelOptions? loops = null) => _memory.Explain(_events, loops);

    /// <summary>What a set of faults makes a check show.</summary>
    public Prediction Predict(FaultSet faults, int check) => _memory.Predict(faults, check);

    /// <summary>Works out ahead what every single fault shows at every check, so that later answers come at once and look at every
    /// setting. Without it, checks that prove parts are chosen among the plain settings.</summary>
    /// <param name="progress">Told the share done, 0 to 1.</param>
    /// <param name="cores">Most cores to use; -1 for all.</param>
    /// <param name="stop">Breaks it off; what is done stays.</param>
    public void Prepare(Action<double>? progress = null, int cores = -1, CancellationToken stop = default) => Predictor.Prepare(_candidates, progress, cores, stop);

    /// <summary>
    /// Goes through suggested checks as a sound unit would answer them, on a diagnosis that is thrown away: the first answers of a session then come as fast as later
    /// ones, since the program is compiled as it runs and most sessions begin this way.
    /// </summary>
    /// <param name="bench">A diagnosis without readings, with everything worked out ahead.</param>
    /// <param name="readings">How many checks.</param>
    public static void Rehearse(BenchDiagnosis bench, int readings)
    {
        ArgumentNullException.ThrowIfNull(bench);
        var unit = new SimulatedUnit(bench._simulator, [], new Random(1), within: 0, misreads: 0);
        for (int i = 0; i < readings && bench.Find().Next is [Advice next, ..]; i++)
        {
            foreach (Observable look in next.Looks)
                bench.Take($"rehearsed {i} {look}", next.Setting, look, unit.Observe(bench.Predictor, bench.Predictor.Check(next.Setting, look)));
        }
    }

    /// <summary>Everything that the readings say, with the next checks.</summary>
    /// <param name="suggestions">How many next checks.</param>
    /// <param name="loops">How loops are run. Broken off, what was predicted until then is kept.</param>
    /// <exception cref="OperationCanceledException">It was broken off.</exception>
    public Findings Find(int suggestions = UsualSuggestions, ParallelOptions? loops = null)
    {
        if (KnownAhead(suggestions) is { } known) return known;
        Posterior posterior = Explain(loops);
        _latest = posterior;
        ProofReport proof = Proof.Judge(posterior);
        var notes = new List<string>();
        if (posterior.UnexplainedReadings.Count > 0) notes.Add($"no fault on the sheet explains: {string.Join(", ", posterior.UnexplainedReadings)}");
        foreach (IReadOnlyList<string> pair in posterior.Contradictions) notes.Add($"these readings contradict each other: {string.Join(", ", pair)}");
        return new(
            Lines(posterior), posterior.NoFault, posterior.OffSheet, proof, Next(posterior, suggestions, proof), notes, posterior.LeftOutAtMost)
        {
            Present = posterior.Present,
        };
    }

    /// <summary>The lines of suspects for a posterior.</summary>
    public IReadOnlyList<Suspect> Lines(Posterior posterior) => Suspects.Rank(posterior, [.. _quick.Separating(posterior), .. Wiggled(posterior)]);

    /// <summary>The best next checks for a posterior: to find the bad part while it is not sure, then to prove the rest.</summary>
    public IReadOnlyList<Advice> Next(Posterior posterior, int count) => Next(posterior, count, null);

    private Advice[] Next(Posterior posterior, int count, ProofReport? judged)
    {
        var taken = _events.OfType<Reading>().Where(r => !r.IsSymptom).Select(r => r.Check).ToHashSet();
        int[] open = [.. _candidates.Where(c => !taken.Contains(c))];
        int[] near = _quick.Finding(posterior, open, RankedToFind);
        int[] wiggled = [.. Wiggled(posterior).Except(taken)];
        IReadOnlyList<Suggestion> best = WithOneOf(wiggled, NextCheck.ToFind(posterior, [.. near, .. wiggled], Minutes, near.Length + wiggled.Length, StepsAhead), count);
        if (best.Count == 0)
        {
            ProofReport proof = judged ?? Proof.Judge(posterior);
            if (!Predictor.IsPrepared(_candidates)) open = [.. open.Where(c => Catalog.IsPlain(Predictor[c].Setting))];
            (near, CheckRound[] rounds) = _quick.Proving(posterior, proof, open, RankedToProve);
            best = NextCheck.ToProve(posterior, proof, near, Minutes, count, rounds);
        }

        return [.. best.Select(Advise)];
    }

    private Advice Advise(Suggestion s) => new(
        Predictor[s.Check].Setting, Predictor[s.Check].What, _simulator.Model.Places[Predictor.Checks[s.Check].Place], s.Minutes, s.Gain, s.Purpose == CheckPurpose.Prove, Why(s))
    {
        Also = [.. s.Also.Select(c => Predictor[c].What)],
    };

    /// <summary>The best of a ranking; when none of the wiggle checks is among them, the best of these takes the last place.</summary>
    private static Suggestion[] WithOneOf(int[] wiggled, IReadOnlyList<Suggestion> ranking, int count)
    {
        Suggestion[] best = [.. ranking.Take(count)];
        if (count < 2 || best.Any(s => wiggled.Contains(s.Check)) || ranking.FirstOrDefault(s => wiggled.Contains(s.Check)) is not { } one) return best;
        return [.. best.Take(count - 1), one];
    }

    private int[] Wiggled(Posterior posterior) => WiggleChecks.Of(_simulator, Predictor, posterior, [.. _events.OfType<Reading>().Where(r => !r.IsSymptom)], _candidates);

    private string Why(Suggestion suggestion) =>
        Predictor[suggestion.Check].Setting.Wiggled is { } part ? WiggleChecks.Reason(_simulator.Model, part, suggestion.Reason) : suggestion.Reason;

    /// <summary>A closer look at what leads: parts to swap in, the size of a soft fault, lines of the sheet that may be wrong.</summary>
    /// <param name="findings">The findings of <see cref="Find"/> for the same readings.</param>
    /// <param name="progress">Told the share done, 0 to 1, while lines of the sheet are tried.</param>
    public CloserLook LookCloser(Findings findings, Action<double>? progress = null)
    {
        ArgumentNullException.ThrowIfNull(findings);
        Posterior posterior = Explain();
        var whatIf = new WhatIf(_simulator, Predictor, _events);
        Suspect? leader = findings.Suspects.Count > 0 ? findings.Suspects[0] : null;
        return new(
            leader is null ? [] : new SwapChecks(_simulator.Model, this).Of(leader, [.. _events.OfType<Reading>().Where(r => !r.IsSymptom).Select(r => r.Check)]),
            leader is null ? null : SizeSearch.Of(_simulator.Model, whatIf, leader),
            SheetLineSearch.IsCalledFor(posterior) ? new SheetLineSearch(_simulator, Predictor, whatIf).Run(posterior, progress) : []);
    }
}
