using CsCheck;
using Ventwright.Diagnosis;

namespace Ventwright.Tests.Diagnosis;

/// <summary>Plans against brute force over all lists of checks.</summary>
public class CoverPlanTests
{
    private static readonly Gen<CoverProblem> Problems = Gen.Select(
        Gen.Select(Gen.Int[0, 6].HashSet[0, 4], Gen.Int[1, 40], Gen.Int[0, 2], Gen.Int[0, 2].HashSet[0, 2]).Array[1, 9],
        Gen.Int[1, 100].Array[7],
        Gen.Int[0, 60].Array[3],
        Gen.Int[0, 60].Array[3],
        (checks, weights, settings, places) => new CoverProblem(
            [.. checks.Select((c, i) => new CoverCheck(i, [.. c.Item1.Order()], c.Item2 / 10.0, c.Item3, [.. c.Item4.Order()]))],
            [.. weights.Select(w => w / 100.0)],
            [.. settings.Select(s => s / 10.0)],
            [.. places.Select(p => p / 10.0)]));

    [Fact]
    public void The_cheapest_plan_equals_brute_force()
    {
        Problems.Sample(problem =>
        {
            CoverPlan plan = CoverPlanner.Cheapest(problem);
            int showable = problem.Checks.SelectMany(c => c.Shows).Distinct().Count();
            double best = Lists(problem).Where(l => Shown(l).Count == showable).Min(l => Minutes(problem, l));
            Assert.Equal(best, plan.Minutes, 1e-9);
            Assert.Equal(0, plan.Gap);
            Assert.Equal(best, plan.Bound, 1e-6);
            Assert.Equal(plan.ShownByNone, plan.NotShown);
        }, iter: 100, threads: 1);
    }

    [Fact]
    public void The_plan_within_a_time_equals_brute_force()
    {
        Gen.Select(Problems, Gen.Int[0, 120]).Sample((problem, time) =>
        {
            CoverPlan plan = CoverPlanner.Within(problem, time / 10.0);
            double best = Lists(problem).Where(l => Minutes(problem, l) <= (time / 10.0) + 1e-9).Max(l => Shown(l).Sum(f => problem.FaultWeights[f]));
            Assert.InRange(plan.Minutes, 0, (time / 10.0) + 1e-9);
            Assert.Equal(best, plan.ShownWeight, 1e-5);
        }, iter: 100, threads: 1);
    }

    [Fact]
    public void Without_time_for_the_solver_the_plan_still_shows_everything_and_says_how_far_off_it_may_be()
    {
        var random = new Random(1);
        CoverProblem problem = Big(random, 200, 400);
        CoverPlan plan = CoverPlanner.Cheapest(problem, effort: 1e-6);
        Assert.Equal(plan.ShownByNone, plan.NotShown);
        Assert.InRange(plan.Bound, 0, plan.Minutes);
    }

    [Fact]
    public void A_plan_of_real_size_is_the_same_each_time_and_close_to_its_bound()
    {
        CoverProblem problem = Big(new Random(2), 300, 600);
        CoverPlan one = CoverPlanner.Cheapest(problem, effort: 3), two = CoverPlanner.Cheapest(problem, effort: 3);
        Assert.Equal(one.Checks, two.Checks);
        Assert.Equal(one.Bound, two.Bound);
        Assert.InRange(one.Gap, 0, 0.25);
    }

    [Fact]
    public void Faults_with_the_same_outcome_everywhere_are_one_class()
    {
        int[][] outcomes = [[0, 1, 2], [0, 1, 1], [0, 1, 2], [3, 1, 1], [0, 1, 1]];
        Assert.Equal([[0, 2], [1, 4]], FaultClasses.Identical(outcomes));
    }

    private static CoverProblem Big(Random random, int checks, int faults) => new(
        [.. Enumerable.Range(0, checks).Select(c => new CoverCheck(
            c,
            [.. Enumerable.Range(0, random.Next(1, 15)).Select(_ => random.Next(faults)).Distinct().Order()],
            0.5 + random.NextDouble(),
            c / 8,
            [random.Next(12)]))],
        [.. Enumerable.Range(0, faults).Select(_ => random.NextDouble())],
        [.. Enumerable.Range(0, (checks / 8) + 1).Select(_ => 1 + (2 * random.NextDouble()))],
        [.. Enumerable.Range(0, 12).Select(_ => 5 * random.NextDouble())]);

    private static IEnumerable<CoverCheck[]> Lists(CoverProblem problem) => Enumerable.Range(0, 1 << problem.Checks.Count)
        .Select(mask => problem.Checks.Where((_, i) => (mask >> i & 1) == 1).ToArray());

    private static HashSet<int> Shown(CoverCheck[] list) => [.. list.SelectMany(c => c.Shows)];

    private static double Minutes(CoverProblem problem, CoverCheck[] list) => list.Sum(c => c.ReadMinutes)
        + list.Select(c => c.Setting).Distinct().Sum(s => problem.SettingMinutes[s])
        + list.SelectMany(c => c.Places).Distinct().Sum(p => problem.PlaceMinutes[p]);
}
