using Ventwright.Bench;
using Ventwright.Diagnosis;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Tests.Bench;

/// <summary>Wiggling against the model and the shares that the sheet's kinds give to faults that come and go. No outside source.</summary>
public sealed class WiggleTests
{
    private const string Loose = "XP:pin-2-loose";
    private static readonly Simulator Unit = ShippedSheets.Manual;
    private static readonly Observable Pin = new(ObservableKind.Volts, "sw.on"), Before = new(ObservableKind.Volts, "p.on");

    [Theory]
    [InlineData("mode=cold, fan=3")]
    [InlineData("mode=off")]
    public void Wiggling_changes_nothing_in_a_sound_unit(string words)
    {
        Setting still = ShippedSheets.Set(Unit, words), wiggled = ShippedSheets.Set(Unit, words + ", wiggle XP=on");
        Assert.Equal("XP", wiggled.Wiggled);
        Assert.Equal(still.Key, wiggled.StillKey);
        Assert.NotEqual(still.Key, wiggled.Key);
        Assert.True(Unit.Settle(still, []).SameAs(Unit.Settle(wiggled, [])));
    }

    [Theory]
    [InlineData("wiggle XQ", "on")]
    [InlineData("wiggle XP", "hard")]
    public void Wiggling_what_is_not_there_or_in_no_way_that_is_known_is_refused(string name, string value)
    {
        Assert.Null(Setting.TryMake(Unit.Model, [(name, value)], out string? problem));
        Assert.False(string.IsNullOrEmpty(problem));
        Assert.Null(Setting.TryMake(Unit.Model, [("wiggle XP", "on"), ("wiggle XF", "on")], out problem));
    }

    [Fact]
    public void A_loose_pin_is_found_by_wiggling()
    {
        var bench = new BenchDiagnosis(Unit);
        Setting still = ShippedSheets.Set(Unit, "mode=vent"), wiggled = ShippedSheets.Set(Unit, "mode=vent, wiggle XP=on");
        Fault loose = Unit.Model.FindFault(Loose)!;
        (double sound, double open) = (Volts(still, [], Pin), Volts(still, [loose], Pin));
        bench.Take("1", still, Pin, Outcome.Number(sound));
        bench.Take("2", wiggled, Pin, Outcome.Number(open));
        bench.Take("3", wiggled, Pin, Outcome.Number(open));
        bench.Take("4", wiggled, Before, Outcome.Number(Volts(still, [loose], Before)));
        bench.Take("5", still, Pin, Outcome.Number(sound));
        Explanation leader = bench.Explain().Explanations[0];
        Assert.Equal([Loose], leader.Set.Select(f => Unit.Model.Faults[f].Id));
        Assert.True(leader.Probability > 0.6, $"{leader.Probability}");
    }

    [Fact]
    public void Where_a_loose_pin_leads_a_wiggled_reading_is_among_the_next_checks()
    {
        var bench = new BenchDiagnosis(Unit);
        Setting still = ShippedSheets.Set(Unit, "mode=vent");
        Fault loose = Unit.Model.FindFault(Loose)!;
        bench.Take("1", still, Pin, Outcome.Number(Volts(still, [loose], Pin)));
        bench.Take("2", still, Pin, Outcome.Number(Volts(still, [], Pin)));
        Advice wiggle = Assert.Single(bench.Next(bench.Explain(), 5).Where(a => a.Setting.Wiggled is not null).Take(1));
        Assert.StartsWith("wiggle ", wiggle.Why, StringComparison.Ordinal);
        Assert.Contains("while reading", wiggle.Why, StringComparison.Ordinal);
        Assert.Contains(Unit.Model.Parts.Where(p => p.Name != p.Id), p => wiggle.Why.Contains(p.Title, StringComparison.Ordinal));
    }

    [Fact]
    public void A_made_up_unit_shows_its_loose_pin_more_often_while_it_is_wiggled()
    {
        var predictor = new SheetPredictor(Unit);
        var unit = new SimulatedUnit(Unit, [Unit.Model.FindFault(Loose)!], new Random(5), 0, 0);
        int still = predictor.Check(ShippedSheets.Set(Unit, "mode=vent"), Pin), wiggled = predictor.Check(ShippedSheets.Set(Unit, "mode=vent, wiggle XP=on"), Pin);
        int Bad(int check) => Enumerable.Range(0, 200).Count(_ => unit.Observe(predictor, check).Value < 6);

        // Three standard deviations of a count of 200 at shares of 0.4 and 0.8: 21 and 17 (binomial law).
        Assert.InRange(Bad(still), 80 - 21, 80 + 21);
        Assert.InRange(Bad(wiggled), 160 - 17, 160 + 17);
    }

    private static double Volts(Setting setting, Fault[] faults, Observable what) => Readings.Read(Unit, setting, faults, Unit.Settle(setting, faults), what).Value;
}
