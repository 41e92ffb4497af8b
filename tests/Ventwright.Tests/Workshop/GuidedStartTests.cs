using Ventwright.Model.Kernel;
using Ventwright.Simulation;
using Ventwright.Workshop;

namespace Ventwright.Tests.Workshop;

/// <summary>The guided start against the compiler and the simulator: no outside source.</summary>
public sealed class GuidedStartTests
{
    [Fact]
    public void Every_combination_of_answers_compiles_without_error_or_warning()
    {
        var bad = new List<string>();
        foreach (GuidedAnswers answers in All())
        {
            SheetReading reading = SheetVersions.Read("guided", GuidedStart.Write(answers));
            if (reading.Problems.Count > 0) bad.Add($"{answers}: {reading.Problems[0].At.Line}: {reading.Problems[0].Message}");
        }

        Assert.Empty(bad);
    }

    [Theory]
    [InlineData(1, FanBy.Switch, BlendBy.Cable, 0)]
    [InlineData(2, FanBy.Module, BlendBy.Servo, 5)]
    [InlineData(2, FanBy.Module, BlendBy.Vacuum, 3)]
    [InlineData(1, FanBy.Switch, BlendBy.Cable, 5)]
    public void The_unit_of_the_answers_settles_and_does_what_its_mode_knob_says(int blowers, FanBy fan, BlendBy blend, int solenoids)
    {
        UnitModel model = SheetVersions.Read("guided", GuidedStart.Write(new("Invented", blowers, fan, blend, solenoids, OutsideSensor: fan == FanBy.Module))).Model!;
        var unit = new Simulator(model);
        string set = fan == FanBy.Switch ? ", fan=3" : ", warmth=0";
        foreach (string mode in model.Controls[0].Positions) Assert.Equal(Verdict.Settled, unit.Settle(ShippedSheets.Set(unit, $"mode={mode}"), []).Verdict);
        Assert.Equal("still", ShippedSheets.Look(unit, "mode=off", "motion(M1)").Word);
        for (int n = 1; n <= blowers; n++) Assert.Equal("runs", ShippedSheets.Look(unit, $"mode=cool{set}", $"motion(M{n})").Word);
        Assert.Equal("recirculated", ShippedSheets.Look(unit, $"mode=cool{set}", "position(FL1)").Word);
        Assert.Equal("fresh", ShippedSheets.Look(unit, $"mode=screen{set}", "position(FL1)").Word);
        Assert.Equal("open", ShippedSheets.Look(unit, $"mode=vent{set}", "position(FL2)").Word);
        Assert.Equal("feet", ShippedSheets.Look(unit, $"mode=feet{set}", "position(FL3)").Word);
        Assert.NotEqual("none", ShippedSheets.Look(unit, $"mode=vent{set}", "airflow(centre)").Word);
        if (blend != BlendBy.Cable) Assert.Equal("hot", ShippedSheets.Look(unit, "mode=feet, warmth=1, cabin=2 degC", "position(FLB)").Word);
        Assert.Equal("cold", ShippedSheets.Look(unit, "mode=vent, warmth=0, cabin=36 degC", "position(FLB)").Word);
    }

    [Theory]
    [InlineData("\"; drop: 1\n")]
    [InlineData("{ [ : # \\")]
    [InlineData("")]
    public void Any_title_gives_a_sound_sheet(string title) => Assert.Empty(SheetVersions.Read("guided", GuidedStart.Write(new(title))).Problems);

    [Fact]
    public void Answers_out_of_range_are_refused_in_words()
    {
        Assert.Contains("blowers", Assert.Throws<RefusedException>(() => GuidedStart.Write(new(Blowers: 3))).Message, StringComparison.Ordinal);
        Assert.Contains("solenoids", Assert.Throws<RefusedException>(() => GuidedStart.Write(new(Solenoids: 6))).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_block_says_what_it_is_and_is_used_by_some_answers()
    {
        string[] all = [.. Directory.EnumerateFiles(Path.Combine(ShippedSheets.Root(), "sheets", "blocks"), "*.yaml")];
        string[] sheets = [.. All().Select(GuidedStart.Write)];
        foreach (string path in all)
        {
            string[] lines = File.ReadAllLines(path);
            Assert.StartsWith("# ", lines[0], StringComparison.Ordinal);
            string mark = lines.First(l => l.StartsWith("  ", StringComparison.Ordinal) && l.Contains(": {", StringComparison.Ordinal) || l.StartsWith("    ", StringComparison.Ordinal));
            if (!mark.Contains('$', StringComparison.Ordinal)) Assert.Contains(sheets, s => s.Contains(mark.TrimEnd(), StringComparison.Ordinal));
        }
    }

    private static IEnumerable<GuidedAnswers> All() =>
        from blowers in (int[])[1, 2]
        from fan in Enum.GetValues<FanBy>()
        from blend in Enum.GetValues<BlendBy>()
        from solenoids in Enumerable.Range(0, GuidedAnswers.MostSolenoids + 1)
        from yes in Enumerable.Range(0, 16)
        select new GuidedAnswers("Invented unit", blowers, fan, blend, solenoids, (yes & 1) > 0, (yes & 2) > 0, (yes & 4) > 0, (yes & 8) > 0);
}
