using Ventwright.Bench;
using Ventwright.Diagnosis;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Tests.Bench;

/// <summary>
/// Wires measured from end to end on a shipped sheet, against the network itself and against series addition: 3 ohm in a pin are 3 ohm more over the run. No
/// outside source beyond that law.
/// </summary>
public class WireRunTests
{
    private static readonly Simulator Unit = ShippedSheets.Automatic;

    [Fact]
    public void A_run_shows_a_corroded_pin_anywhere_along_it()
    {
        Setting setting = ShippedSheets.Set(Unit, "supply=off, mode=screen");
        Fault[] corroded = [.. Unit.Model.Faults.Where(f => f.Id.EndsWith("-corroded", StringComparison.Ordinal))];
        int most = 0;
        foreach (Point run in WireRuns.In(Unit, setting))
        {
            double sound = Unit.Ohms(setting, [], run.What.Target, run.What.Second!);
            Assert.InRange(sound, 0, 20);
            Fault[] shown = [.. corroded.Where(f => Unit.Ohms(setting, [f], run.What.Target, run.What.Second!) > sound + 2.5)];
            most = Math.Max(most, shown.Length);
        }

        Assert.True(most >= 4, $"no run shows more than {most} pins");
        Assert.Contains(WireRuns.In(Unit, setting), r => Unit.Ohms(setting, [Pin("XP:pin-10-corroded"), Pin("XA:pin-16-corroded")], r.What.Target, r.What.Second!) > 6);
    }

    [Fact]
    public void Runs_are_for_the_supply_off_and_never_between_two_covers()
    {
        Assert.Empty(WireRuns.In(Unit, ShippedSheets.Set(Unit, "mode=screen")));
        IReadOnlyList<Point> runs = WireRuns.In(Unit, ShippedSheets.Set(Unit, "supply=off"));
        Assert.NotEmpty(runs);
        Assert.All(runs, r => Assert.Equal(PointState.Dead, r.When));
        Assert.All(runs, r => Assert.Equal(ObservableKind.Ohms, r.What.Kind));
        Assert.Equal(runs.Count, runs.Select(r => r.What).Distinct().Count());
    }

    [Fact]
    public void A_selector_adds_the_runs_through_the_contact_that_it_closes()
    {
        bool Sees(string words, string fault)
        {
            Setting setting = ShippedSheets.Set(Unit, words);
            return WireRuns.In(Unit, setting).Any(r => Unit.Ohms(setting, [Pin(fault)], r.What.Target, r.What.Second!) > Unit.Ohms(setting, [], r.What.Target, r.What.Second!) + 2.5);
        }

        Assert.True(Sees("supply=off, mode=high", "XA:pin-15-corroded"));
        var catalog = new BenchCatalog(Unit);
        Assert.Contains(catalog.Settings, s => s.Key == "mode=high supply=off");
        Assert.All(Enumerable.Range(0, catalog.Settings.Count).Where(s => catalog.Settings[s].State == PointState.Dead),
            s => Assert.DoesNotContain(catalog.PointsIn(s), p => p.When == PointState.Running));
    }

    [Fact]
    public void A_bad_pin_is_a_suspect_after_its_run_was_measured()
    {
        Setting setting = ShippedSheets.Set(Unit, "supply=off, mode=high");
        Fault bad = Pin("XA:pin-15-corroded");
        Point run = WireRuns.In(Unit, setting).First(r => Unit.Ohms(setting, [bad], r.What.Target, r.What.Second!) > Unit.Ohms(setting, [], r.What.Target, r.What.Second!) + 2.5);
        var bench = new BenchDiagnosis(Unit);
        bench.Take("r", setting, run.What, Outcome.Number(BenchMeter.ToScale(ObservableKind.Ohms, Unit.Ohms(setting, [bad], run.What.Target, run.What.Second!))));
        Posterior posterior = bench.Explain();
        Assert.InRange(posterior.NoFault, 0, 0.05);
        Assert.Contains(posterior.Explanations.Take(20), e => e.Set == FaultSet.One(Array.IndexOf(Unit.Model.Faults, bad)));
    }

    private static Fault Pin(string id) => Unit.Model.Faults.Single(f => f.Id == id);
}
