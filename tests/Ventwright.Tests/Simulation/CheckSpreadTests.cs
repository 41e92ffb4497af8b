using Ventwright.Simulation;

namespace Ventwright.Tests.Simulation;

/// <summary>How units of one state lie around their middle. Reference: the normal equations of ridge regression, (Z'Z + I) b = Z'v, worked by hand; no outside source.</summary>
public class CheckSpreadTests
{
    [Fact]
    public void The_effect_of_a_shared_unknown_is_drawn_towards_none_by_one_unit()
    {
        (double value, double[] shared, double rest) = Spread([3, 7, 3, 7], [-1, 1, -1, 1]).Of([0, 1, 2, 3]);
        Assert.Equal(5, value, 1e-9);
        Assert.Equal(8.0 / 5, shared[0], 1e-9);
        Assert.Equal(Math.Sqrt(4 * 0.4 * 0.4 / 3), rest, 1e-9);
    }

    /// <summary>Units that all lie to one side of an unknown still tell the value in its middle.</summary>
    [Fact]
    public void The_value_is_that_with_the_unknown_in_its_middle()
    {
        double[] z = [.. Enumerable.Range(0, 40).Select(i => 0.2 + (i * 0.05))];
        (double value, double[] shared, double rest) = Spread([.. z.Select(x => 10 + (2 * x))], z).Of([.. Enumerable.Range(0, z.Length)]);
        double middle = z.Average(), sum = z.Sum(x => (x - middle) * (x - middle)), slope = 2 * sum / (sum + 1);
        Assert.Equal(slope, shared[0], 1e-9);
        Assert.Equal(10 + (2 * middle) - (slope * middle), value, 1e-9);
        Assert.Equal((2 - slope) * Math.Sqrt(sum / (z.Length - 1)), rest, 1e-9);
    }

    [Theory]
    [InlineData(4.5)]
    [InlineData(double.NaN)]
    public void One_unit_tells_its_value_and_nothing_else(double shown)
    {
        (double value, double[] shared, double rest) = Spread([1, shown], [0, 2]).Of([1]);
        Assert.Equal(shown, value);
        Assert.Equal(0, shared[0], 1e-9);
        Assert.Equal(0, rest, 1e-9);
    }

    private static CheckSpread Spread(double[] values, double[] unknown) => new(0, [0], values, new bool[values.Length], [.. unknown.Select(z => (double[])[z])]);
}
