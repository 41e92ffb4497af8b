using System.Net;
using Microsoft.AspNetCore.Http;

namespace Ventwright.Web;

/// <summary>
/// Keeps other web sites out: a page of theirs, open in a browser on this computer, could otherwise talk to this server. The host must be an address or this
/// computer's own name, and a request that names its origin must come from a page of ours.
/// </summary>
internal sealed class LocalOnly(RequestDelegate next)
{
    public Task InvokeAsync(HttpContext context)
    {
        string host = context.Request.Host.Host;
        bool isKnown = host is "localhost" or "[::1]" || IPAddress.TryParse(host, out _) || string.Equals(host, Environment.MachineName, StringComparison.OrdinalIgnoreCase);
        string? origin = context.Request.Headers.Origin;
        bool isOurs = string.IsNullOrEmpty(origin) || (Uri.TryCreate(origin, UriKind.Absolute, out Uri? from) && from.Authority == context.Request.Host.Value);
        if (!isKnown || !isOurs)
        {
            context.Response.StatusCode = StatusCodes.Status403Forbidden;
            return context.Response.WriteAsync("This address is not one of Ventwright's. Use the address that the program printed when it started.");
        }

        context.Response.Headers.ContentSecurityPolicy =
            "default-src 'self'; style-src 'self' 'unsafe-inline'; img-src 'self' data:; connect-src 'self' ws: wss:; frame-ancestors 'none'; base-uri 'self'";
        context.Response.Headers.XContentTypeOptions = "nosniff";
        context.Response.Headers["Referrer-Policy"] = "no-referrer";
        return next(context);
    }
}
