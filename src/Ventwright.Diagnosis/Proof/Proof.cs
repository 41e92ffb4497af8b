namespace Ventwright.Diagnosis;

/// <summary>Whether the readings rule a fault out in the unit as it stands.</summary>
/// <param name="Fault">Index of the fault.</param>
/// <param name="ShowsOnBench">False for a fault that shows only in the car.</param>
/// <param name="Suspected">True when a credible set contains the fault.</param>
/// <param name="LikelihoodRatio">
/// Ratio of the likelihood with the fault added to that without it, under the first credible set that leaves the fault open, or the largest over all
/// of them when none does; 1 when no reading would have come out differently.
/// </param>
/// <param name="RuledOut">True when the fault is in no credible set and the ratio is below the threshold.</param>
public sealed record FaultVerdict(int Fault, bool ShowsOnBench, bool Suspected, double LikelihoodRatio, bool RuledOut);

/// <summary>Whether a part is proven.</summary>
/// <param name="Part">The part.</param>
/// <param name="Proven">True when all its faults that show on the bench are ruled out, and there is at least one.</param>
/// <param name="Coverage">Share of the prior weight of these faults that is ruled out, 0 to 1.</param>
/// <param name="Open">Its faults that show on the bench and are not ruled out.</param>
/// <param name="OnlyInCar">Its faults that show only in the car.</param>
public sealed record PartProof(string Part, bool Proven, double Coverage, IReadOnlyList<int> Open, IReadOnlyList<int> OnlyInCar);

/// <summary>What is proven.</summary>
/// <param name="Faults">Verdict on each fault, by index.</param>
/// <param name="Parts">Each part, in the order in which the faults name them.</param>
/// <param name="Coverage">Share of the prior weight of all faults that show on the bench that is ruled out, 0 to 1.</param>
/// <param name="OffSheet">Probability of something that is not on the sheet, which may make readings good or bad that prove something here.</param>
public sealed record ProofReport(IReadOnlyList<FaultVerdict> Faults, IReadOnlyList<PartProof> Parts, double Coverage, double OffSheet);

/// <summary>
/// Judges which faults the readings rule out. A low prior never does: for each credible set S the likelihood of the readings under S and the fault
/// together must be far below that under S alone, so that a fault which S would mask stays open.
/// </summary>
public static class Proof
{
    /// <summary>Judges all faults and parts.</summary>
    /// <param name="posterior">What the readings say.</param>
    public static ProofReport Judge(Posterior posterior)
    {
        IReadOnlyList<FaultEntry> faults = posterior.Cache.Predictor.Faults;
        Leader[] credible = Credible(posterior);
        var verdicts = new FaultVerdict[faults.Count];
        Parallel.For(0, verdicts.Length, posterior.Filter.Loops, f => verdicts[f] = JudgeFault(posterior, credible, f));
        PartProof[] parts = [.. verdicts.GroupBy(v => faults[v.Fault].Part).Select(g => JudgePart(g.Key, [.. g], faults))];
        return new(verdicts, parts, Coverage([.. verdicts.Where(v => v.ShowsOnBench)], faults), posterior.OffSheet);
    }

    /// <summary>The set with one more fault; another size of the same fault makes way.</summary>
    internal static FaultSet Add(Posterior posterior, FaultSet current, int fault)
    {
        IReadOnlyList<FaultEntry> faults = posterior.Cache.Predictor.Faults;
        return FaultSet.Of(current.Where(f => faults[f].Family != faults[fault].Family).Append(fault));
    }

    private static Leader[] Credible(Posterior posterior)
    {
        double sum = 0;
        double enough = posterior.Options.CredibleShare * (1 - posterior.OffSheet);
        var credible = new List<Leader>();
        foreach (Leader leader in posterior.Leaders)
        {
            if (credible.Count == posterior.Options.MaxCredible || sum >= enough) break;
            credible.Add(leader);
            sum += leader.Explanation.Probability;
        }

        return [.. credible];
    }

    private static FaultVerdict JudgeFault(Posterior posterior, Leader[] credible, int fault)
    {
        bool shows = posterior.Cache.Predictor.Faults[fault].ShowsOnBench;
        EvidenceView view = posterior.View;
        int atom = view.CurrentAtoms[fault];
        bool suspected = credible.Any(l => l.Hypothesis.Atoms.Contains(atom));
        if (suspected) return new(fault, shows, true, 1, false);
        double worst = 0;
        foreach (Leader leader in credible)
        {
            if (leader != credible[0] && SameWhereItActs(posterior, leader, credible[0], atom)) continue;
            worst = Math.Max(worst, Ratio(posterior, leader, atom));
            if (worst >= posterior.Options.RuledOutRatio) break;
        }

        if (credible.Length == 0) worst = 1;
        return new(fault, shows, false, worst, worst < posterior.Options.RuledOutRatio);
    }

    /// <summary>Whether two sets predict the same at every reading that the fault changes: it is judged alike beside either.</summary>
    private static bool SameWhereItActs(Posterior posterior, Leader leader, Leader first, int atom)
    {
        EvidenceView view = posterior.View;
        Atom added = view.Atoms[atom];
        return view.Readings.All(r => r.Epoch < added.FirstEpoch || !posterior.Cache.Acts(added.Fault, r.Check)
            || ReferenceEquals(posterior.Cache.Get(view.Acting(leader.Hypothesis.Atoms, r.Epoch), r.Check), posterior.Cache.Get(view.Acting(first.Hypothesis.Atoms, r.Epoch), r.Check)));
    }

    /// <summary>
    /// Likelihood of all readings with the atom added over that without. Where the fault alone would not change a reading, it is taken not to
    /// change it beside the other faults either; that keeps the number of predictions small.
    /// </summary>
    private static double Ratio(Posterior posterior, Leader leader, int atom)
    {
        EvidenceView view = posterior.View;
        Atom added = view.Atoms[atom];
        var without = FaultSet.Of(leader.Hypothesis.Atoms.Where(a => !view.Exclusive(a, atom)));
        bool swaps = without.Count != leader.Hypothesis.Atoms.Count;
        bool Acts(ReadingView r) => r.Epoch >= added.FirstEpoch && (swaps || posterior.Cache.Acts(added.Fault, r.Check));
        if (!view.Readings.Any(Acts)) return 1;
        FaultSet with = without.With(atom);
        FilterResult run = posterior.Filter.Run(
            new Foretold(view.Readings, (i, r) => posterior.Filter.Predict(i, view.Acting(Acts(r) ? with : leader.Hypothesis.Atoms, r.Epoch))));
        return Math.Min(1e6, Math.Exp(run.LogLikelihood - leader.Run.LogLikelihood));
    }

    private static PartProof JudgePart(string part, FaultVerdict[] verdicts, IReadOnlyList<FaultEntry> faults)
    {
        FaultVerdict[] bench = [.. verdicts.Where(v => v.ShowsOnBench)];
        int[] open = [.. bench.Where(v => !v.RuledOut).Select(v => v.Fault)];
        int[] onlyInCar = [.. verdicts.Where(v => !v.ShowsOnBench).Select(v => v.Fault)];
        return new(part, bench.Length > 0 && open.Length == 0, Coverage(bench, faults), open, onlyInCar);
    }

    private static double Coverage(FaultVerdict[] verdicts, IReadOnlyList<FaultEntry> faults)
    {
        double all = verdicts.Sum(v => faults[v.Fault].Odds);
        return all > 0 ? verdicts.Where(v => v.RuledOut).Sum(v => faults[v.Fault].Odds) / all : 0;
    }
}
