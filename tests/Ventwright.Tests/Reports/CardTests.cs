using System.Globalization;
using System.Text;
using Ventwright.Bench;
using Ventwright.Model.Kernel;
using Ventwright.Quantities;
using Ventwright.Reports;
using Ventwright.Reports.Page;
using Ventwright.Simulation;

namespace Ventwright.Tests.Reports;

public class CardTests
{
    private static Simulator Unit(bool automatic) => automatic ? ShippedSheets.Automatic : ShippedSheets.Manual;

    [Theory]
    [InlineData(true, PaperSize.A4, UnitSystem.Metric)]
    [InlineData(false, PaperSize.Letter, UnitSystem.US)]
    public void Every_check_of_the_plan_is_on_the_list_once_with_its_number_and_its_band(bool automatic, PaperSize paper, UnitSystem units)
    {
        Checklist list = Samples.List(Unit(automatic), units);
        using var pdf = new ReadBack(to => ChecklistCard.Write(list, paper, Samples.Day, showExpected: true, to));
        ChecklistCheck[] checks = [.. list.Groups.SelectMany(g => g.Checks)];
        Assert.True(checks.Length > 50, $"only {checks.Length} checks");
        string text = Dense(pdf.Text);
        Assert.Equal(Enumerable.Range(1, checks.Length), checks.Select(c => c.Number));
        foreach (var same in checks.GroupBy(c => c.Code))
            Assert.Equal(same.Count(), Occurrences(text, Dense(same.Key)) - checks.Where(c => c.Code != same.Key).Sum(c => Occurrences(Dense(c.Code), Dense(same.Key))));
        Assert.All(checks.SelectMany(c => Ranges(c.Expected)), e => Assert.Contains(Dense(e), text, StringComparison.Ordinal));
        string[] words = pdf.Text.Split(' ');
        Assert.All(checks.Select(c => c.Minutes.ToString("0.0#", CultureInfo.InvariantCulture)).Distinct(), m => Assert.Contains(m, words));
        pdf.AssertCalm(Paper.Margin);
    }

    [Theory]
    [InlineData(true, PaperSize.A4, 842, 595)]
    [InlineData(false, PaperSize.Letter, 792, 612)]
    public void The_function_chart_lies_across_the_paper_and_says_what_everything_does(bool automatic, PaperSize paper, double width, double height)
    {
        Simulator unit = Unit(automatic);
        FunctionChart chart = Samples.Chart(unit);
        using var pdf = new ReadBack(to => ChartCard.Write(unit.Model, chart, paper, Samples.Day, to));
        Assert.All(pdf.Pages, p => Assert.Equal((width, height), (p.Width, p.Height)));
        string text = Dense(pdf.Text);
        Assert.All(chart.Looks, l => Assert.All(unit.Model.Parts[unit.Model.PartIndex(l.Target)].Name.Split(' '), w => Assert.Contains(w, text, StringComparison.Ordinal)));
        Assert.All(chart.Settings, s => Assert.Contains(Dense($"{s.Control.Name} {s.Position}"), text, StringComparison.Ordinal));
        pdf.AssertCalm(Paper.Margin);
    }

    [Fact]
    public void The_function_chart_says_what_is_held()
    {
        Simulator unit = ShippedSheets.Manual;
        FunctionChart chart = FunctionChart.TryMake(unit, [("fan", "4")], out _)!;
        using var pdf = new ReadBack(to => ChartCard.Write(unit.Model, chart, PaperSize.A4, Samples.Day, to));
        Assert.Contains("Held throughout, unless a line turns it: fan 4.", pdf.Text, StringComparison.Ordinal);
        Assert.Contains("strong", pdf.Text, StringComparison.Ordinal);
        Assert.Null(FunctionChart.TryMake(unit, [("fan", "9")], out string? problem));
        Assert.NotNull(problem);
    }

    [Fact]
    public void The_function_chart_agrees_with_the_function_table_that_the_sheet_copies_from_its_manual()
    {
        UnitModel model = ShippedSheets.Manual.Model;
        FunctionChart chart = Samples.Chart(ShippedSheets.Manual);
        StatedRow[] rows = [.. model.Stated.Where(r => r.Source.Contains("function table", StringComparison.Ordinal))];
        Assert.NotEmpty(rows);
        foreach (StatedRow row in rows)
        {
            (string control, string position) = Assert.Single(row.Settings);
            int look = chart.Looks.ToList().IndexOf(row.What);
            Assert.All(chart.Settings.Where(s => s.Control.Name == control && s.Position == position), s => Assert.Equal(row.Word, s.Shown[look].Word));
        }
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public void The_pin_table_has_each_pin_of_module_and_test_connector_once(bool automatic)
    {
        Simulator unit = Unit(automatic);
        IReadOnlyList<TestPin> testPins = unit.Model.TestPins;
        PinTable table = PinTable.Of(unit, UnitSystem.Metric);
        using var pdf = new ReadBack(to => PinCard.Write(table, PaperSize.A4, Samples.Day, showExpected: true, to));
        Assert.Equal(table.Rows.Count, table.Rows.Select(r => r.Net).Distinct().Count());
        Assert.Equal(testPins.Select(p => $"{p.Connector} {p.Pin}").Order(StringComparer.Ordinal), table.Rows.SelectMany(r => r.Pins).Where(p => p.StartsWith("XT ", StringComparison.Ordinal)).Order(StringComparer.Ordinal));
        string[] inputs = [.. unit.Model.Parts.Where(p => p.Kind is "module-input" or "module-output").Select(p => p.Id)];
        Assert.Equal(automatic, inputs.Length > 20);
        Assert.All(inputs.Where(i => unit.Model.Nets.Contains(i)), i => Assert.Contains(table.Rows, r => r.Net == i));
        string text = Dense(pdf.Text);
        Assert.All(table.Rows.SelectMany(r => r.Expected).SelectMany(Ranges), e => Assert.Contains(Dense(e), text, StringComparison.Ordinal));
        pdf.AssertCalm(Paper.Margin);
    }

    /// <summary>The ranges of a band, where a cell of two of them has two lines; words stay together.</summary>
    private static string[] Ranges(string expected) => expected.Contains(LineBreaker.NoBreak, StringComparison.Ordinal) ? expected.Split(" or ") : [expected];

    [Fact]
    public void Pin_ten_comes_after_pin_two() =>
        Assert.Equal(["XA 1", "XA 2", "XA 3", "XA 5", "XA 6"], PinTable.Of(ShippedSheets.Automatic, UnitSystem.Metric).Rows.Take(5).Select(r => r.Pins[0]));

    [Fact]
    public void Without_expectations_no_band_is_printed()
    {
        Checklist list = Samples.List(ShippedSheets.Manual, UnitSystem.Metric);
        using var blind = new ReadBack(to => ChecklistCard.Write(list, PaperSize.A4, Samples.Day, showExpected: false, to));
        Assert.DoesNotContain("expected", blind.Text, StringComparison.Ordinal);
        Assert.DoesNotContain("next to 0", blind.Text, StringComparison.Ordinal);
        blind.AssertCalm(Paper.Margin);
    }

    [Fact]
    public void A_caution_stands_once_in_a_group_at_the_first_check_in_its_place()
    {
        ChecklistCheck Check(int number, string place, string? caution) => new(number, $"look {number}", $"volts(n{number})", place, null, caution, "5 V", [], "V", 0.3);
        var list = Plain([new(["mode a"], [Check(1, "bench", null), Check(2, "in the box", "mind the dust"), Check(3, "in the box", "mind the dust")])]);
        using var pdf = new ReadBack(to => ChecklistCard.Write(list, PaperSize.A4, Samples.Day, true, to));
        int caution = pdf.Text.IndexOf("Caution: mind the dust", StringComparison.Ordinal);
        Assert.InRange(caution, pdf.Text.IndexOf("volts(n2)", StringComparison.Ordinal), pdf.Text.IndexOf("volts(n3)", StringComparison.Ordinal));
        Assert.Equal(1, Occurrences(pdf.Text, "Caution:"));
    }

    [Fact]
    public void Signs_that_keyboards_lack_are_real_text_in_the_file()
    {
        string signs = string.Join(' ', Fonts.Needed.ToCharArray());
        var list = Plain([new([signs], [new(1, signs, "volts(a)", "bench", null, null, "\u2265 12.1\u00A0k\u03A9", [], "\u00B5A", 0.3)])]);
        using var pdf = new ReadBack(to => ChecklistCard.Write(list, PaperSize.A4, Samples.Day, true, to));
        string letters = string.Concat(pdf.Pages.SelectMany(p => p.Letters).Select(l => l.Value)).Normalize(NormalizationForm.FormKC);
        Assert.All(Fonts.Needed.Normalize(NormalizationForm.FormKC), sign => Assert.Contains(sign, letters));
        Assert.Contains("\u2265 12.1 k\u03A9", pdf.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void The_same_input_gives_the_same_bytes_and_the_date_is_the_one_given()
    {
        Checklist list = Samples.List(ShippedSheets.Manual, UnitSystem.Metric);
        using var one = new ReadBack(to => ChecklistCard.Write(list, PaperSize.A4, Samples.Day, true, to));
        using var two = new ReadBack(to => ChecklistCard.Write(list, PaperSize.A4, Samples.Day, true, to));
        Assert.Equal(one.Bytes, two.Bytes);
        Assert.Contains("20260301", one.Created, StringComparison.Ordinal);
        Assert.Equal("Bench check list", one.Title);
        Assert.Contains("2026-03-01", one.Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Long_names_wrap_instead_of_leaving_the_paper()
    {
        string blanks = string.Join(' ', Enumerable.Repeat("exceedingly", 40)), solid = string.Concat(Enumerable.Repeat("Wide", 200));
        var list = Plain([new([solid, blanks], [new(1, solid, "volts(" + solid + ")", blanks, solid, blanks, solid, [solid, "between"], solid, 0.3)])], blanks);
        foreach (PaperSize paper in Enum.GetValues<PaperSize>())
        {
            using var pdf = new ReadBack(to => ChecklistCard.Write(list, paper, Samples.Day, true, to));
            pdf.AssertCalm(Paper.Margin);
        }
    }

    [Fact]
    public void Empty_inputs_give_a_page_that_says_so()
    {
        UnitModel bare = Samples.Compile("sheet: 1\nunit: Bare\nsupply: { volts: 13 V }\nparts:\n  F1: { fuse: 5 A, from: battery, to: a }\n  R1: { resistor: 10 ohm, from: a, to: gnd }\n");
        using var list = new ReadBack(to => ChecklistCard.Write(Plain([]), PaperSize.A4, Samples.Day, true, to));
        using var chart = new ReadBack(to => ChartCard.Write(bare, Samples.Chart(new(bare)), PaperSize.A4, Samples.Day, to));
        using var pins = new ReadBack(to => PinCard.Write(PinTable.Of(new(bare), UnitSystem.Metric), PaperSize.Letter, Samples.Day, true, to));
        Assert.Contains("nothing to check", list.Text, StringComparison.Ordinal);
        Assert.Contains("nothing to chart", chart.Text, StringComparison.Ordinal);
        Assert.Contains("no pins to show", pins.Text, StringComparison.Ordinal);
        Assert.All((ReadBack[])[list, chart, pins], p => Assert.Single(p.Pages));
    }

    private static Checklist Plain(IReadOnlyList<ChecklistGroup> groups, string unit = "Invented unit") => new(unit, "mode off", groups, 1, 1, [], [], [], UnitSystem.Metric);

    /// <summary>Without blanks, since a wrapped text has them elsewhere.</summary>
    private static string Dense(string text) => string.Concat(text.Normalize(NormalizationForm.FormKC).Where(c => !char.IsWhiteSpace(c)));

    private static int Occurrences(string text, string what)
    {
        int count = 0;
        for (int at = text.IndexOf(what, StringComparison.Ordinal); at >= 0; at = text.IndexOf(what, at + 1, StringComparison.Ordinal)) count++;
        return count;
    }
}
