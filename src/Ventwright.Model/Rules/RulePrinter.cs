using System.Globalization;

namespace Ventwright.Model.Rules;

/// <summary>Writes rules with no more brackets than needed.</summary>
internal static class RulePrinter
{
    private const int Weakest = 0, ChooseLevel = 0, OrLevel = 1, AndLevel = 2, NotLevel = 3, CompareLevel = 4, SumLevel = 5,
        ProductLevel = 6, NegateLevel = 7, Strongest = 8;

    /// <summary>The text of a rule.</summary>
    public static string Print(Expression expression) => Print(expression, Weakest);

    /// <summary>The sign or word of an operator.</summary>
    public static string Sign(BinaryOperator op) => op switch
    {
        BinaryOperator.Add => "+",
        BinaryOperator.Subtract => "-",
        BinaryOperator.Multiply => "*",
        BinaryOperator.Divide => "/",
        BinaryOperator.Less => "<",
        BinaryOperator.LessOrEqual => "<=",
        BinaryOperator.Greater => ">",
        BinaryOperator.GreaterOrEqual => ">=",
        BinaryOperator.Equal => "=",
        BinaryOperator.NotEqual => "!=",
        BinaryOperator.And => "and",
        _ => "or",
    };

    private static string Print(Expression expression, int needed)
    {
        int level = Level(expression);
        string text = expression switch
        {
            Number n => Figure(n.Value),
            Name n => n.Text,
            Unary { Operator: UnaryOperator.Not } u => $"not {Print(u.Operand, NotLevel)}",
            Unary u => $"-{Print(u.Operand, NegateLevel)}",
            Binary b => $"{Print(b.Left, level == CompareLevel ? level + 1 : level)} {Sign(b.Operator)} {Print(b.Right, level + 1)}",
            Choose c => $"if {Print(c.Condition, OrLevel)} then {Print(c.Then, OrLevel)} else {Print(c.Else, ChooseLevel)}",
            IsWord w => $"{w.Signal.Text} is {(w.Negated ? "not " : "")}{Words(w)}",
            Call c => $"{c.Function}({string.Join(", ", c.Arguments.Select(a => Print(a)))})",
            Table t => $"table({Print(t.Input)}, {string.Join(", ", t.Points.Select(p => $"{Figure(p.Key)}: {Figure(p.Value)}"))})",
            _ => throw new NotSupportedException(expression.GetType().Name),
        };
        return level < needed ? $"({text})" : text;
    }

    private static string Words(IsWord w)
    {
        string words = string.Join(", ", w.Words.Select(x => x.Text));
        return w.Words.Count > 1 ? $"one of {words}" : words;
    }

    private static string Figure(double value) => value.ToString("R", CultureInfo.InvariantCulture);

    private static int Level(Expression expression) => expression switch
    {
        Choose => ChooseLevel,
        Binary b => b.Operator switch
        {
            BinaryOperator.Or => OrLevel,
            BinaryOperator.And => AndLevel,
            BinaryOperator.Add or BinaryOperator.Subtract => SumLevel,
            BinaryOperator.Multiply or BinaryOperator.Divide => ProductLevel,
            _ => CompareLevel,
        },
        IsWord => CompareLevel,
        Unary u => u.Operator == UnaryOperator.Not ? NotLevel : NegateLevel,
        _ => Strongest,
    };
}
