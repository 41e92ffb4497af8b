using Ventwright.Model.Rules;
using Ventwright.Model.Sheet.Text;

namespace Ventwright.Tests.Model.Rules;

/// <summary>Values worked out by hand from the text of each rule; precedence as in ordinary arithmetic and logic.</summary>
public class RuleTests
{
    private static readonly string[] Modes = ["off", "low", "auto", "high"];
    private static readonly string[] Signals = ["demand", "cabin", "low-side", "mode", "ready", "a", "b"];
    private static readonly double[] Values = [-70, 20, 3, 2, 1, 5, 2];

    private readonly ProblemList _problems = new();

    private static RuleScope Scope()
    {
        var scope = new RuleScope();
        foreach (string name in Signals.Where(s => s is not ("mode" or "ready"))) scope.AddNumber(name);
        scope.AddWord("mode", Modes);
        scope.AddCondition("ready");
        return scope;
    }

    private Expression? Parse(string text) => RuleParser.Parse(text, new Mark("a.yaml", 7, 11), _problems);

    [Theory]
    [InlineData("1 + 2 * 3", 7)]
    [InlineData("(1 + 2) * 3", 9)]
    [InlineData("10 - 4 - 3", 3)]
    [InlineData("24 / 4 / 3", 2)]
    [InlineData("-2 * -3", 6)]
    [InlineData("--2", 2)]
    [InlineData("2-1", 1)]
    [InlineData("18 + 12 * 0.5", 24)]
    [InlineData("1.5e2", 150)]
    [InlineData("low-side - 1", 2)]
    [InlineData("low-side -1", 2)]
    [InlineData("1 < 2", 1)]
    [InlineData("2 <= 2", 1)]
    [InlineData("2 != 2", 0)]
    [InlineData("2 = 1 + 1", 1)]
    [InlineData("1 > 2 or 2 > 1 and 3 > 4", 0)]
    [InlineData("2 > 1 or 2 > 1 and 3 > 4", 1)]
    [InlineData("not 1 > 2", 1)]
    [InlineData("not 1 > 2 and 1 > 2", 0)]
    [InlineData("not not ready", 1)]
    [InlineData("mode is auto and demand < -60", 1)]
    [InlineData("mode is not auto", 0)]
    [InlineData("mode is one of low, auto", 1)]
    [InlineData("mode is not one of off, high", 1)]
    [InlineData("if ready then 1 else 2 + 3", 1)]
    [InlineData("if not ready then 1 else if a > 4 then 7 else 9", 7)]
    [InlineData("clamp(10 * (a - cabin), -100, 100)", -100)]
    [InlineData("max(a, b, 9) - min(a, b, 9)", 7)]
    [InlineData("table(abs(demand), 0: 4, 50: 7, 100: 12)", 9)]
    [InlineData("table(a, 5: 1, 6: 2)", 1)]
    [InlineData("table(a, 6: -1, 7: 2)", -1)]
    [InlineData("table(a, -3: 1, 4.5: -2e1)", -20)]
    [InlineData("1 / 0 > 5", 1)]
    public void A_rule_gives_what_it_says(string text, double expected)
    {
        Expression rule = Parse(text)!;
        Assert.NotNull(rule.Check(Scope(), _problems));
        Assert.Equal(0, _problems.Count);
        CompiledRule compiled = rule.Compile(n => Array.IndexOf(Signals, n), (_, word) => Array.IndexOf(Modes, word));
        Assert.Equal(expected, compiled.Evaluate(Values), 1e-12);
        Assert.Equal(rule, RuleParser.Parse(rule.ToString(), default, _problems));
    }

    [Theory]
    [InlineData("a + ", 15, "the rule ends where a name, a number or '(' was expected")]
    [InlineData("", 11, "the rule ends where a name, a number or '(' was expected")]
    [InlineData("a b", 13, "'b' stands where an operator such as '+' or 'and' was expected")]
    [InlineData("(a + b", 17, "the rule ends where ')' was expected")]
    [InlineData("a < b < cabin", 17, "two comparisons in a row; write 'a < b and b < c'")]
    [InlineData("a == b", 13, "'=' stands twice; write one '='")]
    [InlineData("a & b", 13, "'&' means nothing in a rule; write 'and'")]
    [InlineData("a + .5", 15, "'.' means nothing in a rule; write '0.5', not '.5'")]
    [InlineData("5 + 5v", 15, "'5v' is not a number; numbers in rules are plain, such as 0.5")]
    [InlineData("1e999", 11, "'1e999' is not a number; numbers in rules are plain, such as 0.5")]
    [InlineData("45 degC", 14, "'degC' stands where an operator such as '+' or 'and' was expected")]
    [InlineData("if ready then 1", 26, "the rule ends where 'else' was expected")]
    [InlineData("3 is auto", 13, "'is' wants a name before it; write 'mode is auto', or compare numbers with '='")]
    [InlineData("table(a, 5: 1, 4: 2)", 26, "the keys of a table must rise; put the points in order")]
    [InlineData("table(a)", 18, "the table has no points; write 'table(x, 0: 4, 50: 7)'")]
    [InlineData("mode is 3", 19, "'3' stands where a word after 'is', as in 'mode is auto' was expected")]
    public void A_rule_that_cannot_be_read_is_told_at_its_column(string text, int column, string expected)
    {
        Assert.Null(Parse(text));
        Problem problem = Assert.Single(_problems.Sorted);
        Assert.Equal($"a.yaml:7:{column}: {expected}", problem.ToString());
    }

    [Theory]
    [InlineData("demnad + 1", 11, "there is no signal 'demnad'; did you mean 'demand'?")]
    [InlineData("2 * cabin-a", 15, "there is no signal 'cabin-a'; for a difference put spaces around the minus: 'cabin - a'")]
    [InlineData("mode is atuo", 19, "'mode' is never 'atuo'; did you mean 'auto'?")]
    [InlineData("mode is one of low, xyz", 31, "'mode' is never 'xyz'; it can be off, low, auto, high")]
    [InlineData("cabin is auto", 11, "'cabin' is a number, not a word; compare numbers with '='")]
    [InlineData("clmap(a, 1, 2)", 11, "there is no function 'clmap'; did you mean 'clamp'?")]
    [InlineData("clamp(a, 1)", 11, "'clamp' wants 3 values; here are 2; write 'clamp(x, -100, 100)'")]
    [InlineData("a and ready", 11, "'a' is a number; a condition (yes or no) was expected; compare it, as in 'a > 0'")]
    [InlineData("1 + ready", 15, "'ready' is a condition (yes or no); a number was expected; write 'if ready then 1 else 0'")]
    [InlineData("1 + (a < b)", 18, "'a < b' is a condition (yes or no); a number was expected; write 'if a < b then 1 else 0'")]
    [InlineData("mode > 2", 11, "'mode' is a word; a number was expected; write 'mode is off'")]
    [InlineData("if a then 1 else 2", 14, "'a' is a number; a condition (yes or no) was expected; compare it, as in 'a > 0'")]
    [InlineData("if ready then 1 else ready", 32, "'ready' is a condition (yes or no); a number was expected; write 'if ready then 1 else 0'")]
    public void A_rule_without_sense_is_told_at_its_column(string text, int column, string expected)
    {
        Parse(text)!.Check(Scope(), _problems);
        Assert.Equal($"a.yaml:7:{column}: {expected}", Assert.Single(_problems.Sorted).ToString());
    }

    [Fact]
    public void All_problems_of_meaning_are_told_at_once()
    {
        Parse("x1 + y1 * clamp(ready, zz, 3)")!.Check(Scope(), _problems);
        Assert.Equal(4, _problems.Count);
    }

    [Theory]
    [InlineData("a > 1", RuleKind.Condition, 0)]
    [InlineData("a + 1", RuleKind.Condition, 1)]
    [InlineData("if ready then 1 else 2", RuleKind.Condition, 2)]
    [InlineData("a > 1", RuleKind.Number, 1)]
    public void The_wanted_kind_is_enforced(string text, RuleKind wanted, int problems)
    {
        Parse(text)!.Check(Scope(), _problems, wanted);
        Assert.Equal(problems, _problems.Count);
    }

    [Fact]
    public void Names_are_listed_with_their_places()
    {
        Expression rule = Parse("if mode is auto then a - low-side else clamp(a, 0, b)")!;
        Assert.Equal(["mode", "a", "low-side", "a", "b"], rule.Names.Select(n => n.Text));
        Assert.Equal([14, 32, 36, 56, 62], rule.Names.Select(n => n.At.Column));
    }

    [Fact]
    public void Hostile_rules_give_problems_and_no_exceptions()
    {
        string[] pieces = ["(", "not ", "-", "if ", "a + ", "clamp(", "table(", "1 ", "if a then "];
        foreach (string piece in pieces)
        {
            Assert.Null(Parse(string.Concat(Enumerable.Repeat(piece, 100_000))));
            Assert.Null(Parse(string.Concat(Enumerable.Repeat(piece, 900))));
        }
    }

    [Fact]
    public void Evaluation_allocates_nothing()
    {
        CompiledRule rule = Parse("if mode is one of low, auto then table(abs(demand), 0: 4, 100: 12) else clamp(a, 0, b)")!
            .Compile(n => Array.IndexOf(Signals, n), (_, word) => Array.IndexOf(Modes, word));
        double sum = rule.Evaluate(Values);
        long before = GC.GetAllocatedBytesForCurrentThread();
        for (int i = 0; i < 1000; i++) sum += rule.Evaluate(Values);
        Assert.Equal(before, GC.GetAllocatedBytesForCurrentThread());
        Assert.Equal(1001 * 9.6, sum, 1e-6);
    }
}
