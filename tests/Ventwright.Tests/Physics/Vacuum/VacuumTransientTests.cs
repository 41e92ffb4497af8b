using CsCheck;
using Ventwright.Physics.Vacuum;

namespace Ventwright.Tests.Physics.Vacuum;

public class VacuumTransientTests
{
    /// <summary>Closed form of the isothermal leak-up (integral of the ISO 6358 law), checked at several times.</summary>
    [Fact]
    public void Evacuated_litre_fills_as_the_closed_form_says()
    {
        var net = Leak();
        var transient = new VacuumTransient(net.Network);
        net.Depression[1] = 100_000;
        for (int i = 1; i <= 12; i++)
        {
            Assert.True(Advance(transient, net, 1.0, 1.0).Converged);
            Assert.Equal(VacuumVolume.LeakUpDepressionPa(100_000, 0.1, 0.5, 100_000, i), net.Depression[1], 5.0);
        }
    }

    /// <summary>Order of accuracy against the same closed form, on the smooth part of the curve.</summary>
    [Fact]
    public void Halving_the_step_quarters_the_error()
    {
        double Error(int steps)
        {
            var net = Leak();
            net.Depression[1] = 45_000;
            Assert.True(new VacuumTransient(net.Network).AdvanceEvenly(
                net.Conductance, net.CriticalRatio, net.Fixed, net.Volume, net.AmbientPa, 5.0, steps, net.Depression, net.Flow));
            return Math.Abs(net.Depression[1] - VacuumVolume.LeakUpDepressionPa(45_000, 0.1, 0.5, 100_000, 5.0));
        }

        for (int steps = 10; steps <= 80; steps *= 2) Assert.InRange(Error(steps) / Error(2 * steps), 3.7, 4.3);
    }

    /// <summary>Closed form: p0 exp(-k t); also the pump-down formula at speed S = C p0.</summary>
    [Fact]
    public void Volume_drains_exponentially_into_a_deep_vacuum()
    {
        var net = new VacuumCase(3, (1, 2, false, 1e-9, 0.5)) { Volume = { [1] = 1e-3 }, Fixed = { [2] = 99_999.9 } };
        Assert.True(Advance(new VacuumTransient(net.Network), net, 6.931, 0.5).Converged);
        Assert.Equal(50_000, net.Depression[1], 5.0);
        Assert.Equal(6.931, VacuumVolume.PumpDownSeconds(1e-3, 1e-9 * 1e5, 100_000, 50_000), 1e-3);
    }

    /// <summary>Law of conservation: closed off from everything, mass (here sum of p V) stays.</summary>
    [Fact]
    public void Cut_off_volumes_even_out_without_losing_gas()
    {
        var net = new VacuumCase(4, (1, 2, false, 1e-9, 0.3), (2, 3, false, 1e-10, 0.3));
        (net.Volume[1], net.Volume[2], net.Volume[3]) = (1e-3, 1e-5, 2e-4);
        (net.Depression[1], net.Depression[2], net.Depression[3]) = (60_000, 10_000, 0);
        double Gas() => net.Depression[1] * 1e-3 + net.Depression[2] * 1e-5 + net.Depression[3] * 2e-4;
        double before = Gas();
        var transient = new VacuumTransient(net.Network);
        Assert.True(Advance(transient, net, 1, 10).Converged);
        Assert.Equal(before, Gas(), before * 1e-9);
        Assert.True(Advance(transient, net, 1000, 10).Converged);
        Assert.Equal(before / 1.21e-3, net.Depression[3], 1.0);
        Assert.Equal(net.Depression[1], net.Depression[3], 1.0);
    }

    [Fact]
    public void Check_valve_holds_the_reservoir_when_the_pump_stops()
    {
        var net = new VacuumCase(3, (1, 2, true, 1e-8, 0.3)) { Volume = { [1] = 1e-3 }, Fixed = { [2] = 60_000 } };
        var transient = new VacuumTransient(net.Network);
        Assert.True(Advance(transient, net, 60, 1).Converged);
        Assert.Equal(60_000, net.Depression[1], 1.0);
        double full = net.Depression[1];
        net.Fixed[2] = 0;
        Assert.True(Advance(transient, net, 600, 1).Converged);
        Assert.Equal(full, net.Depression[1], 1e-6);
    }

    /// <summary>Two methods of this program: the long run in time ends where the steady network does.</summary>
    [Fact]
    public void Long_run_of_random_networks_ends_at_the_steady_state()
    {
        Gen.Select(Gen.Int[3, 10], Gen.Int[0, int.MaxValue]).Sample((nodes, seed) =>
        {
            var random = new Random(seed);
            var chain = Enumerable.Range(1, nodes - 1).Select(i => (i, i - 1, false, Math.Pow(10, -11 + 3 * random.NextDouble()), 0.3));
            var net = new VacuumCase(nodes, [.. chain, (1, nodes - 1, true, 1e-9, 0.4)]) { Fixed = { [nodes - 1] = 60_000 } };
            Assert.True(Advance(new VacuumTransient(net.Network), net, 1e6, 10).Converged);
            double[] late = [.. net.Depression];
            Assert.True(net.Solve().Converged);
            for (int i = 0; i < nodes; i++) Assert.Equal(net.Depression[i], late[i], 0.5);
        }, iter: 50);
    }

    private static VacuumCase Leak() => new(2, (0, 1, false, 1e-9, 0.5)) { Volume = { [1] = 1e-3 } };

    private static TransientVerdict Advance(VacuumTransient transient, VacuumCase net, double seconds, double tolerancePa) =>
        transient.Advance(
            net.Conductance, net.CriticalRatio, net.Fixed, net.Volume, net.AmbientPa, seconds, tolerancePa, net.Depression, net.Flow);
}
