using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Tests.Simulation;

public sealed class BandTests
{
    private const int Units = 1000;

    /// <summary>
    /// Bands are worked out from one parameter at a time; here all move at once, evenly spread over their tolerances. At 2.5 standard deviations a band
    /// should hold nearly every unit; 95 % is asked for.
    /// </summary>
    [Theory]
    [InlineData("mode=vent, fan=2")]
    [InlineData("mode=cold, fan=3")]
    public void Nearly_all_units_within_tolerance_lie_in_the_bands(string words)
    {
        Simulator unit = ShippedSheets.Manual;
        Setting setting = ShippedSheets.Set(unit, words);
        Observable[] checks = [.. unit.Model.Points.Where(p => p.When == PointState.Running).Select(p => p.What).Distinct()];
        Band[] bands = Bands.Of(unit, setting, [], checks);
        int[] inside = new int[checks.Length];
        int settledUnits = 0;
        Parallel.For(0, Units, new ParallelOptions { MaxDegreeOfParallelism = 2 }, n =>
        {
            double[] parameters = Drawn(unit, setting, new Random(7000 + n));
            Settled settled = unit.Settle(setting, [], parameters);
            if (settled.Verdict == Verdict.Settled) Interlocked.Increment(ref settledUnits);
            for (int i = 0; i < checks.Length; i++)
            {
                Shown shown = Readings.Read(unit, setting, [], settled, checks[i]);
                if (Fits(bands[i], shown)) Interlocked.Increment(ref inside[i]);
            }
        });
        Assert.Equal(Units, settledUnits);
        string[] outside = [.. checks.Select((c, i) => (c, i)).Where(p => inside[p.i] < 0.95 * Units)
            .Select(p => $"{p.c}: {100.0 * inside[p.i] / Units:0.0} % in {bands[p.i].Low:g5} .. {bands[p.i].High:g5}, nominal {bands[p.i].Nominal}")];
        Assert.True(outside.Length == 0, string.Join('\n', outside));
        Assert.Contains(bands, b => b.Nominal.Word is null && b.High > b.Low + 1e-3);
    }

    /// <summary>Whatever single fault there is, currents balance at every net (Kirchhoff), and the unit comes to rest or the result says what does not.</summary>
    [Theory]
    [InlineData(true, "mode=auto, warmth=0, cabin=30 degC")]
    [InlineData(true, "mode=screen")]
    [InlineData(false, "mode=cold, fan=3")]
    [InlineData(false, "mode=heat, fan=4, lights=on")]
    public void Every_single_fault_settles_with_currents_balanced(bool automatic, string words)
    {
        Simulator unit = automatic ? ShippedSheets.Automatic : ShippedSheets.Manual;
        Setting setting = ShippedSheets.Set(unit, words);
        var wrong = new System.Collections.Concurrent.ConcurrentBag<string>();
        Parallel.ForEach(unit.Model.Faults, new ParallelOptions { MaxDegreeOfParallelism = 2 }, fault =>
        {
            Settled settled = unit.Settle(setting, [fault]);
            bool told = settled.Verdict == Verdict.Settled || (settled.Verdict == Verdict.Oscillates && settled.Note.Length > 0 && settled.Restless.Count > 0);
            if (!told || !(settled.Residual < 1e-6)) wrong.Add($"{fault.Id}: {settled.Verdict}, {settled.Residual:g3} A left over. {settled.Note}");
        });
        Assert.True(wrong.IsEmpty, string.Join('\n', wrong.Order(StringComparer.Ordinal)));
        Assert.True(unit.Model.Faults.Length > 100);
    }

    /// <summary>
    /// A word fits when the band names it, or when the quantity behind it lies in the band: a limit between two words that only several parameters together
    /// reach is in the numbers of the band but not in its words.
    /// </summary>
    private static bool Fits(Band band, Shown shown)
    {
        if (shown.Unsteady || band.Nominal.Unsteady) return shown.Unsteady == band.Nominal.Unsteady;
        if (shown.Word is not null && band.Words.Contains(shown.Word)) return true;
        return double.IsNaN(band.Low) ? shown.Value.Equals(band.Nominal.Value) : shown.Value >= band.Low - Slack(band) && shown.Value <= band.High + Slack(band);
    }

    /// <summary>Rounding, where the band is a single value.</summary>
    private static double Slack(Band band) => 1e-6 * Math.Max(1, Math.Abs(band.Nominal.Value));

    private static double[] Drawn(Simulator unit, Setting setting, Random random)
    {
        double[] parameters = unit.Parameters(setting, []);
        foreach (Tolerance tolerance in unit.Model.Tolerances)
        {
            double width = tolerance.Relative ? tolerance.Amount * Math.Abs(parameters[tolerance.Parameter]) : tolerance.Amount;
            double offset = (2 * random.NextDouble()) - 1;
            if (double.IsFinite(width)) parameters[tolerance.Parameter] += offset * width;
        }

        return parameters;
    }
}
