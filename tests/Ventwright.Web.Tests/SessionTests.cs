using System.Diagnostics;
using Microsoft.Playwright;
using Ventwright.Workshop;

namespace Ventwright.Web.Tests;

/// <summary>Sessions in a real browser against the real program. Expected words come from the sheets; no outside source.</summary>
public sealed class SessionTests(BrowsingTheProgram browsing, ITestOutputHelper output) : IClassFixture<BrowsingTheProgram>
{
    private const string Automatic = "twin-blower-automatic.yaml", Manual = "single-blower-manual.yaml";

    /// <summary>A plug is pulled and looked at: its pins are buttons, and the pin that is corroded comes first of all that can be wrong.</summary>
    [Fact]
    public async Task The_corroded_pin_of_a_plug_is_one_tap()
    {
        string id = browsing.NewSession(Manual);
        Device device = await browsing.DeviceAsync();
        await device.BenchAsync(id);
        await device.Page.Locator(".panel fieldset", new() { HasText = "Supply" }).GetByText("off", new() { Exact = true }).ClickAsync();
        await device.ChooseAsync("XP", "Contacts");
        await Assertions.Expect(device.Page.Locator(".next .caution")).ToContainTextAsync("before the plug is pulled");
        await device.Page.GetByRole(AriaRole.Button, new() { Name = "corroded at 3" }).ClickAsync();
        await Assertions.Expect(device.Page.Locator(".next .kept").First).ToContainTextAsync("corroded at 3");
        await Assertions.Expect(device.Page.Locator(".suspects")).ToContainTextAsync("pin 3 corroded");
    }

    [Fact]
    public async Task From_an_empty_store_a_session_is_started_read_repaired_undone_and_found_again()
    {
        Device device = await browsing.DeviceAsync();
        await device.GoAsync("/");
        await device.Page.Locator("input[type=text]").First.FillAsync("Larch coupé");
        await device.Page.GetByRole(AriaRole.Button, new() { Name = "Start on Single-blower" }).ClickAsync();
        await device.Field.Or(device.Round.First).First.WaitForAsync();
        string id = new Uri(device.Page.Url).Segments[^1];

        await device.ChooseAsync("feed.ctl", "Volts at feed.ctl");
        await device.EnterAsync("0.0");
        long number = await device.KeptAsync("0.0 V");
        await device.Page.Locator(".kept.differs", new() { HasText = "Differs" }).WaitForAsync();
        await device.Page.Locator(".sus summary", new() { HasText = "F3" }).First.WaitForAsync();

        await device.Page.Locator($".events li[data-number='{number}'] button").ClickAsync();
        await device.Page.Locator($".events li[data-number='{number}'].undone").WaitForAsync();
        Assert.Empty(browsing.OnDisk(id));
        await device.Page.Locator($".events li[data-number='{number}'] button").ClickAsync();
        await device.Page.Locator($".events li[data-number='{number}']:not(.undone)").WaitForAsync();
        Assert.Single(browsing.OnDisk(id));

        await device.GoAsync($"/bench/{id}/part/F3");
        await device.Page.GetByRole(AriaRole.Button, new() { Name = "Swapped" }).ClickAsync();
        await device.Page.Locator(".events li", new() { HasText = "swapped" }).WaitForAsync();
        Assert.Single(browsing.OnDisk(id, SessionEventKind.Swapped));

        await device.GoAsync("/");
        await device.Page.Locator("a.row", new() { HasText = "Larch coupé" }).WaitForAsync();
        Assert.Empty(device.Errors);
        Assert.Empty(device.Strays);
    }

    [Theory]
    [InlineData(Automatic)]
    [InlineData(Manual)]
    public async Task The_suggested_check_is_answered_and_the_findings_follow(string sheet)
    {
        string id = browsing.NewSession(sheet);
        Device device = await browsing.DeviceAsync();
        await device.BenchAsync(id);
        await device.SingleAsync();
        string first = await AskedAsync(device);
        ILocator words = device.Page.Locator(".wordbuttons button");
        string got = await words.CountAsync() > 0 ? await words.First.InnerTextAsync() : "3.1";
        var clock = Stopwatch.StartNew();
        if (await words.CountAsync() > 0) await words.First.ClickAsync();
        else await device.EnterAsync(got);
        await device.KeptAsync(got);
        TimeSpan acknowledged = clock.Elapsed;
        await device.Page.Locator(".suspects[aria-busy=false]").WaitForAsync();
        output.WriteLine($"{sheet}: reading acknowledged on the page after {acknowledged.TotalMilliseconds:0} ms, findings after {clock.Elapsed.TotalMilliseconds:0} ms");

        Assert.Single(browsing.OnDisk(id));
        Assert.NotEqual(first, await AskedAsync(device));
        Assert.True(await device.Page.Locator(".sus > li").CountAsync() > 1);
        Assert.Empty(device.Errors);
    }

    [Fact]
    public async Task Two_devices_enter_at_the_same_time_and_both_see_all_of_it()
    {
        string id = browsing.NewSession(Manual);
        Device one = await browsing.DeviceAsync(), two = await browsing.DeviceAsync(820, 1180);
        await Task.WhenAll(one.BenchAsync(id), two.BenchAsync(id));
        await Task.WhenAll(one.ChooseAsync("feed.ctl", "Volts at feed.ctl"), two.ChooseAsync("feed.fan", "Volts at feed.fan"));
        await Task.WhenAll(one.EnterAsync("12.91"), two.EnterAsync("12.83"));
        await Task.WhenAll(one.KeptAsync("12.91 V"), two.KeptAsync("12.83 V"));

        foreach (Device device in (Device[])[one, two])
        {
            await device.Page.Locator(".events li", new() { HasText = "12.91 V" }).WaitForAsync();
            await device.Page.Locator(".events li", new() { HasText = "12.83 V" }).WaitForAsync();
        }

        Assert.Equal(2, browsing.OnDisk(id).Length);

        await two.Page.Locator(".drawer-handle").ClickAsync();
        await two.Page.Locator("#panel").GetByRole(AriaRole.Button, new() { Name = "heat", Exact = true }).ClickAsync();
        await one.Page.Locator("#panel button[aria-pressed=true]", new() { HasText = "heat" }).WaitForAsync();
    }

    [Fact]
    public async Task Every_acknowledged_reading_survives_a_kill_in_mid_session()
    {
        string id = browsing.NewSession(Manual);
        Device device = await browsing.DeviceAsync();
        await device.BenchAsync(id);
        for (int i = 0; i < 3; i++)
        {
            await device.ChooseAsync("feed.ctl", "Volts at feed.ctl");
            await device.EnterAsync($"12.{i + 1}");
            await device.KeptAsync($"12.{i + 1} V");
        }

        await browsing.Server.KillAndRestartAsync();
        Assert.Equal(["12.1 V", "12.2 V", "12.3 V"], browsing.OnDisk(id).Select(e => WrittenEntries.Body<ReadingBody>(e).Got));
        Device again = await browsing.DeviceAsync();
        await again.BenchAsync(id);
        foreach (string got in (string[])["12.1 V", "12.2 V", "12.3 V"]) await again.Page.Locator(".events li", new() { HasText = got }).WaitForAsync();
    }

    [Fact]
    public async Task The_keyboard_alone_takes_a_reading_and_undoes_it()
    {
        string id = browsing.NewSession(Manual);
        Device device = await browsing.DeviceAsync();
        await device.BenchAsync(id);
        await device.Page.Locator("#find").FocusAsync();
        await device.Page.Keyboard.TypeAsync("feed.ctl");
        // The list follows the letters one by one: what stands first at an "f" is something else.
        await Assertions.Expect(device.Page.Locator(".finds button").First).ToContainTextAsync("feed.ctl");
        await device.Page.Keyboard.PressAsync("Tab");
        await device.Page.Keyboard.PressAsync("Enter");
        ILocator check = device.Page.Locator(".picked .checks button").First;
        await check.WaitForAsync();
        for (int i = 0; i < 20 && !await check.EvaluateAsync<bool>("e => e === document.activeElement"); i++) await device.Page.Keyboard.PressAsync("Tab");
        await device.Page.Keyboard.PressAsync("Enter");
        await device.Page.Locator(".next .where", new() { HasText = "feed.ctl" }).WaitForAsync();
        for (int i = 0; i < 60 && !await device.Field.EvaluateAsync<bool>("e => e === document.activeElement"); i++) await device.Page.Keyboard.PressAsync("Tab");
        await device.Page.Keyboard.TypeAsync("12.7");
        await device.Page.Keyboard.PressAsync("Enter");
        long number = await device.KeptAsync("12.7 V");
        ILocator undo = device.Page.Locator(".kept button");
        for (int i = 0; i < 20 && !await undo.EvaluateAsync<bool>("e => e === document.activeElement"); i++) await device.Page.Keyboard.PressAsync("Tab");
        await device.Page.Keyboard.PressAsync("Enter");
        await device.Page.Locator($".events li[data-number='{number}'].undone").WaitForAsync();
    }

    /// <summary>What the page asks for: the check, and what has to be set for it.</summary>
    private static async Task<string> AskedAsync(Device device) =>
        await device.Page.Locator(".next .where").InnerTextAsync() + string.Join(";", await device.Page.Locator(".next .steps li").AllInnerTextsAsync())
        + string.Join(";", await device.Page.Locator("#panel button[aria-pressed=true]").AllInnerTextsAsync());
}
