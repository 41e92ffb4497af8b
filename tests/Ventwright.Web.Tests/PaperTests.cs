using Microsoft.Playwright;
using UglyToad.PdfPig;

namespace Ventwright.Web.Tests;

/// <summary>Paper from the app, read back with a reader that shares no code with the writer (PdfPig), and readings typed in from paper.</summary>
public sealed class PaperTests(Browsing browsing) : IClassFixture<Browsing>
{
    private const string Manual = "single-blower-manual.yaml";

    [Fact]
    public async Task Check_list_chart_pin_table_and_report_come_as_PDF_on_the_paper_that_was_chosen()
    {
        string id = browsing.NewSession(Manual);
        browsing.Read(id, "volts(feed.ctl)", "0.1 V");
        Device device = await browsing.DeviceAsync();
        await device.GoAsync($"/session/{id}/paper");
        await Choose(device, "US Letter");
        await Choose(device, "US: inHg, °F");
        (string Button, string Name, string[] Wanted)[] papers =
        [
            ("Download Function chart", "function-chart", ["Function chart", "Single-blower manual climate unit"]), ("Download Pin table", "pin-table", ["Pin table", "XT", "feed.ctl"]),
            ("Download Check list", "check-list", ["Bench check list", "inHg", "done by"]), ("Download the report", "report", ["Bench report", "Test bench", "differs", "Control and clutch fuse (F3)"]),
        ];
        foreach ((string button, string name, string[] wanted) in papers)
        {
            IDownload download = await device.Page.RunAndWaitForDownloadAsync(() => device.Page.GetByRole(AriaRole.Button, new() { Name = button }).ClickAsync());
            Assert.Equal($"{name}-{id}.pdf", download.SuggestedFilename);
            using PdfDocument pdf = PdfDocument.Open(await download.PathAsync());
            string text = string.Join(' ', pdf.GetPages().SelectMany(p => p.GetWords()).Select(w => w.Text));
            Assert.All(wanted, w => Assert.Contains(w, text, StringComparison.Ordinal));
            double[] size = [pdf.GetPage(1).Width, pdf.GetPage(1).Height];
            Assert.Equal([612, 792], size.Order());
        }

        Assert.Empty(device.Errors);
        Assert.Empty(device.Strays);
    }

    [Fact]
    public async Task Readings_are_typed_in_by_the_numbers_of_the_check_list_and_are_on_disk_before_the_tick()
    {
        string id = browsing.NewSession(Manual);
        Device device = await browsing.DeviceAsync();
        IPage page = device.Page;
        await device.GoAsync($"/session/{id}/type-in");
        ILocator first = page.Locator("#reading-1");
        await first.WaitForAsync();
        string hint = (await first.GetAttributeAsync("placeholder"))!;
        string got = hint.Contains(',', StringComparison.Ordinal) ? hint.Split(',')[0] : "1.25";
        await first.ClickAsync();
        await page.Keyboard.TypeAsync(got);
        await page.Keyboard.PressAsync("Enter");
        await page.Locator("li[data-row='1'] .state", new() { HasText = $"✓ {got}" }).WaitForAsync();
        Assert.Single(browsing.OnDisk(id));
        await page.WaitForFunctionAsync("() => document.activeElement?.id === 'reading-2'");

        await page.Keyboard.TypeAsync("nonsense <b>");
        await page.Keyboard.PressAsync("Enter");
        await page.Locator("li[data-row='2'] .problem").WaitForAsync();
        Assert.Equal("nonsense <b>", await page.Locator("#reading-2").InputValueAsync());
        Assert.Single(browsing.OnDisk(id));

        await first.FillAsync(got);
        await first.PressAsync("Enter");
        await page.WaitForFunctionAsync("() => document.activeElement?.id === 'reading-2'");
        Assert.Single(browsing.OnDisk(id));
        Assert.Empty(device.Errors);
    }

    private static Task Choose(Device device, string option) => device.Page.GetByRole(AriaRole.Button, new() { Name = option, Exact = true }).ClickAsync();
}
