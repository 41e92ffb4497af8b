using Ventwright.Bench;
using Ventwright.Model.Sheet.Text;

namespace Ventwright.Tests.Bench;

/// <summary>Files of readings in YAML: a bare list or under a key, with places that are those of the file. No outside source.</summary>
public sealed class ReadingsFileTests
{
    [Theory]
    [InlineData("- { at: a, got: 1 V }\n- { at: b, got: 2 V }\n", "a@1 b@2")]
    [InlineData("# by hand\n\n- at: a\n  got: 1 V\n", "a@3")]
    [InlineData("readings:\n- { at: a, got: 1 V }\n", "a@2")]
    [InlineData("[{ at: a, got: 1 V },\n { at: b, got: open }]\n", "a@1 b@2")]
    [InlineData("[]\n", "")]
    [InlineData("readings: []\n", "")]
    public void Readings_stand_where_the_file_has_them(string text, string expected)
    {
        var problems = new ProblemList();
        Assert.Equal(expected, string.Join(' ', Load(text, problems).Select(r => $"{r.At}@{r.Where.Line}")));
        Assert.False(problems.HasErrors);
    }

    [Theory]
    [InlineData("- { at: a, got: 1 V }\n- { at: b, go: 2 V }\n", 2, "go")]
    [InlineData("- { at: a, got: 1 V }\n- { at: b, got: 2 V\n", 3, "bracket")]
    [InlineData("", 1, "empty")]
    [InlineData("just words\n", 1, "not a list of readings")]
    public void What_is_wrong_is_told_at_its_line(string text, int line, string says)
    {
        var problems = new ProblemList();
        Load(text, problems);
        Assert.Contains(problems.Sorted, p => p.At.Line == line && p.ToString().Contains(says, StringComparison.Ordinal));
        Assert.DoesNotContain(problems.Sorted, p => p.ToString().Contains("sheet", StringComparison.Ordinal));
    }

    private static IReadOnlyList<WrittenReading> Load(string text, ProblemList problems)
    {
        string path = Path.Combine(Path.GetTempPath(), $"{Guid.NewGuid():N}.yaml");
        File.WriteAllText(path, text);
        try
        {
            return ReadingsFile.Load(path, problems);
        }
        finally
        {
            File.Delete(path);
        }
    }
}
