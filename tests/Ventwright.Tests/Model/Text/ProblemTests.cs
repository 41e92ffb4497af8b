using Ventwright.Model.Sheet.Text;

namespace Ventwright.Tests.Model.Text;

/// <summary>Form of messages: the <c>file:line:column:</c> habit of compilers (GNU coding standards, section 4.4).</summary>
public class ProblemTests
{
    private static readonly Mark Second = new("a.yaml", 2, 4);

    [Fact]
    public void A_problem_shows_its_line_with_a_caret()
    {
        var problem = new Problem("x", Second, "no such unit", "write 'V'");
        Assert.Equal("a.yaml:2:4: no such unit; write 'V'\n  b: 12 v\n     ^", problem.Render("a: 1\r\nb: 12 v\r\n"));
    }

    [Fact]
    public void A_problem_on_a_line_that_is_not_there_shows_no_line() =>
        Assert.Equal("a.yaml:2:4: no such unit", new Problem("x", Second, "no such unit").Render("a: 1"));

    [Fact]
    public void A_long_line_is_cut_around_the_place()
    {
        string line = new string('a', 500) + "X" + new string('b', 500);
        string[] shown = new Problem("x", new Mark("a.yaml", 1, 501), "bad").Render(line).Split('\n');
        Assert.Equal('X', shown[1][shown[2].IndexOf('^', StringComparison.Ordinal)]);
        Assert.InRange(shown[1].Length, 50, 130);
    }

    [Fact]
    public void Problems_are_kept_once_and_sorted_by_place_and_warnings_are_no_errors()
    {
        var problems = new ProblemList();
        problems.Warning("w", Second, "second");
        problems.Warning("w", Second with { Line = 1 }, "first");
        problems.Warning("w", Second, "second");
        Assert.False(problems.HasErrors);
        Assert.Equal(["a.yaml:1:4: warning: first", "a.yaml:2:4: warning: second"], problems.Sorted.Select(p => p.ToString()));
        problems.Error("e", Mark.WholeFile("a.yaml"), "whole");
        Assert.True(problems.HasErrors);
        Assert.Equal("a.yaml: whole", problems.Sorted[0].ToString());
    }
}
