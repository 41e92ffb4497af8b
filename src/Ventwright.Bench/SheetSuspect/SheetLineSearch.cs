using System.Collections.Concurrent;
using Ventwright.Diagnosis;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Bench;

/// <summary>
/// When the sheet itself is a suspect: tries every number of the model with a few factors, one at a time on the sound unit, and names the lines that would make all
/// readings clearly more likely than any fault does. Those that bring the worst reading nearer are weighed against all readings.
/// </summary>
internal sealed class SheetLineSearch(Simulator simulator, SheetPredictor predictor, WhatIf whatIf)
{
    private const int MostWeighed = 120, MostRefined = 4, MostNamed = 3;
    private const double ShareOfSearch = 0.7, Nearer = 0.6, WorstFit = 1e3;
    private static readonly double[] Factors = [0.5, 0.8, 1.25, 2], OhmFactors = [0.1, 10];

    private static readonly string[] NoNumbers = ["direction", "critical ratio", "discharge coefficient"];

    /// <summary>The readings must become this many times as likely.</summary>
    private static readonly double Clearly = Math.Log(20);

    /// <summary>A line is named when it comes within this ratio of the best.</summary>
    private static readonly double Close = Math.Log(10);

    /// <summary>Whether something that is not on the sheet leads, or a reading is explained by nothing.</summary>
    public static bool IsCalledFor(Posterior posterior) =>
        posterior.UnexplainedReadings.Count > 0 || posterior.Explanations.All(e => e.Probability < posterior.OffSheet);

    /// <summary>The lines, best first.</summary>
    /// <param name="posterior">What the readings say with the sheet as it is.</param>
    /// <param name="progress">Told the share done.</param>
    public IReadOnlyList<SheetLine> Run(Posterior posterior, Action<double>? progress)
    {
        if (whatIf.Readings.Count == 0) return [];
        Fault[] near = [.. Promising(progress).OrderBy(p => p.Misfit).Take(MostWeighed).Select(p => p.Change)];
        if (near.Length == 0) return [];
        (double sound, double[] log) = whatIf.LogLikelihoods(near);
        double best = Math.Max(sound, posterior.Hypotheses.Where(h => h.Past.IsEmpty).Max(h => h.LogLikelihood));
        progress?.Invoke(ShareOfSearch + 0.1);
        var lines = near.Select((change, i) => (Change: change, Gain: log[i] - best)).GroupBy(c => c.Change.Edits[0].Parameter).Select(g => g.MaxBy(c => c.Gain))
            .Where(c => c.Gain > 0).OrderByDescending(c => c.Gain).Take(MostRefined).Select(c => Refined(c.Change, best)).OrderByDescending(l => l.LogGain).ToArray();
        progress?.Invoke(1);
        return [.. lines.Where(l => l.LogGain > Clearly && l.LogGain > lines[0].LogGain - Close).Take(MostNamed)];
    }

    /// <summary>Changes that bring the reading that fits the sound unit worst clearly nearer to what was read.</summary>
    private IEnumerable<(Fault Change, double Misfit)> Promising(Action<double>? progress)
    {
        Reading worst = whatIf.Readings.MaxBy(r => Misfit(r, Nominal(r)))!;
        (Setting setting, Observable what) = predictor[worst.Check];
        double without = Misfit(worst, Nominal(worst));
        var found = new ConcurrentBag<(Fault, double)>();
        var readout = new Readout(simulator, [what]);
        (int Part, int Parameter, bool IsOhms)[] all = [.. Parameters()];
        int done = 0;
        Parallel.ForEach(Partitioner.Create(all, EnumerablePartitionerOptions.NoBuffering), p =>
        {
            double now = simulator.Model.Parameters[p.Parameter];
            double[] ends = [0.5, 2], rest = p.IsOhms ? [.. Factors.Except(ends), .. OhmFactors] : [.. Factors.Except(ends)];
            double[] first = [.. ends.Select(f => Try(now * f))];
            if (first.Any(m => m < 0.98 * without)) foreach (double factor in rest) Try(now * factor);
            progress?.Invoke(ShareOfSearch * Interlocked.Increment(ref done) / all.Length);

            double Try(double value)
            {
                if (value > Most(p.Parameter)) return WorstFit;
                Fault change = WhatIf.Change(p.Part, p.Parameter, value);
                Settled settled = simulator.Settle(setting, [change]);
                double misfit = settled.Verdict == Verdict.NotSolved ? WorstFit : Misfit(worst, readout.Read(setting, [change], settled)[0]);
                if (misfit < Nearer * without) found.Add((change, misfit));
                return misfit;
            }
        });
        return found.OrderBy(f => f.Item1.Id, StringComparer.Ordinal);
    }

    /// <summary>Largest value that physics allows: no pump pulls more than the ambient pressure.</summary>
    private double Most(int parameter) =>
        simulator.Model.VacuumSources.Any(s => s.Parameter == parameter) ? 0.98 * simulator.Model.AmbientPa : double.PositiveInfinity;

    private Shown Nominal(Reading reading)
    {
        (Setting setting, Observable what) = predictor[reading.Check];
        return Readings.Read(simulator, setting, [], simulator.Settle(setting, []), what);
    }

    /// <summary>How far a reading lies from what is shown: standard deviations of meter and tolerances; 0 or 10 for words.</summary>
    private double Misfit(Reading reading, Shown shown)
    {
        const double otherWord = 10;
        CheckEntry entry = predictor.Checks[reading.Check];
        if (shown.Unsteady || reading.Outcome.Kind == OutcomeKind.Unsteady) return shown.Unsteady == (reading.Outcome.Kind == OutcomeKind.Unsteady) ? 0 : otherWord;
        if (!entry.IsNumber) return shown.Word == entry.Words[reading.Outcome.WordIndex] ? 0 : otherWord;
        PredictionComponent sound = predictor.Predict(FaultSet.None, reading.Check).Components[0];
        MeterAccuracy meter = reading.Meter ?? entry.Meter;
        double sd = Math.Sqrt(Math.Pow(meter.Absolute, 2) + Math.Pow(meter.RelativeGain * reading.Outcome.Value, 2) + (sound.Sd * sound.Sd) + sound.Shared.Sum(s => s * s));
        double value = Math.Clamp(BenchMeter.ToScale(predictor[reading.Check].What.Kind, shown.Value), entry.RangeLow, entry.RangeHigh);
        return Math.Min(WorstFit, Math.Abs(reading.Outcome.Value - value) / sd);
    }

    /// <summary>Numbers of the model that a sheet gives: finite, not 0, no curves, directions, ratios, and no lines of graded transducers, which may lead beyond the ambient pressure.</summary>
    private IEnumerable<(int Part, int Parameter, bool IsOhms)> Parameters()
    {
        UnitModel model = simulator.Model;
        HashSet<int> left =
        [
            .. model.Electric.Where(b => b.Law == ElectricLaw.Thermistor).Select(b => b.Parameter),
            .. model.Variables.Where(v => v.Law == VariableLaw.Graded).SelectMany(v => (int[])[v.Parameter + 1, v.Parameter + 2]),
        ];
        HashSet<int> ohms = [.. model.Electric.Where(b => b.Law is ElectricLaw.Ohmic or ElectricLaw.Motor or ElectricLaw.Lamp).Select(b => b.Parameter)];
        for (int i = 0; i < model.Parameters.Length; i++)
        {
            string owner = model.ParameterNames[i].Split(' ')[0];
            int part = model.PartIndex(owner) is var own and >= 0 ? own : model.PartIndex(owner.Split('.')[0]);
            bool isSized = double.IsFinite(model.Parameters[i]) && model.Parameters[i] != 0 && !left.Contains(i) && !NoNumbers.Any(n => model.ParameterNames[i].EndsWith(n, StringComparison.Ordinal));
            if (part >= 0 && isSized) yield return (part, i, ohms.Contains(i));
        }
    }

    /// <summary>The value that fits best between half and twice what was tried.</summary>
    private SheetLine Refined(Fault change, double best)
    {
        UnitModel model = simulator.Model;
        int parameter = change.Edits[0].Parameter;
        double tried = change.Edits[0].Value, sign = Math.Sign(tried);
        Fault Change(double x) => WhatIf.Change(change.Part, parameter, sign * Math.Exp(x));
        double middle = Math.Log(Math.Abs(tried));
        double at = SizeSearch.Peak(whatIf, Change, middle - Math.Log(2), Math.Min(middle + Math.Log(2), Math.Log(Most(parameter)))).At;
        double[] log = whatIf.LogLikelihoods([Change(at), change]).Changed;
        double value = log[0] >= log[1] ? sign * Math.Exp(at) : tried;
        PartInfo part = model.Parts[change.Part];
        return new(part.At, part.Id, parameter, model.ParameterNames[parameter], model.Parameters[parameter], value, log.Max() - best);
    }
}
