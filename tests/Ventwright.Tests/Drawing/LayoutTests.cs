using System.Diagnostics;
using Ventwright.Drawing;
using Ventwright.Model.Kernel;

namespace Ventwright.Tests.Drawing;

public sealed class LayoutTests
{
    private const int RandomUnits = 150;

    public static TheoryData<bool, LayoutDetail> Shipped => new()
    {
        { true, LayoutDetail.Overview }, { true, LayoutDetail.Full }, { false, LayoutDetail.Overview }, { false, LayoutDetail.Full },
    };

    [Theory]
    [MemberData(nameof(Shipped))]
    public void The_same_sheet_gives_the_same_layout(bool automatic, LayoutDetail detail)
    {
        UnitModel model = Drawn.Shipped(automatic).Model;
        Assert.Equal(SvgDrawing.Write(UnitLayout.Of(model, detail)), SvgDrawing.Write(UnitLayout.Of(model, detail)));
    }

    [Theory]
    [MemberData(nameof(Shipped))]
    public void A_shipped_unit_is_drawn_whole_and_without_overlaps(bool automatic, LayoutDetail detail) => CheckWhole(Drawn.Shipped(automatic).Model, detail);

    [Fact]
    public void Random_units_are_drawn_whole_and_without_overlaps()
    {
        for (int seed = 0; seed < RandomUnits; seed++)
        {
            UnitModel model = Drawn.Random(seed);
            CheckWhole(model, LayoutDetail.Overview);
            CheckWhole(model, LayoutDetail.Full);
        }
    }

    [Theory]
    [InlineData(Drawn.Lonely)]
    [InlineData(Drawn.WiresOnly)]
    [InlineData(Drawn.HosesOnly)]
    [InlineData(Drawn.RoundAndRound)]
    public void Odd_units_are_drawn_too(string sheet)
    {
        UnitModel model = Drawn.Read(sheet);
        CheckWhole(model, LayoutDetail.Overview);
        CheckWhole(model, LayoutDetail.Full);
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void The_overview_fits_beside_the_panels_of_a_small_screen(bool automatic)
    {
        UnitLayout layout = UnitLayout.Of(Drawn.Shipped(automatic).Model);
        Assert.InRange(layout.Width, 1, 900);
        Assert.InRange(layout.Lanes.Values.Max(l => l.Bottom), 1, 800);
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void Feeds_grounds_and_plugs_stand_below_the_lanes(bool automatic)
    {
        UnitLayout layout = UnitLayout.Of(Drawn.Shipped(automatic).Model);
        double bottom = layout.Lanes.Values.Max(l => l.Bottom);
        LayoutNode[] strip = [.. layout.Nodes.Where(n => n.Kind is "fuse" or "ground-point" or "connector" or "supply")];
        Assert.NotEmpty(strip);
        Assert.All(strip, n => Assert.True(n.Box.Y >= bottom, $"{n.Key} stands in a lane"));
    }

    [Fact]
    public void Layouts_take_seconds_at_most()
    {
        UnitModel model = ShippedSheets.Automatic.Model;
        UnitLayout.Of(model);
        var watch = Stopwatch.StartNew();
        UnitLayout.Of(model);
        UnitLayout.Of(model, LayoutDetail.Full);
        Assert.True(watch.Elapsed < TimeSpan.FromSeconds(10), $"two layouts took {watch.Elapsed}");
    }

    [Fact]
    public void The_eye_drops_from_a_solenoid_in_the_wires_to_the_same_one_in_the_hoses()
    {
        UnitLayout layout = UnitLayout.Of(ShippedSheets.Automatic.Model);
        foreach (string valve in (string[])["Y1", "Y2", "Y3", "Y4", "Y5"])
            Assert.InRange(Math.Abs(layout.ByKey[$"wires:{valve}"].Box.X - layout.ByKey[$"hoses:{valve}"].Box.X), 0, 90);
    }

    [Fact]
    public void Cause_stands_left_of_effect()
    {
        UnitLayout layout = UnitLayout.Of(ShippedSheets.Automatic.Model);
        string[] chain = ["wires:control:mode", "wires:S1", "wires:module", "wires:Y3"], hoses = ["hoses:P1", "hoses:H1", "hoses:Y3", "hoses:H5", "hoses:A3", "hoses:FL3"];
        string[] air = ["air:around:outside", "air:cowl-screen", "air:fresh-left", "air:M1", "air:debris-screen", "air:evaporator-core", "air:upper-cold", "air:screen-left"];
        foreach (string[] way in (string[][])[chain, hoses, air])
        {
            double[] lefts = [.. way.Select(k => layout.ByKey[k].Box.X)];
            Assert.Equal(lefts.Order(), lefts);
        }
    }

    private static void CheckWhole(UnitModel model, LayoutDetail detail)
    {
        UnitLayout layout = UnitLayout.Of(model, detail);
        CheckParts(model, layout);
        LayoutNode[] apart = [.. layout.Nodes.Where(n => n.Role is not NodeRole.Pin)];
        for (int i = 0; i < apart.Length; i++)
        {
            Assert.True(new Box(0, 0, layout.Width, layout.Height) is var sheet && apart[i].Box.X >= 0 && apart[i].Box.Right <= sheet.Right && apart[i].Box.Bottom <= sheet.Bottom, $"{model.Title}: {apart[i].Key} sticks out");
            for (int j = i + 1; j < apart.Length; j++) Assert.False(apart[i].Box.Overlaps(apart[j].Box), $"{model.Title}, {detail}: {apart[i].Key} covers {apart[j].Key}");
        }

        Assert.Equal(layout.Links.Count, layout.Links.Select(l => l.Key).Distinct().Count());
        foreach (LayoutLink link in layout.Links) JoinCheck.Check(model, layout, link);
    }

    /// <summary>The lanes that a part lives in, told from the model's branches.</summary>
    private static void CheckParts(UnitModel model, UnitLayout layout)
    {
        for (int part = 0; part < model.Parts.Length; part++)
        {
            string id = model.Parts[part].Id;
            Lane[] drawn = [.. layout.Nodes.Where(n => n.Part == part).Select(n => n.Lane)];
            Assert.Equal(drawn.Distinct(), drawn);
            Assert.True(drawn.Length > 0, $"{model.Title}: {id} is not drawn");
            if (model.Electric.Any(b => b.Part == part)) Assert.Contains(Lane.Wires, drawn);
            if (model.Vacuum.Any(b => b.Part == part)) Assert.Contains(Lane.Hoses, drawn);
            if (model.Air.Any(b => b.Part == part)) Assert.Contains(Lane.Air, drawn);
        }
    }
}
