using System.Text;
using Ventwright.Model.Build;
using Ventwright.Model.Kernel;
using Ventwright.Model.Sheet.Text;

namespace Ventwright.Tests.Model;

/// <summary>Every example in docs/sheet.md that stands in a block of its own compiles when it is put into a frame. Ends that an example leaves loose are listed as spare.</summary>
public sealed class SheetDocTests
{
    private const string Frame = """
        sheet: 1
        unit: Example of the documentation
        supply: { volts: 13.2 V, tolerance: 0.3 V, source: 20 mohm }
        controls:
          mode: { positions: [off, low, auto, high, screen] }
          warmth: { dial: 0..1, at: 0.5 }
        conditions: { cabin: 22 degC, coolant: 20 degC, refrigerant: 0 bar }
        places: { bench: { minutes: 0.2 } }

        """;

    private const string Sensor = "RT1: { thermistor: [mod.3, gnd.dash], at: cabin, r25: 10 kohm, beta: 3950 }";
    private const string Blower = "M1: { blower: 16 A, from: battery, to: gnd, inlet: inlet, outlet: plenum }";
    private const string Flap = "FL1: { flap: [fresh, recirculated] }\nLV1: { lever: warmth, moves: FL1 }";
    private const string Servo = "M3: { servo: [mod.20, mod.21], travel: 12 s, moves: FL5, feedback: { track: 5 kohm, ends: [gnd, mod.5v], wiper: mod.7 } }\nFL5: { flap: [cold, hot] }";
    private const string Supply = "P1: { vacuum-source: vac.main }";
    private const string Actuators = "A1: { vacuum-actuator: vac.main, moves: FL1 }\nA3: { vacuum-actuator: vac.two, moves: FL3 }\nP2: { vacuum-source: vac.two }\nFL1: { flap: [fresh, recirculated] }\nFL3: { flap: [cold, hot] }";
    private const string Connector = "C3: { connector: { 1: [battery, feed.box], 2: [gnd.box, gnd] } }\nRT1: { thermistor: [mod.3, gnd], at: cabin, r25: 10 kohm, beta: 3950 }\nRT2: { thermistor: [mod.4, gnd], at: coolant, r25: 10 kohm, beta: 3950 }";

    [Fact]
    public void The_frame_compiles()
    {
        string frame = Blocks().First(b => b.Kind.Length == 0).Text;
        string[] lines = [.. frame.Split('\n').Where(l => !l.StartsWith("like:", StringComparison.Ordinal) && !l.StartsWith("module:", StringComparison.Ordinal))];
        Compiles(string.Join('\n', lines).Replace("spare: [mod.31]", "spare: []", StringComparison.Ordinal));
    }

    [Fact]
    public void Each_kind_of_block_is_there() => Assert.Equal(["", "part", "part", "air", "module", "faults", "mix-ups", "stated"], Blocks().Select(b => b.Kind));

    [Fact]
    public void The_examples_of_parts_compile()
    {
        foreach (var block in Blocks().Where(b => b.Kind == "part")) Compiles(WithSpares($"{Frame}parts:\n{Indented(block.Text)}"));
    }

    [Fact]
    public void The_example_of_the_air_section_compiles() => Compiles(WithSpares($"{Frame}parts:\n{Indented($"{Sensor}\n{Blower}\n{Flap}")}air:\n{Indented(Text("air"))}"));

    [Fact]
    public void The_example_of_the_module_compiles() => Compiles(WithSpares($"{Frame}parts:\n{Indented($"{Sensor}\n{Servo}")}module:\n{Indented(Text("module"))}"));

    [Fact]
    public void The_example_of_faults_compiles_and_has_the_added_fault()
    {
        UnitModel model = Compiles(WithSpares($"{Frame}parts:\n{Indented($"{Supply}\n{Text("faults")}")}"));
        Assert.NotNull(model.FindFault("Y1:chafed"));
        Assert.Equal(0.5, model.FindFault("Y1:chafed")!.Weight);
    }

    [Fact]
    public void The_example_of_mix_ups_compiles() => Compiles(WithSpares($"{Frame}parts:\n{Indented($"{Actuators}\n{Connector}")}mix-ups:\n{Indented(Text("mix-ups"))}"));

    [Fact]
    public void The_example_of_stated_rows_compiles() =>
        Compiles(WithSpares($"{Frame}parts:\n{Indented($"{Flap}\nR1: {{ resistor: 1 kohm, from: battery, to: mod.7 }}")}stated:\n{Indented(Text("stated"))}"));

    private static string Text(string kind) => Assert.Single(Blocks(), b => b.Kind == kind).Text;

    private static List<(string Kind, string Text)> Blocks()
    {
        var blocks = new List<(string, string)>();
        StringBuilder? text = null;
        string kind = "";
        foreach (string line in File.ReadLines(Path.Combine(ShippedSheets.Root(), "docs", "sheet.md")))
        {
            if (text is null && line.StartsWith("```yaml", StringComparison.Ordinal)) (text, kind) = (new(), line["```yaml".Length..].Trim());
            else if (text is not null && line == "```")
            {
                blocks.Add((kind, text.ToString()));
                text = null;
            }
            else text?.Append(line).Append('\n');
        }

        return blocks;
    }

    private static string Indented(string text) => string.Concat(text.TrimEnd('\n').Split('\n').Select(l => $"  {l}\n"));

    /// <summary>Lists as spare what the example leaves loose, and nothing else.</summary>
    private static string WithSpares(string text)
    {
        var problems = new ProblemList();
        _ = SheetFile.Read("example.yaml", text, problems);
        string[] loose = [.. problems.Sorted.Where(p => p.Code is "loose-net" or "loose-hose" or "hose-without-source").Select(p => p.Message.Split('`')[1]).Distinct(StringComparer.Ordinal)];
        return loose.Length == 0 ? text : $"{text}spare: [{string.Join(", ", loose)}]\n";
    }

    private static UnitModel Compiles(string text)
    {
        var problems = new ProblemList();
        UnitModel? model = SheetFile.Read("example.yaml", text, problems);
        Assert.True(model is not null, string.Join('\n', problems.Sorted.Select(p => p.Render(text))));
        return model;
    }
}
