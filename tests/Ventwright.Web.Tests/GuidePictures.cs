using Microsoft.Playwright;
using Ventwright.Store;
using Ventwright.Workshop;
using Ventwright.Workshop.Sensors;

namespace Ventwright.Web.Tests;

/// <summary>Takes the pictures of docs/guide from the real app. Not part of the tests: docs/guide/pictures.sh runs it.</summary>
public sealed class GuidePictures(Browsing browsing) : IClassFixture<Browsing>
{
    private const string Automatic = "twin-blower-automatic.yaml";

    private static string Folder => Environment.GetEnvironmentVariable("VENTWRIGHT_PICTURES") ?? throw new InvalidOperationException("VENTWRIGHT_PICTURES names the folder for the pictures");

    [Fact(Explicit = true)]
    public async Task Take_all()
    {
        Directory.CreateDirectory(Folder);
        (string demo, string sheet) = Fill();
        string manual = browsing.NewSession("single-blower-manual.yaml"), sensors = Measured();
        foreach ((int width, int height, string size) in new[] { (1440, 900, ""), (820, 1180, "-tablet") })
        {
            Device device = await browsing.DeviceAsync(width, height);
            await ShotAsync(device, "/", ".rows", $"workshop{size}");
            await ShotAsync(device, "/sheets", ".rows", $"sheets{size}");
            await ShotAsync(device, "/sheets/new", "#write", $"questions{size}");
            await ShotAsync(device, $"/sheets/{sheet}", ".verdict.bad", $"editor-error{size}", async page =>
            {
                await page.Locator("#canvas svg").WaitForAsync();
                await page.Locator(".problems button").First.ClickAsync();
                await page.WaitForTimeoutAsync(800);
            });
            await ShotAsync(device, $"/sheets/{sheet}", ".verdict", $"editor-fits{size}", async page =>
            {
                await page.Locator("#canvas svg").WaitForAsync();
                await page.EvaluateAsync("() => { const a = document.getElementById('sheet-text'), at = a.value.indexOf('feed, to: feed.clutch'); a.focus(); a.setSelectionRange(at, at); }");
                await page.Keyboard.PressAsync("Control+Space");
                await page.Locator(".fits li").First.WaitForAsync();
            });
            await ShotAsync(device, $"/session/{demo}/paper", "#report", $"paper{size}");
            await ShotAsync(device, $"/session/{demo}/sheet", "h2", $"session-sheet{size}");
            await ShotAsync(device, $"/bench/{demo}", ".suspects[aria-busy=false]", $"bench{size}");
            await ShotAsync(device, $"/session/{manual}/type-in", "#reading-1", $"type-in{size}");
            await ShotAsync(device, $"/bench/{sensors}/sensors", ".standing.off", $"sensors{size}");
            await ShotAsync(device, $"/bench/{sensors}/sensors/RT1", "#verdict [data-verdict]", $"sensor{size}", page => page.Locator("#verdict").EvaluateAsync("e => e.scrollIntoView()"));
            await ShotAsync(device, $"/bench/{sensors}/stand-ins/RT1?at=30 degC", "#apply", $"stand-in{size}");
            await ShotAsync(device, $"/bench/{demo}/automatic/drive", "h1", $"drive{size}", DriveAsync);
            await ShotAsync(device, $"/bench/{demo}/automatic/slow", "h1", $"slow-car{size}", async page =>
            {
                await page.GetByRole(AriaRole.Button, new() { Name = "Begin" }).ClickAsync();
                await page.Locator("td.ohms").First.WaitForAsync(new() { Timeout = 180_000 });
            });
            await ShotAsync(device, $"/bench/{demo}/automatic/rig", "#connect", $"rig{size}", RigAsync);
            await device.Page.Locator(".stop").ClickAsync();
            await device.Page.Locator("#outcome").WaitForAsync();
            await device.Page.Locator("#disconnect").ClickAsync();
            await device.Page.Locator("#connect").WaitForAsync();
            await ShotAsync(device, $"/bench/{demo}/automatic", "h1", $"step-test{size}", page => page.Locator("details.step").First.WaitForAsync(new() { Timeout = 600_000 }));
        }
    }

    private static async Task DriveAsync(IPage page)
    {
        await page.GetByLabel("Scenario").SelectOptionAsync(["mild-day"]);
        await page.GetByLabel("Against the sound unit").SelectOptionAsync(["aspirator:hose-off"]);
        await page.GetByRole(AriaRole.Button, new() { Name = "Drive", Exact = true }).ClickAsync();
        await page.Locator("figure.plot svg[role=img]").First.WaitForAsync(new() { Timeout = 180_000 });
        await page.Locator("figure.plot").First.ScrollIntoViewIfNeededAsync();
    }

    /// <summary>A session with a drifted cabin sensor at three points and a servo with a dead spot.</summary>
    private string Measured()
    {
        string id = browsing.NewSession(Automatic);
        using SqliteSessionStore store = SqliteSessionStore.Open(browsing.StorePath);
        OpenSession session = new SessionDesk(store).Open(id);
        foreach (SensorPointBody point in (SensorPointBody[])[new("RT1", "ice", null, "30.1 kohm"), new("RT1", "thermometer", "21 degC", "11.0 kohm"), new("RT1", "boiling", "400 m", "0.66 kohm")])
            SensorPoints.Enter(session, point, "bench");
        Sweeps.Enter(session, "M3", string.Join('\n', Enumerable.Range(0, 21).Select(i => FormattableString.Invariant($"{i / 20.0} {(i is 10 or 11 ? "OL" : $"{12 + (i * 248)}")}"))), new("position", "ohm", false), "bench");
        return id;
    }

    private static async Task RigAsync(IPage page)
    {
        foreach (string step in (string[])["#connect", "#check", "#confirm"]) await page.Locator(step).ClickAsync();
        await page.Locator("#scenario").SelectOptionAsync(["pull-down"]);
        await page.Locator("#times").SelectOptionAsync(["10"]);
        await page.Locator("#start").ClickAsync();
        await page.Locator("figure.plot svg[role=img]").First.WaitForAsync();
        await page.WaitForTimeoutAsync(20_000);
        await page.Locator("#run-state").EvaluateAsync("e => window.scrollBy(0, e.getBoundingClientRect().top - 90)");
    }

    private (string Session, string Sheet) Fill()
    {
        using SqliteSessionStore store = SqliteSessionStore.Open(browsing.StorePath);
        string demo = DemoWorkshop.Fill(new SessionDesk(store)).Record.Id;
        var sheets = new SheetVersions(store);
        string text = File.ReadAllText(SheetShelf.Find(Automatic)!);
        string sheet = sheets.Create(text);
        sheets.Save(sheet, text, "bench");
        sheets.Keep(sheet, text.Replace("from: battery, to: feed.left", "from: battery, to: feed.lft", StringComparison.Ordinal));
        return (demo, sheet);
    }

    private static async Task ShotAsync(Device device, string path, string shows, string name, Func<IPage, Task>? then = null)
    {
        await device.GoAsync(path);
        await device.Page.Locator(shows).First.WaitForAsync();
        if (then is not null) await then(device.Page);
        await device.Page.WaitForTimeoutAsync(400);
        await device.Page.ScreenshotAsync(new() { Path = Path.Combine(Folder, name + ".png") });
    }
}
