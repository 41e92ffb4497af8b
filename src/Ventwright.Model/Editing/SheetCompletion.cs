using System.Text.Json.Nodes;
using Ventwright.Model.Parts;
using Ventwright.Model.Schema;

namespace Ventwright.Model.Editing;

/// <summary>A way to go on at the cursor.</summary>
/// <param name="Text">The word.</param>
/// <param name="What">What it is, in a line.</param>
/// <param name="Insert">What is put in place of what was typed of the word.</param>
public sealed record Completion(string Text, string What, string Insert);

/// <summary>What can follow at a place of a sheet: keys by the schema, and names that the sheet uses already.</summary>
public static class SheetCompletion
{
    private const int Most = 60;

    /// <summary>Ways to go on.</summary>
    /// <param name="at">Where the cursor stands.</param>
    /// <param name="names">Names that are known.</param>
    public static IReadOnlyList<Completion> At(CursorContext at, SheetNames names)
    {
        ArgumentNullException.ThrowIfNull(at);
        ArgumentNullException.ThrowIfNull(names);
        IEnumerable<Completion> all = at.Key is null ? Keys(at) : Values(at, at.Key, names);
        return [.. all.Where(c => c.Text != at.Word && c.Text.Contains(at.Word, StringComparison.OrdinalIgnoreCase))
            .OrderBy(c => c.Text.StartsWith(at.Word, StringComparison.OrdinalIgnoreCase) ? 0 : 1).Take(Most)];
    }

    private static IEnumerable<Completion> Keys(CursorContext at)
    {
        IEnumerable<Completion> keys = at.Path switch
        {
            ["parts", _] when KindOf(at.Siblings) is { } kind => Specs(PartKinds.All[kind].Keys).Concat(Schema(SchemaValues.Common())),
            ["parts", _] => PartKinds.All.Values.Select(k => new Completion(k.Key, k.Summary, k.Key + ": ")),
            ["air", _] => Specs(AirPart.Keys).Concat(Schema(SchemaValues.Common())),
            _ => Schema(Properties(at.Path)),
        };
        return keys.DistinctBy(k => k.Text).Where(k => !at.Siblings.Contains(k.Text, StringComparer.Ordinal));
    }

    private static IEnumerable<Completion> Values(CursorContext at, string key, SheetNames names)
    {
        if (at.Path is ["parts"]) return PartKinds.All.Values.Select(Template);
        if (key == "place") return Named(names, "place");
        KeySpec? spec = at.Path switch
        {
            ["parts", _, ..] when KindOf(at.Siblings) is { } kind => PartKinds.All[kind].Keys.FirstOrDefault(k => k.Name == key),
            ["air", _] => AirPart.Keys.FirstOrDefault(k => k.Name == key),
            _ => null,
        };
        return SortsOf(at, key, spec?.Value).SelectMany(sort => Named(names, sort)).Concat(Words(key, spec?.Value));
    }

    /// <summary>What sort of names a value takes.</summary>
    private static string[] SortsOf(CursorContext at, string key, string? value) => (at.Path, key, value) switch
    {
        (_, _, "net" or "nets") => ["net"],
        (_, _, "hose" or "hoses") => ["hose"],
        (_, _, "space") => ["space"],
        (["parts", _, "ports"], _, _) => ["hose"],
        (["parts", _, "connector"], _, _) => ["net"],
        (["parts", _, "feedback"], "ends" or "wiper", _) => ["net"],
        (["parts", _, "joins"], _, _) => at.Siblings.Count == 0 ? [] : ["net", "hose"],
        (_, "moves" or "gate", _) => ["flap"],
        (["parts", _], "switch" or "lever" or "vacuum-valve", _) => ["control"],
        (["parts", _], "turned-by", _) => ["control", "flap", "part"],
        (["parts", _], "at", _) => ["condition"],
        (_, "sensor" or "aspirator" or "suction-of", _) => ["part"],
        (["module", ..], "supply" or "ground" or "pin" or "pins", _) => ["net"],
        (["mix-ups"], _, _) => ["part"],
        (["spare"] or [], "spare", _) => ["net", "hose"],
        _ => [],
    };

    private static IEnumerable<Completion> Words(string key, string? value) => (key, value) switch
    {
        (_, "flag") => [Plain("true", "yes"), Plain("false", "no")],
        ("exchanger", _) => [Plain("evaporator", "kind of exchanger"), Plain("heater", "kind of exchanger")],
        ("rest", _) => [Plain("vented", "the outlet is vented when the coil is off"), Plain("applied", "passes when the coil is off")],
        ("pulled", _) => [Plain("shut", "vacuum shuts it"), Plain("open", "vacuum opens it")],
        ("turns", _) => [Plain("forward", "as usual"), Plain("backward", "the other way")],
        _ => [],
    };

    private static Completion Plain(string text, string what) => new(text, what, text);

    private static IEnumerable<Completion> Named(SheetNames names, string sort) => names.Of(sort).Select(n => new Completion(n, sort, n));

    private static IEnumerable<Completion> Specs(IEnumerable<KeySpec> keys) => keys.Select(k => new Completion(k.Name, k.Required ? $"{k.Text} (needed)" : k.Text, k.Name + ": "));

    private static IEnumerable<Completion> Schema(IEnumerable<(string Name, JsonNode Value)> keys) =>
        keys.Select(k => new Completion(k.Name, (k.Value as JsonObject)?["description"]?.GetValue<string>() ?? "", k.Name + ": "));

    private static string? KindOf(IEnumerable<string> siblings) => siblings.FirstOrDefault(PartKinds.All.ContainsKey);

    /// <summary>A whole part with all that its kind needs.</summary>
    private static Completion Template(PartKind kind) =>
        new(kind.Key, kind.Summary, $"{{ {string.Join(", ", kind.Keys.Where(k => k.Required || k.Name == kind.Key).Select(k => $"{k.Name}: "))}}}");

    /// <summary>Keys of a group, by following its path through the schema.</summary>
    private static IEnumerable<(string, JsonNode)> Properties(IReadOnlyList<string> path)
    {
        JsonObject? at = SheetSchema.Tree;
        foreach (string key in path)
        {
            at = at?["properties"]?[key] as JsonObject ?? at?["additionalProperties"] as JsonObject;
            if (at?["items"] is JsonObject item) at = item;
        }

        return at?["properties"] is JsonObject properties ? properties.Select(p => (p.Key, p.Value!)) : [];
    }
}
