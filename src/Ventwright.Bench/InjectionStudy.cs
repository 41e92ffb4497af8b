using Ventwright.Diagnosis;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Bench;

/// <summary>How a case of the study went.</summary>
/// <param name="Truth">The faults that were put in.</param>
/// <param name="Found">Whether the line that ranks first holds the true set.</param>
/// <param name="Probability">Probability of that line.</param>
/// <param name="Readings">Readings taken.</param>
/// <param name="Minutes">Minutes as the sheet's costs have it.</param>
/// <param name="Calibration">For every line given at least half: its probability and whether it was true.</param>
public sealed record StudyCase(IReadOnlyList<string> Truth, bool Found, double Probability, int Readings, double Minutes, IReadOnlyList<(double Probability, bool True)> Calibration);

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
    private const double Misreads = 0.01;
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
        double[] offsets = [.. simulator.Model.Tolerances.Select(_ => (2 * random.NextDouble()) - 1)];
        FaultSet wanted = FaultSet.Of(truth.Select(t => Array.IndexOf(simulator.Model.Faults, t)));
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
            bench.Take($"r{taken++}", setting, what, Observe(truth, offsets, check, random));
        }

        return new([.. truth.Select(t => t.Id)], leader is not null && Holds(leader, wanted), leader?.Probability ?? 0, taken, bench.MinutesSpent, calibration);
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

    /// <summary>What the made-up person reads: the real unit with its own parameters, the meter's error, now and then nonsense.</summary>
    private Outcome Observe(Fault[] truth, double[] offsets, int check, Random random)
    {
        (Setting setting, Observable what) = _predictor[check];
        CheckEntry entry = _predictor.Checks[check];
        double[] parameters = simulator.Parameters(setting, truth);
        for (int i = 0; i < offsets.Length; i++)
        {
            Tolerance t = simulator.Model.Tolerances[i];
            double within = perturb > 0 ? perturb : 1, width = t.Relative ? t.Amount * Math.Abs(parameters[t.Parameter]) : t.Amount;
            if (double.IsFinite(width)) parameters[t.Parameter] += offsets[i] * within * width;
        }

        Settled settled = simulator.Settle(setting, truth, parameters);
        Shown shown = Readings.Read(simulator, setting, truth, settled, what);
        if (random.NextDouble() < Misreads)
        {
            return entry.Words.Count > 0 ? Outcome.Word(random.Next(entry.Words.Count)) : Outcome.Number(entry.RangeLow + (random.NextDouble() * (entry.RangeHigh - entry.RangeLow)));
        }

        if (shown.Unsteady) return Outcome.Unsteady;
        if (entry.Words.Count > 0) return Outcome.Word(Math.Max(0, entry.Words.ToList().IndexOf(shown.Word ?? "")));
        double value = SheetPredictor.ToScale(what.Kind, shown.Value);
        double noise = Gaussian(random) * entry.Meter.Absolute;
        return Outcome.Number(Math.Clamp((value * (1 + (entry.Meter.RelativeGain * Gaussian(random)))) + noise, entry.RangeLow, entry.RangeHigh));
    }

    private static double Gaussian(Random random) => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
}
