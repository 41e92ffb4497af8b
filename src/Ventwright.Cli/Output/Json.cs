using System.Text.Encodings.Web;
using System.Text.Json;
using System.Text.Json.Serialization;

namespace Ventwright.Cli.Output;

/// <summary>Writes answers for other programs: camel-case keys, SI or export units beside each number, numbers that JSON cannot hold as null.</summary>
internal static class Json
{
    private static readonly JsonSerializerOptions Options = new()
    {
        PropertyNamingPolicy = JsonNamingPolicy.CamelCase,
        WriteIndented = true,
        Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping,
        DefaultIgnoreCondition = JsonIgnoreCondition.Never,
    };

    /// <summary>Writes an answer. Its first member is <c>V</c>, the version of its shape.</summary>
    public static void Write(object answer) => Screen.Line(JsonSerializer.Serialize(answer, Options));

    /// <summary>A number at seven significant digits; null for one that is not finite.</summary>
    public static double? Number(double value)
    {
        if (!double.IsFinite(value)) return null;
        if (value == 0) return 0;
        int digits = 6 - (int)Math.Floor(Math.Log10(Math.Abs(value)));
        return digits is < 0 or > 15 ? (Math.Abs(value) < 1e-9 ? 0 : value) : Math.Round(value, digits);
    }
}
