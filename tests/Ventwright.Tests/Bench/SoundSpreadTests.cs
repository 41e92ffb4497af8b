using Ventwright.Bench;
using Ventwright.Diagnosis;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Tests.Bench;

/// <summary>How often sound units show each word, near thresholds too, against other random units. Reference: random units; no outside source.</summary>
public class SoundSpreadTests
{
    private const int Units = 300;

    /// <summary>The predicted shares come from 48 units (standard deviation 0.07 at most), those that they are held against from 300 (0.03): three standard deviations of both.</summary>
    private const double Near = 0.23;

    public static TheoryData<string, string> Settings => new()
    {
        { "automatic", "mode=low, warmth=0" },
        { "automatic", "mode=auto, warmth=0" },
        { "automatic", "mode=auto, warmth=1" },
        { "automatic", "mode=auto, stand-in RT2=3872 ohm" },
        { "manual", "mode=cold, fan=4" },
    };

    [Theory]
    [MemberData(nameof(Settings))]
    public void Words_are_predicted_as_often_as_random_sound_units_show_them(string sheet, string words)
    {
        Simulator unit = sheet == "automatic" ? ShippedSheets.Automatic : ShippedSheets.Manual;
        Setting setting = ShippedSheets.Set(unit, words);
        var predictor = new SheetPredictor(unit);
        Observable[] looks = [.. unit.Model.Points.Where(p => p.When == PointState.Running && Readings.WordsOf(unit.Model, p.What).Count > 0).Select(p => p.What).Distinct()];
        int[] checks = predictor.Check([.. looks.Select(w => (setting, w))]);
        double[][] seen = [.. checks.Select(c => new double[predictor.Checks[c].Words.Count])];
        var random = new Random(11);
        for (int u = 0; u < Units; u++)
        {
            var one = new SimulatedUnit(unit, [], random, 1, 0);
            for (int c = 0; c < checks.Length; c++)
            {
                if (one.Observe(predictor, checks[c]) is { Kind: OutcomeKind.Word } word) seen[c][word.WordIndex] += 1.0 / Units;
            }
        }

        Assert.All(checks, (check, c) =>
        {
            PredictionComponent sound = predictor.Predict(FaultSet.None, check).Components[0];
            if (sound.Kind != ComponentKind.Words || !IsClearCut(predictor[check].What)) return;
            Assert.All(sound.WordShares, (share, w) => Assert.True(Math.Abs(share - seen[c][w]) < Near, $"{predictor.Checks[check].Id} {predictor.Checks[check].Words[w]}: predicted {share:F2}, seen {seen[c][w]:F2}"));
        });
    }

    /// <summary>A blower at half speed is slow to one and runs to another: the prediction counts with that, the made-up person draws the line sharply.</summary>
    private static bool IsClearCut(Observable what) => what.Kind != ObservableKind.Motion;
}
