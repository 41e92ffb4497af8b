namespace Ventwright.Model.Sheet.Text;

/// <summary>A piece of a sheet as it stands in the text, before anything is known of its meaning.</summary>
/// <param name="mark">Where it starts.</param>
public abstract class SheetNode(Mark mark)
{
    /// <summary>Where it starts.</summary>
    public Mark Mark { get; } = mark;

    /// <summary>What it is, for messages: "a value", "a list", "a group of keys".</summary>
    public abstract string Kind { get; }
}

/// <summary>Text. All scalars are text: <c>off</c>, <c>no</c> and <c>12</c> too; what they mean is decided where they are used.</summary>
/// <param name="mark">Where it starts, at the quote if there is one.</param>
/// <param name="text">The text without quotes.</param>
/// <param name="textMark">Where the first character of the text stands; for texts over several lines the nearest that is known.</param>
/// <param name="isQuoted">Whether it was quoted or a block text.</param>
public sealed class SheetScalar(Mark mark, string text, Mark textMark, bool isQuoted) : SheetNode(mark)
{
    /// <summary>The text without quotes.</summary>
    public string Text { get; } = text;

    /// <summary>Where the first character of the text stands.</summary>
    public Mark TextMark { get; } = textMark;

    /// <summary>True when nothing was written: <c>key:</c>. An empty text in quotes is something.</summary>
    public bool IsMissing => Text.Length == 0 && !isQuoted;

    /// <inheritdoc/>
    public override string Kind => "a value";
}

/// <summary>A list.</summary>
/// <param name="mark">Where it starts.</param>
/// <param name="items">Its items in order.</param>
public sealed class SheetList(Mark mark, IReadOnlyList<SheetNode> items) : SheetNode(mark)
{
    /// <summary>Its items in order.</summary>
    public IReadOnlyList<SheetNode> Items { get; } = items;

    /// <inheritdoc/>
    public override string Kind => "a list";
}

/// <summary>One <c>key: value</c> of a map.</summary>
/// <param name="Key">The key.</param>
/// <param name="KeyMark">Where the key starts.</param>
/// <param name="Value">Its value.</param>
public readonly record struct SheetEntry(string Key, Mark KeyMark, SheetNode Value);

/// <summary>Keys with values, in the order of the text. No key is there twice.</summary>
public sealed class SheetMap : SheetNode
{
    private readonly Dictionary<string, SheetEntry> _byKey;

    /// <summary>Makes a map.</summary>
    /// <param name="mark">Where it starts.</param>
    /// <param name="entries">Its entries in order, with different keys.</param>
    /// <exception cref="ArgumentException">A key is there twice.</exception>
    public SheetMap(Mark mark, IReadOnlyList<SheetEntry> entries)
        : base(mark)
    {
        Entries = entries;
        _byKey = entries.ToDictionary(e => e.Key, StringComparer.Ordinal);
    }

    /// <summary>Its entries in order.</summary>
    public IReadOnlyList<SheetEntry> Entries { get; }

    /// <inheritdoc/>
    public override string Kind => "a group of keys";

    /// <summary>The value of a key, or null when the key is not there.</summary>
    public SheetNode? this[string key] => _byKey.TryGetValue(key, out SheetEntry entry) ? entry.Value : null;

    /// <summary>The entry of a key, or null when the key is not there.</summary>
    public SheetEntry? Entry(string key) => _byKey.TryGetValue(key, out SheetEntry entry) ? entry : null;
}
