using Ventwright.Simulation;

namespace Ventwright.Tests.Simulation;

/// <summary>
/// What everyone who has worked on such units knows of them, asked of the two shipped sheets. Every row is common practice, no source.
/// </summary>
public sealed class TradeFactsTests
{
    private const string FullCold = "mode=auto, warmth=0, cabin=30 degC";

    [Theory]
    [InlineData(FullCold, "position(FL1)", "recirculated")]
    [InlineData(FullCold, "position(FL2)", "recirculated")]
    [InlineData(FullCold, "position(FL5)", "open")]
    [InlineData(FullCold, "position(FL7)", "cold")]
    [InlineData(FullCold, "motion(M1)", "runs")]
    [InlineData(FullCold, "motion(M2)", "runs")]
    public void Full_cold_takes_cabin_air_past_the_evaporator_to_the_face(string set, string check, string word) => Expect(ShippedSheets.Automatic, set, check, word);

    [Theory]
    [InlineData("position(FL3)", "open")]
    [InlineData("position(FL4)", "open")]
    [InlineData("position(FL1)", "fresh")]
    [InlineData("position(FL2)", "fresh")]
    [InlineData("position(FL6)", "hot")]
    [InlineData("position(FL7)", "hot")]
    [InlineData("motion(M1)", "runs")]
    [InlineData("motion(M2)", "runs")]
    [InlineData("sound(K3)", "clicks")]
    public void Screen_blows_hot_dried_fresh_air_at_the_screen(string check, string word) => Expect(ShippedSheets.Automatic, "mode=screen", check, word);

    [Theory]
    [InlineData(FullCold, "clicks")]
    [InlineData(FullCold + ", evaporator=0 degC", "silent")]
    [InlineData("mode=auto, warmth=1", "silent")]
    [InlineData("mode=off", "silent")]
    [InlineData("mode=off, warmth=0, cabin=30 degC", "silent")]
    public void The_clutch_relay_clicks_only_when_cooling_is_asked_for_and_the_evaporator_is_not_icing(string set, string word) =>
        Expect(ShippedSheets.Automatic, set, "sound(K3)", word);

    [Theory]
    [InlineData("20 degC", "still")]
    [InlineData("80 degC", "runs")]
    public void With_heat_asked_for_the_blowers_wait_for_warm_coolant(string coolant, string word)
    {
        foreach (string blower in (string[])["M1", "M2"]) Expect(ShippedSheets.Automatic, $"mode=auto, warmth=1, coolant={coolant}", $"motion({blower})", word);
    }

    [Theory]
    [InlineData("motion(M1)", "still")]
    [InlineData("motion(M2)", "still")]
    [InlineData("sound(K1)", "silent")]
    [InlineData("sound(K2)", "silent")]
    [InlineData("airflow(centre-left)", "none")]
    [InlineData("airflow(feet-left)", "none")]
    [InlineData("airflow(screen-left)", "none")]
    public void Off_means_that_everything_stands_still(string check, string word) => Expect(ShippedSheets.Automatic, "mode=off, warmth=0, cabin=30 degC", check, word);

    [Theory]
    [InlineData("mode=off, fan=4", "motion(M1)", "still")]
    [InlineData("mode=off, fan=4", "airflow(screen)", "none")]
    [InlineData("mode=off, fan=4", "sound(CL1)", "silent")]
    [InlineData("mode=vent, fan=4", "motion(M1)", "runs")]
    [InlineData("mode=vent, fan=4", "sound(CL1)", "silent")]
    [InlineData("mode=vent, fan=4", "position(FL2)", "face")]
    [InlineData("mode=cold, fan=4", "position(FL1)", "recirculated")]
    [InlineData("mode=cold, fan=4", "sound(CL1)", "clicks")]
    [InlineData("mode=cold, fan=4, evaporator=0 degC", "sound(CL1)", "silent")]
    [InlineData("mode=cold, fan=4, refrigerant=1 bar", "sound(CL1)", "silent")]
    [InlineData("mode=screen, fan=4", "position(FL1)", "fresh")]
    [InlineData("mode=screen, fan=4", "position(FL3)", "screen")]
    [InlineData("mode=screen, fan=4", "sound(CL1)", "clicks")]
    [InlineData("mode=heat, fan=4", "position(FL3)", "feet")]
    public void The_manual_unit_does_what_its_mode_knob_says(string set, string check, string word) => Expect(ShippedSheets.Manual, set, check, word);

    [Fact]
    public void Each_step_of_the_fan_switch_gives_the_blower_more()
    {
        double[] volts = [.. Enumerable.Range(1, 4).Select(step => ShippedSheets.Look(ShippedSheets.Manual, $"mode=vent, fan={step}", "volts(fan.out)").Value)];
        Assert.All(volts.Zip(volts.Skip(1)), pair => Assert.True(pair.Second > pair.First + 1, $"{pair.First} V, then {pair.Second} V"));
    }

    [Fact]
    public void Without_vacuum_the_manual_unit_falls_back_to_the_screen_with_fresh_air()
    {
        foreach ((string check, string word) in ((string, string)[])[("position(FL1)", "fresh"), ("position(FL2)", "down"), ("position(FL3)", "screen")])
            Expect(ShippedSheets.Manual, "mode=cold, fan=4, pump=off", check, word);
    }

    private static void Expect(Simulator unit, string set, string check, string word) => Assert.Equal(word, ShippedSheets.Look(unit, set, check).Word);
}
