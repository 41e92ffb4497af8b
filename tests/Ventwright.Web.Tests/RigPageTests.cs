using System.Globalization;
using Microsoft.Playwright;
using Ventwright.Store;
using Ventwright.Tests.Workshop;
using Ventwright.Workshop;
using Ventwright.Workshop.Rigs;

namespace Ventwright.Web.Tests;

/// <summary>The rig's page in a real browser: a whole run on the simulated unit, a supply on a real line that is stopped from another device, and what is refused.</summary>
public sealed class RigPageTests(Browsing browsing) : IClassFixture<Browsing>
{
    private const string Automatic = "twin-blower-automatic.yaml", Manual = "single-blower-manual.yaml";
    private const int PatienceMs = 40_000;
    private const string Script = "<script>document.title='run'</script><img src=x onerror=\"document.title='run'\">";

    [Fact]
    public async Task A_run_goes_from_the_choice_of_a_rig_to_its_log_and_readings()
    {
        string id = browsing.NewSession(Automatic);
        Device device = await DeviceAsync(820, 1180);
        IPage page = device.Page;
        await device.GoAsync(Address(id));
        await page.Locator("#connect").WaitForAsync();
        await device.AssertAccessibleAsync("rig, nothing connected");
        await page.Locator("#rig-fault").SelectOptionAsync(["F5:blown"]);
        await page.Locator("#connect").ClickAsync();
        await page.Locator("#simulated").WaitForAsync();
        Assert.Contains("blown", await page.Locator("h2:has-text('1 · The rig') + p").InnerTextAsync(), StringComparison.Ordinal);
        await page.Locator("#check").ClickAsync();
        await page.Locator("#wiring tbody tr").First.WaitForAsync();
        Assert.Equal(0, await page.Locator("#start").CountAsync());
        Assert.All(await page.Locator("#wiring .verdict").AllInnerTextsAsync(), v => Assert.Matches("^(✓ right|– cannot tell)$", v));
        await device.AssertAccessibleAsync("rig, wiring");
        await page.Locator("#confirm").ClickAsync();

        await page.Locator("#scenario").SelectOptionAsync([""]);
        await page.Locator("#rate").FillAsync("20");
        await page.Locator("#minutes").FillAsync("0.12");
        await page.Locator("label", new() { HasText = "sensor-RT1" }).Locator("input").FillAsync("30 degC");
        await page.Locator("#start").ClickAsync();
        await page.Locator("#figures dd").First.WaitForAsync();
        await page.Locator("figure.plot svg[role=img]").First.WaitForAsync();
        await Assertions.Expect(page.Locator("#figures div", new() { HasText = "RT1" }).Locator("dd")).ToContainTextAsync("30");
        Assert.Contains("Missed", await page.Locator("#timing").InnerTextAsync(), StringComparison.Ordinal);
        await device.AssertAccessibleAsync("rig, running");
        await AssertTouchAsync(page);

        await page.Locator("#outcome").WaitForAsync();
        Assert.Contains("its time is over", (await page.Locator("#outcome").InnerTextAsync()).ToLowerInvariant(), StringComparison.Ordinal);
        Assert.Contains("safe state", await page.Locator(".rigbar").InnerTextAsync(), StringComparison.Ordinal);
        await page.Locator("section[aria-labelledby^=run-] figure.plot").First.WaitForAsync();
        IDownload download = await page.RunAndWaitForDownloadAsync(() => page.Locator("#csv").ClickAsync());
        string[] csv = await File.ReadAllLinesAsync(await download.PathAsync(), TestContext.Current.CancellationToken);
        RigRunRecord run = OnDisk(id)[0];
        Assert.Equal(run.Samples + 1, csv.Length);
        Assert.Contains("stand-in RT1 [ohm]", csv[0], StringComparison.Ordinal);
        Assert.Contains("F5", run.Start.Unit, StringComparison.Ordinal);

        await page.Locator("#find-readings").ClickAsync();
        await page.Locator("#take-readings").ClickAsync();
        await page.Locator("#taken").WaitForAsync();
        Assert.NotEmpty(browsing.OnDisk(id));
        await device.AssertAccessibleAsync("rig, after the run");
        await page.Locator("#disconnect").ClickAsync();
        await page.Locator("#connect").WaitForAsync();
        await Assertions.Expect(page.Locator(".rigbar")).ToHaveCountAsync(0);
        Assert.Empty(device.Errors);
        Assert.Empty(device.Strays);
    }

    [Fact]
    public async Task The_wiring_is_checked_with_the_supply_on_and_a_run_is_held_against_a_sound_unit()
    {
        string id = browsing.NewSession(Automatic);
        Device device = await DeviceAsync(820, 1180);
        IPage page = device.Page;
        await device.GoAsync(Address(id));
        await page.Locator("#rig-fault").SelectOptionAsync(["F5:blown"]);
        await page.Locator("#connect").ClickAsync();
        await page.Locator("#check").ClickAsync();
        await page.Locator("#confirm").WaitForAsync();
        Assert.Equal(0, await page.Locator("#check-live").CountAsync());
        await page.Locator("#confirm").ClickAsync();
        await page.Locator("#live-offer summary").ClickAsync();
        await page.Locator("#live-offer .caution", new() { HasText = "supply and pump go on at once" }).WaitForAsync();
        await device.AssertAccessibleAsync("rig, live check offered");
        await AssertTouchAsync(page);
        await page.Locator("#check-live").ClickAsync();
        await page.Locator("#live-said", new() { HasText = "confirm the wiring anew" }).WaitForAsync();
        await page.Locator("#held").WaitForAsync();
        Assert.Equal(0, await page.Locator("#start").CountAsync());

        // The own scenario: what is wrong is told with its line, and nothing starts.
        await page.Locator("#check").ClickAsync();
        await page.Locator("#confirm").ClickAsync();
        await page.Locator("#scenario").SelectOptionAsync(["scenario"]);
        string text = await page.Locator("#own-scenario").InputValueAsync();
        foreach ((string bad, string told) in new[] { (text.Replace("start:", "begin:", StringComparison.Ordinal), "scenario:"), (Script, "cannot be used"), ("", "cannot be used") })
        {
            await page.Locator("#own-scenario").FillAsync(bad);
            await page.Locator("#start").ClickAsync();
            await page.Locator("section[aria-labelledby=step-run] .problem", new() { HasText = told }).WaitForAsync();
        }

        await page.Locator("#scenario").SelectOptionAsync(["pull-down"]);
        await page.Locator("#times").SelectOptionAsync(["10"]);
        await page.Locator("#minutes").FillAsync("0.25");
        await page.Locator("#start").ClickAsync();
        await page.Locator("#run-state").WaitForAsync();
        await page.Locator("#figures dt", new() { HasText = "Volts over Left blower (M1)" }).WaitForAsync();
        await page.Locator("#before-run", new() { HasText = "blown" }).WaitForAsync();
        await page.Locator("#verdict", new() { HasText = "Compressor clutch" }).WaitForAsync();
        await page.Locator("#outcome").WaitForAsync();
        ILocator look = page.Locator("section[aria-labelledby^=run-]");
        await page.GetByRole(AriaRole.Link, new() { Name = "How it went" }).ClickAsync();
        await Assertions.Expect(look.Locator("h2")).ToBeInViewportAsync();
        await look.Locator("#verdict", new() { HasText = "off where a sound unit has on" }).WaitForAsync();
        await look.Locator("#against-plots path.dashed").First.WaitForAsync();
        await device.AssertAccessibleAsync("rig, against a sound unit");
        await AssertTouchAsync(page);
        await page.Locator("#disconnect").ClickAsync();
        await page.Locator("#connect").WaitForAsync();
        Assert.NotEqual("run", await page.TitleAsync());
        Assert.Empty(device.Errors);
        Assert.Empty(device.Strays);
    }

    [Fact]
    public async Task A_real_line_is_energised_only_after_the_confirmation_and_stopped_from_another_device()
    {
        await using var supply = new SupplyOnALine();
        string id = browsing.NewSession(Manual);
        Device one = await DeviceAsync(), two = await DeviceAsync(820, 1180);
        await OwnRigAsync(one, id, supply.RigFile("battery"));
        Assert.Empty(supply.Told);
        await one.Page.Locator("#connect").ClickAsync();
        await one.Page.Locator("#devices", new() { HasText = "INVENTED,SUPPLY" }).WaitForAsync();
        await one.Page.Locator("#check").ClickAsync();
        await one.Page.Locator("#confirm").WaitForAsync();
        Assert.DoesNotContain("OUTP ON", supply.Told);
        await one.Page.Locator("#confirm").ClickAsync();
        await one.Page.Locator("#start").WaitForAsync();
        Assert.DoesNotContain("OUTP ON", supply.Told);
        await one.Page.Locator("#start").ClickAsync();
        await one.Page.Locator("#figures dd").First.WaitForAsync();
        Assert.True(supply.IsOn);

        // The first device goes away: the run goes on, and the second one sees it on whatever page it is.
        await one.Page.CloseAsync();
        await two.GoAsync($"/bench/{id}/parts");
        await two.Page.Locator(".rigbar", new() { HasText = "Running" }).WaitForAsync();
        Assert.True(supply.IsOn);
        ILocator stop = two.Page.GetByRole(AriaRole.Button, new() { Name = "STOP" });
        await two.Page.EvaluateAsync("() => window.scrollTo(0, document.body.scrollHeight)");
        Assert.True(await stop.EvaluateAsync<bool>("e => { const b = e.getBoundingClientRect(), hit = document.elementFromPoint(b.x + b.width / 2, b.y + b.height / 2); return b.bottom <= innerHeight && b.height >= 60 && hit === e; }"));
        // The page puts the focus on its heading; STOP stands before it.
        for (int i = 0; i < 25 && !await stop.EvaluateAsync<bool>("e => e === document.activeElement"); i++) await two.Page.Keyboard.PressAsync("Shift+Tab");
        await two.Page.Keyboard.PressAsync("Enter");
        await two.Page.Locator(".rigbar", new() { HasText = "All outputs are in their safe state: STOP was pressed" }).WaitForAsync();
        Assert.False(supply.IsOn);
        await two.GoAsync(Address(id));
        await two.Page.Locator("#held").WaitForAsync();
        await two.Page.Locator("#ended", new() { HasText = "STOP was pressed" }).WaitForAsync();
        Assert.Equal(0, await two.Page.Locator("#start").CountAsync());
        await two.Page.Locator("#disconnect").ClickAsync();
        await two.Page.Locator("#connect").WaitForAsync();
    }

    [Fact]
    public async Task A_lost_device_is_told_at_once_and_the_session_is_whole()
    {
        await using var supply = new SupplyOnALine();
        string id = browsing.NewSession(Manual);
        browsing.Read(id, "volts(feed.ctl)", "12.1 V");
        Device device = await DeviceAsync();
        await OwnRigAsync(device, id, supply.RigFile("battery"));
        foreach (string step in (string[])["#connect", "#check", "#confirm", "#start"]) await device.Page.Locator(step).ClickAsync();
        await device.Page.Locator("#figures dd").First.WaitForAsync();
        supply.Pull();
        await device.Page.Locator(".rigbar.alarm", new() { HasText = "CUT THE 12 V SUPPLY BY HAND" }).WaitForAsync();
        await device.Page.Locator("#ended", new() { HasText = "psu" }).WaitForAsync();
        await device.AssertAccessibleAsync("rig, lost");
        Assert.Single(browsing.OnDisk(id));
        await device.Page.Locator("#disconnect").ClickAsync();
        await device.Page.Locator("#connect").WaitForAsync();
        Assert.True(OnDisk(id)[0].End!.IsFault);

        // The alarm stays on every page until a person says that the supply is cut.
        await device.GoAsync($"/bench/{id}/parts");
        await device.Page.Locator(".rigbar.alarm", new() { HasText = "CUT THE 12 V SUPPLY BY HAND" }).WaitForAsync();
        await device.Page.Locator("#supply-is-cut").ClickAsync();
        await Assertions.Expect(device.Page.Locator(".rigbar")).ToHaveCountAsync(0);
    }

    [Fact]
    public async Task The_end_of_the_program_makes_the_outputs_safe_and_the_run_has_its_end()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "Windows has no SIGTERM.");
        await using var supply = new SupplyOnALine();
        string id = browsing.NewSession(Manual);
        await using Server server = await Server.StartAsync(browsing.StorePath);
        var device = new Device((await DeviceAsync()).Page, server);
        await OwnRigAsync(device, id, supply.RigFile("battery"));
        foreach (string step in (string[])["#connect", "#check", "#confirm", "#start"]) await device.Page.Locator(step).ClickAsync();
        await device.Page.Locator("#figures dd").First.WaitForAsync();
        Assert.True(supply.IsOn);
        await server.TellToEndAsync();
        for (int i = 0; i < 50 && (supply.IsOn || OnDisk(id) is not [{ End: not null }]); i++) await Task.Delay(100, TestContext.Current.CancellationToken);
        Assert.False(supply.IsOn);
        Assert.NotNull(Assert.Single(OnDisk(id)).End);
    }

    [Fact]
    public async Task A_rig_file_that_is_wrong_is_told_with_lines_and_columns_and_opens_nothing()
    {
        string id = browsing.NewSession(Automatic);
        Device device = await DeviceAsync();
        string text = (await File.ReadAllTextAsync(Path.Combine(Rigs(), "twin-blower-car.yaml"), TestContext.Current.CancellationToken))
            .Replace("wired-to: RT1", "wired-to: RT11", StringComparison.Ordinal).Replace("kind: firmata", $"kind: \"{Script.Replace("\"", "'", StringComparison.Ordinal)}\"", StringComparison.Ordinal);
        string[] lines = text.Split('\n');
        await OwnRigAsync(device, id, text);
        await device.Page.Locator("#connect").ClickAsync();
        await device.Page.Locator("#rig-problem li").First.WaitForAsync();
        string said = await device.Page.Locator("#rig-problem").InnerTextAsync();
        Assert.Contains($"Line {1 + Array.FindIndex(lines, l => l.Contains("script", StringComparison.Ordinal))}, column ", said, StringComparison.Ordinal);
        foreach (string bad in (string[])["", "\0\0", "rig: 1\ndevices: [unterminated", Script, string.Concat(Enumerable.Repeat("- x\n", 30_000))])
        {
            // Put in as a paste puts it: typed line by line the browser alone would take minutes.
            await device.Page.Locator("#rig-text").EvaluateAsync("(e, text) => { e.value = text; e.dispatchEvent(new Event('change', { bubbles: true })); }", bad);
            await device.Page.Locator("#connect").ClickAsync();
            await device.Page.Locator("#rig-problem").WaitForAsync();
            await Assertions.Expect(device.Page.Locator("#connect")).ToBeEnabledAsync();
            Assert.DoesNotContain("   at ", await device.Page.Locator("#rig-problem").InnerTextAsync(), StringComparison.Ordinal);
        }

        await Assertions.Expect(device.Page.Locator(".rigbar .stop")).ToHaveCountAsync(0);
        Assert.NotEqual("run", await device.Page.TitleAsync());
        Assert.Equal(0, await device.Page.Locator("main img, main script").CountAsync());
        Assert.Empty(device.Errors);
        Assert.Empty(device.Strays);
    }

    [Fact]
    public async Task Orders_and_logs_that_make_no_sense_are_refused_and_numbers_follow_the_person()
    {
        string id = browsing.NewSession(Automatic), other = browsing.NewSession(Manual);
        Device device = await DeviceAsync();
        IPage page = device.Page;
        foreach ((string name, string value) in new[] { ("vw-units", "us"), ("vw-comma", "yes") }) await page.Context.AddCookiesAsync([new() { Name = name, Value = value, Url = browsing.Server.Address }]);
        await device.GoAsync(Address(id));
        foreach (string step in (string[])["#connect", "#check", "#confirm"]) await page.Locator(step).ClickAsync();
        foreach ((string field, string bad) in new[] { ("#rate", "1e9"), ("#rate", Script), ("#minutes", "-5"), ("#minutes", "NaN") })
        {
            string before = await page.Locator(field).InputValueAsync();
            await page.Locator(field).FillAsync(bad);
            await page.Locator("#start").ClickAsync();
            // The answer to this very text: until it is there the page may still put the text back into the field.
            await page.Locator("section[aria-labelledby=step-run] .problem", new() { HasText = bad[..Math.Min(20, bad.Length)] }).WaitForAsync();
            await page.Locator(field).FillAsync(before);
        }

        await page.Locator("#rate").FillAsync("12,5");
        await page.Locator("#times").SelectOptionAsync(["30"]);
        await page.Locator("#start").ClickAsync();
        ILocator cabin = page.Locator("#figures .main dd").First;
        await Assertions.Expect(cabin).ToContainTextAsync("degF");
        await Assertions.Expect(page.Locator("#timing")).ToContainTextAsync("12,");

        // Another session's page says whose the rig is, and offers nothing to connect.
        Device second = await DeviceAsync();
        await second.GoAsync(Address(other));
        await second.Page.Locator("#elsewhere").WaitForAsync();
        Assert.Equal(0, await second.Page.Locator("#connect").CountAsync());

        await page.Locator("#pause").ClickAsync();
        await page.Locator("#run-state", new() { HasText = "Paused" }).WaitForAsync();
        await page.Locator("#hand").ClickAsync();
        ILocator hand = page.Locator(".by-hand form", new() { HasText = "RT1" });
        await hand.Locator("input").FillAsync(Script);
        await hand.Locator("button").ClickAsync();
        await page.Locator("section[aria-labelledby=step-run] .problem").WaitForAsync();
        await hand.Locator("input").FillAsync("12,5 kohm");
        await hand.Locator("button").ClickAsync();
        await page.Locator("#set-said", new() { HasText = "12,5" }).WaitForAsync();
        await page.Locator("#go").ClickAsync();
        await page.Locator("#run-state", new() { HasText = "Running" }).WaitForAsync();
        await page.Locator(".stop").ClickAsync();
        await page.Locator("#outcome").WaitForAsync();
        await page.Locator("#disconnect").ClickAsync();

        await page.Locator("#foreign summary").ClickAsync();
        await page.Locator("#foreign input[type=file]").SetInputFilesAsync(new FilePayload { Name = "log.csv", MimeType = "text/csv", Buffer = System.Text.Encoding.UTF8.GetBytes($"Time;{Script.Replace("\"", "", StringComparison.Ordinal)};Kanal\n" + string.Join('\n', Enumerable.Range(0, 20).Select(i => string.Create(CultureInfo.InvariantCulture, $"{i};x;13,1")))) });
        ILocator columns = page.Locator("#foreign .column");
        await columns.Nth(2).Locator("select").SelectOptionAsync(["volts(battery)"]);
        await columns.Nth(2).Locator("input").FillAsync("kPa");
        await page.Locator("#log-find").ClickAsync();
        await page.Locator("#foreign .problem").WaitForAsync();
        await columns.Nth(2).Locator("input").FillAsync("V");
        await page.Locator("#log-find").ClickAsync();
        await page.Locator("#foreign #take-readings").ClickAsync();
        await page.Locator("#taken").WaitForAsync();
        Assert.Equal("13.1 V", WrittenEntries.Body<ReadingBody>(Assert.Single(browsing.OnDisk(id))).Got);
        Assert.NotEqual("run", await page.TitleAsync());
        Assert.Empty(device.Errors);
    }

    /// <summary>Nothing on this page takes long: what does not come soon does not come.</summary>
    private async Task<Device> DeviceAsync(int width = 1440, int height = 900)
    {
        Device device = await browsing.DeviceAsync(width, height);
        device.Page.SetDefaultTimeout(PatienceMs);
        return device;
    }

    private static string Address(string id) => $"/bench/{id}/automatic/rig";

    private static string Rigs()
    {
        string? folder = AppContext.BaseDirectory;
        while (folder is not null && !Directory.Exists(Path.Combine(folder, "rigs"))) folder = Path.GetDirectoryName(folder);
        return Path.Combine(folder!, "rigs");
    }

    private static async Task OwnRigAsync(Device device, string id, string text)
    {
        await device.GoAsync(Address(id));
        await device.Page.Locator("#own-rig").CheckAsync();
        await device.Page.Locator("#rig-text").FillAsync(text);
        await device.Page.Keyboard.PressAsync("Tab");
    }

    private static async Task AssertTouchAsync(IPage page)
    {
        string[] small = await page.EvaluateAsync<string[]>(
            """
            () => [...document.querySelectorAll("main button, main select, main input:not([type=radio]):not([type=checkbox]), main summary, main .pick, .rigbar button")]
              .filter(e => e.checkVisibility() && e.getBoundingClientRect().height < 47.5)
              .map(e => `${e.tagName} ${e.className} ${e.textContent.trim().slice(0, 20)} ${e.getBoundingClientRect().height}`)
            """);
        Assert.Empty(small);
        Assert.False(await page.EvaluateAsync<bool>("() => document.documentElement.scrollWidth > innerWidth"), "the page is wider than the screen");
    }

    private IReadOnlyList<RigRunRecord> OnDisk(string id)
    {
        using SqliteSessionStore store = SqliteSessionStore.Open(browsing.StorePath);
        return store.Runs(id);
    }
}
