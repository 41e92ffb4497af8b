using Ventwright.Physics.Moist;

namespace Ventwright.Tests.Physics;

/// <summary>Moist air against printed tables.</summary>
public sealed class MoistAirTests
{
    /// <summary>Source: ASHRAE Fundamentals 2017, chapter 1, table 3, as quoted by the unit tests of the library psychrolib; 0.03 %.</summary>
    [Theory]
    [InlineData(-20, 103.24)]
    [InlineData(-5, 401.74)]
    [InlineData(5, 872.6)]
    [InlineData(25, 3169.7)]
    [InlineData(50, 12351.3)]
    [InlineData(100, 101418.0)]
    public void Saturation_pressure(double celsius, double pascals) =>
        Assert.Equal(pascals, MoistAir.SaturationPa(celsius + 273.15), pascals * 3e-4);

    /// <summary>
    /// Source: real moist air by ASHRAE RP-1485 (Herrmann, Kretzschmar, Gatley 2009), generated with CoolProp. The ideal mixture here leaves the enhancement
    /// factor out: half a percent.
    /// </summary>
    [Theory]
    [InlineData(-10, 0.5, 0.00080206477, -8.0656272)]
    [InlineData(0, 1, 0.0037900346, 9.474751)]
    [InlineData(10, 0.5, 0.0038078672, 19.648373)]
    [InlineData(20, 1, 0.014760495, 57.559167)]
    [InlineData(30, 0.5, 0.013372587, 64.355677)]
    [InlineData(40, 0.1, 0.0045881592, 52.061346)]
    public void Humidity_ratio_and_enthalpy(double celsius, double relative, double ratio, double kilojoules)
    {
        double w = MoistAir.HumidityRatio(celsius + 273.15, relative, 101325);
        Assert.Equal(ratio, w, ratio * 6e-3);
        Assert.Equal(kilojoules * 1e3, MoistAir.Enthalpy(celsius + 273.15, ratio), 250.0);
        Assert.Equal(relative, MoistAir.Relative(celsius + 273.15, w, 101325), 9);
    }

    [Fact]
    public void The_curves_of_ice_and_water_meet_at_the_triple_point() =>
        Assert.Equal(MoistAir.SaturationPa(273.1599), MoistAir.SaturationPa(273.1601), 0.02);
}
