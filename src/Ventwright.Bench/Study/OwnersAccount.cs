using Ventwright.Diagnosis;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Bench;

/// <summary>
/// What the owner of a made-up unit tells before the bench: one thing that he saw or heard go wrong in some position of the controls or, when nothing did, that the
/// things which he knows are as they should be. What went wrong was seen twice. Each counts as a weak reading and costs no minutes.
/// </summary>
internal sealed class OwnersAccount
{
    private const int MostTold = 24;
    private const double Odd = 0.05, Worth = 1e-3;
    private readonly SheetPredictor _predictor;
    private readonly int[] _visible;
    private readonly Lazy<int[]> _told;

    /// <summary>Gathers what can be seen and heard in settings that the controls alone make.</summary>
    public OwnersAccount(SheetPredictor predictor, IReadOnlyList<int> candidates)
    {
        _predictor = predictor;
        _visible = [.. candidates.Where(c => !predictor.Checks[c].IsNumber && IsByControls(predictor[c].Setting))];
        _told = new(MostTelling);
    }

    /// <summary>Tells the diagnosis; gives the lines for the log.</summary>
    public IEnumerable<string> Tell(BenchDiagnosis bench, SimulatedUnit unit, Random random)
    {
        int[] order = [.. _visible];
        random.Shuffle(order);
        foreach (int check in order)
        {
            Outcome seen = unit.Observe(_predictor, check);
            PredictionComponent sound = _predictor.Predict(FaultSet.None, check).Components[0];
            if (seen.Kind != OutcomeKind.Word || sound.Kind != ComponentKind.Words || sound.WordShares[seen.WordIndex] > Odd) continue;
            // Among hundreds of looks some are slips; nobody brings a unit in for what was odd once.
            if (unit.Observe(_predictor, check) != seen) continue;
            return [Take(bench, "complaint", check, seen)];
        }

        return [.. _told.Value.Select((check, i) => Take(bench, $"works {i}", check, unit.Observe(_predictor, check)))];
    }

    private static bool IsByControls(Setting setting) => setting.State == PointState.Running && setting.Words.Keys.All(k => !k.Contains(' ', StringComparison.Ordinal));

    private string Take(BenchDiagnosis bench, string id, int check, Outcome seen)
    {
        bench.TakeSymptom(id, _predictor[check].Setting, _predictor[check].What, seen);
        return $"{id}: {_predictor.Checks[check].Id} {(seen.Kind == OutcomeKind.Word ? _predictor.Checks[check].Words[seen.WordIndex] : seen.ToString())}";
    }

    /// <summary>The few things that together say most when they work: always the one that takes most of the weight that the ones before have left.</summary>
    private int[] MostTelling()
    {
        double[] left = [.. _predictor.Faults.Select(f => f.Odds)];
        double least = Worth * left.Sum();
        var told = new List<int>();
        while (told.Count < MostTold)
        {
            (int check, double gain) = _visible.Except(told).Select(c => (c, Gain(c, left))).MaxBy(p => p.Item2);
            if (gain < least) break;
            told.Add(check);
            for (int f = 0; f < left.Length; f++) left[f] *= 1 - Shown(check, f);
        }

        return [.. told];
    }

    private double Gain(int check, double[] left)
    {
        double sum = 0;
        for (int f = 0; f < left.Length; f++) sum += left[f] * Shown(check, f);
        return sum;
    }

    private double Shown(int check, int fault) =>
        _predictor.Column(check) is var column and >= 0 ? _predictor.Classes(_predictor.Checks[check].Setting).Shown(column, fault) : 0;
}
