using Ventwright.Bench;
using Ventwright.Diagnosis;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Tests.Bench;

/// <summary>Faults that show nothing in the nominal unit and something in others, against brute force over random units; no outside source.</summary>
public class BystandersTests
{
    private const int Units = 16, LeastFlips = 2;
    private static readonly Simulator Unit = ShippedSheets.Automatic;

    [Theory]
    [InlineData("mode=low, warmth=0", "vacuum(vac.recirc-right)", 10)]
    [InlineData("mode=auto, warmth=0", "falls(vac.tank)", 2)]
    public void Faults_that_flip_a_check_in_some_units_only_are_worth_trying(string words, string what, int leastFound)
    {
        Setting setting = ShippedSheets.Set(Unit, words);
        Observable look = Unit.Model.Points.First(p => p.What.ToString() == what).What;
        var predictor = new SheetPredictor(Unit);
        int check = predictor.Check(setting, look);
        Simulator[] units = [.. ShippedSheets.Drawn(Unit, seed: 7).Take(Units)];
        double[] sound = Values(units, look, setting, []);
        Prediction nominal = predictor.Predict(FaultSet.None, check);
        bool[] flips = new bool[Unit.Model.Faults.Length];
        Parallel.For(0, flips.Length, f =>
            flips[f] = ReferenceEquals(predictor.Predict(FaultSet.One(f), check), nominal)
                && Values(units, look, setting, [Unit.Model.Faults[f]]).Zip(sound, (v, s) => Math.Abs(v - s) > 0.1 * (1 + Math.Abs(s))).Count(far => far) >= LeastFlips);
        int[] found = [.. Enumerable.Range(0, flips.Length).Where(f => flips[f] && predictor.MayAct(f, check))];
        Assert.True(found.Length >= leastFound);
        Assert.True(found.Length >= 0.9 * flips.Count(f => f), "missed: " + string.Join(", ", Unit.Model.Faults.Where((_, f) => flips[f] && !found.Contains(f)).Select(f => f.Id)));
        Assert.All(found, f => Assert.False(ReferenceEquals(predictor.PredictClosely(FaultSet.One(f), check), nominal)));
    }

    [Fact]
    public void A_fault_on_the_other_side_of_the_unit_is_not()
    {
        var predictor = new SheetPredictor(Unit);
        int check = predictor.Check(ShippedSheets.Set(Unit, "mode=screen"), Unit.Model.Points.First(p => p.What.ToString() == "falls(vac.tank)").What);
        Assert.False(predictor.MayAct(Array.FindIndex(Unit.Model.Faults, f => f.Id == "L1:blown"), check));
    }

    private static double[] Values(Simulator[] units, Observable look, Setting setting, Fault[] faults) =>
        [.. units.Select(u => Readings.Read(u, setting, faults, u.Settle(setting, faults), look)).Select(seen => seen.Unsteady ? 1e9 : seen.Value)];
}
