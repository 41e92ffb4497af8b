using System.Globalization;
using Ventwright.Model.Sheet.Text;

namespace Ventwright.Model.Rules;

/// <summary>
/// Reads rules such as <c>if mode is auto and demand &lt; -60 then 1 else 0</c>. From weakest to strongest binding: if-then-else, or, and,
/// not, comparisons and <c>is</c>, + and -, * and /, unary minus. Binary operators of one strength go from left to right; comparisons do
/// not chain.
/// </summary>
public sealed class RuleParser
{
    private const int MostCharacters = 20_000;
    private const int MostTokens = 2000;
    private const int DeepestNesting = 100;

    private static readonly string[] Keywords = ["and", "or", "not", "if", "then", "else", "is"];

    private readonly List<Token> _tokens;
    private int _at;
    private int _depth;

    private RuleParser(List<Token> tokens) => _tokens = tokens;

    private Token Current => _tokens[_at];

    /// <summary>Reads a rule.</summary>
    /// <param name="text">The rule.</param>
    /// <param name="at">Where its first character stands.</param>
    /// <param name="problems">Takes what is wrong.</param>
    /// <returns>The rule, or null after a problem.</returns>
    public static Expression? Parse(string text, Mark at, ProblemList problems)
    {
        List<Token>? tokens = text.Length > MostCharacters ? [] : RuleLexer.Cut(text, at, problems);
        if (tokens is null) return null;
        if (tokens.Count is 0 or > MostTokens)
        {
            problems.Error("rule-syntax", at, "the rule is too long", "split it into named signals");
            return null;
        }

        try
        {
            var parser = new RuleParser(tokens);
            Expression expression = parser.ParseExpression();
            return parser.Current.Kind == TokenKind.End ? expression : throw parser.Unexpected("an operator such as '+' or 'and'");
        }
        catch (RuleSyntaxException e)
        {
            problems.Error("rule-syntax", e.At, e.Message, e.Hint);
            return null;
        }
    }

    private Expression ParseExpression()
    {
        if (++_depth > DeepestNesting) throw new RuleSyntaxException(Current.At, "nested too deep", "split it into named signals");
        Expression result = Current.Text == "if" ? ParseChoose() : ParseOr();
        _depth--;
        return result;
    }

    private Choose ParseChoose()
    {
        Mark at = Take().At;
        Expression condition = ParseExpression();
        Expect("then");
        Expression then = ParseExpression();
        Expect("else");
        return new Choose(condition, then, ParseExpression(), at);
    }

    private Expression ParseOr()
    {
        Expression left = ParseAnd();
        while (TryOperator(Current.Text == "or" ? BinaryOperator.Or : null, out BinaryOperator op, out Mark at)) left = new Binary(op, left, ParseAnd(), at);
        return left;
    }

    private Expression ParseAnd()
    {
        Expression left = ParseNot();
        while (TryOperator(Current.Text == "and" ? BinaryOperator.And : null, out BinaryOperator op, out Mark at)) left = new Binary(op, left, ParseNot(), at);
        return left;
    }

    private Expression ParseNot()
    {
        int notAt = _at;
        while (Current.Text == "not") _at++;
        int afterNots = _at;
        Expression result = ParseComparison();
        for (int i = afterNots - 1; i >= notAt; i--) result = new Unary(UnaryOperator.Not, result, _tokens[i].At);
        return result;
    }

    private Expression ParseComparison()
    {
        Expression left = ParseSum();
        if (Current.Text == "is") return ParseIs(left);
        if (!TryOperator(Comparison(Current.Text), out BinaryOperator op, out Mark at)) return left;
        if (Current.Text == "=") throw new RuleSyntaxException(at, "'=' stands twice", "write one '='");
        var result = new Binary(op, left, ParseSum(), at);
        if (Comparison(Current.Text) is not null || Current.Text == "is")
            throw new RuleSyntaxException(Current.At, "two comparisons in a row", "write 'a < b and b < c'");
        return result;
    }

    private IsWord ParseIs(Expression left)
    {
        Mark at = Take().At;
        if (left is not Name signal) throw new RuleSyntaxException(at, "'is' wants a name before it", "write 'mode is auto', or compare numbers with '='");
        bool negated = TryTake("not");
        var words = new List<RuleName>();
        bool many = Current.Text == "one" && _tokens[_at + 1].Text == "of";
        if (many) _at += 2;
        do words.Add(ParseWord());
        while (many && Current.Text == "," && _tokens[_at + 1].Kind == TokenKind.Word && TryTake(","));
        return new IsWord(signal, words, negated, left.At);
    }

    private RuleName ParseWord() =>
        Current.Kind == TokenKind.Word && !Keywords.Contains(Current.Text)
            ? new RuleName(Current.Text, Take().At)
            : throw Unexpected("a word after 'is', as in 'mode is auto'");

    private Expression ParseSum()
    {
        Expression left = ParseProduct();
        while (TryOperator(Current.Text switch { "+" => BinaryOperator.Add, "-" => BinaryOperator.Subtract, _ => null }, out BinaryOperator op, out Mark at))
            left = new Binary(op, left, ParseProduct(), at);
        return left;
    }

    private Expression ParseProduct()
    {
        Expression left = ParseUnary();
        while (TryOperator(Current.Text switch { "*" => BinaryOperator.Multiply, "/" => BinaryOperator.Divide, _ => null }, out BinaryOperator op, out Mark at))
            left = new Binary(op, left, ParseUnary(), at);
        return left;
    }

    private Expression ParseUnary()
    {
        int minusAt = _at;
        while (Current.Text == "-") _at++;
        int afterMinuses = _at;
        Expression result = ParsePrimary();
        for (int i = afterMinuses - 1; i >= minusAt; i--) result = new Unary(UnaryOperator.Negate, result, _tokens[i].At);
        return result;
    }

    private Expression ParsePrimary()
    {
        Token token = Current;
        if (token.Kind == TokenKind.Number) return new Number(ParseNumber(), token.At);
        if (TryTake("("))
        {
            Expression inner = ParseExpression();
            Expect(")");
            return inner;
        }

        if (token.Kind != TokenKind.Word || Keywords.Contains(token.Text)) throw Unexpected("a name, a number or '('");
        _at++;
        if (!TryTake("(")) return new Name(token.Text, token.At);
        Expression call = token.Text == "table" ? ParseTable(token.At) : new Call(token.Text, ParseArguments(), token.At);
        Expect(")");
        return call;
    }

    private List<Expression> ParseArguments()
    {
        var arguments = new List<Expression>();
        if (Current.Text == ")") return arguments;
        do arguments.Add(ParseExpression());
        while (TryTake(","));
        return arguments;
    }

    private Table ParseTable(Mark at)
    {
        Expression input = ParseExpression();
        var points = new List<(double Key, double Value)>();
        while (TryTake(","))
        {
            Mark keyAt = Current.At;
            double key = ParseSigned();
            Expect(":");
            if (points.Count > 0 && key <= points[^1].Key) throw new RuleSyntaxException(keyAt, "the keys of a table must rise", "put the points in order");
            points.Add((key, ParseSigned()));
        }

        return points.Count > 0 ? new Table(input, points, at)
            : throw new RuleSyntaxException(Current.At, "the table has no points", "write 'table(x, 0: 4, 50: 7)'");
    }

    private double ParseSigned() => TryTake("-") ? -ParseNumber() : ParseNumber();

    private double ParseNumber() =>
        Current.Kind == TokenKind.Number ? double.Parse(Take().Text, CultureInfo.InvariantCulture) : throw Unexpected("a number");

    private static BinaryOperator? Comparison(string text) => text switch
    {
        "<" => BinaryOperator.Less,
        "<=" => BinaryOperator.LessOrEqual,
        ">" => BinaryOperator.Greater,
        ">=" => BinaryOperator.GreaterOrEqual,
        "=" => BinaryOperator.Equal,
        "!=" => BinaryOperator.NotEqual,
        _ => null,
    };

    private bool TryOperator(BinaryOperator? here, out BinaryOperator found, out Mark at)
    {
        (found, at) = (here.GetValueOrDefault(), Current.At);
        if (here is null) return false;
        _at++;
        return true;
    }

    private Token Take() => _tokens[_at++];

    private bool TryTake(string text)
    {
        if (Current.Text != text) return false;
        _at++;
        return true;
    }

    private void Expect(string text)
    {
        if (!TryTake(text)) throw Unexpected($"'{text}'");
    }

    private RuleSyntaxException Unexpected(string wanted)
    {
        string found = Current.Kind == TokenKind.End ? "the rule ends" : $"'{Current.Text}' stands";
        return new RuleSyntaxException(Current.At, $"{found} where {wanted} was expected", null);
    }

    /// <summary>Leaves the descent at the first problem; never leaves this class.</summary>
    private sealed class RuleSyntaxException(Mark at, string message, string? hint) : Exception(message)
    {
        public Mark At { get; } = at;

        public string? Hint { get; } = hint;
    }
}
