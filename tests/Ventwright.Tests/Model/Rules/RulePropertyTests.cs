using System.Text;
using CsCheck;
using Ventwright.Model.Rules;
using Ventwright.Model.Sheet.Text;

namespace Ventwright.Tests.Model.Rules;

/// <summary>
/// Reference: the meaning of each random expression is built beside it from C# operators, without the parser, printer or compiler.
/// </summary>
public class RulePropertyTests
{
    private static readonly string[] Signals = ["x", "low-side", "mod.5v", "mode"];
    private static readonly string[] Modes = ["off", "auto", "high"];

    private sealed record Sample(Expression Rule, Func<double[], double> Meaning);

    [Fact]
    public void A_random_rule_computes_what_csharp_computes_and_reads_back_from_its_text()
    {
        Gen.Select(Gen.Int[0, int.MaxValue], Gen.Bool, Gen.Double[-3, 3].Array[3], Gen.Int[0, 2]).Sample((seed, condition, numbers, mode) =>
        {
            var random = new Random(seed);
            Sample sample = condition ? Condition(random, 5) : Number(random, 5);
            double[] signals = [.. numbers, mode];
            var problems = new ProblemList();
            RuleKind? kind = sample.Rule.Check(Scope(), problems);
            Assert.Equal(0, problems.Count);
            Assert.Equal(condition ? RuleKind.Condition : RuleKind.Number, kind);

            CompiledRule compiled = sample.Rule.Compile(n => Array.IndexOf(Signals, n), (_, word) => Array.IndexOf(Modes, word));
            Assert.Equal(sample.Meaning(signals), compiled.Evaluate(signals));
            Expression? again = RuleParser.Parse(sample.Rule.ToString(), default, problems);
            Assert.Equal(0, problems.Count);
            Assert.Equal(sample.Rule, again);
            Assert.Equal(sample.Rule.GetHashCode(), again!.GetHashCode());
        }, iter: 5000);
    }

    [Fact]
    public void No_text_throws()
    {
        string[] pieces = ["a", "mode", "is", "not", "one of", ",", "(", ")", "if", "then", "else", "1", "2.5", "<", "=", "and", "or", "-", "table(", ":", "clamp(", "\u00B1", "'"];
        Gen.Int[0, pieces.Length - 1].List[0, 20].Sample(picks =>
        {
            var text = new StringBuilder().AppendJoin(' ', picks.Select(p => pieces[p]));
            var problems = new ProblemList();
            Expression? rule = RuleParser.Parse(text.ToString(), default, problems);
            Assert.Equal(rule is null, problems.HasErrors);
            rule?.Check(Scope(), problems);
        }, iter: 20_000);
    }

    private static RuleScope Scope()
    {
        var scope = new RuleScope();
        foreach (string name in Signals[..3]) scope.AddNumber(name);
        scope.AddWord("mode", Modes);
        return scope;
    }

    private static Sample Number(Random random, int depth)
    {
        int pick = random.Next(depth == 0 ? 2 : 9);
        switch (pick)
        {
            case 0:
                double value = Math.Round(random.NextDouble() * 10, random.Next(4));
                return new Sample(new Number(value, default), _ => value);
            case 1:
                int signal = random.Next(3);
                return new Sample(new Name(Signals[signal], default), s => s[signal]);
            case 2:
                Sample x = Number(random, depth - 1);
                return new Sample(new Unary(UnaryOperator.Negate, x.Rule, default), s => -x.Meaning(s));
            case 3:
                Sample c = Condition(random, depth - 1), then = Number(random, depth - 1), otherwise = Number(random, depth - 1);
                return new Sample(new Choose(c.Rule, then.Rule, otherwise.Rule, default), s => c.Meaning(s) == 1 ? then.Meaning(s) : otherwise.Meaning(s));
            case 4: return Function(random, depth);
            default: return Arithmetic(pick, Number(random, depth - 1), Number(random, depth - 1));
        }
    }

    private static Sample Arithmetic(int pick, Sample a, Sample b)
    {
        (BinaryOperator op, Func<double, double, double> f) = pick switch
        {
            5 => (BinaryOperator.Add, (Func<double, double, double>)((p, q) => p + q)),
            6 => (BinaryOperator.Subtract, (p, q) => p - q),
            7 => (BinaryOperator.Multiply, (p, q) => p * q),
            _ => (BinaryOperator.Divide, (p, q) => p / q),
        };
        return new Sample(new Binary(op, a.Rule, b.Rule, default), s => f(a.Meaning(s), b.Meaning(s)));
    }

    private static Sample Function(Random random, int depth)
    {
        Sample a = Number(random, depth - 1), b = Number(random, depth - 1), c = Number(random, depth - 1);
        switch (random.Next(5))
        {
            case 0: return new Sample(new Call("abs", [a.Rule], default), s => Math.Abs(a.Meaning(s)));
            case 1: return new Sample(new Call("min", [a.Rule, b.Rule, c.Rule], default), s => Math.Min(Math.Min(a.Meaning(s), b.Meaning(s)), c.Meaning(s)));
            case 2: return new Sample(new Call("max", [a.Rule, b.Rule], default), s => Math.Max(a.Meaning(s), b.Meaning(s)));
            case 3:
                return new Sample(new Call("clamp", [a.Rule, new Unary(UnaryOperator.Negate, new Number(1, default), default), new Number(2, default)], default),
                    s => Math.Clamp(a.Meaning(s), -1, 2));
            default:
                return new Sample(new Table(a.Rule, [(-1, 4), (0, -2.5), (2, 1)], default), s => a.Meaning(s) switch
                {
                    < -1 => 4,
                    < 0 and var x => 4 + -6.5 * (x + 1),
                    < 2 and var x => -2.5 + 3.5 * (x / 2),
                    double.NaN => double.NaN,
                    _ => 1,
                });
        }
    }

    private static Sample Condition(Random random, int depth)
    {
        int pick = random.Next(depth == 0 ? 2 : 6);
        if (pick == 0) return IsMode(random);
        if (pick <= 2) return Compare(random.Next(6), Number(random, Math.Max(depth - 1, 0)), Number(random, Math.Max(depth - 1, 0)));
        Sample a = Condition(random, depth - 1), b = Condition(random, depth - 1);
        return pick switch
        {
            3 => new Sample(new Unary(UnaryOperator.Not, a.Rule, default), s => 1 - a.Meaning(s)),
            4 => new Sample(new Binary(BinaryOperator.And, a.Rule, b.Rule, default), s => a.Meaning(s) * b.Meaning(s)),
            _ => new Sample(new Binary(BinaryOperator.Or, a.Rule, b.Rule, default), s => Math.Max(a.Meaning(s), b.Meaning(s))),
        };
    }

    private static Sample IsMode(Random random)
    {
        int first = random.Next(3), second = random.Next(3);
        bool negated = random.Next(2) == 0;
        int[] wanted = random.Next(2) == 0 ? [first] : [first, second];
        return new Sample(new IsWord(new Name("mode", default), [.. wanted.Select(w => new RuleName(Modes[w], default))], negated, default),
            s => wanted.Contains((int)s[3]) != negated ? 1 : 0);
    }

    private static Sample Compare(int pick, Sample a, Sample b)
    {
        (BinaryOperator op, Func<double, double, bool> f) = pick switch
        {
            0 => (BinaryOperator.Less, (Func<double, double, bool>)((p, q) => p < q)),
            1 => (BinaryOperator.LessOrEqual, (p, q) => p <= q),
            2 => (BinaryOperator.Greater, (p, q) => p > q),
            3 => (BinaryOperator.GreaterOrEqual, (p, q) => p >= q),
            4 => (BinaryOperator.Equal, (p, q) => p == q),
            _ => (BinaryOperator.NotEqual, (p, q) => p != q),
        };
        return new Sample(new Binary(op, a.Rule, b.Rule, default), s => f(a.Meaning(s), b.Meaning(s)) ? 1 : 0);
    }
}
