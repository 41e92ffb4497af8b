using System.Globalization;
using Ventwright.Diagnosis;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Bench;

/// <summary>How a case of the study went.</summary>
/// <param name="Truth">The faults that were put in.</param>
/// <param name="Leader">The line that ranks first at the end.</param>
/// <param name="Found">Whether the line that ranks first holds the true set.</param>
/// <param name="Probability">Probability of that line.</param>
/// <param name="Readings">Readings taken.</param>
/// <param name="Minutes">Minutes as the sheet's costs have it.</param>
/// <param name="Calibration">For every line given at least half: its probability and whether it was true.</param>
/// <param name="Log">The readings in order: check, what was read, what the truth predicted.</param>
public sealed record StudyCase(IReadOnlyList<string> Truth, string Leader, bool Found, double Probability, int Readings, double Minutes, IReadOnlyList<(double Probability, bool True)> Calibration,
    IReadOnlyList<string> Log);

/// <summary>How the next check is chosen in a study.</summary>
public enum StudyOrder
{
    /// <summary>As the program suggests.</summary>
    Suggested,

    /// <summary>At random among all checks.</summary>
    Random,
}

/// <summary>
/// Puts known faults into the model, lets a made-up person follow the suggested checks with an ordinary meter and a share of misreads, and looks whether
/// the program finds them.
/// </summary>
/// <param name="simulator">The unit.</param>
/// <param name="seed">Seed; the same seed gives the same study.</param>
/// <param name="perturb">How far the real unit's parameters lie from the sheet's, in tolerances: each is moved at random within this many times its tolerance.</param>
public sealed class InjectionStudy(Simulator simulator, int seed, double perturb = 0)
{
    private const double Enough = 0.95;
    private readonly SheetPredictor _predictor = new(simulator);
    private readonly BenchCatalog _catalog = new(simulator);

    /// <summary>Runs cases with the given number of faults each.</summary>
    /// <param name="cases">How many cases.</param>
    /// <param name="faults">Faults in each.</param>
    /// <param name="order">How checks are chosen.</param>
    /// <param name="mostReadings">Readings after which a case is given up.</param>
    /// <param name="progress">Told after each case.</param>
    public IEnumerable<StudyCase> Run(int cases, int faults, StudyOrder order = StudyOrder.Suggested, int mostReadings = 30, Action<int>? progress = null)
    {
        var random = new Random(HashCode.Combine(seed, faults, 7));
        Fault[] possible = [.. simulator.Model.Faults.Where(f => !f.CarOnly && f.IntermittentShare == 0)];
        double total = possible.Sum(f => f.Weight);
        for (int i = 0; i < cases; i++)
        {
            var truth = new List<Fault>();
            while (truth.Count < faults)
            {
                Fault pick = Pick(possible, total, random);
                if (truth.TrueForAll(t => t.Family != pick.Family)) truth.Add(pick);
            }

            yield return Case([.. truth], new Random(HashCode.Combine(seed, i, faults)), order, mostReadings);
            progress?.Invoke(i + 1);
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

    private static Fault Pick(Fault[] possible, double total, Random random)
    {
        double at = random.NextDouble() * total;
        foreach (Fault fault in possible)
        {
            at -= fault.Weight;
            if (at <= 0) return fault;
        }

        return possible[^1];
    }

    private StudyCase Case(Fault[] truth, Random random, StudyOrder order, int mostReadings)
    {
        var bench = new BenchDiagnosis(simulator, _predictor, _catalog);
        var unit = new SimulatedUnit(simulator, truth, random, perturb > 0 ? perturb : 1, misreads: 0.01);
        FaultSet wanted = FaultSet.Of(truth.Select(t => Array.IndexOf(simulator.Model.Faults, t)));
        var log = new List<string>();
        var calibration = new List<(double, bool)>();
        Suspect? leader = null;
        int taken = 0;
        var done = new HashSet<int>();
        while (taken < mostReadings)
        {
            Posterior posterior = bench.Explain();
            (leader, Advice[] next) = Look(bench, posterior);
            if (taken > 0 && leader is { Probability: > 0.5 } likely) calibration.Add((likely.Probability, Holds(likely, wanted)));
            if (leader is not null && leader.Probability >= Enough && !leader.Sets[0].Set.IsEmpty) break;
            int check = Choose(bench, next, order, random, done);
            if (check < 0) break;
            done.Add(check);
            (Setting setting, Observable what) = _predictor[check];
            Outcome seen = unit.Observe(_predictor, check);
            bench.Take($"r{taken++}", setting, what, seen);
            log.Add($"{_predictor.Checks[check].Id}: {seen}, nominal {Nominal(_predictor.Predict(wanted, check))}, sound {Nominal(_predictor.Predict(FaultSet.None, check))}");
        }

        return new([.. truth.Select(t => t.Id)], leader?.Text ?? "nothing", leader is not null && Holds(leader, wanted), leader?.Probability ?? 0, taken, bench.MinutesSpent, calibration, log);
    }

    private static (Suspect?, Advice[]) Look(BenchDiagnosis bench, Posterior posterior)
    {
        IReadOnlyList<Suspect> lines = bench.Lines(posterior);
        return (lines.Count > 0 ? lines[0] : null, [.. bench.Next(posterior, 3)]);
    }

    private static bool Holds(Suspect suspect, FaultSet wanted) => suspect.Sets.Any(s => s.Set == wanted);

    private int Choose(BenchDiagnosis bench, Advice[] next, StudyOrder order, Random random, HashSet<int> done)
    {
        if (order == StudyOrder.Random)
        {
            int[] open = [.. bench.Candidates.Where(c => !done.Contains(c))];
            return open.Length == 0 ? -1 : open[random.Next(open.Length)];
        }

        return next.Length == 0 ? -1 : _predictor.Check(next[0].Setting, next[0].What);
    }
}
