using Ventwright.Diagnosis;
using Ventwright.Model.Kernel;

namespace Ventwright.Bench;

/// <summary>
/// Finds the value of one parameter that makes the readings most likely: a row of values from end to end, then finer rows around the best, then the parabola
/// through the best three. The uncertainty is that of the parabola's width (the likelihood taken as normal near its top).
/// </summary>
internal static class SizeSearch
{
    private const int Steps = 13, FinestRows = 6;
    private const double LeastBelief = 0.2, NearTheTop = 2, OneSigma = 0.5;

    /// <summary>Size of the leading suspect's fault; null when it has no sizes that differ in one number.</summary>
    public static FaultSize? Of(UnitModel model, WhatIf whatIf, Suspect leader)
    {
        if (leader.Probability < LeastBelief || whatIf.Readings.Count == 0) return null;
        Fault[] set = [.. leader.Sets[0].Set.Select(f => model.Faults[f])];
        foreach (Fault fault in set)
        {
            if (SizesOf(model, fault) is not { } sizes) continue;
            Edit[] others = [.. set.Where(f => f != fault).SelectMany(f => f.Edits)];
            if (set.Any(f => f != fault && f.Rewires.Length > 0)) return null;
            bool isLog = fault.Edits[0].Kind != EditKind.Add && sizes.All(v => v > 0);
            double low = isLog ? Math.Log(sizes.Min() / 3) : sizes.Min() - (0.5 * (sizes.Max() - sizes.Min()));
            double high = isLog ? Math.Log(sizes.Max() * 3) : sizes.Max() + (0.5 * (sizes.Max() - sizes.Min()));
            int parameter = fault.Edits[0].Parameter;
            (double at, double sd, bool openLow, bool openHigh) = Peak(whatIf, x => WhatIf.Change(fault.Part, parameter, isLog ? Math.Exp(x) : x, others), low, high);
            double Value(double x) => isLog ? Math.Exp(x) : x;
            return new(
                fault.Family, parameter, model.ParameterNames[parameter], model.Parameters[parameter], Value(at),
                openLow ? double.NegativeInfinity : Value(at - sd), openHigh ? double.PositiveInfinity : Value(at + sd));
        }

        return null;
    }

    /// <summary>The place on a scale where the readings are most likely, its standard deviation, and at which side the readings set no limit.</summary>
    public static (double At, double Sd, bool OpenLow, bool OpenHigh) Peak(WhatIf whatIf, Func<double, Fault> change, double low, double high)
    {
        double from = low, to = high;
        double[] row = [], log = [];
        int best = 0;
        for (int fine = 0; fine < FinestRows; fine++)
        {
            double start = from, step = (to - from) / (Steps - 1);
            row = [.. Enumerable.Range(0, Steps).Select(i => start + (i * step))];
            log = whatIf.LogLikelihoods([.. row.Select(change)]).Changed;
            best = Array.IndexOf(log, log.Max());
            if (fine == 0 && Plateau(row, log, best) is { } wide) return wide;
            if (best > 0 && best < Steps - 1 && log[best] - log[best - 1] < NearTheTop && log[best] - log[best + 1] < NearTheTop) break;
            (from, to) = (row[Math.Max(0, best - 1)], row[Math.Min(Steps - 1, best + 1)]);
        }

        if (best == 0 || best == Steps - 1) return (row[best], Math.Abs(row[1] - row[0]), best == 0 && row[0] <= low, best == Steps - 1 && row[^1] >= high);
        double h = row[1] - row[0], bend = log[best - 1] - (2 * log[best]) + log[best + 1];
        if (!(bend < 0)) return (row[best], h, false, false);
        return (row[best] - (h / 2 * (log[best + 1] - log[best - 1]) / bend), h / Math.Sqrt(-bend), false, false);
    }

    /// <summary>Where many sizes make the readings as likely as the best: the middle of them, and whether they go on past the end of the row.</summary>
    private static (double At, double Sd, bool OpenLow, bool OpenHigh)? Plateau(double[] row, double[] log, int best)
    {
        int[] near = [.. Enumerable.Range(0, row.Length).Where(i => log[best] - log[i] < OneSigma)];
        if (near.Length < 4) return null;
        return ((row[near[0]] + row[near[^1]]) / 2, (row[near[^1]] - row[near[0]]) / 2, near[0] == 0, near[^1] == row.Length - 1);
    }

    /// <summary>Values of the one parameter that the sizes of a fault's family differ in; null when there is none.</summary>
    private static double[]? SizesOf(UnitModel model, Fault fault)
    {
        Fault[] family = [.. model.Faults.Where(f => f.Family == fault.Family)];
        if (family.Length < 2 || family.Any(f => f.Edits.Length != 1 || f.Rewires.Length > 0)) return null;
        Edit first = family[0].Edits[0];
        double nominal = model.Parameters[first.Parameter];
        if (!double.IsFinite(nominal) || family.Any(f => f.Edits[0].Parameter != first.Parameter || f.Edits[0].Kind != first.Kind)) return null;
        double[] values = [.. family.Select(f => f.Edits[0].Kind switch
        {
            EditKind.Set => f.Edits[0].Value,
            EditKind.Scale => nominal * f.Edits[0].Value,
            _ => nominal + f.Edits[0].Value,
        })];
        return values.All(double.IsFinite) && values.Distinct().Count() > 1 ? values : null;
    }
}
