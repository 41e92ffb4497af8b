namespace Ventwright.Model.Rules;

/// <summary>What a signal or a rule gives.</summary>
public enum RuleKind
{
    /// <summary>A number.</summary>
    Number,

    /// <summary>Yes or no, held as 1 or 0.</summary>
    Condition,

    /// <summary>One of some words, such as the positions of a switch, held as the number of the word.</summary>
    Word,
}

/// <summary>The signals that rules may use.</summary>
public sealed class RuleScope
{
    private readonly Dictionary<string, (RuleKind Kind, IReadOnlyList<string> Words)> _signals = new(StringComparer.Ordinal);

    /// <summary>All names in the order they were added.</summary>
    public IEnumerable<string> Names => _signals.Keys;

    /// <summary>Adds a signal that is a number.</summary>
    /// <exception cref="ArgumentException">The name is there already.</exception>
    public void AddNumber(string name) => _signals.Add(name, (RuleKind.Number, []));

    /// <summary>Adds a signal that is yes or no.</summary>
    /// <exception cref="ArgumentException">The name is there already.</exception>
    public void AddCondition(string name) => _signals.Add(name, (RuleKind.Condition, []));

    /// <summary>Adds a signal that is one of some words.</summary>
    /// <exception cref="ArgumentException">The name is there already.</exception>
    public void AddWord(string name, IReadOnlyList<string> words) => _signals.Add(name, (RuleKind.Word, words));

    /// <summary>What the signal is, or null when it is not known.</summary>
    public RuleKind? KindOf(string name) => _signals.TryGetValue(name, out var signal) ? signal.Kind : null;

    /// <summary>The words of a word-valued signal; empty for others.</summary>
    public IReadOnlyList<string> WordsOf(string name) => _signals.TryGetValue(name, out var signal) ? signal.Words : [];
}
