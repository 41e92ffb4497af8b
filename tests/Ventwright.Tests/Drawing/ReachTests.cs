using Ventwright.Drawing;
using Ventwright.Model.Kernel;

namespace Ventwright.Tests.Drawing;

public sealed class ReachTests
{
    private static readonly UnitModel Model = ShippedSheets.Automatic.Model;
    private static readonly UnitLayout Layout = UnitLayout.Of(Model);

    [Fact]
    public void A_solenoid_reaches_its_hose_actuator_flaps_and_vents_and_no_others()
    {
        Reach reach = Reach.Of(Model, Layout, "Y3");
        string[] wanted = ["H5", "A3", "FL3", "FL4", "screen-left", "screen-right"];
        Assert.Subset(reach.Downstream.ToHashSet(), wanted.ToHashSet());
        Assert.DoesNotContain("A1", reach.Downstream);
        Assert.DoesNotContain("FL5", reach.Downstream);
        Assert.DoesNotContain("side-left", reach.Downstream);
    }

    [Fact]
    public void A_solenoid_is_reached_from_panel_module_and_vacuum_source()
    {
        Reach reach = Reach.Of(Model, Layout, "Y3");
        string[] wanted = ["control:mode", "S1", "mod.16", "module", "mod.23", "P1", "H1", "CV1", "H2", "XB", "XV"];
        Assert.Subset(reach.Upstream.ToHashSet(), wanted.ToHashSet());
        Assert.DoesNotContain("K1", reach.Upstream);
    }

    [Fact]
    public void A_blower_reaches_every_vent()
    {
        Reach reach = Reach.Of(Model, Layout, "M1");
        foreach ((_, int branch) in Model.Vents) Assert.Contains(Model.Parts[Model.Air[branch].Part].Id, reach.Downstream);
        Assert.Contains("K1", reach.Upstream);
        Assert.Contains("TR1", reach.Upstream);
    }

    [Fact]
    public void The_keys_of_a_reach_are_those_of_the_drawing()
    {
        foreach (PartInfo part in Model.Parts)
        {
            Reach reach = Reach.Of(Model, Layout, part.Id);
            Assert.Contains(reach.Keys, k => Layout.ByKey.TryGetValue(k, out LayoutNode? node) && node.Id == part.Id);
            Assert.All(reach.Keys, k => Assert.True(Layout.ByKey.ContainsKey(k) || Layout.Links.Any(l => l.Key == k), k));
        }
    }

    [Theory]
    [InlineData("act.screen", "A3")]
    [InlineData("pack.screen", "Y3")]
    [InlineData("upper-duct", "side-left")]
    [InlineData("control:warmth", "RV1")]
    public void Nets_hoses_spaces_and_controls_have_a_reach_too(string id, string reached) => Assert.Contains(reached, Reach.Of(Model, Layout, id).Downstream);

    [Fact]
    public void Something_that_is_not_there_is_an_error_with_its_name() =>
        Assert.Contains("'Y99'", Assert.Throws<ArgumentException>(() => Reach.Of(Model, Layout, "Y99")).Message, StringComparison.Ordinal);
}
