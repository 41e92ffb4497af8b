using Ventwright.Diagnosis;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Bench;

/// <summary>Checks that were made before, to be made again while the part with an intermittent fault is wiggled.</summary>
internal static class WiggleChecks
{
    private const int LeadersSeen = 6, MostChecks = 6;
    private const double LeastProbability = 0.02;

    /// <summary>Offers them when a fault that comes and goes is among the leading explanations; the latest readings first.</summary>
    public static int[] Of(Simulator simulator, SheetPredictor predictor, Posterior posterior, IReadOnlyList<Reading> readings)
    {
        int[] faults = [.. posterior.Explanations.Take(LeadersSeen).Where(e => e.Probability > LeastProbability)
            .SelectMany(e => e.Set).Where(f => predictor.Faults[f].IntermittentShare > 0).Distinct()];
        int[] made = [.. readings.Select(r => r.Check).Reverse().Distinct().Where(c => predictor[c].Setting.Wiggled is null)];
        return [.. (from f in faults
                    from c in made
                    where !ReferenceEquals(predictor.Predict(FaultSet.One(f), c), predictor.Predict(FaultSet.None, c))
                    select (Part: predictor.Faults[f].Part, Check: c)).Distinct().Take(MostChecks).Select(w => Wiggled(simulator, predictor, w.Part, w.Check))];
    }

    /// <summary>The reason for wiggling, in words.</summary>
    public static string Reason(UnitModel model, string part, string reason)
    {
        PartInfo info = model.Parts[model.PartIndex(part)];
        return $"wiggle {(info.Kind == "connector" ? "the connector" : info.Name == part ? part : $"{info.Name} ({part})")} while reading: {reason}";
    }

    private static int Wiggled(Simulator simulator, SheetPredictor predictor, string part, int check)
    {
        (Setting setting, Observable what) = predictor[check];
        return predictor.Check(Setting.TryMake(simulator.Model, [.. setting.Words.Select(w => (w.Key, w.Value)), ($"wiggle {part}", "on")], out _)!, what);
    }
}
