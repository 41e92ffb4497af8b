using Ventwright.Numerics;
using Ventwright.Physics.Air;

namespace Ventwright.Tests.Physics.Air;

public class AirNetworkTests
{
    /// <summary>Circuit analogy for h = R Q^2 with R 4 and 9: series 13, parallel 1.44.</summary>
    [Fact]
    public void Series_resistances_add_and_parallel_ones_add_by_inverse_roots()
    {
        var series = new AirCase(3, (0, 1, 4, 52), (1, 2, 9, 0)) { Fixed = { [2] = 0 } }.Solved();
        Assert.Equal(13, 52 / (series.Flow[0] * series.Flow[0]), 1e-9);

        var parallel = new AirCase(2, (1, 0, 4, 0), (1, 0, 9, 0)) { Fixed = { [1] = 36 } }.Solved();
        double total = parallel.Flow[0] + parallel.Flow[1];
        Assert.Equal(1.44, 36 / (total * total), 1e-9);
    }

    /// <summary>Affinity laws, worked example of Crane TP-410 problem 7.33: 400 gal/min and 126 ft at 3500 rpm give 194.29 and 29.73 at 1700.</summary>
    [Fact]
    public void Flow_pressure_and_power_scale_with_speed_as_in_the_worked_pump_example()
    {
        // A fan law q in gal/min and p in ft is as good as one in SI: only ratios matter.
        const double speed = 1700.0 / 3500.0;
        AirCase full = FanOnSystem(flow: 400, pressure: 126, speed: 1);
        AirCase slow = FanOnSystem(flow: 400, pressure: 126, speed: speed);
        Assert.Equal(400, full.Flow[1], 1e-6);
        Assert.Equal(194.29, slow.Flow[1], 194.29 * 5e-4);
        Assert.Equal(29.73, slow.Pressure[1], 29.73 * 5e-4);
        double power = 17.5 * slow.Flow[1] * slow.Pressure[1] / (full.Flow[1] * full.Pressure[1]);
        Assert.Equal(2.005, power, 2.005 * 5e-4);
    }

    /// <summary>Fan maker's note on the fan laws of AMCA and ASHRAE: 25 % more air needs 1.25 x speed, 1.5625 x pressure, 1.953 x power.</summary>
    [Fact]
    public void A_quarter_more_air_in_a_fixed_system_takes_nearly_twice_the_power()
    {
        AirCase before = FanOnSystem(0.1, 200, 1.0), after = FanOnSystem(0.1, 200, 1.25);
        Assert.Equal(1.25, after.Flow[1] / before.Flow[1], 1e-9);
        Assert.Equal(1.5625, after.Pressure[1] / before.Pressure[1], 1e-9);
        Assert.Equal(1.953, after.Flow[1] * after.Pressure[1] / (before.Flow[1] * before.Pressure[1]), 5e-4);
    }

    /// <summary>Fan laws, same note: density x 0.9 leaves the volume flow and takes pressure and power to 0.9.</summary>
    [Fact]
    public void Thin_air_leaves_the_volume_flow_and_lowers_the_pressure()
    {
        AirCase Ducted(double density)
        {
            double opening = AirResistance.FromArea(0.01, 0.62, density);
            return new AirCase(2, (0, 1, 0.3 * opening, 250 * density), (1, 0, opening, 0)).Solved();
        }

        AirCase dense = Ducted(1.2), thin = Ducted(0.9 * 1.2);
        Assert.Equal(dense.Flow[1], thin.Flow[1], 1e-10);
        Assert.Equal(0.9, thin.Pressure[1] / dense.Pressure[1], 1e-9);
    }

    /// <summary>
    /// Hardy Cross example of ten pipes in three loops, vignette of a public hydraulics package; the flows of the converged solution
    /// were computed from its data. Head loss in metres stands in for pressure; node flows come through very high resistances.
    /// </summary>
    [Fact]
    public void Ten_pipes_in_three_loops_carry_the_flows_of_the_Hardy_Cross_example()
    {
        // Corners: 1 = pipes 1 and 5 (inlet), 2 = 1-2, 3 = 2-3-9, 4 = 3-4-6, 5 = 4-5-8, 6 = 6-7-10, 7 = 7-8, 8 = 9-10.
        // Loop 1 clockwise runs 1, 2, 3, 4, 5; loop 2 runs 4, 6, 7, 8; loop 3 runs 3, 9, 10, 6.
        double[] k = [159.7828, 535.9666, 669.9582, 669.9582, 535.9666, 2430.5356, 207.7883, 2430.5356, 2430.5356, 207.7883];
        (int A, int B)[] pipes = [(1, 2), (2, 3), (3, 4), (4, 5), (5, 1), (4, 6), (6, 7), (7, 5), (3, 8), (8, 6)];
        double[] expected = [0.038228, 0.038228, 0.023153, -0.025647, -0.041772, 0.008800, 0.003875, -0.016125, 0.015075, -0.004925];
        const double feedHead = 1e12; // so high that the network's own heads do not change the feed
        (int A, int B, double Resistance, double FanPa) Feed(int node, double flow) =>
            (0, node, feedHead / (flow * flow), Math.Sign(flow) * feedHead);
        var branches = pipes.Select((p, i) => (p.A, p.B, k[i], 0.0)).Concat([Feed(4, -0.04), Feed(7, -0.02), Feed(8, -0.02)]);
        var net = new AirCase(9, [.. branches, (0, 1, 1e-3, 0)]).Solved();
        for (int i = 0; i < expected.Length; i++) Assert.Equal(expected[i], net.Flow[i], 2e-6);
        Assert.Equal(0.08, net.Flow[^1], 1e-9);
    }

    [Fact]
    public void Part_that_hangs_on_nothing_has_no_flow_and_no_pressure()
    {
        var net = new AirCase(4, (0, 1, 100, 0), (1, 2, double.PositiveInfinity, 0), (2, 3, 100, 0));
        var verdict = net.Solve();
        Assert.True(verdict.Converged);
        Assert.Equal([false, false, true, true], verdict.Isolated.ToArray());
        Assert.True(double.IsNaN(net.Pressure[2]) && double.IsNaN(net.Pressure[3]));
        Assert.Equal([0.0, 0.0, 0.0], net.Flow);
        Assert.Equal(0.0, net.Pressure[1]);
    }

    [Fact]
    public void Fan_in_a_closed_loop_drives_air_round_though_its_pressure_level_is_unknown()
    {
        var net = new AirCase(3, (1, 2, 100, 50), (2, 1, 400, 0)).Solved();
        Assert.Equal(Math.Sqrt(50.0 / 500), net.Flow[0], 1e-9);
        Assert.True(double.IsNaN(net.Pressure[1]));
    }

    [Fact]
    public void Smoothed_law_is_exact_above_a_thousandth_of_a_pascal_and_low_by_no_more_than_stated_below()
    {
        double largest = 0;
        for (double p = 1e-6; p < 3e-3; p += 1e-6)
        {
            var net = new AirCase(2, (1, 0, 1, 0)) { Fixed = { [1] = p } }.Solved();
            double error = Math.Sqrt(p) - net.Flow[0];
            if (p > AirNetwork.SmoothPressurePa * 1.001) Assert.Equal(0, error, 1e-12);
            largest = Math.Max(largest, error / Math.Sqrt(AirNetwork.SmoothPressurePa));
        }

        Assert.InRange(largest, 0.99 * SmoothRoot.LargestError, SmoothRoot.LargestError);
    }

    [Fact]
    public void Random_networks_with_resistances_over_ten_decades_close_every_balance()
    {
        // A fixed stream of cases, so that the same code gives the same verdict on every machine.
        var cases = new Random(20261125);
        for (int round = 0; round < 2000; round++)
        {
            int nodes = cases.Next(2, 31), seed = cases.Next();
            AirCase net = RandomCase(nodes, new Random(seed));
            var verdict = net.Solve();
            Assert.True(verdict.Converged, $"residual {verdict.LargestResidual} at {verdict.ResidualNode}");
            double[] into = new double[nodes];
            for (int k = 0; k < net.Flow.Length; k++)
            {
                into[net.Branches[k].A] -= net.Flow[k];
                into[net.Branches[k].B] += net.Flow[k];
            }

            double total = net.Flow.Sum(Math.Abs) + 1e-9;
            for (int i = 1; i < nodes; i++) Assert.Equal(0, into[i], (total * 1e-9) + 1e-15);
        }
    }

    [Fact]
    public void Solving_allocates_nothing()
    {
        AirCase net = RandomCase(20, new Random(1)).Solved();
        net.Resistance[0] *= 1.01;
        long before = GC.GetAllocatedBytesForCurrentThread();
        net.Solve();
        Assert.Equal(before, GC.GetAllocatedBytesForCurrentThread());
    }

    private static AirCase FanOnSystem(double flow, double pressure, double speed)
    {
        double system = pressure / (flow * flow);
        double own = 0.2 * system; // any falling curve through the rated point
        return new AirCase(2, (0, 1, own, 1.2 * pressure * speed * speed), (1, 0, system, 0)).Solved();
    }

    internal static AirCase RandomCase(int nodes, Random random)
    {
        var branches = new (int, int, double, double)[2 * nodes];
        for (int k = 0; k < branches.Length; k++)
        {
            int a = random.Next(nodes), b = (a + 1 + random.Next(nodes - 1)) % nodes;
            double resistance = random.Next(8) == 0 ? double.PositiveInfinity : Math.Pow(10, 1 + 10 * random.NextDouble());
            branches[k] = (a, b, resistance, random.Next(5) == 0 ? 500 * random.NextDouble() : 0);
        }

        return new AirCase(nodes, branches);
    }
}
