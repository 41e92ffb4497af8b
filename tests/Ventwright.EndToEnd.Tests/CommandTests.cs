using System.Text;
using System.Text.Json;

namespace Ventwright.EndToEnd.Tests;

public sealed class CommandTests
{
    private const string Small = """
        sheet: 1
        unit: Two resistors
        supply: { volts: 12 V, tolerance: 0.1 V, source: 1 mohm }
        controls: { knob: { positions: [off, on] } }
        parts:
          S1: { switch: knob, joins: { off: none, on: [[battery, top]] } }
          R1: { resistor: 1 kohm, from: top, to: middle, tolerance: 1 % }
          R2: { resistor: 1 kohm, from: middle, to: gnd, tolerance: 1 % }
        stated:
          - { at: volts(middle), set: { knob: on }, is: STATED, source: "wiring diagram" }

        """;

    private static byte[] Sheet(string stated) => Encoding.UTF8.GetBytes(Small.Replace("STATED", stated, StringComparison.Ordinal));

    [Fact]
    public void Check_accepts_the_manual_sheet()
    {
        Answer answer = Running.Run("check", Running.Manual);
        Assert.Equal(0, answer.Code);
        Assert.Contains("11 of 11 stated rows agree", answer.Out, StringComparison.Ordinal);
    }

    [Fact]
    public void Check_says_where_the_manual_and_the_model_differ()
    {
        Answer good = Running.RunWith(Sheet("5.8 .. 6.2 V"), "check", "FILE"), bad = Running.RunWith(Sheet("8 .. 9 V"), "check", "FILE", "--json");
        Assert.Equal(0, good.Code);
        Assert.Equal(1, bad.Code);
        JsonElement row = bad.Json().GetProperty("stated")[0];
        Assert.Equal("disagrees", row.GetProperty("answer").GetString());
        Assert.Equal(6.0, row.GetProperty("computed").GetProperty("value").GetDouble(), 2);
        Assert.Equal(10, row.GetProperty("line").GetInt32());
    }

    [Fact]
    public void Check_shows_each_problem_with_its_place_and_a_caret()
    {
        Answer answer = Running.RunWith(Encoding.UTF8.GetBytes(Small.Replace("resistor: 1 kohm, from: top", "resistor: 1 kV, form: top", StringComparison.Ordinal)), "check", "FILE");
        Assert.Equal(2, answer.Code);
        Assert.Contains(":7:", answer.Out, StringComparison.Ordinal);
        Assert.Contains("\n  ", answer.Out, StringComparison.Ordinal);
        Assert.Contains("^", answer.Out, StringComparison.Ordinal);
        Assert.Contains("from", answer.Out, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("check")]
    [InlineData("show")]
    [InlineData("expect")]
    [InlineData("chart")]
    public void A_missing_or_binary_file_is_bad_input(string command)
    {
        Answer missing = Running.Run(command, "no-such-sheet.yaml"), binary = Running.RunWith([0, 1, 2, 255, 254, 0, 7], command, "FILE");
        Assert.Equal((2, 2), (missing.Code, binary.Code));
        Assert.Contains("no such file", missing.Out + missing.Error, StringComparison.Ordinal);
        Assert.DoesNotContain("   at ", binary.Out + binary.Error, StringComparison.Ordinal);
    }

    [Fact]
    public void Show_lists_all_parts_and_tells_all_about_one()
    {
        JsonElement all = Running.Run("show", Running.Automatic, "--json").Json(), one = Running.Run("show", Running.Automatic, "Y1", "--json").Json();
        Assert.True(all.GetProperty("parts").GetArrayLength() >= 90);
        Assert.Contains(one.GetProperty("faults").EnumerateArray(), f => f.GetProperty("id").GetString() == "Y1:stuck-shut");
        Assert.Contains(one.GetProperty("parameters").EnumerateArray(), p => p.GetProperty("name").GetString() == "coil resistance" && p.GetProperty("value").GetDouble() == 42);
    }

    [Theory]
    [InlineData("did you mean `Y1:stuck-shut`?", "expect", "A", "--fault", "Y1:stuck-sht")]
    [InlineData("did you mean 'mode'?", "expect", "A", "--set", "mod=screen")]
    [InlineData("no position", "expect", "A", "--set", "mode=sceen")]
    [InlineData("did you mean `mod.7`?", "expect", "A", "--at", "volts(mod7)")]
    [InlineData("did you mean", "expect", "A", "--at", "vlots(mod.7)")]
    [InlineData("wants name=value", "expect", "A", "--set", "mode")]
    [InlineData("no part", "show", "A", "Y99")]
    [InlineData("no part", "expect", "A", "--alone", "nothing")]
    [InlineData("did you mean `check`?", "chekc", "A")]
    [InlineData("--spice", "export", "A")]
    public void Bad_input_gets_one_message_and_code_2(string message, params string[] args)
    {
        Answer answer = Running.Run([.. args.Select(a => a == "A" ? Running.Automatic : a)]);
        Assert.Equal(2, answer.Code);
        Assert.Empty(answer.Out);
        Assert.StartsWith("ventwright: ", answer.Error, StringComparison.Ordinal);
        Assert.Contains(message, answer.Error, StringComparison.Ordinal);
        Assert.Single(answer.Error.TrimEnd().Split('\n'));
    }

    [Fact]
    public void Expect_gives_a_divider_half_the_supply_in_a_band()
    {
        JsonElement answer = Running.RunWith(Sheet("6 V +- 1 V"), "expect", "FILE", "--set", "knob=on", "--at", "volts(middle)", "--json").Json();
        Assert.Equal(1, answer.GetProperty("v").GetInt32());
        Assert.Equal("settled", answer.GetProperty("verdict").GetString());
        JsonElement check = answer.GetProperty("checks")[0];
        Assert.Equal(("volts(middle)", "V"), (check.GetProperty("at").GetString(), check.GetProperty("unit").GetString()));
        Assert.Equal(JsonValueKind.Null, check.GetProperty("word").ValueKind);
        Assert.Equal(6.0, check.GetProperty("value").GetDouble(), 3);
        Assert.InRange(check.GetProperty("low").GetDouble(), 5.8, 5.99);
        Assert.InRange(check.GetProperty("high").GetDouble(), 6.01, 6.2);
    }

    [Fact]
    public void Expect_follows_controls_conditions_faults_and_direct_feeds()
    {
        static string? Word(params string[] args) => Running.Run(["expect", Running.Manual, "--json", .. args]).Json().GetProperty("checks")[0].GetProperty("word").GetString();
        Assert.Equal("recirculated", Word("--set", "mode=cold", "--at", "position(FL1)"));
        Assert.Equal("fresh", Word("--set", "mode=cold", "--pump", "off", "--at", "position(FL1)"));
        Assert.Equal("runs", Word("--alone", "M1", "--feed", "blower.plus=12V", "--feed", "blower.minus=0V", "--at", "motion(M1)"));
        JsonElement cold = Running.Run("expect", Running.Manual, "--json", "--set", "mode=cold", "--temp", "evaporator=0C", "--at", "volts(cl.line)").Json();
        Assert.InRange(cold.GetProperty("checks")[0].GetProperty("value").GetDouble(), -0.1, 0.3);
    }

    [Fact]
    public void Expect_speaks_US_units_when_asked()
    {
        JsonElement check = Running.Run("expect", Running.Manual, "--us", "--json", "--set", "mode=cold", "--at", "vacuum(act.recirc)").Json().GetProperty("checks")[0];
        Assert.Equal("inHg", check.GetProperty("unit").GetString());
        Assert.InRange(check.GetProperty("value").GetDouble(), 10, 20);
    }

    [Fact]
    public void Expect_tells_why()
    {
        Answer answer = Running.RunWith(Sheet("6 V +- 1 V"), "expect", "FILE", "--set", "knob=on", "--at", "volts(middle)", "--why");
        Assert.Contains("supply voltage moves it by", answer.Out, StringComparison.Ordinal);
        Assert.Contains("\n  R1: resistor; top 12.0 V, middle 6.00 V, current 6.00 mA  [Ohm's law]", answer.Out, StringComparison.Ordinal);
        Assert.Contains("\n    knob: control; on", answer.Out, StringComparison.Ordinal);
    }

    [Fact]
    public void Expect_tells_why_as_nested_objects_with_the_fault_at_its_step()
    {
        string[] args = ["expect", Running.Automatic, "--set", "mode=auto", "--set", "warmth=0", "--temp", "cabin=30C", "--at", "position(FL1)", "--why", "--json", "--fault", "Y1:coil-open"];
        JsonElement step = Running.Run(args).Json().GetProperty("why")[0];
        Assert.Equal("position(FL1)", step.GetProperty("name").GetString());
        foreach (string name in (string[])["FL1", "A1", "Y1", "Y1"])
        {
            step = step.GetProperty("from").EnumerateArray().First(s => s.GetProperty("name").GetString() == name);
            Assert.NotEqual("", step.GetProperty("formula").GetProperty("source").GetString());
        }

        JsonElement coil = step.GetProperty("from").EnumerateArray().First();
        Assert.StartsWith("Y1:coil-open", coil.GetProperty("fault").GetString(), StringComparison.Ordinal);
        Assert.True(coil.GetProperty("line").GetInt32() > 0);
    }

    [Fact]
    public void Chart_shows_what_moves_in_each_position()
    {
        JsonElement chart = Running.Run("chart", Running.Manual, "--json").Json().GetProperty("chart");
        JsonElement cold = chart.EnumerateArray().First(c => c.GetProperty("control").GetString() == "mode" && c.GetProperty("position").GetString() == "cold");
        JsonElement flap = cold.GetProperty("shows").EnumerateArray().First(s => s.GetProperty("at").GetString() == "position(FL1)");
        Assert.Equal("recirculated", flap.GetProperty("word").GetString());
        Assert.Contains("recirculated", Running.Run("chart", Running.Manual).Out, StringComparison.Ordinal);
    }

    [Fact]
    public void Export_writes_a_netlist_with_its_nodes()
    {
        JsonElement answer = Running.Run("export", Running.Manual, "--spice", "--set", "mode=cold", "--json").Json();
        Assert.Equal("0", answer.GetProperty("nodes").GetProperty("gnd").GetString());
        Assert.EndsWith(".op\n.print op all\n.end\n", answer.GetProperty("netlist").GetString(), StringComparison.Ordinal);
    }

    [Fact]
    public void Expect_remembers_what_stood_before()
    {
        // Below 1 degC the switch opens, above 4 degC it closes; at 3 degC it stays as it was.
        static double Volts(string before) => Running.Run(
            "expect", Running.Manual, "--json", "--set", "mode=cold", "--temp", "evaporator=3C", "--from", "mode=cold", "--from", before, "--at", "volts(cl.line)")
            .Json().GetProperty("checks")[0].GetProperty("value").GetDouble();
        Assert.InRange(Volts("evaporator=0C"), -0.1, 0.5);
        Assert.InRange(Volts("evaporator=12C"), 11, 14);
    }

    [Fact]
    public void Expect_falls_back_on_the_stated_row_where_a_net_floats()
    {
        string sheet = Small.Replace("STATED", "6 V +- 1 V", StringComparison.Ordinal).Replace("R2: { resistor: 1 kohm, from: middle, to: gnd", "R2: { resistor: 1 kohm, from: middle, to: end", StringComparison.Ordinal)
            .Replace("knob: on", "knob: off", StringComparison.Ordinal) + "spare: [end]\n";
        Answer answer = Running.RunWith(Encoding.UTF8.GetBytes(sheet), "expect", "FILE", "--set", "knob=off", "--at", "volts(middle)");
        Assert.Contains("unsteady", answer.Out, StringComparison.Ordinal);
        Assert.Contains("stated: 5.00 V .. 7.00 V (wiring diagram)", answer.Out, StringComparison.Ordinal);
        Answer check = Running.RunWith(Encoding.UTF8.GetBytes(sheet), "check", "FILE");
        Assert.Contains("serves as the expectation", check.Out, StringComparison.Ordinal);
        Assert.Equal(0, check.Code);
    }

    [Fact]
    public void A_huge_or_deeply_nested_file_is_refused_at_once()
    {
        var watch = System.Diagnostics.Stopwatch.StartNew();
        Answer huge = Running.RunWith(Encoding.UTF8.GetBytes("sheet: 1\nunit: \"" + new string('x', 50_000_000) + "\"\n"), "check", "FILE");
        Answer deep = Running.RunWith(Encoding.UTF8.GetBytes("sheet: " + new string('[', 100_000)), "check", "FILE");
        Assert.Equal((2, 2), (huge.Code, deep.Code));
        Assert.True(watch.Elapsed < TimeSpan.FromSeconds(30), $"took {watch.Elapsed}");
    }

    [Fact]
    public void Chart_can_hold_other_controls()
    {
        JsonElement chart = Running.Run("chart", Running.Manual, "--json", "--set", "mode=vent").Json().GetProperty("chart");
        JsonElement full = chart.EnumerateArray().First(c => c.GetProperty("control").GetString() == "fan" && c.GetProperty("position").GetString() == "4");
        JsonElement blower = full.GetProperty("shows").EnumerateArray().First(s => s.GetProperty("at").GetString() == "motion(M1)");
        Assert.Equal("runs", blower.GetProperty("word").GetString());
    }

    [Fact]
    public void A_reader_that_leaves_early_is_no_error()
    {
        Answer answer = Running.RunAndLeave("schema");
        Assert.Equal((0, ""), (answer.Code, answer.Error));
        Assert.Equal("{", answer.Out);
    }
}
