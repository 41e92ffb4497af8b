using Ventwright.Bench;
using Ventwright.Diagnosis;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Tests.Bench;

/// <summary>
/// What is predicted for a set of faults, put together from groups that do not work on each other, against the whole set settled. Reference: the simulator; no
/// outside source.
/// </summary>
public class FaultGroupTests
{
    private const int Sets = 1200;

    /// <summary>Share of checks that may differ: two faults near a threshold may cross it together only.</summary>
    private const double MostWrong = 0.001;

    [Theory]
    [InlineData("automatic", 2)]
    [InlineData("automatic", 3)]
    [InlineData("manual", 2)]
    [InlineData("manual", 3)]
    public void Groups_put_together_show_what_the_whole_set_shows(string sheet, int faults)
    {
        Simulator unit = sheet == "automatic" ? ShippedSheets.Automatic : ShippedSheets.Manual;
        var predictor = new SheetPredictor(unit);
        var catalog = new BenchCatalog(unit);
        var random = new Random(4);
        int looks = 0, wrong = 0;
        var examples = new List<string>();
        for (int i = 0; i < Sets; i++)
        {
            int at = random.Next(catalog.Settings.Count);
            Setting setting = catalog.Settings[at];
            Observable[] points = [.. catalog.PointsIn(at).Select(p => p.What)];
            if (points.Length == 0) continue;
            var set = FaultSet.Of(Enumerable.Range(0, faults).Select(_ => random.Next(unit.Model.Faults.Length)));
            Fault[] there = [.. set.Select(f => unit.Model.Faults[f])];
            Shown[] truth = new Readout(unit, points).Read(setting, there, unit.Settle(setting, there));
            int[] checks = predictor.Check([.. points.Select(p => (setting, p))]);
            for (int c = 0; c < checks.Length; c++)
            {
                looks++;
                PredictionComponent main = predictor.Predict(set, checks[c]).Components[0];
                if (IsSame(main, truth[c], points[c].Kind, predictor.Checks[checks[c]])) continue;
                wrong++;
                if (examples.Count < 12) examples.Add($"{string.Join('+', there.Select(f => f.Id))}: {predictor.Checks[checks[c]].Id} is {truth[c]}, predicted {main.Kind} {main.Mean}");
            }
        }

        Assert.True(wrong <= MostWrong * looks, $"{wrong} of {looks} differ\n{string.Join('\n', examples)}");
    }

    private static bool IsSame(PredictionComponent predicted, Shown truth, ObservableKind kind, CheckEntry entry)
    {
        if (truth.Unsteady || predicted.Kind == ComponentKind.Unsteady) return truth.Unsteady == (predicted.Kind == ComponentKind.Unsteady);
        if (predicted.Kind == ComponentKind.Words) return truth.Word is not null && predicted.WordShares[entry.Words.ToList().IndexOf(truth.Word)] > 0.1;
        double value = BenchMeter.ToScale(kind, truth.Value);
        return Math.Abs(value - predicted.Mean) < 0.02 * (Math.Abs(value) + 1) + (2 * entry.Meter.Absolute);
    }
}
