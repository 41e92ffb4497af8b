using Ventwright.Physics.Sensing;

namespace Ventwright.Tests.Sensing;

public class BoilingPointTests
{
    [Fact]
    public void Agrees_with_the_table_of_the_water_formulation()
    {
        var rows = Published.WaterSaturation().Where(r => r.Pascal is >= BoilingPoint.LowestPa and <= BoilingPoint.HighestPa).ToArray();
        Assert.True(rows.Length > 15);
        Assert.All(rows, r => Assert.Equal(r.Kelvin, BoilingPoint.Kelvin(r.Pascal), 0.005));
    }

    /// <summary>ASHRAE Fundamentals 2017, chapter 1, table 1.</summary>
    [Theory]
    [InlineData(-500, 107478)]
    [InlineData(0, 101325)]
    [InlineData(500, 95461)]
    [InlineData(1000, 89875)]
    [InlineData(4000, 61640)]
    [InlineData(10000, 26436)]
    public void Pressure_of_the_standard_atmosphere(double metres, double pascal) => Assert.Equal(pascal, BoilingPoint.StandardPressurePa(metres), 1.0);

    /// <summary>Worked out from that table and the saturation table by an independent script.</summary>
    [Theory]
    [InlineData(0, 99.97)]
    [InlineData(300, 98.98)]
    [InlineData(500, 98.31)]
    [InlineData(1000, 96.65)]
    [InlineData(1609, 94.62)]
    [InlineData(2000, 93.32)]
    [InlineData(3000, 89.97)]
    public void Boiling_point_against_altitude(double metres, double celsius) => Assert.Equal(celsius, BoilingPoint.Kelvin(BoilingPoint.StandardPressurePa(metres)) - 273.15, 0.05);

    [Theory]
    [InlineData(100)]
    [InlineData(500000)]
    [InlineData(double.NaN)]
    public void Other_pressures_are_refused(double pascal) => Assert.Throws<ArgumentOutOfRangeException>(() => BoilingPoint.Kelvin(pascal));
}
