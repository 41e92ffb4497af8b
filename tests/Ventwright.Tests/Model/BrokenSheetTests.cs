using Ventwright.Model.Build;
using Ventwright.Model.Sheet.Text;

namespace Ventwright.Tests.Model;

/// <summary>Small sheets with one thing wrong, on the line that ends in <c># here</c>: the problem is named and found there, and nothing else is reported.</summary>
public sealed class BrokenSheetTests
{
    private const string Head = """
        sheet: 1
        unit: Small
        supply: { volts: 12 V, tolerance: 0.1 V, source: 1 mohm }
        controls: { knob: { positions: [off, on] }, dial: { dial: 0..1 } }
        conditions: { cabin: 20 degC, gas: 5 bar }
        places: { bench: { minutes: 0.2 } }

        """;

    private const string Parts = """
        parts:
          S1: { switch: knob, joins: { off: none, on: [[battery, top]] } }
          R1: { resistor: 1 kohm, from: top, to: middle }
          R2: { resistor: 1 kohm, from: middle, to: gnd }

        """;

    private const string Module = """
          R3: { resistor: 100 ohm, from: battery, to: mod.9 }
        module:
          supply: battery
          ground: gnd
          inputs: { set: { pin: middle, reads: volts } }

        """;

    [Fact]
    public void The_sheet_that_the_others_are_made_of_is_sound()
    {
        Assert.Empty(Problems(Head + Parts));
        Assert.Empty(Problems(Head + Parts + Module + "  outputs: { mod.9: { sinks-when: set > 3 } }\n"));
    }

    [Theory]
    [InlineData("loose-net", "R3: { resistor: 1 kohm, from: midle, to: gnd } # here")]
    [InlineData("loose-net", "R3: { resistor: 1 kohm, from: far.away, to: gnd } # here")]
    [InlineData("missing-key", "R3: { resistor: 1 kohm, from: middle } # here")]
    [InlineData("unknown-key", "R3: { resistor: 1 kohm, from: middle, to: gnd, colour: red } # here")]
    [InlineData("wrong-value", "R3: { resistor: 1 kV, from: middle, to: gnd } # here")]
    [InlineData("unknown-kind", "R3: { resister: 1 kohm, from: middle, to: gnd } # here")]
    [InlineData("unknown-name", "R3: { resistor: 1 kohm, from: middle, to: gnd, place: bensh } # here")]
    [InlineData("double-key", "R1: { resistor: 1 kohm, from: middle, to: gnd } # here")]
    [InlineData("duplicate-id", "knob: { resistor: 1 kohm, from: middle, to: gnd } # here")]
    [InlineData("position-not-covered", "S2: { switch: knob, joins: { on: [[battery, top]] } } # here")]
    [InlineData("unknown-position", "S2: { switch: knob, joins: { off: none, on: none, up: [[battery, top]] } } # here")]
    [InlineData("unknown-name", "S2: { switch: nob, joins: { off: none, on: [[battery, top]] } } # here")]
    [InlineData("condition-dimension", "P2: { pressure-switch: [top, middle], at: cabin, opens-below: 1 bar, closes-above: 2 bar } # here")]
    [InlineData("threshold-order", "P2: { pressure-switch: [top, middle], at: gas, opens-below: 2 bar, closes-above: 1 bar } # here")]
    [InlineData("taps", "R3: { resistor-pack: [1 ohm, 2 ohm], taps: [top, middle] } # here")]
    [InlineData("flap-unmoved", "F1: { flap: [shut, open] } # here")]
    [InlineData("flap-words", "F1: { flap: [shut] } # here")]
    [InlineData("flap-two-movers", "F1: { flap: [shut, open] }\n  L1: { lever: dial, moves: F1 }\n  L2: { lever: dial, moves: F1 } # here")]
    [InlineData("hose-without-source", "H1: { hose: [vac.a, vac.b] } # here\n  H2: { hose: [vac.b, vac.a] }")]
    public void A_slip_in_a_part_is_named_where_it_is(string code, string part) => Expect(code, $"{Head}{Parts}  {part}\n");

    [Theory]
    [InlineData("duplicate-id", "air:\n  R1: { from: outside, to: cabin, area: 1 cm2 } # here")]
    [InlineData("mix-up", "mix-ups:\n  - { pins: [R1.1, R1.2] } # here")]
    [InlineData("unknown-name", "mix-ups:\n  - { parts: [R1, R22] } # here")]
    [InlineData("unknown-name", "stated:\n  - { at: volts(midle), set: { knob: on }, is: 5 .. 7 V, source: made up } # here")]
    [InlineData("unknown-name", "stated:\n  - { at: volts(middle), set: { nob: on }, is: 5 .. 7 V, source: made up } # here")]
    [InlineData("stated-check", "stated:\n  - { at: weight(R1), is: 5 .. 7 V, source: made up } # here")]
    [InlineData("stated-value", "stated:\n  - { at: volts(middle), is: 5 .. 7 ohm, source: made up } # here")]
    [InlineData("unknown-key", "rulez: {} # here")]
    public void A_slip_in_a_section_is_named_where_it_is(string code, string section) => Expect(code, $"{Head}{Parts}{section}\n");

    [Theory]
    [InlineData("unknown-signal", "mod.9: { sinks-when: sett > 3 } # here")]
    [InlineData("rule-kind", "mod.9: { sinks-when: set + 3 } # here")]
    [InlineData("unknown-function", "mod.9: { sinks-when: half(set) > 3 } # here")]
    [InlineData("rule-syntax", "mod.9: { sinks-when: set > > 3 } # here")]
    public void A_slip_in_a_rule_is_named_where_it_is(string code, string output) => Expect(code, $"{Head}{Parts}{Module}  outputs:\n    {output}\n");

    [Fact]
    public void A_near_miss_comes_with_the_name_that_was_meant()
    {
        Problem problem = Assert.Single(Problems($"{Head}{Parts}  R3: {{ resistor: 1 kohm, from: midle, to: gnd }}\n"));
        Assert.Contains("`middle`", problem.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void All_slips_are_reported_in_one_run()
    {
        string text = $$"""
            {{Head}}{{Parts}}  R3: { resister: 1 kohm, from: middle, to: gnd }
              R4: { resistor: 1 kV, from: middle, to: gnd }
              R5: { resistor: 1 kohm, from: middle, to: gnd, colour: red }
              F1: { flap: [shut, open] }
            mix-ups:
              - { parts: [R1, R22] }
            stated:
              - { at: volts(midle), set: { knob: on }, is: 5 .. 7 V, source: made up }

            """;
        var problems = Problems(text);
        string[] wanted = ["unknown-kind", "wrong-value", "unknown-key", "flap-unmoved", "unknown-name", "unknown-name"];
        Assert.Equal(wanted, problems.Select(p => p.Code));
        Assert.Equal(problems.Select(p => p.At.Line).Order(), problems.Select(p => p.At.Line));
    }

    [Fact]
    public void Sheets_that_are_like_each_other_are_a_circle()
    {
        string folder = Directory.CreateTempSubdirectory("ventwright-").FullName;
        try
        {
            string first = Path.Combine(folder, "first.yaml"), second = Path.Combine(folder, "second.yaml");
            File.WriteAllText(first, "like: second.yaml\nunit: First\n");
            File.WriteAllText(second, "unit: Second\nlike: first.yaml\n");
            var problems = new ProblemList();
            Assert.Null(SheetFile.Load(first, problems));
            Problem problem = Assert.Single(problems.Sorted);
            Assert.Equal(("like-cycle", second, 2), (problem.Code, problem.At.File, problem.At.Line));

            File.WriteAllText(second, "unit: Second\nlike: third.yaml\n");
            problems = new();
            Assert.Null(SheetFile.Load(first, problems));
            Assert.Equal("like-missing", Assert.Single(problems.Sorted).Code);
        }
        finally
        {
            Directory.Delete(folder, true);
        }
    }

    [Fact]
    public void A_sheet_of_another_version_is_refused() => Expect("sheet-version", Head.Replace("sheet: 1", "sheet: 2 # here", StringComparison.Ordinal) + Parts);

    private static void Expect(string code, string text)
    {
        int line = 1 + Array.FindIndex(text.Split('\n'), l => l.EndsWith("# here", StringComparison.Ordinal));
        var problems = Problems(text);
        Assert.Contains(problems, p => p.Code == code && p.At.Line == line);
        Assert.True(problems.All(p => p.At.Line == line), string.Join('\n', problems));
    }

    private static IReadOnlyList<Problem> Problems(string text)
    {
        var problems = new ProblemList();
        bool compiled = SheetFile.Read("small.yaml", text, problems) is not null;
        Assert.Equal(!problems.HasErrors, compiled);
        return problems.Sorted;
    }
}
