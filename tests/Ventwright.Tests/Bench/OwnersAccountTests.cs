using Ventwright.Bench;
using Ventwright.Diagnosis;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Tests.Bench;

/// <summary>What the owner of a made-up unit tells, against the unit itself. No outside source.</summary>
public class OwnersAccountTests
{
    private static readonly Simulator Unit = ShippedSheets.Manual;
    private static readonly SheetPredictor Predictor = new(Unit);
    private static readonly BenchCatalog Catalog = new(Unit);

    [Fact]
    public void The_owner_of_a_unit_that_does_nothing_complains_of_one_thing_that_a_sound_unit_hardly_shows()
    {
        Fault blown = Unit.Model.Faults.Single(f => f.Id == "F1:blown");
        (string[] told, Posterior after) = Tell(1, blown);
        Assert.StartsWith("complaint: ", Assert.Single(told), StringComparison.Ordinal);
        Assert.InRange(after.NoFault, 0, 0.09);
    }

    [Fact]
    public void The_owner_of_a_sound_unit_says_what_works_in_spite_of_slips()
    {
        int complaints = 0;
        for (int seed = 0; seed < 12; seed++)
        {
            (string[] told, Posterior after) = Tell(seed);
            if (told[0].StartsWith("complaint", StringComparison.Ordinal))
            {
                complaints++;
                continue;
            }

            Assert.InRange(told.Length, 5, 24);
            Assert.All(told, t => Assert.StartsWith("works ", t, StringComparison.Ordinal));
            string[] checks = [.. told.Select(t => t[(t.IndexOf(": ", StringComparison.Ordinal) + 2)..t.LastIndexOf(' ')])];
            Assert.Equal(checks.Distinct(StringComparer.Ordinal), checks);
            int blown = Array.FindIndex(Unit.Model.Faults, f => f.Id == "F1:blown");
            Assert.True(after.Present[blown] < new BenchDiagnosis(Unit, Predictor, Catalog).Explain().Present[blown]);
        }

        // A slip of one in a hundred among some hundred looks would make nearly all of them complain.
        Assert.InRange(complaints, 0, 2);
    }

    private static (string[] Told, Posterior After) Tell(int seed, params Fault[] truth)
    {
        var bench = new BenchDiagnosis(Unit, Predictor, Catalog);
        var random = new Random(seed);
        var unit = new SimulatedUnit(Unit, truth, random, 1, 0.01);
        string[] told = [.. new OwnersAccount(Predictor, bench.Candidates).Tell(bench, unit, random)];
        return (told, bench.Explain());
    }
}
