using Ventwright.Bench;
using Ventwright.Diagnosis;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Tests.Bench;

/// <summary>Tracks swept from end to end, against where the sheet's faults put their dead spots. No outside source.</summary>
public sealed class SweepTests
{
    private static readonly Simulator Unit = ShippedSheets.Automatic;

    [Theory]
    [InlineData("M3", "smooth")]
    [InlineData("M3", "jumps at the low end", "M3:feedback-worn@low")]
    [InlineData("M3", "jumps in the middle", "M3:feedback-worn@middle")]
    [InlineData("M3", "jumps at the high end", "M3:feedback-worn@high")]
    [InlineData("M3", "does not follow", "M3:feedback-wiper-open")]
    [InlineData("M3", "does not follow", "M3:stripped@middle")]
    [InlineData("M3", "does not follow", "M3:motor-open")]
    [InlineData("M3", "smooth", "M4:feedback-worn@low", "XU:pin-4-open")]
    [InlineData("RV1", "jumps at the high end", "RV1:worn@high")]
    public void A_sweep_shows_where_a_track_is_worn(string part, string seen, params string[] faults)
    {
        Setting laid = ShippedSheets.Set(Unit, "");
        Fault[] bad = [.. faults.Select(f => Unit.Model.FindFault(f)!)];
        Assert.Equal(seen, Readings.Read(Unit, laid, bad, Unit.Settle(laid, bad), new(ObservableKind.Sweep, part)).Word);
    }

    /// <summary>Every track of the unit can be swept, and its dead spots show nowhere else in the unit as it was laid on the bench.</summary>
    [Fact]
    public void One_sweep_looks_at_all_places_of_a_track()
    {
        var bench = new BenchDiagnosis(Unit);
        Point[] sweeps = [.. Unit.Model.Points.Where(p => p.What.Kind == ObservableKind.Sweep)];
        Assert.Equal(Unit.Model.Faults.Where(f => f.Name.Contains("worn@", StringComparison.Ordinal)).Select(f => Unit.Model.Parts[f.Part].Id).Distinct().Order(), sweeps.Select(p => p.What.Target).Order());
        Assert.All(sweeps, p => Assert.Equal(PointState.Direct, p.When));
        bench.Take("1", ShippedSheets.Set(Unit, ""), new(ObservableKind.Sweep, "M3"), Outcome.Word(2));
        Assert.Contains("M3:feedback-worn@middle", bench.Explain().Explanations.First(e => e.Set.Count > 0).Set.Select(f => Unit.Model.Faults[f].Id));
    }
}
