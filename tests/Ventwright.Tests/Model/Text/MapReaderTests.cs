using Ventwright.Model.Sheet.Text;
using Ventwright.Quantities;

namespace Ventwright.Tests.Model.Text;

/// <summary>What is read from the small texts follows from the texts themselves.</summary>
public class MapReaderTests
{
    private readonly ProblemList _problems = new();

    private MapReader Reader(string text) => new(SheetText.Read("a.yaml", text, _problems)!, _problems);

    private void AssertProblems(params string[] expected) => Assert.Equal(expected, _problems.Sorted.Select(p => p.ToString()));

    [Fact]
    public void Values_are_read_by_their_kind()
    {
        MapReader map = Reader("""
            relay: 80 ohm
            band: 4.6 .. 5.0 V
            beta: 3950
            coil: [feed, mod.14]
            one: feed
            pairs: [[a, b]]
            inner: { x: 1 }
            flag: no
            kind: not-negative
            count: 3
            """);
        Assert.Equal(80, map.Quantity("relay", Dimension.Ohm));
        Assert.Equal((4.6, 5.0), map.Band("band", Dimension.Volt));
        Assert.Equal(3950, map.Number("beta"));
        Assert.Equal(["feed", "mod.14"], map.Names("coil"));
        Assert.Equal(["feed"], map.Names("one"));
        Assert.Single(map.List("pairs")!.Items);
        Assert.Equal(1, map.Reader("inner")!.Number("x"));
        Assert.False(map.Flag("flag", true));
        Assert.True(map.Flag("absent", true));
        Assert.Equal(Allowed.NotNegative, map.Choice<Allowed>("kind"));
        Assert.Equal(3, map.Whole("count"));
        Assert.Equal(8, map.Quantity("pull-in", Dimension.Volt, 8.0));
        Assert.Null(map.Text("absent"));
        Assert.False(map.Has("absent"));
        map.Done();
        AssertProblems();
    }

    [Fact]
    public void Unknown_keys_are_told_with_the_key_that_was_meant()
    {
        MapReader map = Reader("pul-in: 8 V\nxyzzy: 1");
        map.Quantity("pull-in", Dimension.Volt);
        map.Quantity("drop-out", Dimension.Volt);
        map.Done();
        AssertProblems(
            "a.yaml:1:1: unknown key 'pul-in'; did you mean 'pull-in'?",
            "a.yaml:2:1: unknown key 'xyzzy'; known here: pull-in, drop-out");
    }

    [Fact]
    public void A_missing_key_is_told_where_it_should_be()
    {
        MapReader map = Reader("pul-in: 8 V");
        map.Quantity("pull-in", Dimension.Volt, required: true);
        map.Text("name", required: true);
        AssertProblems("a.yaml:1:1: 'pull-in' is missing; is 'pul-in' meant to be it?", "a.yaml:1:1: 'name' is missing");
    }

    [Fact]
    public void Wrong_values_are_told_all_at_once_at_their_places()
    {
        MapReader map = Reader("""
            volts: 12 kPa
            time: -3 s
            area: 0 cm2
            names: [a, [b]]
            flag: maybe
            kind: positiv
            group: 5
            empty:
            count: 1.5
            """);
        map.Quantity("volts", Dimension.Volt);
        map.Quantity("time", Dimension.Second, allowed: Allowed.NotNegative);
        map.Quantity("area", Dimension.Area, allowed: Allowed.Positive);
        Assert.Empty(map.Names("names"));
        map.Flag("flag", false);
        map.Choice<Allowed>("kind");
        map.Reader("group");
        map.Text("empty");
        map.Whole("count");
        map.Done();
        AssertProblems(
            "a.yaml:1:8: 'volts': '12 kPa' is a pressure; a voltage such as '12 V' was expected",
            "a.yaml:2:7: 'time' must not be negative; this is -3 s",
            "a.yaml:3:7: 'area' must be more than 0; this is 0 cm2",
            "a.yaml:4:12: 'names' wants a value; this is a list",
            "a.yaml:5:7: 'flag' wants 'yes' or 'no'; this is 'maybe'",
            "a.yaml:6:7: 'kind' does not know 'positiv'; did you mean 'positive'?",
            "a.yaml:7:8: 'group' wants a group of keys such as '{ key: value }'; this is a value",
            "a.yaml:8:7: 'empty' wants a value; nothing is there",
            "a.yaml:9:8: 'count' wants a whole number such as '2'; this is '1.5'");
    }
}
