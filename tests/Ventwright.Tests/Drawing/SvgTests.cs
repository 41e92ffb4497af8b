using System.Globalization;
using System.Xml.Linq;
using Ventwright.Drawing;
using Ventwright.Model.Kernel;
using Ventwright.Simulation;

namespace Ventwright.Tests.Drawing;

public sealed class SvgTests
{
    private static readonly XNamespace Svg = "http://www.w3.org/2000/svg";

    public static TheoryData<bool, LayoutDetail, string, string> Changes => new()
    {
        { true, LayoutDetail.Overview, "mode=off", "mode=screen" }, { true, LayoutDetail.Full, "mode=auto, warmth=0.1", "supply=off" },
        { true, LayoutDetail.Overview, "mode=low", "absent RT3=yes" }, { false, LayoutDetail.Overview, "mode=cold, fan=4", "mode=heat, fan=1, lights=on" },
    };

    [Theory]
    [MemberData(nameof(Changes))]
    public void Patches_make_the_drawing_before_that_after(bool automatic, LayoutDetail detail, string before, string after)
    {
        Simulator unit = Drawn.Shipped(automatic);
        UnitLayout layout = UnitLayout.Of(unit.Model, detail);
        DrawingState one = DrawingState.Of(unit, ShippedSheets.Set(unit, before)), other = DrawingState.Of(unit, ShippedSheets.Set(unit, after));
        DrawingMarks marks = DrawingMarks.Of(DrawingDifference.Between(unit.Model, one, other)) with { Proven = new HashSet<string> { "F1" } };
        IReadOnlyList<DrawingPatch> patches = SvgDrawing.Changes(layout, one, other, null, marks);
        Assert.NotEmpty(patches);
        Assert.Equal(SvgDrawing.Write(layout, other, marks), Patched(SvgDrawing.Write(layout, one), patches));
        Assert.Empty(SvgDrawing.Changes(layout, one, one));
    }

    [Theory]
    [InlineData(true, "mode=screen")]
    [InlineData(true, "mode=auto, warmth=0.1, cabin=30 degC")]
    [InlineData(false, "mode=cold, fan=4")]
    [InlineData(false, "mode=bilevel, fan=2, lights=on")]
    public void No_word_of_the_overview_covers_another_or_leaves_its_box(bool automatic, string words)
    {
        Simulator unit = Drawn.Shipped(automatic);
        UnitLayout layout = UnitLayout.Of(unit.Model);
        XElement svg = XElement.Parse(SvgDrawing.Write(layout, DrawingState.Of(unit, ShippedSheets.Set(unit, words))));
        List<(string Text, Box Box)> all = [];
        foreach (XElement text in svg.Descendants(Svg + "text").Where(t => t.Value.Length > 0))
        {
            Box box = Extent(text);
            if (text.Parent!.Attribute("data-key")?.Value is { } key && layout.ByKey.TryGetValue(key, out LayoutNode? node))
                Assert.True(box.X >= node.Box.X && box.Right <= node.Box.Right + 0.6, $"'{text.Value}' leaves {key}");
            all.Add((text.Value, box));
        }

        for (int i = 0; i < all.Count; i++)
        {
            for (int j = i + 1; j < all.Count; j++) Assert.False(all[i].Box.Overlaps(all[j].Box), $"'{all[i].Text}' covers '{all[j].Text}'");
        }
    }

    [Fact]
    public void Type_is_never_below_twelve_pixels()
    {
        string[] sizes = [.. SvgDrawing.StyleSheet.Split("font-size: ").Skip(1).Select(s => s[..s.IndexOf("px", StringComparison.Ordinal)])];
        Assert.NotEmpty(sizes);
        Assert.All(sizes, s => Assert.InRange(double.Parse(s, CultureInfo.InvariantCulture), 12, 20));
    }

    [Fact]
    public void Everything_that_can_change_has_a_key_of_its_own()
    {
        UnitLayout layout = UnitLayout.Of(ShippedSheets.Automatic.Model, LayoutDetail.Full);
        string[] keys = [.. XElement.Parse(SvgDrawing.Write(layout)).Descendants().Select(e => e.Attribute("data-key")?.Value).OfType<string>()];
        Assert.Equal(keys.Length, keys.Distinct().Count());
    }

    [Fact]
    public void A_difference_has_a_shape_a_sign_and_the_wanted_value()
    {
        Simulator unit = ShippedSheets.Automatic;
        Setting setting = ShippedSheets.Set(unit, "mode=screen");
        UnitLayout layout = UnitLayout.Of(unit.Model);
        DrawingState stuck = DrawingState.Of(unit, setting, [unit.Model.FindFault("Y3:stuck-shut")!]), sound = DrawingState.Of(unit, setting);
        XElement svg = XElement.Parse(SvgDrawing.Write(layout, stuck, DrawingMarks.Of(DrawingDifference.Between(unit.Model, stuck, sound))));
        XElement flap = svg.Descendants(Svg + "g").Single(g => g.Attribute("data-key")?.Value == "hoses:FL3");
        Assert.Contains("differs", flap.Attribute("class")!.Value, StringComparison.Ordinal);
        Assert.Contains(flap.Elements(Svg + "text"), t => t.Value == "\u2260 open");
    }

    [Fact]
    public void Names_with_markup_or_control_characters_do_no_harm()
    {
        UnitModel model = Drawn.Read(Drawn.WiresOnly.Replace("from: out, to: gnd", "from: out, to: gnd, name: \"<b>\\x01 & lamp\"", StringComparison.Ordinal));
        XElement svg = XElement.Parse(SvgDrawing.Write(UnitLayout.Of(model, LayoutDetail.Full)));
        Assert.Contains(svg.Descendants(Svg + "text"), t => t.Value == "<b>? & lamp");
    }

    [Fact]
    public void A_drawing_for_paper_stands_by_itself()
    {
        string svg = SvgDrawing.Write(UnitLayout.Of(ShippedSheets.Manual.Model), forPaper: true);
        Assert.DoesNotContain("var(", svg, StringComparison.Ordinal);
        Assert.DoesNotContain("@media", svg, StringComparison.Ordinal);
        Assert.Contains("stroke: #a8690b", svg, StringComparison.Ordinal);
    }

    [Fact]
    public void Random_units_are_written_with_their_state()
    {
        for (int seed = 0; seed < 60; seed++)
        {
            var unit = new Simulator(Drawn.Random(seed));
            DrawingState state = DrawingState.Of(unit, Setting.Default(unit.Model));
            foreach (LayoutDetail detail in Enum.GetValues<LayoutDetail>()) Assert.NotNull(XElement.Parse(SvgDrawing.Write(UnitLayout.Of(unit.Model, detail), state)).Attribute("viewBox"));
        }
    }

    private static Box Extent(XElement text)
    {
        double Attribute(string name) => double.Parse(text.Attribute(name)!.Value, CultureInfo.InvariantCulture);
        string kind = text.Attribute("class")!.Value;
        double size = kind == "lane-head" ? 14 : 12, width = TextWidth.Of(text.Value, size, bold: kind is "id" or "lane-head" or "state");
        double x = Attribute("x") - (text.Attribute("text-anchor")!.Value switch { "end" => width, "middle" => width / 2, _ => 0 });
        return new(x, Attribute("y") - (0.75 * size), width, 0.95 * size);
    }

    private static string Patched(string svg, IReadOnlyList<DrawingPatch> patches)
    {
        XElement root = XElement.Parse(svg, LoadOptions.PreserveWhitespace);
        var byKey = root.Descendants().Where(e => e.Attribute("data-key") is not null).ToDictionary(e => e.Attribute("data-key")!.Value, StringComparer.Ordinal);
        foreach (DrawingPatch patch in patches)
        {
            if (patch.What == "text") byKey[patch.Key].Value = patch.Value;
            else byKey[patch.Key].SetAttributeValue(patch.What, patch.Value);
        }

        return root.ToString(SaveOptions.DisableFormatting);
    }
}
