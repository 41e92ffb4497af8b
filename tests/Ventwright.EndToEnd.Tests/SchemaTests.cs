using System.Text.Json;
using System.Text.Json.Nodes;
using Json.Schema;
using YamlDotNet.Serialization;

namespace Ventwright.EndToEnd.Tests;

/// <summary>The printed schema, judged by a validator of JSON Schema 2020-12 that is not ours.</summary>
public sealed class SchemaTests
{
    private static readonly JsonSchema Schema = JsonSchema.FromText(Running.Run("schema").Out);

    [Fact]
    public void Accepts_both_shipped_sheets()
    {
        foreach (string sheet in (string[])[Running.Manual, Running.Automatic])
        {
            EvaluationResults results = Judge(Sheet(sheet));
            Assert.True(results.IsValid, $"{sheet}: {JsonSerializer.Serialize(results)}");
        }
    }

    [Theory]
    [InlineData("parts/F1/form", "feed")]
    [InlineData("parts/F1/fuse", "20 V")]
    [InlineData("parts/T1/volume", "big")]
    [InlineData("parts/X1", "fuse")]
    [InlineData("air/drain/aera", "1 cm2")]
    [InlineData("sheet", "2")]
    [InlineData("hoses", "none")]
    public void Refuses_unknown_keys_and_wrong_units(string path, string value)
    {
        JsonNode sheet = Sheet(Running.Manual);
        JsonNode node = sheet;
        string[] steps = path.Split('/');
        foreach (string step in steps[..^1]) node = node[step]!;
        node[steps[^1]] = value;
        Assert.False(Judge(sheet).IsValid);
    }

    private static EvaluationResults Judge(JsonNode sheet) =>
        Schema.Evaluate(JsonSerializer.SerializeToElement(sheet), new EvaluationOptions { OutputFormat = OutputFormat.List });

    private static JsonNode Sheet(string path) => ToJson(new DeserializerBuilder().Build().Deserialize<object>(File.ReadAllText(path)))!;

    private static JsonNode? ToJson(object? node) => node switch
    {
        IDictionary<object, object> map => new JsonObject(map.Select(e => KeyValuePair.Create((string)e.Key, ToJson(e.Value)))),
        IList<object> list => new JsonArray([.. list.Select(ToJson)]),
        string text => JsonValue.Create(text),
        _ => null,
    };
}
