using Ventwright.Physics.Vacuum;

namespace Ventwright.Tests.Physics.Vacuum;

public class VacuumVolumeTests
{
    private const double Ambient = 100_000;

    /// <summary>Integral of the ISO 6358 law for 1 l, 1e-9 m3/(s Pa), b 0.5; numbers computed by an independent script.</summary>
    [Theory]
    [InlineData(0.25, 2.500)]
    [InlineData(0.5, 5.000)]
    [InlineData(0.75, 7.618)]
    [InlineData(0.9, 9.636)]
    [InlineData(0.99, 11.852)]
    [InlineData(1.0, 12.854)]
    public void Evacuated_litre_fills_in_the_computed_times(double ratio, double seconds)
    {
        double rate = VacuumVolume.RatePerS(1e-9, 1e-3);
        Assert.Equal(0.1, rate, 1e-12);
        double depression = Ambient * (1 - ratio);
        Assert.Equal(seconds, VacuumVolume.LeakUpSeconds(Ambient, depression, rate, 0.5, Ambient), seconds * 1e-3);
        Assert.Equal(depression, VacuumVolume.LeakUpDepressionPa(Ambient, rate, 0.5, Ambient, seconds), 30.0);
    }

    /// <summary>Round trip.</summary>
    [Theory]
    [InlineData(60_000, 50_000)]
    [InlineData(60_000, 20_000)]
    [InlineData(20_000, 5_000)]
    public void Conductance_found_from_a_rise_is_the_one_that_made_it(double from, double to)
    {
        double rate = VacuumVolume.RatePerS(3e-11, 5e-4, 300);
        double seconds = VacuumVolume.LeakUpSeconds(from, to, rate, 0.35, Ambient);
        Assert.Equal(to, VacuumVolume.LeakUpDepressionPa(from, rate, 0.35, Ambient, seconds), 1e-6);
        Assert.Equal(3e-11, VacuumVolume.FromRise(new MeasuredRise(from, to, seconds, 5e-4), 0.35, Ambient, 300).Value, 1e-20);
    }

    /// <summary>Independent method: each input moved by its uncertainty, differences added by squares.</summary>
    [Theory]
    [InlineData(80_000, 70_000)]
    [InlineData(60_000, 20_000)]
    public void Uncertainty_agrees_with_moving_each_input(double from, double to)
    {
        var rise = new MeasuredRise(from, to, 60, 5e-4, 40, 0.2, 5e-6, 0.01);
        double Value(double f, double t, double s, double v, double b) => VacuumVolume.FromRise(new MeasuredRise(f, t, s, v), b, Ambient).Value;
        double middle = Value(from, to, 60, 5e-4, 0.4);
        double[] changes =
        [
            Value(from + 40, to, 60, 5e-4, 0.4) - middle, Value(from, to + 40, 60, 5e-4, 0.4) - middle,
            Value(from, to, 60.2, 5e-4, 0.4) - middle, Value(from, to, 60, 5.05e-4, 0.4) - middle,
            Value(from, to, 60, 5e-4, 0.41) - middle,
        ];
        double expected = Math.Sqrt(changes.Sum(c => c * c));
        Assert.Equal(expected, VacuumVolume.FromRise(rise, 0.4, Ambient).Uncertainty, 0.02 * expected);
    }

    /// <summary>Vacuum technology formula: 10 l at 1 l/s from 1013.25 to 1 mbar takes 69.2 s.</summary>
    [Fact]
    public void Pump_down_at_constant_speed_takes_the_logarithm_of_the_pressure_ratio() =>
        Assert.Equal(69.2, VacuumVolume.PumpDownSeconds(0.01, 0.001, 101_325, 100), 0.05);

    /// <summary>Closed form: half after ln 2 / k.</summary>
    [Fact]
    public void Choked_draining_halves_the_pressure_in_seven_seconds_at_a_tenth_per_second() =>
        Assert.Equal(50_000, VacuumVolume.ChokedDrainPa(100_000, 0.1, 6.931), 3.0);

    /// <summary>Vacuum handbook example (leak rate section): 4 l losing 1 bar in 30 days leak 1.5e-4 Pa m3/s.</summary>
    [Fact]
    public void Leak_rate_of_four_litres_that_lose_a_bar_in_thirty_days() =>
        Assert.Equal(1.543e-4, VacuumVolume.LeakRatePaM3PerS(4e-3, 1e5, 30 * 86_400), 0.01e-4);

    [Fact]
    public void A_rise_all_the_way_to_atmosphere_tells_no_conductance() =>
        Assert.Throws<ArgumentOutOfRangeException>(() => VacuumVolume.FromRise(new MeasuredRise(60_000, 0, 60, 1e-3), 0.4, Ambient));
}
