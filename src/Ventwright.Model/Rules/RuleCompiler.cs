namespace Ventwright.Model.Rules;

/// <summary>Turns an expression into a postfix program. One use only.</summary>
internal sealed class RuleCompiler(Func<string, int> indexOfName, Func<string, string, int> wordValue)
{
    private readonly List<Instruction> _program = [];
    private readonly List<(double Key, double Value)[]> _tables = [];
    private readonly List<int[]> _words = [];
    private int _stack;
    private int _stackSize;

    /// <summary>Compiles.</summary>
    public CompiledRule Compile(Expression expression)
    {
        Emit(expression);
        return new CompiledRule([.. _program], [.. _tables], [.. _words], _stackSize);
    }

    private void Emit(Expression expression)
    {
        foreach (Expression part in expression.Parts)
        {
            Emit(part);
            if (expression is Call { Function: "min" or "max" } fold && !ReferenceEquals(part, fold.Arguments[0])) Add(FunctionStep(fold.Function));
        }

        switch (expression)
        {
            case Number number: Add(Step.Constant, value: number.Value); break;
            case Name name: Add(Step.Signal, indexOfName(name.Text)); break;
            case Unary unary: Add(unary.Operator == UnaryOperator.Not ? Step.Not : Step.Negate); break;
            case Binary binary: Add(BinaryStep(binary.Operator)); break;
            case Choose: Add(Step.Choose); break;
            case IsWord isWord: EmitIs(isWord); break;
            case Table table:
                _tables.Add([.. table.Points]);
                Add(Step.Table, _tables.Count - 1);
                break;
            case Call { Function: not ("min" or "max") } call: Add(FunctionStep(call.Function)); break;
        }
    }

    private void EmitIs(IsWord isWord)
    {
        _words.Add([.. isWord.Words.Select(w => wordValue(isWord.Signal.Text, w.Text))]);
        Add(Step.IsWord, _words.Count - 1);
        if (isWord.Negated) Add(Step.Not);
    }

    private void Add(Step step, int index = 0, double value = 0)
    {
        _program.Add(new Instruction(step, index, value));
        _stack += 1 - CompiledRule.Operands(step);
        _stackSize = Math.Max(_stackSize, _stack);
    }

    private static Step FunctionStep(string function) => function switch
    {
        "min" => Step.Min,
        "max" => Step.Max,
        "abs" => Step.Abs,
        "clamp" => Step.Clamp,
        _ => throw new InvalidOperationException($"unchecked rule: no function '{function}'"),
    };

    private static Step BinaryStep(BinaryOperator op) => op switch
    {
        BinaryOperator.Add => Step.Add,
        BinaryOperator.Subtract => Step.Subtract,
        BinaryOperator.Multiply => Step.Multiply,
        BinaryOperator.Divide => Step.Divide,
        BinaryOperator.Less => Step.Less,
        BinaryOperator.LessOrEqual => Step.LessOrEqual,
        BinaryOperator.Greater => Step.Greater,
        BinaryOperator.GreaterOrEqual => Step.GreaterOrEqual,
        BinaryOperator.Equal => Step.Equal,
        BinaryOperator.NotEqual => Step.NotEqual,
        BinaryOperator.And => Step.And,
        _ => Step.Or,
    };
}
