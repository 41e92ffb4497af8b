using Ventwright.Model.Editing;

namespace Ventwright.Tests.Model.Editing;

/// <summary>What is offered at a cursor, against the grammar of docs/sheet.md. The cursor is the bar in each text.</summary>
public sealed class SheetCompletionTests
{
    private const string Sheet =
        """
        sheet: 1
        unit: Small
        controls:
          mode: { positions: [off, on] }
        conditions:
          cabin: 22 degC
        places:
          bench: { minutes: 0.2 }
        parts:
          F1: { fuse: 10 A, from: battery, to: feed }
          S1: { switch: mode, joins: { off: none, on: [[feed, sw.on]] } }
          Y1: { solenoid-valve: 42 ohm, coil: [sw.on, gnd], ports: { supply: vac.main, outlet: vac.flap } }
          FL1: { flap: [fresh, recirculated] }
        air:
          fresh: { from: outside, to: inlet, area: 90 cm2 }

        """;

    [Theory]
    [InlineData("pa|", "parts", "spare")]
    [InlineData("parts:\n  K1: { |", "relay", "fuse", "servo")]
    [InlineData("parts:\n  K1: { relay: 80 ohm, |", "coil", "pull-in", "place", "faults")]
    [InlineData("parts:\n  K1: { relay: 80 ohm, pu|", "pull-in")]
    [InlineData("parts:\n  K1: { relay: 80 ohm, coil: [fe|", "feed")]
    [InlineData("parts:\n  K1: { relay: 80 ohm, coil: [feed, |", "gnd", "sw.on", "battery")]
    [InlineData("parts:\n  K1:\n    relay: 80 ohm\n    |", "coil", "normally-open")]
    [InlineData("parts:\n  K1:\n    |\n    relay: 80 ohm\n", "coil", "name")]
    [InlineData("parts:\n  K1:\n    place: |", "bench")]
    [InlineData("parts:\n  K1: |", "relay", "lamp")]
    [InlineData("parts:\n  Y2: { solenoid-valve: 42 ohm, ports: { supply: |", "vac.main", "atmosphere")]
    [InlineData("parts:\n  A1: { vacuum-actuator: vac.flap, moves: |", "FL1")]
    [InlineData("parts:\n  RT1: { thermistor: [sw.on, gnd], at: |", "cabin")]
    [InlineData("parts:\n  S2: { switch: |", "mode")]
    [InlineData("air:\n  past: { from: |", "inlet", "outside")]
    [InlineData("air:\n  past: { |", "from", "gate", "seal")]
    [InlineData("air:\n  past: { from: inlet, seal: |", "true", "false")]
    [InlineData("module:\n  |", "inputs", "outputs", "reference")]
    [InlineData("module:\n  inputs:\n    set: { pin: |", "feed")]
    [InlineData("module:\n  outputs:\n    M1: { |", "seeks", "sinks-when")]
    [InlineData("places:\n  box: { |", "minutes", "caution")]
    [InlineData("controls:\n  fan: { |", "positions", "dial")]
    [InlineData("mix-ups:\n  - { |", "hoses", "pins")]
    public void What_the_grammar_allows_is_offered(string text, params string[] wanted)
    {
        string[] offered = [.. Offer(text).Select(c => c.Text)];
        Assert.All(wanted, w => Assert.Contains(w, offered));
    }

    [Theory]
    [InlineData("parts:\n  K1: { relay: 80 ohm, coil: [feed, gnd], |", "coil")]
    [InlineData("parts:\n  K1: { relay: 80 ohm, |", "fuse")]
    [InlineData("parts:\n  K1: { relay: 80 ohm, coil: [|", "vac.main")]
    [InlineData("parts:\n  Y2: { solenoid-valve: 42 ohm, ports: { supply: |", "feed")]
    [InlineData("sheet: 1\nunit: x\n|", "sheet")]
    public void What_is_there_already_or_does_not_fit_is_not_offered(string text, string unwanted) =>
        Assert.DoesNotContain(unwanted, Offer(text).Select(c => c.Text));

    [Fact]
    public void A_kind_in_place_of_a_part_brings_all_that_it_needs()
    {
        Completion relay = Offer("parts:\n  K1: |").Single(c => c.Text == "relay");
        Assert.StartsWith("{ relay: , coil: ", relay.Insert, StringComparison.Ordinal);
        Assert.EndsWith("}", relay.Insert, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(10, "F1")]
    [InlineData(12, "Y1")]
    [InlineData(15, "fresh")]
    [InlineData(4, null)]
    [InlineData(9, null)]
    [InlineData(999, "fresh")]
    public void The_part_of_a_line_is_known(int line, string? part) => Assert.Equal(part, CursorContext.PartAt(Sheet, line));

    [Fact]
    public void No_text_and_no_place_in_it_is_too_odd()
    {
        string odd = Sheet + "parts:\n  \"\t{[}]::, - - - {{{{ '\n - {a: [}\n";
        for (int line = 0; line < 24; line++)
        {
            for (int column = 0; column < 90; column += 3) SheetCompletion.At(CursorContext.At(odd, line, column), SheetNames.None);
        }

        Assert.NotNull(SheetNames.Of("sheet", Sheet));
        Assert.Contains("sw.on", SheetNames.Of("sheet", Sheet.Replace("air:", "  K1: { relay: 80 ohm, coil: [sw.\nair:", StringComparison.Ordinal))!.Of("net"));
        Assert.Null(SheetNames.Of("sheet", "\0"));
    }

    private static IReadOnlyList<Completion> Offer(string text)
    {
        int cursor = text.IndexOf('|', StringComparison.Ordinal);
        string before = text[..cursor];
        return SheetCompletion.At(CursorContext.At(text.Remove(cursor, 1), before.Count(c => c == '\n') + 1, cursor - before.LastIndexOf('\n')), SheetNames.Of("sheet", Sheet)!);
    }
}
