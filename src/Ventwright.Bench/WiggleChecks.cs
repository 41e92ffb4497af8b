using Ventwright.Diagnosis;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Bench;

/// <summary>Checks to be made while a part with an intermittent fault is wiggled: some that were made before, and some that tell several such parts apart.</summary>
internal static class WiggleChecks
{
    private const int LeadersSeen = 6, MostChecks = 6, MostSplitting = 4;
    private const double LeastProbability = 0.02;

    /// <summary>Offers them when a fault that comes and goes is among the leading explanations; the latest readings first.</summary>
    public static int[] Of(Simulator simulator, SheetPredictor predictor, Posterior posterior, IReadOnlyList<Reading> readings, IReadOnlyList<int> candidates)
    {
        bool Acts(int fault, int check) => !ReferenceEquals(predictor.Predict(FaultSet.One(fault), check), predictor.Predict(FaultSet.None, check));
        int[] faults = [.. posterior.Explanations.Take(LeadersSeen).Where(e => e.Probability > LeastProbability)
            .SelectMany(e => e.Set).Where(f => predictor.Faults[f].IntermittentShare > 0).Distinct()];
        int[] made = [.. readings.Select(r => r.Check).Reverse().Distinct().Where(c => predictor[c].Setting.Wiggled is null)];
        var again = (from f in faults from c in made where Acts(f, c) select (predictor.Faults[f].Part, Check: c)).Distinct().Take(MostChecks);
        int[] settings = [.. made.Select(c => predictor.Checks[c].Setting).Distinct()];
        var splitting = from c in faults.Length < 2 ? [] : candidates
                        where settings.Contains(predictor.Checks[c].Setting) && !made.Contains(c)
                        let acting = faults.Where(f => Acts(f, c)).ToArray()
                        where acting.Length > 0 && acting.Length < faults.Length
                        orderby Math.Abs((2 * acting.Length) - faults.Length), c
                        select (predictor.Faults[acting[0]].Part, Check: c);
        return [.. again.Concat(splitting.Take(MostSplitting)).Distinct().ToArray().Select(w => Wiggled(simulator, predictor, w.Part, w.Check))];
    }

    /// <summary>The reason for wiggling, in words.</summary>
    public static string Reason(UnitModel model, string part, string reason)
    {
        PartInfo info = model.Parts[model.PartIndex(part)];
        return $"wiggle {(info.Kind == "connector" ? "the connector" : info.Title)} while reading: {reason}";
    }

    private static int Wiggled(Simulator simulator, SheetPredictor predictor, string part, int check)
    {
        (Setting setting, Observable what) = predictor[check];
        return predictor.Check(Setting.TryMake(simulator.Model, [.. setting.Words.Select(w => (w.Key, w.Value)), ($"wiggle {part}", "on")], out _)!, what);
    }
}
