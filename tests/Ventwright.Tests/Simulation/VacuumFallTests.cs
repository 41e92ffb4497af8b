using Ventwright.Model.Kernel;
using Ventwright.Simulation;
using Ventwright.Simulation.Time;

namespace Ventwright.Tests.Simulation;

/// <summary>
/// What a reservoir loses once the supply is off, in closed form, against the same unit stepped in time hose by hose (which is held against scipy elsewhere).
/// </summary>
public class VacuumFallTests
{
    private const double Pa = 700, Share = 0.06;

    [Theory]
    [InlineData("automatic", "mode=low, warmth=0, cabin=30 degC", "")]
    [InlineData("automatic", "mode=low, warmth=0, cabin=30 degC", "T1:cracked@pinhole")]
    [InlineData("automatic", "mode=low, warmth=0, cabin=30 degC", "A1:torn@pinhole")]
    [InlineData("automatic", "mode=low, warmth=0, cabin=30 degC", "H2:split@pinhole")]
    [InlineData("automatic", "mode=screen", "Y1:leaks")]
    [InlineData("automatic", "mode=screen", "CV1:leaks-back")]
    [InlineData("manual", "mode=cold, fan=4", "T1:cracked@pinhole")]
    [InlineData("manual", "mode=cold, fan=4", "A1:torn@pinhole")]
    public void The_fall_in_a_minute_is_that_of_the_unit_in_time(string sheet, string words, string id)
    {
        Simulator unit = sheet == "automatic" ? ShippedSheets.Automatic : ShippedSheets.Manual;
        Fault[] faults = [.. unit.Model.Faults.Where(f => f.Id == id)];
        Assert.Equal(id.Length == 0 ? 0 : 1, faults.Length);
        Setting setting = ShippedSheets.Set(unit, words);
        Settled rest = unit.Settle(setting, faults);
        double fall = Readings.Read(unit, setting, faults, rest, new(ObservableKind.Falls, Tank(unit))).Value;

        var run = new UnitRun(unit, setting, faults, rest);
        double before = Depression(unit, run);
        run.Set(ShippedSheets.Set(unit, words + ", pump=off"));
        run.Advance(60);
        double lost = before - Depression(unit, run);
        Assert.InRange(fall, lost - Pa - (Share * lost), lost + Pa + (Share * lost));
        if (id.Length > 0) Assert.True(fall > 5000, $"{id} loses {fall:F0} Pa: nobody would see it");
    }

    [Fact]
    public void Without_vacuum_there_is_nothing_to_lose()
    {
        Simulator unit = ShippedSheets.Automatic;
        Setting setting = ShippedSheets.Set(unit, "mode=screen, pump=off");
        Assert.Equal(0, Readings.Read(unit, setting, [], unit.Settle(setting, []), new(ObservableKind.Falls, Tank(unit))).Value);
    }

    /// <summary>The hose on which the sheet has the check.</summary>
    private static string Tank(Simulator unit) => Assert.Single(unit.Model.Points, p => p.What.Kind == ObservableKind.Falls).What.Target;

    private static double Depression(Simulator unit, UnitRun run) => run.Now().DepressionPa[Array.IndexOf(unit.Model.Hoses, Tank(unit))];
}
