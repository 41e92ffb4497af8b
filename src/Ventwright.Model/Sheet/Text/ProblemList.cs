namespace Ventwright.Model.Sheet.Text;

/// <summary>Collects problems, so that a person is told all of them at once. Not thread-safe.</summary>
public sealed class ProblemList
{
    private readonly HashSet<Problem> _seen = [];
    private readonly List<Problem> _inOrder = [];

    /// <summary>True when there is at least one error; warnings do not count.</summary>
    public bool HasErrors { get; private set; }

    /// <summary>Number of different problems.</summary>
    public int Count => _inOrder.Count;

    /// <summary>The problems by file, line and column; at one place in the order they were found.</summary>
    public IReadOnlyList<Problem> Sorted =>
        [.. _inOrder.OrderBy(p => p.At.File, StringComparer.Ordinal).ThenBy(p => p.At.Line).ThenBy(p => p.At.Column)];

    /// <summary>Adds a problem unless the very same is there already.</summary>
    public void Add(Problem problem)
    {
        if (!_seen.Add(problem)) return;
        _inOrder.Add(problem);
        HasErrors |= problem.Severity == Severity.Error;
    }

    /// <summary>Adds an error.</summary>
    public void Error(string code, Mark at, string message, string? hint = null, Mark? also = null) =>
        Add(new Problem(code, at, message, hint, also));

    /// <summary>Adds a warning.</summary>
    public void Warning(string code, Mark at, string message, string? hint = null, Mark? also = null) =>
        Add(new Problem(code, at, message, hint, also, Severity.Warning));
}
