using System.Net;
using Microsoft.Playwright;

namespace Ventwright.Web.Tests;

/// <summary>Devices of the network: before they join they get nothing but the page that says so.</summary>
public sealed class LanTests(Browsing browsing) : IClassFixture<Browsing>
{
    private static readonly string[] Addresses = ["/", "/app.css", "/app.js", "/_framework/blazor.web.js", "/_blazor/negotiate", "/bench/a2b3", "/devices", "/join", "/join/0000"];

    [Fact]
    public async Task A_device_gets_nothing_until_it_has_joined_and_a_code_is_good_for_one()
    {
        await using Server server = await Server.StartAsync(browsing.StorePath + ".lan", "--lan");
        Device here = await browsing.DeviceAsync();
        await here.Page.GotoAsync(server.Address + "/devices");
        ILocator links = here.Page.Locator(".join .link");
        await here.Page.Locator(".join .link, main .problem").First.WaitForAsync();
        if (await links.CountAsync() == 0) Assert.Skip("this computer is in no network");
        var join = new Uri(await links.First.InnerTextAsync());

        using var stranger = new HttpClient(new HttpClientHandler { AllowAutoRedirect = false });
        foreach (string address in Addresses)
        {
            using HttpResponseMessage refused = await stranger.GetAsync(new Uri(join, address), TestContext.Current.CancellationToken);
            Assert.Equal(HttpStatusCode.Unauthorized, refused.StatusCode);
            Assert.Contains("has not joined", await refused.Content.ReadAsStringAsync(TestContext.Current.CancellationToken), StringComparison.Ordinal);
        }

        var cookies = new CookieContainer();
        using var tablet = new HttpClient(new HttpClientHandler { CookieContainer = cookies });
        using HttpResponseMessage joined = await tablet.GetAsync(join, TestContext.Current.CancellationToken);
        Assert.Equal(HttpStatusCode.OK, joined.StatusCode);
        Assert.Equal("/", joined.RequestMessage!.RequestUri!.AbsolutePath);
        Assert.True(cookies.GetAllCookies().Single(c => c.Name == "vw-device").HttpOnly);

        using HttpResponseMessage again = await stranger.GetAsync(join, TestContext.Current.CancellationToken);
        Assert.Equal(HttpStatusCode.Unauthorized, again.StatusCode);
        await here.Page.Locator(".big", new() { HasText = "1 device" }).WaitForAsync();
        Assert.NotEqual(join.AbsolutePath, new Uri(await links.First.InnerTextAsync()).AbsolutePath);

        await here.Page.Locator("main button").ClickAsync();
        await here.Page.Locator(".big", new() { HasText = "0 devices" }).WaitForAsync();
        using HttpResponseMessage shutOut = await tablet.GetAsync(new Uri(join, "/"), TestContext.Current.CancellationToken);
        Assert.Equal(HttpStatusCode.Unauthorized, shutOut.StatusCode);
    }

    [Fact]
    public async Task Without_the_option_the_network_cannot_reach_it()
    {
        IPAddress[] own = [.. (await Dns.GetHostAddressesAsync(Dns.GetHostName(), TestContext.Current.CancellationToken)).Where(a => !IPAddress.IsLoopback(a))];
        if (own.Length == 0) Assert.Skip("this computer is in no network");
        using var client = new HttpClient { Timeout = TimeSpan.FromSeconds(20) };
        var address = new UriBuilder(browsing.Server.Address) { Host = own[0].ToString() }.Uri;
        await Assert.ThrowsAsync<HttpRequestException>(() => client.GetAsync(address, TestContext.Current.CancellationToken));
    }
}
