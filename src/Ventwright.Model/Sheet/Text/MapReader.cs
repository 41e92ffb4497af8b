using Ventwright.Quantities;

namespace Ventwright.Model.Sheet.Text;

/// <summary>
/// Reads the keys of one map and remembers which were asked for, so that <see cref="Done"/> can report the others. Problems are reported at
/// the value that has them; the method then returns null or the given default.
/// </summary>
/// <param name="map">The map.</param>
/// <param name="problems">Takes what is wrong.</param>
public sealed class MapReader(SheetMap map, ProblemList problems)
{
    private readonly List<string> _asked = [];

    /// <summary>Where the map starts.</summary>
    public Mark Mark => map.Mark;

    /// <summary>The map itself.</summary>
    public SheetMap Source => map;

    /// <summary>Where problems go.</summary>
    public ProblemList Problems => problems;

    /// <summary>Whether the key is there. Counts as asked for.</summary>
    public bool Has(string key) => Node(key) is not null;

    /// <summary>The value of a key as it stands, or null; reports it when it is required and missing.</summary>
    public SheetNode? Node(string key, bool required = false)
    {
        if (!_asked.Contains(key)) _asked.Add(key);
        SheetNode? node = map[key];
        if (node is null && required) problems.Error("missing-key", map.Mark, $"'{key}' is missing", Misspelt(key));
        return node;
    }

    /// <summary>Where the value of a key is, or the map when the key is not there.</summary>
    public Mark MarkOf(string key) => map[key]?.Mark ?? map.Mark;

    /// <summary>Text.</summary>
    public string? Text(string key, bool required = false) =>
        Node(key, required) is { } node ? ValueReader.Text(node, key, problems) : null;

    /// <summary>Text with its place, for text that is read further (rules).</summary>
    public SheetScalar? Scalar(string key, bool required = false) =>
        Node(key, required) is { } node && ValueReader.Text(node, key, problems) is not null ? (SheetScalar)node : null;

    /// <summary>A quantity in SI.</summary>
    public double? Quantity(string key, Dimension dimension, bool required = false, Allowed allowed = Allowed.Any) =>
        Node(key, required) is { } node ? ValueReader.Quantity(node, key, dimension, problems, allowed) : null;

    /// <summary>A quantity in SI with a default in SI.</summary>
    public double Quantity(string key, Dimension dimension, double otherwise, Allowed allowed = Allowed.Any) =>
        Quantity(key, dimension, false, allowed) ?? otherwise;

    /// <summary>A band in SI.</summary>
    public (double Low, double High)? Band(string key, Dimension dimension, bool required = false) =>
        Node(key, required) is { } node ? ValueReader.Band(node, key, dimension, problems) : null;

    /// <summary>A plain number.</summary>
    public double? Number(string key, bool required = false, Allowed allowed = Allowed.Any) =>
        Quantity(key, Dimension.None, required, allowed);

    /// <summary>A plain number with a default.</summary>
    public double Number(string key, double otherwise, Allowed allowed = Allowed.Any) => Number(key, false, allowed) ?? otherwise;

    /// <summary>A whole number.</summary>
    public int? Whole(string key, bool required = false) => Node(key, required) is { } node ? ValueReader.Whole(node, key, problems) : null;

    /// <summary><c>yes</c> or <c>no</c>.</summary>
    public bool Flag(string key, bool otherwise) => (Node(key) is { } node ? ValueReader.Flag(node, key, problems) : null) ?? otherwise;

    /// <summary>One of some words.</summary>
    public string? Word(string key, IReadOnlyCollection<string> words, bool required = false) =>
        Node(key, required) is { } node ? ValueReader.Word(node, key, words, problems) : null;

    /// <summary>A member of an enum, written in lower case with hyphens.</summary>
    public T? Choice<T>(string key, bool required = false)
        where T : struct, Enum =>
        Node(key, required) is { } node ? ValueReader.Choice<T>(node, key, problems) : null;

    /// <summary>Names: a list of words, or one word. Empty when the key is not there or wrong.</summary>
    public List<string> Names(string key, bool required = false) => [.. Scalars(key, required).Select(s => s.Text)];

    /// <summary>As <see cref="Names"/>, with the place of each name.</summary>
    public List<SheetScalar> Scalars(string key, bool required = false) =>
        (Node(key, required) is { } node ? ValueReader.Names(node, key, problems) : null) ?? [];

    /// <summary>A list as it stands.</summary>
    public SheetList? List(string key, bool required = false) => Node(key, required) is { } node ? ValueReader.List(node, key, problems) : null;

    /// <summary>A map as it stands.</summary>
    public SheetMap? Map(string key, bool required = false) => Node(key, required) is { } node ? ValueReader.Map(node, key, problems) : null;

    /// <summary>A reader for a map inside this one.</summary>
    public MapReader? Reader(string key, bool required = false) => Map(key, required) is { } inner ? new MapReader(inner, problems) : null;

    /// <summary>Reports every key that was never asked for, with the nearest one that was. Call it when all has been read.</summary>
    public void Done()
    {
        foreach (SheetEntry entry in map.Entries.Where(e => !_asked.Contains(e.Key)))
        {
            string? near = NearMiss.Suggest(entry.Key, _asked.Where(a => map[a] is null)) ?? NearMiss.Suggest(entry.Key, _asked);
            string hint = near is not null ? $"did you mean '{near}'?"
                : _asked.Count == 0 ? "no keys are known here" : $"known here: {string.Join(", ", _asked)}";
            problems.Error("unknown-key", entry.KeyMark, $"unknown key '{entry.Key}'", hint);
        }
    }

    private string? Misspelt(string key) =>
        NearMiss.Suggest(key, map.Entries.Select(e => e.Key)) is { } near ? $"is '{near}' meant to be it?" : null;
}
