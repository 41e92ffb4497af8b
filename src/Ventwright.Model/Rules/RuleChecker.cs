using Ventwright.Model.Sheet.Text;
using Ventwright.Quantities;

namespace Ventwright.Model.Rules;

/// <summary>Finds what is wrong with the meaning of a rule.</summary>
internal sealed class RuleChecker(RuleScope scope, ProblemList problems)
{
    private static readonly Dictionary<string, (int Least, int Most, string Example)> Functions = new(StringComparer.Ordinal)
    {
        ["clamp"] = (3, 3, "clamp(x, -100, 100)"),
        ["abs"] = (1, 1, "abs(x)"),
        ["min"] = (2, int.MaxValue, "min(a, b)"),
        ["max"] = (2, int.MaxValue, "max(a, b)"),
    };

    /// <summary>Checks an expression that must give the wanted kind; null means any. Returns what it gives, null when that is not known.</summary>
    public RuleKind? Check(Expression expression, RuleKind? wanted)
    {
        RuleKind? kind = expression switch
        {
            Number => RuleKind.Number,
            Name name => CheckName(name),
            Unary unary => CheckUnary(unary),
            Binary binary => CheckBinary(binary),
            Choose choose => CheckChoose(choose, wanted),
            IsWord isWord => CheckIs(isWord),
            Call call => CheckCall(call),
            Table table => CheckAll(RuleKind.Number, RuleKind.Number, table.Input),
            _ => throw new NotSupportedException(expression.GetType().Name),
        };
        if (kind is { } found && wanted is { } want && found != want && expression is not Choose) ReportKind(expression, found, want);
        return kind;
    }

    private RuleKind? CheckName(Name name)
    {
        if (scope.KindOf(name.Text) is { } kind) return kind;
        string? hint = Difference(name.Text) ?? Meant(NearMiss.Suggest(name.Text, scope.Names));
        problems.Error("unknown-signal", name.At, $"there is no signal '{name.Text}'", hint);
        return null;
    }

    /// <summary>For <c>a-b</c> where <c>a</c> and <c>b</c> are both something: most likely a difference was meant.</summary>
    private string? Difference(string name)
    {
        for (int at = name.IndexOf('-', StringComparison.Ordinal); at > 0; at = name.IndexOf('-', at + 1))
        {
            string left = name[..at], right = name[(at + 1)..];
            if (scope.KindOf(left) is not null && (scope.KindOf(right) is not null || right.All(c => char.IsAsciiDigit(c) || c == '.')))
                return $"for a difference put spaces around the minus: '{left} - {right}'";
        }

        return null;
    }

    private RuleKind? CheckUnary(Unary unary)
    {
        RuleKind kind = unary.Operator == UnaryOperator.Not ? RuleKind.Condition : RuleKind.Number;
        return CheckAll(kind, kind, unary.Operand);
    }

    private RuleKind? CheckBinary(Binary binary) => binary.Operator switch
    {
        BinaryOperator.And or BinaryOperator.Or => CheckAll(RuleKind.Condition, RuleKind.Condition, binary.Left, binary.Right),
        BinaryOperator.Add or BinaryOperator.Subtract or BinaryOperator.Multiply or BinaryOperator.Divide =>
            CheckAll(RuleKind.Number, RuleKind.Number, binary.Left, binary.Right),
        _ => CheckAll(RuleKind.Condition, RuleKind.Number, binary.Left, binary.Right),
    };

    private RuleKind? CheckChoose(Choose choose, RuleKind? wanted)
    {
        Check(choose.Condition, RuleKind.Condition);
        RuleKind? then = Check(choose.Then, wanted);
        return Check(choose.Else, wanted ?? then) ?? then;
    }

    private RuleKind? CheckIs(IsWord isWord)
    {
        RuleKind? kind = CheckName(isWord.Signal);
        if (kind is not null and not RuleKind.Word)
        {
            string hint = kind == RuleKind.Number ? "compare numbers with '='" : $"write '{isWord.Signal.Text}' or 'not {isWord.Signal.Text}'";
            problems.Error("rule-kind", isWord.Signal.At, $"'{isWord.Signal.Text}' is {Noun(kind.Value)}, not a word", hint);
        }

        if (kind != RuleKind.Word) return RuleKind.Condition;
        IReadOnlyList<string> words = scope.WordsOf(isWord.Signal.Text);
        foreach (RuleName word in isWord.Words.Where(w => !words.Contains(w.Text)))
        {
            string hint = Meant(NearMiss.Suggest(word.Text, words)) ?? $"it can be {string.Join(", ", words)}";
            problems.Error("unknown-word", word.At, $"'{isWord.Signal.Text}' is never '{word.Text}'", hint);
        }

        return RuleKind.Condition;
    }

    private RuleKind? CheckCall(Call call)
    {
        if (!Functions.TryGetValue(call.Function, out var function))
        {
            string[] known = [.. Functions.Keys, "table"];
            string hint = Meant(NearMiss.Suggest(call.Function, known)) ?? $"known are {string.Join(", ", known)}";
            problems.Error("unknown-function", call.At, $"there is no function '{call.Function}'", hint);
            foreach (Expression argument in call.Arguments) Check(argument, null);
            return null;
        }

        if (call.Arguments.Count < function.Least || call.Arguments.Count > function.Most)
        {
            string count = function.Most == int.MaxValue ? $"at least {function.Least} values" : function.Least == 1 ? "1 value" : $"{function.Least} values";
            problems.Error("rule-arguments", call.At, $"'{call.Function}' wants {count}; here are {call.Arguments.Count}", $"write '{function.Example}'");
        }

        return CheckAll(RuleKind.Number, RuleKind.Number, [.. call.Arguments]);
    }

    /// <summary>Checks parts that must all be of one kind, and returns the kind of the whole.</summary>
    private RuleKind CheckAll(RuleKind whole, RuleKind parts, params ReadOnlySpan<Expression> expressions)
    {
        foreach (Expression expression in expressions) Check(expression, parts);
        return whole;
    }

    private void ReportKind(Expression expression, RuleKind found, RuleKind wanted)
    {
        string text = expression.ToString();
        string hint = (found, wanted) switch
        {
            (RuleKind.Number, RuleKind.Condition) => $"compare it, as in '{Shorten(text)} > 0'",
            (RuleKind.Condition, RuleKind.Number) => $"write 'if {Shorten(text)} then 1 else 0'",
            (RuleKind.Word, _) => $"write '{Shorten(text)} is {(scope.WordsOf(text) is [var first, ..] ? first : "on")}'",
            _ => "write the name of a signal that is a word",
        };
        problems.Error("rule-kind", expression.At, $"'{Shorten(text)}' is {Noun(found)}; {Noun(wanted)} was expected", hint);
    }

    private static string Shorten(string text) => text.Length <= 40 ? text : string.Concat(text.AsSpan(0, 37), "...");

    private static string? Meant(string? near) => near is null ? null : $"did you mean '{near}'?";

    private static string Noun(RuleKind kind) => kind switch
    {
        RuleKind.Number => "a number",
        RuleKind.Condition => "a condition (yes or no)",
        _ => "a word",
    };
}
