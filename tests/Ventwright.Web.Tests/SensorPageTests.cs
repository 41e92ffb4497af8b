using System.Diagnostics;
using System.Globalization;
using System.Text.Json;
using Microsoft.Playwright;
using Ventwright.Workshop;

namespace Ventwright.Web.Tests;

/// <summary>Sensors proved on the screen: points to the verdict, sweep, aspirator, stand-ins. The numbers are held against what the command line says for the same readings.</summary>
public sealed class SensorPageTests(Browsing browsing) : IClassFixture<Browsing>
{
    private const string Automatic = "twin-blower-automatic.yaml";

    [Fact]
    public async Task Three_points_give_the_verdict_of_the_command_line_on_both_devices_and_count_as_readings()
    {
        string id = browsing.NewSession(Automatic);
        Device bench = await DeviceAsync(820, 1180), office = await DeviceAsync(1440, 900);
        await PreferAsync(bench, "extra large, for gloves", "vw-touch=large");
        await bench.GoAsync($"/bench/{id}/sensors");
        await Assertions.Expect(Standing(bench, "RT1")).ToHaveTextAsync("not measured");
        await bench.Page.Locator("a[data-part=RT1]").ClickAsync();
        await PadAsync(bench, "#ice-ohms", "30.1");
        await EnterAsync(bench, "ice");
        await PadAsync(bench, "#room-at", "21");
        await PadAsync(bench, "#room-ohms", "11.0");
        await EnterAsync(bench, "room");
        await bench.Page.GetByRole(AriaRole.Button, new() { Name = "the water boils" }).ClickAsync();
        await bench.Page.Locator("#hot-place").FillAsync("400");
        await Assertions.Expect(bench.Page.Locator("#step-hot")).ToContainTextAsync("boils here at 98.6 degC");
        await bench.Page.Locator("#hot-ohms").FillAsync("0.66");
        await EnterAsync(bench, "hot");

        using JsonDocument told = await CommandLineAsync("sensor", Sheet, "RT1", "--ice", "30.1kohm", "--at", "21C=11.0kohm", "--boiling", "0.66kohm", "--altitude", "400m", "--json");
        string verdict = told.RootElement.GetProperty("verdict").GetString()!, text = told.RootElement.GetProperty("text").GetString()!;
        string[] consequences = [.. told.RootElement.GetProperty("consequences").EnumerateArray().Select(c => c.GetProperty("text").GetString()!)];
        Assert.Equal("out of tolerance", verdict);
        await office.GoAsync($"/bench/{id}/sensors/RT1");
        foreach (Device device in (Device[])[bench, office])
        {
            ILocator said = device.Page.Locator("#verdict [data-verdict]");
            await Assertions.Expect(said).ToBeVisibleAsync();
            Assert.Equal(verdict, await said.GetAttributeAsync("data-verdict"));
            Assert.Equal(text + ".", await said.InnerTextAsync(), ignoreCase: true);
            await Assertions.Expect(device.Page.Locator("#verdict .told li").First).ToHaveTextAsync(consequences[0] + ".", new() { IgnoreCase = true });
            Assert.Equal(3, await device.Page.Locator("figure.sensor >> nth=0").Locator("circle.dot").CountAsync());
        }

        Assert.False(await bench.Page.EvaluateAsync<bool>("() => document.documentElement.scrollWidth > innerWidth"), "the page is wider than the screen");
        await bench.AssertAccessibleAsync("sensor");
        await office.Page.Locator("#step-ice summary").First.ClickAsync();
        await office.Page.GetByRole(AriaRole.Button, new() { Name = "Keep as a reading" }).First.ClickAsync();
        await Assertions.Expect(bench.Page.Locator("#step-ice")).ToContainTextAsync("Kept as reading number");
        SessionEvent reading = Assert.Single(browsing.OnDisk(id));
        ReadingBody body = WrittenEntries.Body<ReadingBody>(reading);
        Assert.Equal(("ohms(cs.signal, cs.gnd)", "30.1 kohm", "off", "0 degC", "yes"), (body.At, body.Got, body.Set["supply"], body.Set["cabin"], body.Set["unplug X4"]));
        await bench.GoAsync($"/bench/{id}/sensors");
        await Assertions.Expect(Standing(bench, "RT1")).ToContainTextAsync("reads 2.11 K warm");
        await bench.AssertAccessibleAsync("sensors");
        Assert.Empty(bench.Errors);
        Assert.Empty(bench.Strays);
    }

    [Fact]
    public async Task Wrong_and_hostile_input_is_told_and_not_kept()
    {
        string id = browsing.NewSession(Automatic);
        Device device = await DeviceAsync(1440, 900);
        await device.GoAsync($"/bench/{id}/sensors/RT1");
        ILocator step = device.Page.Locator("#step-ice"), problem = step.GetByRole(AriaRole.Alert);
        foreach ((string typed, string says) in new[] { ("-30", "above 0 ohm"), ("NaN", "not a number"), ("warm", "not a number"), ("<script>alert(1)</script>", "<script>"), ("", "resistance"), ("1e999", "resistance") })
        {
            await device.Page.Locator("#ice-ohms").FillAsync(typed);
            await EnterAsync(device, "ice");
            await Assertions.Expect(problem).ToContainTextAsync(says, new() { IgnoreCase = true });
        }

        Assert.Empty(browsing.OnDisk(id, SessionEventKind.SensorPoint));
        Assert.Equal(0, await device.Page.Locator("main script").CountAsync());

        // Points that cannot belong to one thermistor: told, and they can be taken back.
        await device.Page.Locator("#ice-ohms").FillAsync("3");
        await EnterAsync(device, "ice");
        await device.Page.Locator("#room-at").FillAsync("21");
        await device.Page.Locator("#room-ohms").FillAsync("11");
        await EnterAsync(device, "room");
        await Assertions.Expect(device.Page.Locator("#verdict .problem")).ToContainTextAsync("does not fall");
        await device.Page.Locator("#step-ice summary").First.ClickAsync();
        await step.GetByRole(AriaRole.Button, new() { Name = "Take back" }).ClickAsync();
        await Assertions.Expect(device.Page.Locator("#verdict")).ToContainTextAsync("two or more temperatures");
        Assert.Single(browsing.OnDisk(id, SessionEventKind.SensorPoint));
        await device.GoAsync($"/bench/{id}/sensors/<script>");
        await Assertions.Expect(device.Page.GetByRole(AriaRole.Alert)).ToContainTextAsync("there is no sensor", new() { IgnoreCase = true });
        Assert.Empty(device.Errors);
    }

    [Fact]
    public async Task A_sound_sensor_by_keyboard_alone_is_right_and_its_curve_goes_into_a_new_version()
    {
        string id = browsing.NewSession(Automatic);
        Device device = await DeviceAsync(1440, 900);
        await PreferAsync(device, "2,31, decimal comma", "vw-comma=yes");
        await device.GoAsync($"/bench/{id}/sensors/RT1");

        // 33.62, 12.01 and 0.726 kohm: the sheet's own curve, 10 kohm and Beta 3950 K, at 0, 21 and 98.6 degC.
        double Sound(double celsius) => 10 * Math.Exp(3950 * ((1 / (celsius + 273.15)) - (1 / 298.15)));
        await device.Page.Locator("#ice-ohms").FocusAsync();
        await TypeAsync(device, [Comma(Sound(0))]);
        await Assertions.Expect(device.Page.Locator("#step-room[open]")).ToBeVisibleAsync();
        await device.Page.Locator("#room-at").FocusAsync();
        await TypeAsync(device, ["21,0", null, Comma(Sound(21))]);
        await Assertions.Expect(device.Page.Locator("#step-hot[open]")).ToBeVisibleAsync();
        await device.Page.Locator("#hot-at").FocusAsync();
        await TypeAsync(device, ["60", null, Comma(Sound(60))]);
        await Assertions.Expect(device.Page.Locator("#verdict [data-verdict]")).ToBeVisibleAsync();
        Assert.Equal(0, await device.Page.GetByText("33.62").CountAsync());
        await device.Page.Locator("#write > summary").FocusAsync();
        await device.Page.Keyboard.PressAsync("Enter");
        await device.Page.Keyboard.PressAsync("Tab");
        await device.Page.Keyboard.PressAsync("Enter");
        await Assertions.Expect(device.Page.Locator("#written")).ToContainTextAsync("Version 2");
        await Assertions.Expect(device.Page.Locator("#written")).ToContainTextAsync("r25: 10 kohm");
        await device.Page.GetByRole(AriaRole.Link, new() { Name = "See what would change" }).ClickAsync();
        await Assertions.Expect(device.Page.GetByRole(AriaRole.Button, new() { Name = "What would change? with version 2" })).ToBeVisibleAsync();
        Assert.Empty(device.Errors);
    }

    [Fact]
    public async Task A_sweep_with_a_dead_spot_is_told_like_the_command_line_and_goes_on_reading_by_reading()
    {
        string id = browsing.NewSession(Automatic);
        Device device = await DeviceAsync(820, 1180);
        string[] rows = [.. Enumerable.Range(0, 21).Select(i => string.Create(CultureInfo.InvariantCulture, $"{i / 20.0},{(i is 10 or 11 ? "OL" : $"{12 + (i * 248)}")}"))];
        await PreferAsync(device, "extra large, for gloves", "vw-touch=large");
        await device.GoAsync($"/bench/{id}/sensors/M3");
        await device.Page.Locator("#paste summary").ClickAsync();
        foreach ((string list, string says) in new[] { ("0,12\n0.1,wet", "line 2"), ("0;12\n<script>alert(1)</script>", "line 2"), ("0;12\n0.5;-300\n1;5000", "not negative"), ("", "empty"), ("position,ohms", "empty") })
        {
            await device.Page.Locator("#list").FillAsync(list);
            await device.Page.GetByRole(AriaRole.Button, new() { Name = "Take this list" }).ClickAsync();
            await Assertions.Expect(device.Page.Locator("#paste .problem")).ToContainTextAsync(says, new() { IgnoreCase = true });
        }

        Assert.Empty(browsing.OnDisk(id, SessionEventKind.Sweep));
        await device.Page.Locator("#list").FillAsync(string.Join('\n', rows.Take(20)));
        await device.Page.GetByRole(AriaRole.Button, new() { Name = "Take this list" }).ClickAsync();
        await PadAsync(device, "#ohms", rows[20].Split(',')[1]);
        await device.Page.GetByRole(AriaRole.Button, new() { Name = "Enter this reading" }).ClickAsync();
        await Assertions.Expect(device.Page.Locator("[data-count='21']")).ToBeVisibleAsync();
        await device.Page.Locator("#total").FillAsync("5020");
        await device.Page.Locator("#total").PressAsync("Enter");
        await Assertions.Expect(device.Page.Locator("#end-to-end")).ToContainTextAsync("5020 ohm");
        await device.Page.ReloadAsync();

        string file = Path.Combine(Path.GetTempPath(), $"{id}.csv");
        await File.WriteAllTextAsync(file, "position,ohms\n" + string.Join('\n', rows), TestContext.Current.CancellationToken);
        using JsonDocument told = await CommandLineAsync("sweep", Sheet, "M3", "--points", file, "--total", "5020ohm", "--json");
        File.Delete(file);
        Assert.Equal("bad", told.RootElement.GetProperty("verdict").GetString());
        await Assertions.Expect(device.Page.Locator("#verdict [data-verdict=bad]")).ToHaveTextAsync("Bad: dead spots.");
        string[] expected = [.. told.RootElement.GetProperty("findings").EnumerateArray().Select(f => f.GetProperty("found").GetString()!)];
        string[] shown = [.. await device.Page.Locator("#findings td:nth-child(3)").AllInnerTextsAsync()];
        Assert.Equal(expected, shown);
        await Assertions.Expect(device.Page.Locator("rect.dead")).ToHaveCountAsync(1);
        await device.AssertAccessibleAsync("sweep");
        Assert.Empty(device.Errors);
    }

    [Fact]
    public async Task A_stand_in_comes_out_of_the_drawer_that_the_browser_remembers()
    {
        string id = browsing.NewSession(Automatic);
        Device device = await DeviceAsync(1440, 900);
        await device.GoAsync($"/bench/{id}/stand-ins/RT1");
        await device.Page.GetByRole(AriaRole.Button, new() { Name = "own drawer" }).ClickAsync();
        await device.Page.Locator("#drawer").FillAsync("8.2 kohm, 1 %, 2\nfour, 5 %");
        await device.Page.GetByRole(AriaRole.Button, new() { Name = "Remember this drawer" }).ClickAsync();
        await Assertions.Expect(device.Page.GetByRole(AriaRole.Alert)).ToContainTextAsync("Own drawer:2");
        const string drawer = "8.2 kohm, 1 %, 1\n390 kohm, 5 %, 1";
        await device.Page.Locator("#drawer").FillAsync(drawer);
        await device.Page.GetByRole(AriaRole.Button, new() { Name = "Remember this drawer" }).ClickAsync();
        await Assertions.Expect(device.Page.GetByText("Remembered in this browser")).ToBeVisibleAsync();

        // As the step test and the slow car link to it: in ohms. A page loaded anew has the drawer.
        await device.GoAsync($"/bench/{id}/stand-ins/RT1?at=8037.14 ohm");
        await Assertions.Expect(device.Page.Locator("#apply")).ToHaveTextAsync("8.037 kohm");
        string file = Path.Combine(Path.GetTempPath(), $"{id}.drawer");
        await File.WriteAllTextAsync(file, drawer, TestContext.Current.CancellationToken);
        using JsonDocument told = await CommandLineAsync("standin", Sheet, "RT1=30C", "--drawer", file, "--json");
        File.Delete(file);
        JsonElement best = told.RootElement.GetProperty("standIns")[0].GetProperty("choices")[0];
        Assert.Equal("8.20 kohm || 390 kohm", best.GetProperty("joined").GetString());
        await Assertions.Expect(device.Page.Locator(".choices li b").First).ToHaveTextAsync("8.20 kohm and 390 kohm side by side");
        await Assertions.Expect(device.Page.Locator(".box td")).ToHaveTextAsync(["8", "0", "3", "7"]);
        await device.AssertAccessibleAsync("stand-in");
        await device.Page.GetByRole(AriaRole.Button, new() { Name = "It is in its place" }).ClickAsync();
        await Assertions.Expect(device.Page.GetByText("The panel has it in its place")).ToBeVisibleAsync();
        foreach ((string value, string says) in new[] { ("-5000", "absolute zero"), ("hot", "not a number"), ("<script>alert(1)</script>", "<script>"), ("NaN", "not a number") })
        {
            await device.Page.Locator("#value").FillAsync(value);
            await device.Page.GetByRole(AriaRole.Button, new() { Name = "Work it out" }).ClickAsync();
            await Assertions.Expect(device.Page.GetByRole(AriaRole.Alert)).ToContainTextAsync(says, new() { IgnoreCase = true });
        }

        await device.GoAsync($"/bench/{id}/stand-ins/PS1");
        await device.Page.GetByRole(AriaRole.Button, new() { Name = "closed", Exact = true }).ClickAsync();
        await Assertions.Expect(device.Page.Locator("#apply")).ToHaveTextAsync("Bridge it");
        Assert.Empty(device.Errors);
    }

    [Fact]
    public async Task Air_seen_at_the_grille_is_judged_and_kept_and_the_parts_lead_there()
    {
        string id = browsing.NewSession(Automatic);
        Device device = await DeviceAsync(820, 1180);
        await device.GoAsync($"/bench/{id}/part/aspirator");
        await device.Page.GetByRole(AriaRole.Link, new() { Name = "Prove its air" }).ClickAsync();
        ILocator fan = device.Page.Locator("#flows section").First;
        await Assertions.Expect(fan).ToBeVisibleAsync();
        await fan.GetByRole(AriaRole.Button, new() { Name = "none" }).ClickAsync();
        using JsonDocument told = await CommandLineAsync("aspirator", Sheet, "--set", "mode=high", "--seen", "none", "--json");
        Assert.False(told.RootElement.GetProperty("seen").GetProperty("fits").GetBoolean());
        await Assertions.Expect(fan.Locator(".kept.differs")).ToContainTextAsync(told.RootElement.GetProperty("seen").GetProperty("text").GetString()!, new() { IgnoreCase = true });
        using JsonDocument all = await CommandLineAsync("aspirator", Sheet, "--json");
        string cold = all.RootElement.GetProperty("hoseOff").GetProperty("consequences")[0].GetProperty("text").GetString()!;
        await Assertions.Expect(device.Page.Locator("#loss .told li").First).ToHaveTextAsync(cold + ".", new() { IgnoreCase = true });
        Assert.Equal("airflow(aspirator)", WrittenEntries.Body<ReadingBody>(Assert.Single(browsing.OnDisk(id))).At);
        await device.AssertAccessibleAsync("aspirator");
        await device.Page.Locator("#dash").FillAsync("9999");
        await device.Page.Locator("#dash").PressAsync("Enter");
        await Assertions.Expect(device.Page.GetByRole(AriaRole.Alert)).ToContainTextAsync("outside");
        Assert.Empty(device.Errors);
    }

    /// <summary>Nothing here takes minutes: a page that does not answer fails its test soon.</summary>
    private async Task<Device> DeviceAsync(int width, int height)
    {
        Device device = await browsing.DeviceAsync(width, height);
        device.Page.SetDefaultTimeout(60_000);
        return device;
    }

    private static string Sheet => SheetShelf.Find(Automatic)!;

    private static string Comma(double kohm) => kohm.ToString("0.000", CultureInfo.InvariantCulture).Replace('.', ',');

    private static ILocator Standing(Device device, string part) => device.Page.Locator($"a[data-part={part}] .standing");

    /// <summary>Puts digits in a field by the pad beside it, as a person with gloves does.</summary>
    private static async Task PadAsync(Device device, string field, string digits)
    {
        await device.Page.Locator(field).ClickAsync();
        ILocator pad = device.Page.Locator("form", new() { Has = device.Page.Locator(field) }).Locator(".pad");
        foreach (char digit in digits) await pad.GetByRole(AriaRole.Button, new() { Name = digit.ToString(), Exact = true }).ClickAsync();
        await Assertions.Expect(device.Page.Locator(field)).ToHaveValueAsync(digits);
    }

    private static async Task PreferAsync(Device device, string choice, string cookie)
    {
        await device.GoAsync("/preferences");
        await device.Page.GetByRole(AriaRole.Button, new() { Name = choice }).ClickAsync();
        // The page answers before the browser has the cookie; a page that is loaded at once would not see it.
        while (!(await device.Page.Context.CookiesAsync()).Any(c => $"{c.Name}={c.Value}" == cookie)) await Task.Delay(50, TestContext.Current.CancellationToken);
    }

    private static Task EnterAsync(Device device, string step) => device.Page.Locator($"#step-{step}").GetByRole(AriaRole.Button, new() { Name = "Enter this point" }).ClickAsync();

    /// <summary>Types into the field that has the focus, goes on by Tab (null is a field that is left as it is), and enters.</summary>
    private static async Task TypeAsync(Device device, string?[] fields)
    {
        foreach ((string? text, int i) in fields.Select((f, i) => (f, i)))
        {
            if (i > 0) await device.Page.Keyboard.PressAsync("Tab");
            if (text is not null) await device.Page.Keyboard.TypeAsync(text);
        }

        await device.Page.Keyboard.PressAsync("Enter");
    }

    private static async Task<JsonDocument> CommandLineAsync(params string[] arguments)
    {
        var start = new ProcessStartInfo("dotnet", [Path.Combine(AppContext.BaseDirectory, "ventwright.dll"), .. arguments]) { RedirectStandardOutput = true, UseShellExecute = false };
        using Process process = Process.Start(start)!;
        JsonDocument told = JsonDocument.Parse(await process.StandardOutput.ReadToEndAsync(TestContext.Current.CancellationToken));
        await process.WaitForExitAsync(TestContext.Current.CancellationToken);
        return told;
    }
}
