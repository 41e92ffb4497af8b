using CsCheck;
using Ventwright.Bench;
using Ventwright.Diagnosis;
using Ventwright.Model.Kernel;
using Ventwright.Quantities;
using Ventwright.Simulation;
using Ventwright.Workshop;
using Ventwright.Workshop.Rigs;

namespace Ventwright.Tests.Workshop;

/// <summary>Words for settings, readings and checks. They are the program's own; no outside source.</summary>
public sealed class WordsTests
{
    private static readonly UnitOnSheet Unit = UnitOnSheet.Of(SheetShelf.Find("twin-blower-automatic.yaml")!, File.ReadAllText(SheetShelf.Find("twin-blower-automatic.yaml")!));

    /// <summary>A band that reaches far to one side only, because some units end in another state, is told as a value with exceptions.</summary>
    [Theory]
    [InlineData(0.08, 0.06, 13.9, "80.0 mV, in some units up to 13.9 V")]
    [InlineData(12.3, -0.05, 13.0, "12.3 V, in some units down to -50.0 mV")]
    [InlineData(2.6, 2.5, 2.9, "2.50 V .. 2.90 V")]
    [InlineData(5, 1, 9, "1.00 V .. 9.00 V")]
    [InlineData(12, 12, 12, "12.0 V")]
    public void A_band_with_exceptions_tells_the_value_first(double nominal, double low, double high, string words) =>
        Assert.Equal(words, ReadingWords.Of(new Band(new(ObservableKind.Volts, "x"), new(nominal, null), low, high, 0, [], [], []), UnitSystem.Metric));

    [Theory]
    [InlineData(10.6, "9.80 A .. 11.3 A, in some units 13.1 A .. 14.8 A")]
    [InlineData(14, "13.1 A .. 14.8 A, in some units 9.80 A .. 11.3 A")]
    public void A_band_of_two_states_tells_the_usual_one_first(double nominal, string words)
    {
        Band band = new(new(ObservableKind.Amps, "x"), new(nominal, null), 9.8, 14.8, 0, [], [], []) { Ranges = [(9.8, 11.3), (13.1, 14.8)] };
        Assert.Equal(words, ReadingWords.Of(band, UnitSystem.Metric));
        Assert.Contains(" or ", Ventwright.Reports.PaperText.Band(band, UnitSystem.Metric), StringComparison.Ordinal);
    }

    [Fact]
    public void Doing_the_steps_makes_the_wanted_setting()
    {
        string[] names = ["mode", "warmth", "supply", "pump", "stand-in RT1", "unplug XA", "absent M1", "cabin"];
        string[][] values = [["off", "auto", "screen"], ["0.2", "0.9"], ["on", "off"], ["on", "off"], ["10 kohm", "3 kohm"], ["yes"], ["yes"], ["30 degC", "5 degC"]];
        Gen<(string, string)[]> words = Gen.Int[-1, 2].Array[names.Length].Select(picks => names.Select((n, i) => (n, picks[i])).Where(p => p.Item2 >= 0)
            .Select(p => (p.n, values[Array.IndexOf(names, p.n)][p.Item2 % values[Array.IndexOf(names, p.n)].Length])).ToArray());
        Gen.Select(words, words).Sample((from, to) =>
        {
            Setting stands = SettingWords.Make(Unit.Model, from), wanted = SettingWords.Make(Unit.Model, to);
            var steps = SettingWords.Steps(Unit.Model, stands, wanted);
            Assert.Equal(steps.Count, steps.Select(s => s.Name).Distinct().Count());
            foreach (string name in names)
            {
                string now = steps.FirstOrDefault(s => s.Name == name)?.To ?? SettingWords.Value(Unit.Model, stands, name);
                Assert.Equal(SettingWords.Value(Unit.Model, wanted, name), now);
            }

            Assert.All(steps, s => Assert.NotEqual("", s.Text));
            if (steps.Any(s => s is { Name: "supply", To: "off" })) Assert.Equal("supply", steps[0].Name);
        });
    }

    [Fact]
    public void A_reading_as_written_reads_as_what_it_was()
    {
        Point[] points = [.. Unit.Model.Points.DistinctBy(p => p.What.Kind)];
        Gen.Select(Gen.Int[0, points.Length - 1], Gen.Double[0.001, 6]).Sample((i, value) =>
        {
            Observable what = points[i].What;
            IReadOnlyList<string> words = Readings.WordsOf(Unit.Model, what);
            Outcome outcome = words.Count > 0 ? Outcome.Word((int)value % words.Count) : Outcome.Number(value);
            string text = ReadingWords.Written(Unit.Model, what, outcome);
            Assert.True(Ventwright.Bench.ReadingText.TryRead(Unit.Model, what, text, out Outcome read, out string? problem), problem);
            Assert.Equal(outcome.WordIndex, read.WordIndex);
            if (words.Count == 0) Assert.Equal(outcome.Value, read.Value, Math.Max(0.02, 0.01 * value));
        });
    }

    [Fact]
    public void The_nominal_reading_is_as_expected_and_one_far_off_differs()
    {
        Setting setting = SettingWords.Make(Unit.Model, [("mode", "screen")]);
        foreach (Point point in Unit.PointsIn(setting))
        {
            Band band = Unit.Expect(setting, point.What);
            if (band.Nominal.Unsteady || band.Nominal.Word is not null || !double.IsFinite(band.Low)) continue;
            Assert.Equal(Fit.AsExpected, Judgement.Of(Unit, setting, point.What, Outcome.Number(band.Nominal.Value)).Fit);
            double far = band.High + (10 * (band.High - band.Low)) + (Math.Abs(band.High) * 0.5) + (point.What.Dimension() == Ventwright.Quantities.Dimension.Pressure ? 20e3 : 2);
            Assert.Equal(Fit.Differs, Judgement.Of(Unit, setting, point.What, Outcome.Number(far)).Fit);
        }
    }

    [Fact]
    public void The_end_of_a_run_is_told_once()
    {
        Assert.Equal("All outputs are in their safe state: STOP was pressed.", RigWords.Ended("STOP was pressed", "All outputs are in their safe state: STOP was pressed."));
        Assert.Equal("its time is over. Nothing was reached.", RigWords.Ended("its time is over", "Nothing was reached."));
    }

    [Fact]
    public void A_band_whose_ends_read_the_same_is_told_once()
    {
        var band = new Band(new(ObservableKind.Volts, "mod.11"), new(0, null), 0, 0, 0, [], [], []);
        Assert.DoesNotContain("..", ReadingWords.Of(band, UnitSystem.Metric), StringComparison.Ordinal);
        Assert.Contains("..", ReadingWords.Of(band with { Low = -1, High = 1, Ranges = [(-1, 1)] }, UnitSystem.Metric), StringComparison.Ordinal);
    }

    [Fact]
    public void The_function_chart_says_what_the_sheets_own_stated_rows_say()
    {
        FunctionChart chart = Unit.Chart;
        int row = chart.Looks.ToList().FindIndex(r => r.ToString() == "position(FL3)");
        Assert.All(chart.Settings.Where(c => c.Control.Name == "mode"), c => Assert.Equal(c.Position == "screen" ? "open" : "shut", c.Shown[row].Word));
    }

    [Fact]
    public void Every_check_and_fault_has_a_title_that_names_it()
    {
        foreach (Point point in Unit.Model.Points) Assert.Contains(point.What.Target, CheckTitles.Of(Unit.Model, point.What), StringComparison.Ordinal);
        foreach ((string part, string plus, string minus) in new[] { ("M1", "left.plus", "left.minus"), ("M2", "right.plus", "right.minus") })
            Assert.Equal($"Volts over {Unit.Model.Parts[Unit.Model.PartIndex(part)].Title}, {plus} against {minus}", CheckTitles.Of(Unit.Model, new(ObservableKind.Volts, plus, minus)));
        Assert.Equal("Volts at mod.11 against mod.12", CheckTitles.Of(Unit.Model, new(ObservableKind.Volts, "mod.11", "mod.12")));
        foreach (Fault fault in Unit.Model.Faults) Assert.Contains(Unit.Model.Parts[fault.Part].Id, CheckTitles.FaultTitle(Unit.Model, fault), StringComparison.Ordinal);
    }
}
