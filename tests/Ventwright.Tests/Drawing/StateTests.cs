using Ventwright.Drawing;
using Ventwright.Model.Kernel;
using Ventwright.Quantities;
using Ventwright.Simulation;

namespace Ventwright.Tests.Drawing;

public sealed class StateTests
{
    public static TheoryData<bool, string> Settings => new()
    {
        { true, "mode=screen" }, { true, "mode=auto, warmth=0.1" }, { true, "mode=off" }, { true, "supply=off" }, { false, "mode=cold, fan=3" }, { false, "mode=heat, fan=1, lights=on" },
    };

    [Theory]
    [MemberData(nameof(Settings))]
    public void What_is_drawn_is_what_was_settled(bool automatic, string words)
    {
        Simulator unit = Drawn.Shipped(automatic);
        Setting setting = ShippedSheets.Set(unit, words);
        Settled settled = unit.Settle(setting, []);
        DrawingState state = DrawingState.Of(unit, setting, [], settled);
        UnitModel model = unit.Model;
        for (int n = 0; n < model.Nets.Length; n++)
        {
            Assert.Equal(settled.Floating[n], state.Nets[model.Nets[n]].Floating);
            if (!settled.Floating[n]) Assert.Equal(settled.Volts[n], state.Nets[model.Nets[n]].Volts);
        }

        for (int h = 0; h < model.Hoses.Length; h++) Assert.Equal(settled.DepressionPa[h], state.Hoses[model.Hoses[h]].DepressionPa);
        for (int a = 0; a < model.Air.Length; a++) Assert.Equal(settled.AirFlow[a], state.Air[a].FlowM3PerS);
        foreach (int part in Enumerable.Range(0, model.Parts.Length).Where(p => model.Parts[p].Kind is "flap" or "servo" or "vacuum-actuator" or "blower"))
            Assert.Equal(settled.Variables[model.MainVariable[part]], state.Parts[model.Parts[part].Id].Share);
    }

    [Theory]
    [InlineData("mode=screen", 0.9, 1.0)]
    [InlineData("mode=auto, warmth=0", 0.0, 0.2)]
    public void Air_is_as_warm_as_the_share_of_it_that_has_been_through_the_heater_core(string words, double least, double most)
    {
        DrawingState state = Of(words);
        UnitModel model = ShippedSheets.Automatic.Model;
        AirState At(string id) => state.Air[Array.FindIndex(model.Air, b => model.Parts[b.Part].Id == id)];
        Assert.All(state.Air, a => Assert.InRange(a.WarmLeaves, 0, 1));
        Assert.Equal(1, At("heater").WarmLeaves);
        Assert.Equal(0, At("evaporator-core").WarmLeaves, 0.02);
        Assert.All((string[])["screen-left", "feet-right", "side-left"], vent => Assert.InRange(At(vent).WarmLeaves, least, most));
    }

    [Fact]
    public void States_are_said_in_words()
    {
        DrawingState state = Of("mode=screen");
        Assert.Equal("on", state.Parts["Y3"].Text);
        Assert.Equal("off", state.Parts["Y1"].Text);
        Assert.Equal("open", state.Parts["FL3"].Text);
        Assert.Equal("runs", state.Parts["M1"].Text);
        Assert.Equal("in", state.Parts["K1"].Text);
        Assert.Equal("lit", state.Parts["L4"].Text);
        Assert.Equal("dark", state.Parts["L1"].Text);
        Assert.Equal("screen", state.Parts["control:mode"].Text);
        Assert.Equal("none", state.Parts["centre-left"].Text);
        Assert.EndsWith("strong", state.Parts["screen-left"].Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_line_at_work_carries_its_load_and_one_at_rest_does_not_look_busy_at_battery_volts()
    {
        DrawingState state = Of("mode=screen");
        Assert.True(state.Nets["drv.screen"].Energised);
        Assert.False(state.Nets["drv.recirc-left"].Energised);
        Assert.InRange(state.Nets["drv.recirc-left"].Volts, 11, 14);
    }

    [Fact]
    public void American_units_are_inches_of_mercury_and_cubic_feet()
    {
        Simulator unit = ShippedSheets.Automatic;
        DrawingState state = DrawingState.Of(unit, ShippedSheets.Set(unit, "mode=screen"), units: UnitSystem.US);
        Assert.EndsWith("inHg", state.Parts["A3"].Text, StringComparison.Ordinal);
        Assert.Contains("cfm", state.Parts["screen-left"].Text, StringComparison.Ordinal);
    }

    [Fact]
    public void A_blown_fuse_and_an_absent_part_are_said()
    {
        Assert.Equal(Activity.Blown, Of("mode=screen", "F3:blown").Parts["F3"].Activity);
        Assert.Equal(Activity.Plain, Of("mode=screen").Parts["F3"].Activity);
        Assert.Equal(Activity.Absent, Of("absent RT3=yes").Parts["RT3"].Activity);
    }

    [Fact]
    public void Air_that_runs_back_through_a_dead_blower_is_drawn_as_such()
    {
        DrawingState state = Of("mode=screen", "M1:brushes-open");
        UnitModel model = ShippedSheets.Automatic.Model;
        int wheel = Array.FindIndex(model.Air, b => model.Parts[b.Part].Id == "M1");
        Assert.True(state.Air[wheel].FlowM3PerS < 0);
        string svg = SvgDrawing.Write(UnitLayout.Of(model), state);
        Assert.Contains("link air stream on back", svg, StringComparison.Ordinal);
    }

    [Fact]
    public void Differences_name_the_stuck_valve_and_what_it_should_have_moved_and_nothing_when_all_is_well()
    {
        DrawingState sound = Of("mode=screen"), stuck = Of("mode=screen", "Y3:stuck-shut");
        IReadOnlyList<DrawingDifference> all = DrawingDifference.Between(ShippedSheets.Automatic.Model, stuck, sound);
        Assert.Subset(all.Select(d => d.Id).ToHashSet(), new HashSet<string> { "A3", "FL3", "FL4", "screen-left", "act.screen" });
        Assert.DoesNotContain(all, d => d.Id is "A1" or "K1" or "M3");
        Assert.Contains(all, d => d.Words == "Left screen flap (FL3): shut, wanted open");
        Assert.Empty(DrawingDifference.Between(ShippedSheets.Automatic.Model, sound, Of("mode=screen")));
    }

    private static DrawingState Of(string words, string? fault = null)
    {
        Simulator unit = ShippedSheets.Automatic;
        return DrawingState.Of(unit, ShippedSheets.Set(unit, words), fault is null ? [] : [unit.Model.FindFault(fault)!]);
    }
}
