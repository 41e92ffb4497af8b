using Ventwright.Bench.StepTest;
using Ventwright.Diagnosis;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Bench;

/// <summary>A fault that was put in and looked for with the step test.</summary>
/// <param name="Fault">Its id.</param>
/// <param name="ShownAtStep">First step at which a reading lay outside what a sound unit shows, counted from 1; 0 if none did.</param>
/// <param name="Found">Whether the first line of suspects holds it after the last step and the checks that were then suggested.</param>
/// <param name="PartFound">Whether the first line at least names its part.</param>
/// <param name="FurtherChecks">Suggested checks that were made after the steps.</param>
/// <param name="Line">The first line.</param>
/// <param name="Belief">Its probability.</param>
public sealed record StepCase(string Fault, int ShownAtStep, bool Found, bool PartFound, int FurtherChecks, string Line, double Belief);

/// <summary>
/// Puts every fault of module, pins, sensors, aspirator and feedback into the model, one after another, and lets a made-up person go through the step test from
/// end to end, with an ordinary meter and a share of misreads, and follow up to ten suggested checks where the steps leave more than one line open.
/// </summary>
public static class StepStudy
{
    private const double Misreads = 0.01, Enough = 0.95;
    private const int MostFurther = 10;

    /// <summary>Runs the study; the same seed gives the same study. Empty for a unit without a module.</summary>
    /// <param name="simulator">The unit.</param>
    /// <param name="seed">Seed.</param>
    /// <param name="perturb">How many tolerances the real unit's parameters may lie off.</param>
    /// <param name="most">Most cases, drawn evenly from the list of faults; all if null.</param>
    /// <param name="progress">Told what is done.</param>
    public static IReadOnlyList<StepCase> Run(Simulator simulator, int seed, double perturb = 1, int? most = null, Action<double>? progress = null)
    {
        var predictor = new SheetPredictor(simulator);
        if (AutomaticTest.Make(simulator, predictor, progress) is not { } test) return [];
        Fault[] all = [.. simulator.Model.Faults.Where(f => AutomaticTest.IsNeeded(simulator.Model, f) && f.IntermittentShare == 0 && !test.NotShown.Contains(f))];
        Fault[] drawn = most is { } n && n < all.Length ? [.. Enumerable.Range(0, n).Select(i => all[i * all.Length / n])] : all;
        var catalog = new BenchCatalog(simulator);
        new BenchDiagnosis(simulator, predictor, catalog).Prepare(progress);
        int done = 0;
        return [.. drawn.AsParallel().AsOrdered().Select((fault, i) =>
        {
            StepCase result = Case(simulator, predictor, catalog, test, fault, new Random(unchecked((seed * 486_187_739) + i)), perturb);
            progress?.Invoke(Interlocked.Increment(ref done) / (double)drawn.Length);
            return result;
        })];
    }

    private static StepCase Case(Simulator simulator, SheetPredictor predictor, BenchCatalog catalog, AutomaticTest test, Fault fault, Random random, double perturb)
    {
        var bench = new BenchDiagnosis(simulator, predictor, catalog);
        var unit = new SimulatedUnit(simulator, [fault], random, perturb, Misreads);
        int shown = 0, step = 0, reading = 0;
        foreach (TestStep at in test.Steps)
        {
            step++;
            foreach (StepLook look in at.Looks)
            {
                int check = predictor.Check(at.Setting, look.What);
                Outcome seen = unit.Observe(predictor, check);
                if (shown == 0 && IsOutside(look, predictor.Checks[check], seen)) shown = step;
                bench.Take($"s{reading++}", at.Setting, look.What, seen);
            }
        }

        (Suspect line, int further) = Follow(bench, predictor, unit);
        FaultSet wanted = FaultSet.Of([Array.IndexOf(simulator.Model.Faults, fault)]);
        bool part = line.Sets.Any(s => s.Set.Any(f => simulator.Model.Faults[f].Part == fault.Part));
        // What the step test cannot tell from the true fault is one line with it.
        bool group = test.Inseparable.Any(g => g.Contains(fault) && line.Sets.Any(s => s.Set.Any(f => g.Contains(simulator.Model.Faults[f]))));
        return new(fault.Id, shown, group || line.Sets.Any(s => s.Set == wanted), part, further, line.Text, line.Probability);
    }

    private static (Suspect Line, int Further) Follow(BenchDiagnosis bench, SheetPredictor predictor, SimulatedUnit unit)
    {
        for (int further = 0; ; further++)
        {
            Posterior posterior = bench.Explain();
            Suspect line = bench.Lines(posterior)[0];
            Advice? next = line.Probability < Enough && further < MostFurther && bench.Next(posterior, 1) is [var first, ..] ? first : null;
            if (next is null) return (line, further);
            bench.Take($"f{further}", next.Setting, next.What, unit.Observe(predictor, predictor.Check(next.Setting, next.What)));
        }
    }

    private static bool IsOutside(StepLook look, CheckEntry entry, Outcome seen) => seen.Kind switch
    {
        OutcomeKind.Word => !look.Band.Words.Contains(entry.Words[seen.WordIndex], StringComparer.Ordinal),
        OutcomeKind.Unsteady => !look.Band.Nominal.Unsteady,
        _ => look.Band.Nominal.Unsteady || seen.Value < BenchMeter.ToScale(look.What.Kind, look.Band.Low) - (3 * entry.Meter.Absolute)
            || seen.Value > BenchMeter.ToScale(look.What.Kind, look.Band.High) + (3 * entry.Meter.Absolute),
    };
}
