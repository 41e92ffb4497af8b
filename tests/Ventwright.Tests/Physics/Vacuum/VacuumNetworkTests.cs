
namespace Ventwright.Tests.Physics.Vacuum;

/// <summary>Laws and balances unless a source is named.</summary>
public class VacuumNetworkTests
{
    /// <summary>Closed form: leak choked into the node, choked from the node to the pump: C1 p0 = C2 p.</summary>
    [Fact]
    public void Two_choked_restrictions_in_series_divide_the_pressure_by_their_conductances()
    {
        var net = new VacuumCase(3, (0, 1, false, 1e-9, 0.5), (1, 2, false, 4e-9, 0.5));
        net.Fixed[2] = 95_000;
        Assert.True(net.Solve().Converged);
        Assert.Equal(75_000, net.Depression[1], 1e-6);
        Assert.Equal(1e-9 * 1.185 * 100_000, net.Flow[0], 1e-12);
    }

    [Fact]
    public void Dead_end_has_exactly_the_depression_of_the_node_it_hangs_on()
    {
        var net = new VacuumCase(5, (0, 1, false, 1e-10, 0.3), (1, 2, false, 1e-8, 0.3), (1, 3, false, 1e-11, 0.3), (3, 4, false, 1e-7, 0.3));
        net.Fixed[2] = 60_000;
        Assert.True(net.Solve().Converged);
        Assert.InRange(net.Depression[1], 59_000, 60_000);
        Assert.Equal(net.Depression[1], net.Depression[3], 1e-9);
        Assert.Equal(net.Depression[1], net.Depression[4], 1e-9);
    }

    /// <summary>Closed form: isothermal mixing, p = sum(p V) / sum V.</summary>
    [Fact]
    public void Cut_off_nodes_that_join_share_their_depression_by_volume_and_are_called_isolated()
    {
        var net = new VacuumCase(4, (0, 1, false, 0, 0.3), (1, 2, false, 1e-9, 0.3), (0, 3, false, 1e-9, 0.3));
        (net.Held[1], net.Held[2]) = (60_000, 20_000);
        (net.Volume[1], net.Volume[2]) = (3e-4, 1e-4);
        var verdict = net.Solve();
        Assert.True(verdict.Converged);
        Assert.Equal([false, true, true, false], verdict.Isolated.ToArray());
        Assert.Equal(50_000, net.Depression[1], 1e-9);
        Assert.Equal(50_000, net.Depression[2], 1e-9);
        Assert.Equal(0, net.Depression[3], 1e-9);
    }

    [Theory]
    [InlineData(60_000, 40_000, 60_000, true)] // the reservoir held more than the pump now makes: valve shut
    [InlineData(30_000, 40_000, 40_000, false)] // the pump is deeper: it empties the reservoir to its own level
    public void Check_valve_keeps_a_tight_reservoir_at_the_deepest_depression_it_saw(double held, double pump, double expected, bool isolated)
    {
        var net = new VacuumCase(3, (1, 2, true, 1e-8, 0.3), (1, 0, false, 0, 0.3));
        net.Fixed[2] = pump;
        net.Held[1] = held;
        net.Depression[1] = pump;
        var verdict = net.Solve();
        Assert.True(verdict.Converged);
        Assert.Equal(isolated, verdict.Isolated.Span[1]);
        Assert.Equal(expected, net.Depression[1], 1e-6);
        Assert.Equal(0, net.Flow[0], 1e-12);
    }

    [Fact]
    public void Leaking_reservoir_behind_a_shut_check_valve_ends_at_atmosphere()
    {
        var net = new VacuumCase(3, (1, 2, true, 1e-8, 0.3), (0, 1, false, 1e-12, 0.3), (0, 2, false, 1e-10, 0.3));
        net.Held[1] = 60_000;
        Assert.True(net.Solve().Converged);
        Assert.Equal(0, net.Depression[1], 1e-6);
        Assert.Equal(0, net.Flow[0], 1e-15);
    }

    [Fact]
    public void Reservoir_between_two_check_valves_passes_flow_only_from_the_high_to_the_low_side()
    {
        var net = new VacuumCase(4, (1, 2, true, 1e-9, 0.3), (2, 3, true, 1e-9, 0.3));
        (net.Fixed[1], net.Fixed[3]) = (10_000, 50_000);
        net.Held[2] = 30_000;
        Assert.True(net.Solve().Converged);
        Assert.InRange(net.Depression[2], 10_000, 50_000);
        Assert.True(net.Flow[0] > 0);
        Assert.Equal(net.Flow[0], net.Flow[1], net.Flow[0] * 1e-9);

        (net.Fixed[1], net.Fixed[3]) = (50_000, 10_000);
        Assert.True(net.Solve().Converged);
        Assert.Equal(30_000, net.Depression[2]);
        Assert.Equal([0.0, 0.0], net.Flow);
    }

    [Fact]
    public void Of_two_pumps_behind_check_valves_the_deeper_one_decides()
    {
        var net = new VacuumCase(4, (1, 2, true, 1e-8, 0.3), (1, 3, true, 1e-10, 0.3));
        (net.Fixed[2], net.Fixed[3]) = (30_000, 55_000);
        Assert.True(net.Solve().Converged);
        Assert.Equal(55_000, net.Depression[1], 1e-3);
        Assert.Equal(0, net.Flow[0]);
    }

    [Fact]
    public void Random_networks_with_conductances_over_five_decades_close_every_balance_from_cold_and_from_warm()
    {
        // A fixed stream of cases, so that the same code gives the same verdict on every machine.
        var cases = new Random(20261125);
        for (int round = 0; round < 2000; round++)
        {
            int nodes = cases.Next(3, 31), seed = cases.Next();
            VacuumCase net = RandomCase(nodes, new Random(seed));
            var verdict = net.Solve();
            Assert.True(verdict.Converged, $"residual {verdict.LargestResidual} at {verdict.ResidualNode}");
            CheckBalances(net);
            double[] cold = [.. net.Depression];
            for (int i = 1; i < nodes; i++) net.Depression[i] += i % 2 == 0 ? 3_000 : -3_000;
            Assert.True(net.Solve().Converged);
            CheckBalances(net);
            for (int i = 0; i < nodes; i++) Assert.Equal(cold[i], net.Depression[i], 0.01);
        }
    }

    [Fact]
    public void Solving_allocates_nothing()
    {
        VacuumCase net = RandomCase(20, new Random(1));
        net.Solve();
        net.Conductance[0] *= 1.01;
        long before = GC.GetAllocatedBytesForCurrentThread();
        net.Solve();
        Assert.Equal(before, GC.GetAllocatedBytesForCurrentThread());
    }

    [Theory]
    [InlineData(double.PositiveInfinity)]
    [InlineData(double.NaN)]
    [InlineData(-1e-9)]
    public void Impossible_conductance_is_refused_and_named(double conductance)
    {
        var net = new VacuumCase(2, (0, 1, false, conductance, 0.3));
        Assert.Contains("branch 0", Assert.Throws<ArgumentException>(() => net.Solve()).Message, StringComparison.Ordinal);
    }

    internal static VacuumCase RandomCase(int nodes, Random random)
    {
        var branches = new List<(int, int, bool, double, double)>();
        for (int k = 0; k < 2 * nodes; k++)
        {
            int a = random.Next(nodes), b = (a + 1 + random.Next(nodes - 1)) % nodes;
            double conductance = random.Next(8) == 0 ? 0 : Math.Pow(10, -12 + 5 * random.NextDouble());
            branches.Add((a, b, random.Next(6) == 0, conductance, 0.1 + 0.45 * random.NextDouble()));
        }

        var net = new VacuumCase(nodes, [.. branches]);
        net.Fixed[nodes - 1] = 20_000 + 75_000 * random.NextDouble();
        if (random.Next(2) == 0) net.Fixed[nodes / 2] = 90_000 * random.NextDouble();
        for (int i = 1; i < nodes; i++) net.Held[i] = 80_000 * random.NextDouble();
        return net;
    }

    private static void CheckBalances(VacuumCase net)
    {
        double total = net.Flow.Sum(Math.Abs);
        for (int i = 1; i < net.Network.Nodes; i++)
        {
            if (!double.IsNaN(net.Fixed[i])) continue;
            Assert.True(Math.Abs(net.NetInto(i)) <= 1e-7 * net.ThroughPut(i) + 1e-10 * total + 1e-14, $"node {i}: {net.NetInto(i)} of {net.ThroughPut(i)}");
        }

        for (int k = 0; k < net.Flow.Length; k++)
        {
            // A valve may stand open against the documented dead band of 10 uPa; what the law lets through there is the most that may run backwards.
            double atDeadBand = Ventwright.Physics.Vacuum.Iso6358.FlowKgPerS(net.Conductance[k], net.CriticalRatio[k], net.AmbientPa, net.AmbientPa - 1e-5);
            if (net.Branches[k].OneWay) Assert.True(net.Flow[k] >= -1.1 * atDeadBand - 1e-18, $"valve {k} passes {net.Flow[k]} backwards");
        }
    }
}
