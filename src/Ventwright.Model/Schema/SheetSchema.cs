using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Nodes;
using Ventwright.Model.Parts;

namespace Ventwright.Model.Schema;

/// <summary>The JSON Schema (draft 2020-12) of a sheet, made from what the kinds of parts say of their keys.</summary>
public static class SheetSchema
{
    private static readonly JsonSerializerOptions Layout = new() { WriteIndented = true, Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    private static readonly Lazy<JsonObject> Made = new(Root);

    /// <summary>The schema as a tree, not to be changed.</summary>
    internal static JsonObject Tree => Made.Value;

    /// <summary>The schema as text.</summary>
    public static string Text() => Tree.ToJsonString(Layout);

    private static JsonObject Root()
    {
        JsonObject root = SchemaValues.Closed(
            [
                ("sheet", new JsonObject { ["enum"] = new JsonArray(1, "1"), ["description"] = "Version of this grammar." }),
                ("unit", SchemaValues.Of("name", "Title of the unit.")), ("like", SchemaValues.Of("name", "Another sheet to start from.")),
                ("supply", SchemaValues.Closed([("volts", SchemaValues.Of("Volt")), ("tolerance", SchemaValues.Of("Volt")), ("source", SchemaValues.Of("Ohm")), ("limit", SchemaValues.Of("Ampere"))])),
                ("ambient", SchemaValues.Of("Pressure", "Ambient pressure, absolute.")),
                ("thermometer", SchemaValues.Of("TemperatureDifference", "How well the temperatures of the surroundings are known.")),
                ("controls", SchemaValues.Map(Control())),
                ("conditions", SchemaValues.Map(new JsonObject { ["anyOf"] = new JsonArray(SchemaValues.Of("Temperature"), SchemaValues.Of("Pressure")) })),
                ("spaces", SchemaValues.Closed([("open", SchemaValues.Of("names"))])),
                ("spare", SchemaValues.Of("names", "Nets and hoses that are meant to end where they do.")),
                ("places", SchemaValues.Map(SchemaValues.Closed([("minutes", SchemaValues.Of("number")), ("opens", SchemaValues.Of("name")), ("caution", SchemaValues.Of("name"))]))),
                ("parts", SchemaValues.Map(Part())), ("module", ModuleSchema.Module()),
                ("air", SchemaValues.Map(SchemaValues.OrNone(Kind(AirPart.Keys, "Part of the air side.")))),
                ("mix-ups", SchemaValues.List(SchemaValues.Closed([("hoses", SchemaValues.Of("names")), ("pins", SchemaValues.Of("names")), ("parts", SchemaValues.Of("names"))]))),
                ("stated", SchemaValues.List(Stated())),
            ]);
        // A sheet that starts from another one states only what differs.
        root["anyOf"] = new JsonArray(SchemaValues.Required("like"), SchemaValues.Required("sheet", "unit", "supply", "parts"));
        root.Insert(0, "$schema", "https://json-schema.org/draft/2020-12/schema");
        root.Insert(1, "title", "Sheet of a climate unit");
        return root;
    }

    private static JsonObject Control() => SchemaValues.Closed(
        [("positions", SchemaValues.Of("names")), ("dial", SchemaValues.Of("name", "For example 0..1.")), ("at", SchemaValues.Of("number"))]);

    private static JsonObject Stated() => SchemaValues.Closed(
        [("at", SchemaValues.Of("name", "For example volts(mod.7).")), ("set", SchemaValues.Map(SchemaValues.Of("name"))), ("is", SchemaValues.Of("name")), ("source", SchemaValues.Of("name"))],
        ["at", "is", "source"]);

    /// <summary>A part: the kind follows from the key that is there, and then only that kind's keys are allowed.</summary>
    private static JsonObject Part()
    {
        var kinds = new JsonArray();
        foreach (PartKind kind in PartKinds.All.Values) kinds.Add(Kind(kind.Keys, kind.Summary));
        kinds.Add(new JsonObject { ["const"] = "none", ["description"] = "Leaves out a part of the sheet that this one starts from." });
        return new JsonObject { ["anyOf"] = kinds };
    }

    private static JsonObject Kind(IReadOnlyList<KeySpec> keys, string summary)
    {
        List<(string, JsonNode)> all = [.. keys.Select(k => (k.Name, (JsonNode)SchemaValues.Of(k.Value, k.Text)))];
        all.AddRange(SchemaValues.Common().Where(c => keys.All(k => k.Name != c.Name)));
        JsonObject shape = SchemaValues.Closed(all, [.. keys.Where(k => k.Required).Select(k => k.Name)]);
        shape["description"] = summary;
        return shape;
    }
}
