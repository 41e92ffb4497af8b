using Ventwright.Bench.Sensors;

namespace Ventwright.Tests.Sensing;

public class AspiratorTests
{
    private static AspiratorCheck Check(double dash = AspiratorCheck.UsualDashKelvin, params (string, string)[] set)
    {
        AspiratorCheck? check = AspiratorCheck.TryMake(ShippedSheets.Automatic, "aspirator", "RT1", dash, set, out string? problem);
        Assert.True(check is not null, problem);
        return check;
    }

    /// <summary>
    /// At rated speed the suction of 60 Pa drives air through 1 cm2 (and back through 200 cm2): v = Cd sqrt(2 p / rho) with Cd 0.65 and 1.2 kg/m3, orifice
    /// equation. With the module's 12 V the blower is at its rated speed within a few per cent.
    /// </summary>
    [Fact]
    public void Air_at_full_speed_is_that_of_the_orifice_equation()
    {
        AspiratorFlow full = Check().Flows[0];
        Assert.Equal(0.65 * Math.Sqrt(2 * 60 / 1.2), full.Speed.Nominal.Value, 0.6);
        Assert.Equal(full.Speed.Nominal.Value * 1e-4, full.FlowM3PerS, 1e-9);
        Assert.Equal("strong", full.Speed.Nominal.Word);
        Assert.Equal("none", full.WordWithoutHose);
        Assert.True(full.Speed.Low < full.Speed.Nominal.Value && full.Speed.Nominal.Value < full.Speed.High);
    }

    [Fact]
    public void The_blower_off_draws_nothing() => Assert.Equal("none", Assert.Single(Check(AspiratorCheck.UsualDashKelvin, ("mode", "off")).Flows).Speed.Nominal.Word);

    /// <summary>The sensor feels air that is so much warmer: the cabin settles so much colder, by the sheet's rule.</summary>
    [Theory]
    [InlineData(32, -10)]
    [InlineData(12, 10)]
    public void A_lost_hose_shifts_the_cabin_by_what_the_dash_is_warmer(double dashCelsius, double shift)
    {
        HoseLoss loss = Check(dashCelsius + 273.15).Loss;
        Assert.Equal(shift, loss.Consequences.Single(c => c.Kind == ConsequenceKind.Regulation).ShiftK, 0.05);
        Assert.NotEmpty(loss.Changed);
    }

    [Fact]
    public void Dash_air_like_the_cabin_changes_nothing()
    {
        HoseLoss loss = Check(295.15).Loss;
        Assert.Empty(loss.Changed);
        Assert.Empty(loss.Consequences);
    }

    [Fact]
    public void The_sheet_names_the_sensor()
    {
        Assert.Equal("RT1", AspiratorCheck.SensorOf(ShippedSheets.Automatic.Model, "aspirator"));
        Assert.Null(AspiratorCheck.SensorOf(ShippedSheets.Automatic.Model, "none"));
    }

    [Fact]
    public void A_sheet_without_one_says_so()
    {
        Assert.Null(AspiratorCheck.TryMake(ShippedSheets.Manual, "aspirator", "RT1", 300, [], out string? problem));
        Assert.Contains("no aspirator", problem, StringComparison.Ordinal);
    }
}
