using Ventwright.Model.Sheet.Text;

namespace Ventwright.Model.Rules;

/// <summary>A name as used in a rule.</summary>
/// <param name="Text">The name.</param>
/// <param name="At">Where it stands.</param>
public readonly record struct RuleName(string Text, Mark At);

/// <summary>
/// A rule of a module, read but not yet tied to signals. Immutable. Two expressions are equal when they say the same, wherever they stand.
/// </summary>
public abstract record Expression
{
    private protected Expression()
    {
    }

    /// <summary>Where it stands: at the operator for two operands, else at its start.</summary>
    public abstract Mark At { get; init; }

    /// <summary>The signals used, each use with its place, in the order of the text.</summary>
    public IReadOnlyList<RuleName> Names => [.. CollectNames()];

    internal abstract IEnumerable<Expression> Parts { get; }

    /// <summary>Equal kind; the place does not count. Members are compared by the records that have them.</summary>
    public virtual bool Equals(Expression? other) => other is not null && EqualityContract == other.EqualityContract;

    /// <inheritdoc/>
    public override int GetHashCode() => EqualityContract.GetHashCode();

    /// <summary>The rule as text that reads back to an equal expression.</summary>
    public sealed override string ToString() => RulePrinter.Print(this);

    /// <summary>
    /// Checks names, words, functions and kinds (number where a condition is wanted and the other way round).
    /// </summary>
    /// <param name="scope">What is known.</param>
    /// <param name="problems">Takes what is wrong.</param>
    /// <param name="wanted">What the rule must give, or null when any will do.</param>
    /// <returns>What the rule gives, or null when that is not known because of a problem.</returns>
    public RuleKind? Check(RuleScope scope, ProblemList problems, RuleKind? wanted = null) =>
        new RuleChecker(scope, problems).Check(this, wanted);

    /// <summary>Makes the rule ready to run. Check it first.</summary>
    /// <param name="indexOfName">Index of a signal in the values given to <see cref="CompiledRule.Evaluate"/>.</param>
    /// <param name="wordValue">The number that stands for a word of a signal (signal, word).</param>
    public CompiledRule Compile(Func<string, int> indexOfName, Func<string, string, int> wordValue) =>
        new RuleCompiler(indexOfName, wordValue).Compile(this);

    private IEnumerable<RuleName> CollectNames() =>
        this is Name name ? [new RuleName(name.Text, At)] : Parts.SelectMany(p => p.CollectNames());
}

internal enum UnaryOperator
{
    Negate,
    Not,
}

internal enum BinaryOperator
{
    Add,
    Subtract,
    Multiply,
    Divide,
    Less,
    LessOrEqual,
    Greater,
    GreaterOrEqual,
    Equal,
    NotEqual,
    And,
    Or,
}

/// <summary>A number, never negative: a minus is an operator.</summary>
internal sealed record Number(double Value, Mark At) : Expression
{
    internal override IEnumerable<Expression> Parts => [];

    public bool Equals(Number? other) => base.Equals(other) && Value.Equals(other.Value);

    public override int GetHashCode() => Value.GetHashCode();
}

internal sealed record Name(string Text, Mark At) : Expression
{
    internal override IEnumerable<Expression> Parts => [];

    public bool Equals(Name? other) => base.Equals(other) && Text == other.Text;

    public override int GetHashCode() => Text.GetHashCode(StringComparison.Ordinal);
}

internal sealed record Unary(UnaryOperator Operator, Expression Operand, Mark At) : Expression
{
    internal override IEnumerable<Expression> Parts => [Operand];

    public bool Equals(Unary? other) => base.Equals(other) && Operator == other.Operator && Operand.Equals(other.Operand);

    public override int GetHashCode() => HashCode.Combine(Operator, Operand);
}

internal sealed record Binary(BinaryOperator Operator, Expression Left, Expression Right, Mark At) : Expression
{
    internal override IEnumerable<Expression> Parts => [Left, Right];

    public bool Equals(Binary? other) =>
        base.Equals(other) && Operator == other.Operator && Left.Equals(other.Left) && Right.Equals(other.Right);

    public override int GetHashCode() => HashCode.Combine(Operator, Left, Right);
}

internal sealed record Choose(Expression Condition, Expression Then, Expression Else, Mark At) : Expression
{
    internal override IEnumerable<Expression> Parts => [Condition, Then, Else];

    public bool Equals(Choose? other) =>
        base.Equals(other) && Condition.Equals(other.Condition) && Then.Equals(other.Then) && Else.Equals(other.Else);

    public override int GetHashCode() => HashCode.Combine(Condition, Then, Else);
}

/// <summary><c>signal is a</c>, <c>signal is one of a, b</c>, and the same with <c>is not</c>.</summary>
internal sealed record IsWord(Name Signal, IReadOnlyList<RuleName> Words, bool Negated, Mark At) : Expression
{
    internal override IEnumerable<Expression> Parts => [Signal];

    public bool Equals(IsWord? other) =>
        base.Equals(other) && Signal.Equals(other.Signal) && Negated == other.Negated
        && Words.Select(w => w.Text).SequenceEqual(other.Words.Select(w => w.Text));

    public override int GetHashCode() => HashCode.Combine(Signal, Words.Count, Negated);
}

internal sealed record Call(string Function, IReadOnlyList<Expression> Arguments, Mark At) : Expression
{
    internal override IEnumerable<Expression> Parts => Arguments;

    public bool Equals(Call? other) => base.Equals(other) && Function == other.Function && Arguments.SequenceEqual(other.Arguments);

    public override int GetHashCode() => HashCode.Combine(Function, Arguments.Count);
}

/// <summary>Straight lines between points with rising keys, held at the ends.</summary>
internal sealed record Table(Expression Input, IReadOnlyList<(double Key, double Value)> Points, Mark At) : Expression
{
    internal override IEnumerable<Expression> Parts => [Input];

    public bool Equals(Table? other) => base.Equals(other) && Input.Equals(other.Input) && Points.SequenceEqual(other.Points);

    public override int GetHashCode() => HashCode.Combine(Input, Points.Count);
}
