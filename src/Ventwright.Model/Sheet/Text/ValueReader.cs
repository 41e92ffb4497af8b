using System.Globalization;
using Ventwright.Quantities;

namespace Ventwright.Model.Sheet.Text;

/// <summary>Which values of a number are allowed.</summary>
public enum Allowed
{
    /// <summary>Any.</summary>
    Any,

    /// <summary>Zero or more.</summary>
    NotNegative,

    /// <summary>More than zero.</summary>
    Positive,
}

/// <summary>
/// Reads the meaning of single nodes. Each method reports what is wrong at the place of the node and then returns null.
/// <c>what</c> is the name of the value in messages, usually its key.
/// </summary>
public static class ValueReader
{
    /// <summary>Reads text that is not empty.</summary>
    public static string? Text(SheetNode node, string what, ProblemList problems)
    {
        if (node is SheetScalar { IsMissing: false } scalar) return scalar.Text;
        string found = node is SheetScalar ? "nothing is there" : $"this is {node.Kind}";
        problems.Error("wrong-value", node.Mark, $"'{what}' wants a value; {found}");
        return null;
    }

    /// <summary>Reads a quantity; the result is in SI.</summary>
    public static double? Quantity(SheetNode node, string what, Dimension dimension, ProblemList problems, Allowed allowed = Allowed.Any)
    {
        if (Text(node, what, problems) is not { } text) return null;
        if (!QuantityText.TryParse(text, dimension, out double si, out string? problem))
            problems.Error("wrong-value", node.Mark, $"'{what}': {problem}");
        else if (allowed == Allowed.Positive && si <= 0)
            problems.Error("wrong-value", node.Mark, $"'{what}' must be more than 0; this is {text}");
        else if (allowed == Allowed.NotNegative && si < 0)
            problems.Error("wrong-value", node.Mark, $"'{what}' must not be negative; this is {text}");
        else return si;
        return null;
    }

    /// <summary>Reads a band such as <c>4.6 .. 5.0 V</c> or <c>5 V +- 2 %</c>; the result is in SI, low not above high.</summary>
    public static (double Low, double High)? Band(SheetNode node, string what, Dimension dimension, ProblemList problems)
    {
        if (Text(node, what, problems) is not { } text) return null;
        if (QuantityText.TryParseBand(text, dimension, out double low, out double high, out string? problem)) return (low, high);
        problems.Error("wrong-value", node.Mark, $"'{what}': {problem}");
        return null;
    }

    /// <summary>Reads a whole number.</summary>
    public static int? Whole(SheetNode node, string what, ProblemList problems)
    {
        if (Text(node, what, problems) is not { } text) return null;
        if (int.TryParse(text, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out int number)) return number;
        problems.Error("wrong-value", node.Mark, $"'{what}' wants a whole number such as '2'; this is '{text}'");
        return null;
    }

    /// <summary>Reads <c>yes</c> or <c>no</c> (also <c>true</c>, <c>false</c>).</summary>
    public static bool? Flag(SheetNode node, string what, ProblemList problems)
    {
        switch (Text(node, what, problems))
        {
            case "yes" or "true": return true;
            case "no" or "false": return false;
            case { } text:
                problems.Error("wrong-value", node.Mark, $"'{what}' wants 'yes' or 'no'; this is '{text}'");
                return null;
            default: return null;
        }
    }

    /// <summary>Reads one of some words.</summary>
    public static string? Word(SheetNode node, string what, IReadOnlyCollection<string> words, ProblemList problems)
    {
        if (Text(node, what, problems) is not { } text) return null;
        if (words.Contains(text)) return text;
        string hint = NearMiss.Suggest(text, words) is { } near ? $"did you mean '{near}'?" : $"write one of {string.Join(", ", words)}";
        problems.Error("wrong-value", node.Mark, $"'{what}' does not know '{text}'", hint);
        return null;
    }

    /// <summary>Reads a member of an enum, written in lower case with hyphens: <c>NotNegative</c> is <c>not-negative</c>.</summary>
    public static T? Choice<T>(SheetNode node, string what, ProblemList problems)
        where T : struct, Enum
    {
        string[] words = [.. Enum.GetNames<T>().Select(Hyphenated)];
        return Word(node, what, words, problems) is { } word ? Enum.GetValues<T>()[Array.IndexOf(words, word)] : null;
    }

    /// <summary>Reads a list of names; a single name does as a list of one.</summary>
    public static List<SheetScalar>? Names(SheetNode node, string what, ProblemList problems)
    {
        if (node is not SheetList list) return Text(node, what, problems) is null ? null : [(SheetScalar)node];
        var names = list.Items.Where(i => Text(i, what, problems) is not null).Cast<SheetScalar>().ToList();
        return names.Count == list.Items.Count ? names : null;
    }

    /// <summary>Reads a list.</summary>
    public static SheetList? List(SheetNode node, string what, ProblemList problems) =>
        As<SheetList>(node, what, "a list such as '[a, b]'", problems);

    /// <summary>Reads a map.</summary>
    public static SheetMap? Map(SheetNode node, string what, ProblemList problems) =>
        As<SheetMap>(node, what, "a group of keys such as '{ key: value }'", problems);

    private static T? As<T>(SheetNode node, string what, string wanted, ProblemList problems)
        where T : SheetNode
    {
        if (node is T right) return right;
        string found = node is SheetScalar { IsMissing: true } ? "nothing is there" : $"this is {node.Kind}";
        problems.Error("wrong-value", node.Mark, $"'{what}' wants {wanted}; {found}");
        return null;
    }

    private static string Hyphenated(string name) =>
        string.Concat(name.Select((c, i) => char.IsUpper(c) && i > 0 ? $"-{char.ToLowerInvariant(c)}" : $"{char.ToLowerInvariant(c)}"));
}
