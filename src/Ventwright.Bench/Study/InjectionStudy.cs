using System.Globalization;
using Ventwright.Diagnosis;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Bench;

/// <summary>
/// Puts known faults into the model, lets a made-up person follow the suggested checks with an ordinary meter and a share of misreads, and looks whether
/// the program finds them. A case ends when a line of faults has 95 % belief (for several faults: when all the true ones stand in it, or one by one when
/// they are repaired), when nothing more is suggested, or after a number of checks, of which a look round is one. Faults that no check on the bench shows are not put in.
/// </summary>
public sealed class InjectionStudy
{
    private const double Enough = 0.95, Misreads = 0.01, Repaired = 0.05;
    private readonly Simulator _simulator;
    private readonly int _seed;
    private readonly double _perturb;
    private readonly bool _complaint;
    private readonly SheetPredictor _predictor;
    private readonly BenchCatalog _catalog;
    private readonly Lazy<StudyTruths> _truths;
    private readonly Lazy<int[]> _plan;
    private readonly Lazy<OwnersAccount> _account;

    /// <summary>Prepares a study.</summary>
    /// <param name="simulator">The unit.</param>
    /// <param name="seed">Seed; the same seed gives the same study.</param>
    /// <param name="perturb">How far the real unit's parameters lie from the sheet's: each is moved at random within this many times its tolerance.</param>
    /// <param name="complaint">Whether a case starts with what the owner tells: something that he saw the unit do wrong or, if there is nothing to be seen, what works.</param>
    public InjectionStudy(Simulator simulator, int seed, double perturb = 1, bool complaint = false)
    {
        (_simulator, _seed, _perturb, _complaint) = (simulator, seed, perturb, complaint);
        (_predictor, _catalog) = (new(simulator), new(simulator));
        _truths = new(() => new(simulator, _catalog.Settings.Take(8), _predictor.Shows));
        _account = new(() => new(_predictor, new BenchDiagnosis(simulator, _predictor, _catalog).Candidates));
        _plan = new(() => [.. BenchPlan.Make(new(simulator, _predictor, _catalog), simulator, null, []).Groups.SelectMany(g => g.Checks)]);
    }

    /// <summary>Runs cases, several at a time; they come in order.</summary>
    /// <param name="cases">How many.</param>
    /// <param name="kind">What is put in.</param>
    /// <param name="order">How checks are chosen.</param>
    /// <param name="mostChecks">Checks after which a case is given up.</param>
    /// <param name="progress">Told after each case.</param>
    public IReadOnlyList<StudyCase> Run(int cases, StudyFaults kind, StudyOrder order = StudyOrder.Suggested, int mostChecks = 30, Action<int>? progress = null)
    {
        var bench = new BenchDiagnosis(_simulator, _predictor, _catalog);
        bench.Prepare(share => progress?.Invoke(0));
        _ = _truths.Value;
        if (order == StudyOrder.Plan) _ = _plan.Value;
        int done = 0;
        return [.. Enumerable.Range(0, cases).AsParallel().AsOrdered().WithMergeOptions(ParallelMergeOptions.NotBuffered).Select(i =>
        {
            var random = new Random(Mix(_seed, (int)kind, i));
            StudyCase result = Case(kind, _truths.Value.Draw(kind, random), random, order, mostChecks);
            progress?.Invoke(Interlocked.Increment(ref done));
            return result;
        })];
    }

    /// <summary>A seed from three numbers that is the same in every process.</summary>
    private static int Mix(int a, int b, int c) => unchecked((((a * 486_187_739) + b) * 486_187_739) + c);

    private StudyCase Case(StudyFaults kind, Fault[] truth, Random random, StudyOrder order, int mostChecks)
    {
        var bench = new BenchDiagnosis(_simulator, _predictor, _catalog) { StepsAhead = order == StudyOrder.TwoAhead ? 2 : 1 };
        var unit = new SimulatedUnit(_simulator, truth, random, _perturb, Misreads);
        FaultSet wanted = FaultSet.Of(truth.Select(t => Array.IndexOf(_simulator.Model.Faults, t)).Where(f => f >= 0));
        var log = new List<string>();
        var claims = new List<(double, bool)>();
        var done = new HashSet<int>();
        if (_complaint) log.AddRange(_account.Value.Tell(bench, unit, random));
        int told = log.Count, made = 0;
        Posterior posterior = bench.Explain();
        Suspect? leader = null;
        HiddenFaults? hidden = null;
        bool found = false;
        for (int taken = 0; taken < mostChecks; taken++)
        {
            int[] checks = Choose(bench, posterior, order, random, done, taken);
            if (checks.Length == 0) break;
            made++;
            foreach (int check in checks)
            {
                done.Add(check);
                Outcome seen = unit.Observe(_predictor, check);
                bench.Take($"r{taken} {check}", _predictor[check].Setting, _predictor[check].What, seen);
                log.Add(Line(check, seen, wanted));
            }

            posterior = bench.Explain();
            leader = bench.Lines(posterior)[0];
            bool names = !leader.Sets[0].Set.IsEmpty;
            if (names && leader.Probability > 0.5) claims.Add((leader.Probability, leader.Sets.Any(s => !s.Set.IsEmpty && s.Set.IsSubsetOf(wanted))));
            found = leader.Sets.Any(s => s.Set == wanted || (kind != StudyFaults.Repair && (hidden ??= new(bench, wanted)).Hides(s.Set)));
            if (!names || leader.Probability < Enough) continue;
            if (found || kind is StudyFaults.Single or StudyFaults.Intermittent or StudyFaults.OffSheet) break;
            if (kind != StudyFaults.Repair || leader.Sets.Select(s => s.Set).FirstOrDefault(s => !s.IsEmpty && s.IsSubsetOf(wanted)) is not { } right) continue;
            foreach (int fault in right)
            {
                bench.Renew($"repair {fault}", _predictor.Faults[fault].Part, Repaired);
                unit.Mend(_simulator.Model.Faults[fault]);
                wanted = wanted.Without(fault);
                done.Clear();
            }

            found = wanted.IsEmpty;
            if (found) break;
        }

        return new(
            [.. truth.Select(t => t.Id)], leader?.Text ?? "nothing", found, leader?.Probability ?? 0, posterior.OffSheet, made, log.Count - told, bench.MinutesSpent, claims, log);
    }

    private string Line(int check, Outcome seen, FaultSet wanted) =>
        $"{_predictor.Checks[check].Id}: {seen}, sound {Nominal(_predictor.Predict(FaultSet.None, check))}" + (wanted.IsEmpty ? "" : $", true faults {Nominal(_predictor.Predict(wanted, check))}");

    private int[] Choose(BenchDiagnosis bench, Posterior posterior, StudyOrder order, Random random, HashSet<int> done, int taken)
    {
        switch (order)
        {
            case StudyOrder.Random:
                int[] open = [.. bench.Candidates.Where(c => !done.Contains(c))];
                return open.Length == 0 ? [] : [open[random.Next(open.Length)]];
            case StudyOrder.Plan:
                return taken < _plan.Value.Length ? [_plan.Value[taken]] : [];
            default:
                return bench.Next(posterior, 1) is [Advice next, ..] ? [.. next.Looks.Select(look => _predictor.Check(next.Setting, look))] : [];
        }
    }

    private static string Nominal(Prediction prediction)
    {
        PredictionComponent main = prediction.Components[0];
        return main.Kind switch
        {
            ComponentKind.Number => string.Create(CultureInfo.InvariantCulture, $"{main.Mean:G5}+-{main.Sd:G2}"),
            ComponentKind.Words => string.Join("/", main.WordShares.Select(w => w.ToString("0.00", CultureInfo.InvariantCulture))),
            _ => main.Kind.ToString(),
        };
    }
}
