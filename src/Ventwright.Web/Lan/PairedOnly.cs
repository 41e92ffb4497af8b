using System.Net;
using Microsoft.AspNetCore.Http;

namespace Ventwright.Web.Lan;

/// <summary>Lets in this computer and the devices that joined; all others get one page that says how to join, whatever they ask for.</summary>
internal sealed class PairedOnly(RequestDelegate next, PairedDevices devices)
{
    /// <summary>Where a device joins; the secret follows.</summary>
    public const string JoinPath = "/join";

    private const string Cookie = "vw-device";
    private const int DaysKept = 365;

    private const string Page =
        """
        <!doctype html><html lang="en"><head><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1"><title>Ventwright</title></head>
        <body style="font:18px/1.5 system-ui,sans-serif;margin:12vh auto;max-width:32em;padding:0 1em"><h1>This device has not joined yet</h1>
        <p>Open the page Devices on the computer that runs Ventwright and scan the code there. Each code is good for one device.</p></body></html>
        """;

    public async Task InvokeAsync(HttpContext context)
    {
        if (context.Request.Path.StartsWithSegments(JoinPath, StringComparison.Ordinal, out PathString rest) && devices.Join(rest.Value?.Trim('/') ?? "") is { } token)
        {
            context.Response.Cookies.Append(Cookie, token, new() { HttpOnly = true, SameSite = SameSiteMode.Lax, Path = "/", MaxAge = TimeSpan.FromDays(DaysKept) });
            context.Response.Redirect("/");
            return;
        }

        bool isHere = context.Connection.RemoteIpAddress is { } address && IPAddress.IsLoopback(address.IsIPv4MappedToIPv6 ? address.MapToIPv4() : address);
        if (isHere || devices.Knows(context.Request.Cookies[Cookie]))
        {
            await next(context);
            return;
        }

        context.Response.StatusCode = StatusCodes.Status401Unauthorized;
        context.Response.ContentType = "text/html; charset=utf-8";
        await context.Response.WriteAsync(Page);
    }
}
