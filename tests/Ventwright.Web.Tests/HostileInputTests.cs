using Microsoft.Playwright;
using Ventwright.Workshop;

namespace Ventwright.Web.Tests;

/// <summary>What does not belong into a field is refused in one sentence, kept nowhere, and never run.</summary>
public sealed class HostileInputTests(Browsing browsing) : IClassFixture<Browsing>
{
    private const string Script = "<script>document.title='run'</script><img src=x onerror=\"document.title='run'\">";

    [Fact]
    public async Task A_reading_that_makes_no_sense_is_refused_and_the_field_keeps_it()
    {
        string id = browsing.NewSession("single-blower-manual.yaml");
        Device device = await browsing.DeviceAsync();
        await device.BenchAsync(id);
        await device.ChooseAsync("feed.ctl", "Volts at feed.ctl");
        foreach (string bad in (string[])["NaN", "Infinity", "12 ohm", "1e999", "", "twelve", "0x10", Script, new string('9', 400)])
        {
            await device.EnterAsync(bad);
            await device.Problem.WaitForAsync();
            Assert.DoesNotContain("   at ", await device.Problem.InnerTextAsync(), StringComparison.Ordinal);
            Assert.Equal(bad, await device.Field.InputValueAsync());
            await device.EnterAsync("12.5");
            await device.KeptAsync("12.5 V");
            await device.ChooseAsync("feed.ctl", "Volts at feed.ctl");
        }

        Assert.Equal(9, browsing.OnDisk(id).Length);
        Assert.DoesNotContain("run", await device.Page.TitleAsync(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Negative_ohms_are_refused()
    {
        string id = browsing.NewSession("single-blower-manual.yaml");
        Device device = await browsing.DeviceAsync();
        await device.BenchAsync(id);
        await device.Page.Locator("#panel fieldset", new() { HasText = "Supply" }).GetByRole(AriaRole.Button, new() { Name = "off", Exact = true }).ClickAsync();
        await device.ChooseAsync("RP1", "Ohms between");
        await device.EnterAsync("-5");
        await device.Problem.WaitForAsync();
        Assert.Contains("negative", await device.Problem.InnerTextAsync(), StringComparison.Ordinal);
        Assert.Empty(browsing.OnDisk(id));
    }

    [Fact]
    public async Task Script_in_names_and_notes_is_shown_as_text()
    {
        Device device = await browsing.DeviceAsync();
        await device.GoAsync("/");
        await device.Page.Locator("input[type=text]").First.FillAsync(Script);
        await device.Page.GetByRole(AriaRole.Button, new() { Name = "Start on Single-blower" }).ClickAsync();
        await device.Page.Locator(".history input").FillAsync(Script);
        await device.Page.GetByRole(AriaRole.Button, new() { Name = "Keep as note" }).ClickAsync();
        await device.Page.Locator(".events li", new() { HasText = "<script>" }).WaitForAsync();
        await device.Page.Locator(".history input").FillAsync("   ");
        await device.Page.GetByRole(AriaRole.Button, new() { Name = "Keep as note" }).ClickAsync();
        await device.Page.Locator(".history .problem").WaitForAsync();
        await device.Page.Locator("#find").FillAsync(Script);
        await device.GoAsync("/preferences");
        await device.Page.Locator("input[type=text]").FillAsync(Script);
        await device.Page.Keyboard.PressAsync("Tab");
        await device.GoAsync("/");
        Assert.Equal(0, await device.Page.Locator("main img, main script").CountAsync());
        Assert.NotEqual("run", await device.Page.TitleAsync());
        Assert.Empty(device.Strays);
    }

    [Fact]
    public async Task Stand_ins_feeds_and_surroundings_that_make_no_sense_are_refused()
    {
        string id = browsing.NewSession("twin-blower-automatic.yaml");
        Device device = await browsing.DeviceAsync();
        await device.GoAsync($"/bench/{id}");
        // From here on nothing else draws the page anew: what is refused has to be told by itself.
        await device.Page.Locator(".suspects[aria-busy=false] .sus").WaitForAsync();
        ILocator panel = device.Page.Locator("#panel");
        foreach (string summary in (string[])["Stand-ins, unplugged", "What is on the bench", "Surroundings"]) await panel.Locator("summary", new() { HasText = summary }).ClickAsync();
        ILocator standIn = panel.Locator("form", new() { HasText = "In place of" }), feed = panel.Locator("form", new() { HasText = "Feed a net" });
        foreach (string bad in (string[])["12 V", "NaN ohm", Script])
        {
            await standIn.Locator("select").SelectOptionAsync("RT1");
            await standIn.Locator("input").FillAsync(bad);
            await standIn.Locator("button").ClickAsync();
            await panel.Locator(".problem").WaitForAsync();
            await Assertions.Expect(standIn.Locator("input")).ToHaveValueAsync(bad);
        }

        await feed.Locator("select").SelectOptionAsync(new SelectOptionValue { Index = 2 });
        await feed.Locator("input").FillAsync("NaN");
        await feed.Locator("button").ClickAsync();
        await panel.Locator(".problem").WaitForAsync();
        await panel.Locator("label", new() { HasText = "Cabin" }).Locator("input").FillAsync("-400 degC");
        await device.Page.Keyboard.PressAsync("Tab");
        await panel.Locator(".problem", new() { HasText = "absolute zero" }).WaitForAsync();
        Assert.Empty(browsing.OnDisk(id, SessionEventKind.Panel));
        Assert.Empty(browsing.OnDisk(id, SessionEventKind.Bench));

        await standIn.Locator("select").SelectOptionAsync("RT1");
        await standIn.Locator("input").FillAsync("12.1 kohm");
        await standIn.Locator("button").ClickAsync();
        await panel.Locator(".words li", new() { HasText = "12.1 kohm" }).WaitForAsync();
        Assert.Single(browsing.OnDisk(id, SessionEventKind.Panel));
    }

    [Fact]
    public async Task Unknown_addresses_and_foreign_origins_get_nothing()
    {
        Device device = await browsing.DeviceAsync();
        await device.GoAsync("/bench/zz99");
        Assert.Contains("no session", await device.Page.Locator("main .problem").InnerTextAsync(), StringComparison.Ordinal);
        await device.GoAsync("/nowhere");
        Assert.Contains("no such page", await device.Page.Locator("h1").InnerTextAsync(), StringComparison.Ordinal);
        using var client = new HttpClient();
        using var foreign = new HttpRequestMessage(HttpMethod.Get, browsing.Server.Address);
        foreign.Headers.Add("Origin", "http://example.test");
        using HttpResponseMessage refused = await client.SendAsync(foreign, TestContext.Current.CancellationToken);
        Assert.Equal(System.Net.HttpStatusCode.Forbidden, refused.StatusCode);
        using var rebound = new HttpRequestMessage(HttpMethod.Get, browsing.Server.Address);
        rebound.Headers.Host = "example.test";
        using HttpResponseMessage alsoRefused = await client.SendAsync(rebound, TestContext.Current.CancellationToken);
        Assert.Equal(System.Net.HttpStatusCode.Forbidden, alsoRefused.StatusCode);
    }
}
