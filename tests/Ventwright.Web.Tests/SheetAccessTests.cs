using Ventwright.Store;
using Ventwright.Workshop;

namespace Ventwright.Web.Tests;

/// <summary>The pages for sheets and paper against axe-core and against the app's own rules for touch.</summary>
public sealed class SheetAccessTests(Browsing browsing) : IClassFixture<Browsing>
{
    [Theory]
    [InlineData(1440, 900, "light")]
    [InlineData(820, 1180, "dark")]
    public async Task No_page_has_a_serious_finding_a_small_target_or_small_text(int width, int height, string theme)
    {
        string session = browsing.NewSession("single-blower-manual.yaml"), sheet;
        using (SqliteSessionStore store = SqliteSessionStore.Open(browsing.StorePath))
        {
            string text = File.ReadAllText(SheetShelf.Find("single-blower-manual.yaml")!);
            var sheets = new SheetVersions(store);
            sheet = sheets.Create(text);
            sheets.Save(sheet, text, "a");
            sheets.Keep(sheet, text.Replace("vac.tank, vac.inlet", "vac.tank, vac.inlt", StringComparison.Ordinal));
        }

        Device device = await browsing.DeviceAsync(width, height);
        await device.GoAsync("/preferences");
        await device.Page.GetByRole(Microsoft.Playwright.AriaRole.Button, new() { Name = theme, Exact = true }).ClickAsync();
        foreach ((string path, string shows) in new[] { ("/sheets", ".rows"), ("/sheets/new", "#write"), ($"/sheets/{sheet}", ".problems li"), ($"/session/{session}/paper", "#report"), ($"/session/{session}/sheet", "h2"), ($"/session/{session}/type-in", "#reading-1") })
        {
            await device.GoAsync(path);
            await device.Page.Locator(shows).First.WaitForAsync();
            await device.AssertAccessibleAsync(path);
            Assert.Empty(await SmallAsync(device, path));
            Assert.False(await device.Page.EvaluateAsync<bool>("() => document.documentElement.scrollWidth > innerWidth"), $"{path} is wider than the screen");
        }
    }

    private static async Task<string[]> SmallAsync(Device device, string path) => [.. (await device.Page.EvaluateAsync<string[]>(
        """
        () => [...document.querySelectorAll("main button, main select, main input, main summary, main a.button, main a.row, header a")]
          .filter(e => e.checkVisibility() && e.getBoundingClientRect().height < 47.5)
          .concat([...document.querySelectorAll("main :not(svg *):not(svg):not(.quiet), header *")]
            .filter(e => e.checkVisibility() && [...e.childNodes].some(n => n.nodeType === 3 && n.textContent.trim()) && parseFloat(getComputedStyle(e).fontSize) < 15))
          .map(e => `${e.tagName} ${e.className} ${e.textContent.trim().slice(0, 20)} ${getComputedStyle(e).fontSize} ${e.getBoundingClientRect().height}`)
        """)).Select(s => $"{path}: {s}")];
}
