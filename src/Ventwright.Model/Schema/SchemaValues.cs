using System.Text.Json.Nodes;
using System.Text.RegularExpressions;
using Ventwright.Quantities;

namespace Ventwright.Model.Schema;

/// <summary>Schemas of single values and of groups of keys.</summary>
internal static class SchemaValues
{
    private const string Number = @"[-+]?(\d+\.?\d*|\.\d+)([eE][-+]?\d+)?";

    /// <summary>The keys that every part may have.</summary>
    public static IEnumerable<(string Name, JsonNode Value)> Common() =>
    [
        ("name", Of("name", "Name in words.")), ("place", Of("name", "One of the places.")), ("cause", Of("name", "A common cause of faults.")),
        ("pack", Of("name", "Block of solenoid valves.")), ("notes", Of("name")), ("faults", Map(new JsonObject { ["anyOf"] = new JsonArray(Of("number"), AddedFault()) })),
    ];

    /// <summary>The schema of a value, by the word that a key's description has for it.</summary>
    public static JsonObject Of(string value, string? text = null)
    {
        JsonObject schema = value switch
        {
            "net" or "hose" or "space" or "name" => Word(),
            "nets" or "hoses" or "names" => new() { ["anyOf"] = new JsonArray(Word(), new JsonObject { ["type"] = "array", ["items"] = Word() }) },
            "map" => new() { ["type"] = "object" },
            "list" => new() { ["type"] = "array" },
            "flag" => new() { ["enum"] = new JsonArray(true, false, "yes", "no", "true", "false") },
            "number" => NumberOr(""),
            "Fraction" => NumberOr(@"\s*%?"),
            _ => Quantity(Enum.Parse<Dimension>(value)),
        };
        if (text is not null) schema["description"] = text;
        return schema;
    }

    /// <summary>A group of known keys; any other is refused.</summary>
    public static JsonObject Closed(IEnumerable<(string Name, JsonNode Value)> keys, IEnumerable<string>? required = null)
    {
        var properties = new JsonObject();
        foreach ((string name, JsonNode value) in keys) properties[name] = value;
        JsonObject schema = required is null ? [] : Required([.. required]);
        schema["type"] = "object";
        schema["properties"] = properties;
        schema["additionalProperties"] = false;
        return schema;
    }

    /// <summary>Demands keys.</summary>
    public static JsonObject Required(params string[] names) => new() { ["required"] = new JsonArray([.. names.Select(n => (JsonNode)n)]) };

    /// <summary>Names of one's own, each with a value of one shape.</summary>
    public static JsonObject Map(JsonObject value) => new() { ["type"] = "object", ["additionalProperties"] = value };

    /// <summary>A list of one shape.</summary>
    public static JsonObject List(JsonObject item) => new() { ["type"] = "array", ["items"] = item };

    /// <summary>The shape, or <c>none</c> for an entry that is left out.</summary>
    public static JsonObject OrNone(JsonObject shape) => new() { ["anyOf"] = new JsonArray(shape, new JsonObject { ["const"] = "none" }) };

    private static JsonObject Word() => new() { ["type"] = new JsonArray("string", "number", "boolean") };

    private static JsonObject NumberOr(string suffix) => new()
    {
        ["anyOf"] = new JsonArray(new JsonObject { ["type"] = "number" }, new JsonObject { ["type"] = "string", ["pattern"] = $"^\\s*{Number}{suffix}\\s*$" }),
    };

    private static JsonObject Quantity(Dimension dimension) => new()
    {
        ["type"] = "string",
        ["pattern"] = $@"^\s*{Number}\s*({string.Join('|', QuantityText.UnitWords(dimension).Select(Regex.Escape))})\s*$",
    };

    private static JsonObject AddedFault() => Closed([("weight", Of("number")), ("symptom", Of("name")), ("set", Map(Word())), ("scale", Map(Word()))]);
}
