using Ventwright.Bench;
using Ventwright.Diagnosis;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Tests.Bench;

/// <summary>Belief in single faults against the sum over the sets that hold them. No outside source.</summary>
public sealed class ByThemselvesTests
{
    private static readonly Simulator Unit = ShippedSheets.Automatic;

    [Fact]
    public void Two_faults_that_no_reading_joins_are_told_by_themselves_as_well()
    {
        var bench = new BenchDiagnosis(Unit);
        Setting screen = ShippedSheets.Set(Unit, "mode=screen");
        var real = new SimulatedUnit(Unit, [Unit.Model.FindFault("Y3:coil-open")!, Unit.Model.FindFault("M2:brushes-worn")!], new Random(7), within: 0.5, misreads: 0);
        foreach (Observable what in (Observable[])[new(ObservableKind.Volts, "mod.16"), new(ObservableKind.Airflow, "screen-left"), new(ObservableKind.Position, "FL3"), new(ObservableKind.Motion, "M1"), new(ObservableKind.Amps, "M2")])
            bench.Take($"{what}", screen, what, real.Observe(bench.Predictor, bench.Predictor.Check(screen, what)));
        Findings found = bench.Find(1);
        Suspect leader = found.Suspects[0];
        Assert.True(leader.Probability < 0.5, leader.Text);
        Assert.True(leader.Sets[0].Set.Count > 1, $"{leader.Text} {leader.Probability}");
        Assert.NotEmpty(found.ByThemselves);
        Posterior posterior = bench.Explain();
        Assert.All(found.ByThemselves, f => Assert.Equal(posterior.CurrentSets.Where(c => c.Set.Contains(f)).Sum(c => c.Probability), found.Present[f], 1e-9));
        Assert.Equal(found.ByThemselves.OrderByDescending(f => found.Present[f]), found.ByThemselves);
        Assert.True(found.Present[found.ByThemselves[0]] > leader.Probability);
    }

    [Fact]
    public void A_sound_unit_has_no_such_list() => Assert.Empty(new BenchDiagnosis(ShippedSheets.Manual).Find(1).ByThemselves);
}
