using System.Security.Cryptography;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.Net.Http.Headers;
using Ventwright.Drawing;

namespace Ventwright.Web;

/// <summary>Style sheet and scripts, kept inside the assembly. Their addresses carry a digest of their content, so that browsers may keep them.</summary>
internal static class EmbeddedFiles
{
    private static readonly (string Path, string Resource, string Type)[] Files =
    [
        ("/app.css", "app.css", "text/css"), ("/app.js", "app.js", "text/javascript"), ("/favicon.svg", "favicon.svg", "image/svg+xml"),
        ("/_framework/blazor.web.js", "blazor.web.js", "text/javascript"),
    ];

    private static readonly Dictionary<string, byte[]> Contents = Files.ToDictionary(f => f.Path, f => Read(f.Resource), StringComparer.Ordinal);

    static EmbeddedFiles()
    {
        // One style sheet and one script for the browser, from pieces by subject.
        Contents["/app.css"] = [.. System.Text.Encoding.UTF8.GetBytes(SvgDrawing.StyleSheet), .. Contents["/app.css"], .. Read("sheets.css"), .. Read("sensors.css"), .. Read("rig.css")];
        Contents["/app.js"] = [.. Contents["/app.js"], .. Read("sheets.js"), .. Read("rig.js")];
    }

    /// <summary>Address of a file with the digest of its content.</summary>
    public static string Address(string path) => $"{path}?{Digest(path)}";

    /// <summary>Serves the files.</summary>
    public static void Map(WebApplication app)
    {
        foreach ((string path, _, string type) in Files)
        {
            var tag = new EntityTagHeaderValue($"\"{Digest(path)}\"");
            app.MapGet(path, () => Results.Bytes(Contents[path], type + "; charset=utf-8", entityTag: tag));
        }
    }

    private static string Digest(string path) => Convert.ToHexStringLower(SHA256.HashData(Contents[path]))[..12];

    private static byte[] Read(string resource)
    {
        using Stream stream = typeof(EmbeddedFiles).Assembly.GetManifestResourceStream(resource)
            ?? throw new InvalidOperationException($"{resource} is missing from the program; build it again.");
        using var copy = new MemoryStream();
        stream.CopyTo(copy);
        return copy.ToArray();
    }
}
