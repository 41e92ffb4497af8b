using Ventwright.Cli.Commands;

namespace Ventwright.Tests.Reports;

public sealed class CardsCommandTests : IDisposable
{
    private const string Small = """
        sheet: 1
        unit: Fan on a switch
        supply: { volts: 13 V }
        controls:
          fan: { positions: [off, on] }
        parts:
          F1: { fuse: 10 A, from: battery, to: feed }
          S1: { switch: fan, joins: { off: none, on: [[feed, out]] } }
          L1: { lamp: 5 W, from: out, to: gnd }
          XT: { connector: { 1: feed, 2: out } }

        """;

    private readonly string _folder = Directory.CreateTempSubdirectory("ventwright-cards-").FullName;

    private string Sheet
    {
        get
        {
            string path = Path.Combine(_folder, "small.yaml");
            File.WriteAllText(path, Small);
            return path;
        }
    }

    [Fact]
    public void Cards_are_written_into_a_new_folder()
    {
        string to = Path.Combine(_folder, "a", "b");
        Assert.Equal(ExitCodes.Fine, CommandRunner.Run(["cards", Sheet, "--out", to, "--paper", "letter", "--units", "us", "--date", "2026-03-01", "--json"]));
        Assert.Equal(["check-list.pdf", "function-chart.pdf", "pin-table.pdf"], Directory.GetFiles(to).Select(f => Path.GetFileName(f)).Order(StringComparer.Ordinal));
        using var pins = new ReadBack(s => s.Write(File.ReadAllBytes(Path.Combine(to, "pin-table.pdf"))));
        Assert.All((string[])["XT 1", "XT 2", "fan on"], w => Assert.Contains(w, pins.Text, StringComparison.Ordinal));
        using var list = new ReadBack(s => s.Write(File.ReadAllBytes(Path.Combine(to, "check-list.pdf"))));
        Assert.Equal((612.0, 792.0), (list.Pages[0].Width, list.Pages[0].Height));
    }

    [Theory]
    [InlineData]
    [InlineData("--out", "x", "--paper", "a3")]
    [InlineData("--out", "x", "--units", "imperial")]
    [InlineData("--out", "x", "--minutes", "-1")]
    [InlineData("--out", "x", "--date", "yesterday")]
    public void Options_that_make_no_sense_are_refused_before_anything_is_written(params string[] options)
    {
        Assert.Equal(ExitCodes.BadInput, CommandRunner.Run(["cards", Sheet, .. options]));
        Assert.False(Directory.Exists("x"));
    }

    [Fact]
    public void A_folder_that_cannot_be_made_is_refused()
    {
        string file = Path.Combine(_folder, "file");
        File.WriteAllText(file, "");
        Assert.Equal(ExitCodes.BadInput, CommandRunner.Run(["cards", Sheet, "--out", Path.Combine(file, "below")]));
    }

    public void Dispose() => Directory.Delete(_folder, recursive: true);
}
