using System.Globalization;

namespace Ventwright.Diagnosis;

/// <summary>Kind of an outcome.</summary>
public enum OutcomeKind
{
    /// <summary>A number in the check's unit.</summary>
    Number,

    /// <summary>One of the check's words.</summary>
    Word,

    /// <summary>The meter shows nothing steady.</summary>
    Unsteady,
}

/// <summary>What a person reads at a check: a number, one of the check's words, or nothing steady.</summary>
public readonly record struct Outcome
{
    private Outcome(OutcomeKind kind, double value, int word)
    {
        Kind = kind;
        Value = value;
        WordIndex = word;
    }

    /// <summary>The meter shows nothing steady; allowed on every check.</summary>
    public static Outcome Unsteady { get; } = new(OutcomeKind.Unsteady, 0, 0);

    /// <summary>Kind of the outcome.</summary>
    public OutcomeKind Kind { get; }

    /// <summary>The number, in the check's unit; 0 for the other kinds.</summary>
    public double Value { get; }

    /// <summary>Index into the check's words; 0 for the other kinds.</summary>
    public int WordIndex { get; }

    /// <summary>A number in the check's unit.</summary>
    public static Outcome Number(double value) => new(OutcomeKind.Number, value, 0);

    /// <summary>A word, by its index in <see cref="CheckEntry.Words"/>.</summary>
    public static Outcome Word(int index) => new(OutcomeKind.Word, 0, index);

    /// <inheritdoc/>
    public override string ToString() => Kind switch
    {
        OutcomeKind.Number => Value.ToString("G6", CultureInfo.InvariantCulture),
        OutcomeKind.Word => "word " + WordIndex.ToString(CultureInfo.InvariantCulture),
        _ => "unsteady",
    };
}
