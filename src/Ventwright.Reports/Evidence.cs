using Ventwright.Bench;
using Ventwright.Diagnosis;
using Ventwright.Model.Kernel;

namespace Ventwright.Reports;

/// <summary>Which readings would have come out differently had a part been bad.</summary>
internal sealed class Evidence(BenchDiagnosis bench, IReadOnlyList<TakenReading> readings)
{
    private const double StandardDeviations = 3;
    private readonly (int Number, int Check)[] _checks = [.. readings.Select(r => (r.Number, bench.Predictor.Check(r.Setting, r.What)))];

    /// <summary>Numbers of the readings after the given one that would have shown some fault of the part.</summary>
    public int[] On(UnitModel model, string part, int after)
    {
        int index = model.PartIndex(part);
        FaultSet[] faults = [.. Enumerable.Range(0, model.Faults.Length).Where(f => model.Faults[f].Part == index).Select(f => FaultSet.Of(f))];
        return [.. _checks.Where(c => c.Number > after && Array.Exists(faults, f => Shows(f, c.Check))).Select(c => c.Number)];
    }

    private bool Shows(FaultSet fault, int check)
    {
        CheckEntry entry = bench.Predictor.Checks[check];
        PredictionComponent sound = bench.Predict(FaultSet.None, check).Components[0], bad = bench.Predict(fault, check).Components[0];
        if (sound.Kind != bad.Kind) return true;
        if (sound.Kind == ComponentKind.Words) return Likeliest(sound) != Likeliest(bad);
        if (sound.Kind != ComponentKind.Number) return false;
        double meter = entry.Meter.Absolute + (entry.Meter.RelativeGain * Math.Max(Math.Abs(sound.Mean), Math.Abs(bad.Mean)));
        double spread = Math.Sqrt((meter * meter) + (sound.Sd * sound.Sd) + (bad.Sd * bad.Sd) + sound.Shared.Sum(s => s * s));
        return Math.Abs(sound.Mean - bad.Mean) > StandardDeviations * spread;
    }

    private static int Likeliest(PredictionComponent words) => words.WordShares.ToList().IndexOf(words.WordShares.Max());
}
