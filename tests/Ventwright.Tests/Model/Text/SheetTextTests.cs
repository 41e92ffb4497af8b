using System.Diagnostics;
using System.Text;
using Ventwright.Model.Sheet.Text;

namespace Ventwright.Tests.Model.Text;

/// <summary>YAML 1.2.2 for what the text means; messages and limits are our own.</summary>
public sealed class SheetTextTests : IDisposable
{
    internal const string Good = """
        sheet: 1
        unit: Twin-blower automatic
        supply: { volts: 13.2 V, tolerance: 0.3 V }
        controls:
          mode: { positions: [off, low, auto] }
          warmth: { dial: 0..1 }   # a comment
        parts:
          F6:  { fuse: 20 A, from: battery, to: feed }
          FL1: { flap: [rest: fresh, pulled: recirculated], place: inlet }
          S1:
            switch: mode
            joins:
              low: [[feed, sw.low]]
              auto: [[feed, sw.on], ["a b", 'c d']]
        module:
          outputs:
            blower: { volts: "table(abs(demand), 0: 4, 50: 7)", waits-for: coolant > 45 or demand < 0 }
          note: |
            Two lines
            of text
        """;

    private readonly string _folder = Directory.CreateTempSubdirectory("ventwright-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Fact]
    public void A_good_sheet_is_read_with_places()
    {
        var problems = new ProblemList();
        SheetMap sheet = SheetText.Read("a.yaml", Good, problems)!;
        Assert.Empty(problems.Sorted);
        Assert.Equal(["sheet", "unit", "supply", "controls", "parts", "module"], sheet.Entries.Select(e => e.Key));
        var parts = (SheetMap)sheet["parts"]!;
        Assert.Equal(new Mark("a.yaml", 8, 3), parts.Entry("F6")!.Value.KeyMark);
        var fuse = (SheetScalar)((SheetMap)parts["F6"]!)["fuse"]!;
        Assert.Equal("20 A", fuse.Text);
        Assert.Equal(new Mark("a.yaml", 8, 16), fuse.Mark);
        var positions = (SheetList)((SheetMap)((SheetMap)sheet["controls"]!)["mode"]!)["positions"]!;
        Assert.Equal(["off", "low", "auto"], positions.Items.Cast<SheetScalar>().Select(s => s.Text));
        var volts = (SheetScalar)((SheetMap)((SheetMap)((SheetMap)sheet["module"]!)["outputs"]!)["blower"]!)["volts"]!;
        Assert.Equal(new Mark("a.yaml", 17, 23), volts.TextMark);
        Assert.Equal("Two lines\nof text", ((SheetScalar)((SheetMap)sheet["module"]!)["note"]!).Text.TrimEnd());
    }

    [Theory]
    [InlineData("a: 1\nb: 2\na: 3", "a.yaml:3:1: 'a' is already there; keep one of the two (see also a.yaml:1:1)")]
    [InlineData("a: &x 1", "a.yaml:1:4: '&x' is a YAML anchor or alias, which sheets do not use; write the value out, or put text that starts so in quotes")]
    [InlineData("a: !secret 1", "a.yaml:1:4: '!secret' is a YAML tag, which sheets do not use; leave it out, or put text that starts with '!' in quotes")]
    [InlineData("- a\n- b", "a.yaml:1:1: a sheet is made of keys and values; this is a list; start with a line such as 'sheet: 1'")]
    [InlineData("just text", "a.yaml:1:1: a sheet is made of keys and values; this is a value; start with a line such as 'sheet: 1'")]
    [InlineData("", "a.yaml:1:1: the sheet is empty; start with a line such as 'sheet: 1'")]
    [InlineData("# only a comment\n", "a.yaml:1:1: the sheet is empty; start with a line such as 'sheet: 1'")]
    [InlineData("a: 1\n---\nb: 2", "a.yaml:2:1: a second document starts here; keep one sheet in one file, without '---' lines")]
    [InlineData("a: 1\nb: x\0y", "a.yaml:2:5: a zero byte: this is not a text file; save the sheet as plain UTF-8 text")]
    [InlineData("[1, 2]: 3", "a.yaml:1:1: a key must be one word; this is a list; write 'key: value'")]
    public void What_a_sheet_must_not_have_is_told_with_place_and_remedy(string text, string expected)
    {
        var problems = new ProblemList();
        SheetText.Read("a.yaml", text, problems);
        Assert.Equal(expected, Assert.Single(problems.Sorted).ToString());
    }

    [Theory]
    [InlineData("a:\n\tb: 1", "a.yaml:2:1: a tab in the indentation; indent with spaces, not with tabs")]
    [InlineData("a:\n  c: 2\n  \td: 3", "a.yaml:3:3: a tab in the indentation; indent with spaces, not with tabs")]
    [InlineData("a: b: c", "a.yaml:1:5: a second ': ' on one line; put text that contains ': ' in quotes, or check the indentation")]
    [InlineData("a: 1\n  b: 2", "a.yaml:2:4: a second ': ' on one line; put text that contains ': ' in quotes, or check the indentation")]
    [InlineData("a: \"open\nb: 2", "a.yaml:1:4: a quote that is not closed; close the quote on the same line")]
    [InlineData("a: [1, 2\nb: 3", "a.yaml:1:5: a bracket that is not closed; close '[' with ']' and '{' with '}'")]
    [InlineData("a: {b: [1,2}", "a.yaml:1:12: a bracket or a comma is missing; close '[' with ']' and '{' with '}', with commas between items")]
    [InlineData("a: 'x' y", "a.yaml:1:8: this does not fit the lines above; check the indentation and the ':' after the key")]
    [InlineData("a: 1\n}", "a.yaml:2:1: this does not fit the lines above; check the indentation and the ':' after the key")]
    [InlineData("a: @x", "a.yaml:1:4: a value cannot start with this character; put the value in quotes")]
    [InlineData("a: }", "a.yaml:1:4: a value was expected here; check the brackets")]
    public void A_syntax_error_is_told_with_place_and_remedy(string text, string expected)
    {
        var problems = new ProblemList();
        Assert.Null(SheetText.Read("a.yaml", text, problems));
        Assert.Equal(expected, Assert.Single(problems.Sorted).ToString());
    }

    [Fact]
    public void An_alias_bomb_is_refused_and_all_its_places_are_told()
    {
        IEnumerable<string> lines = Enumerable.Range(1, 29).Select(i => $"a{i}: &a{i} [*a{i - 1}, *a{i - 1}]");
        var problems = new ProblemList();
        SheetText.Read("a.yaml", "a0: &a0 [x, x]\n" + string.Join('\n', lines), problems);
        Assert.Equal(1 + 29 * 3, problems.Count);
        Assert.All(problems.Sorted, p => Assert.Equal("anchor", p.Code));
    }

    [Theory]
    [InlineData("", "no-file", "missing.yaml")]
    [InlineData("", "not-a-file", ".")]
    [InlineData("FFFE61003A00", "not-text", "bad.yaml")]
    [InlineData("613A20C328", "not-text", "bad.yaml")]
    [InlineData("613A2000", "not-text", "bad.yaml")]
    public void A_file_that_is_no_text_is_told(string hex, string code, string name)
    {
        string path = Path.Combine(_folder, name);
        if (hex.Length > 0) File.WriteAllBytes(path, Convert.FromHexString(hex));
        var problems = new ProblemList();
        Assert.Null(SheetText.ReadFile(path, problems));
        Assert.Equal(code, Assert.Single(problems.Sorted).Code);
    }

    [Fact]
    public void A_byte_order_mark_does_no_harm()
    {
        string path = Path.Combine(_folder, "bom.yaml");
        File.WriteAllText(path, "a: 1", new UTF8Encoding(encoderShouldEmitUTF8Identifier: true));
        var problems = new ProblemList();
        Assert.NotNull(SheetText.ReadFile(path, problems)!["a"]);
        Assert.Equal(0, problems.Count);
    }

    [Fact]
    public void A_file_of_50_MB_is_refused_at_once()
    {
        string path = Path.Combine(_folder, "large.yaml");
        using (FileStream stream = File.Create(path)) stream.SetLength(50_000_000);
        var problems = new ProblemList();
        var clock = Stopwatch.StartNew();
        Assert.Null(SheetText.ReadFile(path, problems));
        Assert.InRange(clock.ElapsedMilliseconds, 0, 10_000);
        Assert.Equal("too-large", Assert.Single(problems.Sorted).Code);
    }

    [Theory]
    [InlineData("[")]
    [InlineData("{")]
    [InlineData("- ")]
    [InlineData("? ")]
    [InlineData("a: {")]
    [InlineData("[a, ")]
    [InlineData("\"")]
    [InlineData("'x")]
    [InlineData("&a ")]
    [InlineData("!")]
    [InlineData("# ")]
    [InlineData("a: 1\n")]
    [InlineData("x\n")]
    [InlineData("\n\t")]
    [InlineData("%YAML ")]
    [InlineData("--- ")]
    [InlineData("|\n ")]
    [InlineData("a")]
    public void A_text_of_1_MB_of_the_same_piece_ends_soon(string piece)
    {
        string text = string.Concat(Enumerable.Repeat(piece, 1_000_000 / piece.Length));
        var clock = Stopwatch.StartNew();
        var problems = new ProblemList();
        SheetText.Read("a.yaml", text, problems);
        Assert.True(problems.HasErrors);
        Assert.InRange(clock.ElapsedMilliseconds, 0, 10_000);
    }

    [Fact]
    public void Two_thousand_damaged_sheets_give_problems_and_no_exceptions()
    {
        const string spice = "{}[]:,&*!|>'\"%@`#-?\t\n\r \0\u00B1\uD800\u2028x0";
        var random = new Random(20260401);
        var clock = Stopwatch.StartNew();
        for (int i = 0; i < 2000; i++)
        {
            var text = new StringBuilder(Good);
            for (int edits = random.Next(1, 8); edits > 0; edits--)
            {
                int at = random.Next(text.Length);
                switch (random.Next(4))
                {
                    case 0: text.Remove(at, Math.Min(random.Next(1, 40), text.Length - at)).Append(' '); break;
                    case 1: text.Insert(at, spice[random.Next(spice.Length)]); break;
                    case 2: text[at] = spice[random.Next(spice.Length)]; break;
                    default: text.Insert(at, text.ToString(at, Math.Min(random.Next(60), text.Length - at))); break;
                }
            }

            var problems = new ProblemList();
            SheetMap? map = SheetText.Read("a.yaml", text.ToString(), problems);
            Assert.True(map is not null || problems.HasErrors);
            Assert.All(problems.Sorted, p => Assert.NotEmpty(p.Render(text.ToString())));
        }

        Assert.InRange(clock.ElapsedMilliseconds, 0, 20_000);
    }
}
