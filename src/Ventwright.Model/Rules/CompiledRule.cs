namespace Ventwright.Model.Rules;

internal enum Step
{
    Constant,
    Signal,
    Negate,
    Not,
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
    Choose,
    IsWord,
    Abs,
    Min,
    Max,
    Clamp,
    Table,
}

/// <summary>One step of a postfix program. What index and value mean depends on the step.</summary>
internal readonly record struct Instruction(Step Step, int Index, double Value);

/// <summary>A rule ready to run. Immutable and thread-safe; nothing is allocated when it runs.</summary>
public sealed class CompiledRule
{
    private readonly Instruction[] _program;
    private readonly (double Key, double Value)[][] _tables;
    private readonly int[][] _words;
    private readonly int _stackSize;

    internal CompiledRule(Instruction[] program, (double Key, double Value)[][] tables, int[][] words, int stackSize)
    {
        (_program, _tables, _words, _stackSize) = (program, tables, words, stackSize);
    }

    /// <summary>Indices of the signals that the rule reads, in the order of its text, each once.</summary>
    public IReadOnlyList<int> Reads => [.. _program.Where(i => i.Step == Step.Signal).Select(i => i.Index).Distinct()];

    /// <summary>Whether it has a threshold that could be off: a comparison or a table.</summary>
    public bool HasThreshold => _program.Any(i => i.Step is (>= Step.Less and <= Step.GreaterOrEqual) or Step.Table);

    /// <summary>Whether its result is yes or no. An if between two conditions counts as a number.</summary>
    public bool IsCondition => _program[^1].Step is Step.Not or Step.IsWord or (>= Step.Less and <= Step.Or);

    /// <summary>
    /// Computes the rule. Conditions give 1 or 0. Both branches of an if are computed; division by zero follows IEEE 754.
    /// </summary>
    /// <param name="signals">Values of the signals, by the indices given when the rule was compiled.</param>
    /// <param name="shift">By which share the right-hand sides of its comparisons and the keys of its tables are off; 0 in a sound module.</param>
    public double Evaluate(ReadOnlySpan<double> signals, double shift = 0)
    {
        Span<double> stack = stackalloc double[_stackSize];
        int top = -1;
        foreach (ref readonly Instruction instruction in _program.AsSpan())
        {
            int used = Operands(instruction.Step);
            int first = top - used + 1;
            stack[first] = used switch
            {
                0 => instruction.Step == Step.Constant ? instruction.Value : signals[instruction.Index],
                1 => One(in instruction, instruction.Step == Step.Table ? stack[first] / (1 + shift) : stack[first]),
                2 => Two(instruction.Step, stack[first], instruction.Step is >= Step.Less and <= Step.GreaterOrEqual ? stack[first + 1] * (1 + shift) : stack[first + 1]),
                _ => Three(instruction.Step, stack[first], stack[first + 1], stack[first + 2]),
            };
            top = first;
        }

        return stack[0];
    }

    /// <summary>How many values a step takes from the stack; each puts one back.</summary>
    internal static int Operands(Step step) => step switch
    {
        Step.Constant or Step.Signal => 0,
        Step.Negate or Step.Not or Step.Abs or Step.IsWord or Step.Table => 1,
        Step.Choose or Step.Clamp => 3,
        _ => 2,
    };

    private double One(in Instruction instruction, double x) => instruction.Step switch
    {
        Step.Negate => -x,
        Step.Not => Truth(x == 0),
        Step.Abs => Math.Abs(x),
        Step.IsWord => Truth(Array.IndexOf(_words[instruction.Index], (int)x) >= 0),
        _ => Interpolate(_tables[instruction.Index], x),
    };

    private static double Two(Step step, double a, double b) => step switch
    {
        Step.Add => a + b,
        Step.Subtract => a - b,
        Step.Multiply => a * b,
        Step.Divide => a / b,
        Step.Less => Truth(a < b),
        Step.LessOrEqual => Truth(a <= b),
        Step.Greater => Truth(a > b),
        Step.GreaterOrEqual => Truth(a >= b),
        Step.Equal => Truth(a == b),
        Step.NotEqual => Truth(a != b),
        Step.And => Truth(a != 0 && b != 0),
        Step.Or => Truth(a != 0 || b != 0),
        Step.Min => Math.Min(a, b),
        _ => Math.Max(a, b),
    };

    private static double Three(Step step, double a, double b, double c) =>
        step == Step.Choose ? (a != 0 ? b : c) : Math.Max(b, Math.Min(c, a));

    private static double Truth(bool condition) => condition ? 1 : 0;

    /// <summary>Straight lines between the points, held at the ends; NaN stays NaN.</summary>
    private static double Interpolate((double Key, double Value)[] points, double x)
    {
        if (double.IsNaN(x)) return x;
        int next = 0;
        while (next < points.Length && points[next].Key < x) next++;
        if (next == 0) return points[0].Value;
        if (next == points.Length) return points[^1].Value;
        (double key0, double value0) = points[next - 1];
        (double key1, double value1) = points[next];
        return value0 + (value1 - value0) * ((x - key0) / (key1 - key0));
    }
}
