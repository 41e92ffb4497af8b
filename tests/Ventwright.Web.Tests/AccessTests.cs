using Microsoft.Playwright;

namespace Ventwright.Web.Tests;

/// <summary>Pages against axe-core (WCAG 2.2 A and AA rules among others) and against the app's own rules for touch.</summary>
public sealed class AccessTests(Browsing browsing) : IClassFixture<Browsing>
{
    [Theory]
    [InlineData("light", 1440, 900)]
    [InlineData("dark", 820, 1180)]
    public async Task No_page_has_a_serious_finding(string theme, int width, int height)
    {
        string id = browsing.NewSession("single-blower-manual.yaml");
        Device device = await browsing.DeviceAsync(width, height);
        await device.GoAsync("/preferences");
        await device.Page.GetByRole(AriaRole.Button, new() { Name = theme, Exact = true }).ClickAsync();
        await device.BenchAsync(id);
        await device.ChooseAsync("feed.ctl", "Volts at feed.ctl");
        await device.EnterAsync("0.1");
        await device.KeptAsync("0.1 V");
        await device.Page.Locator(".suspects[aria-busy=false]").WaitForAsync();
        await device.AssertAccessibleAsync("bench");
        foreach ((string path, string shows) in new[] { ("/", "h1"), ("/preferences", "h1"), ($"/bench/{id}/chart", "table.chart"), ($"/bench/{id}/parts", ".rows"), ($"/bench/{id}/part/F3", "table.list >> nth=1") })
        {
            await device.GoAsync(path);
            await device.Page.Locator(shows).First.WaitForAsync();
            await device.AssertAccessibleAsync(path);
        }
    }

    [Fact]
    public async Task Panel_drawing_next_check_and_what_is_proven_are_seen_on_one_screen()
    {
        string id = browsing.NewSession("twin-blower-automatic.yaml");
        Device device = await browsing.DeviceAsync();
        await device.BenchAsync(id);
        await device.Page.Locator("#canvas[data-ready] svg").WaitForAsync();
        await device.Page.Locator(".strip b").WaitForAsync();
        string[] hidden = await device.Page.EvaluateAsync<string[]>(
            """
            () => [...document.querySelectorAll("#canvas svg rect.lane, #panel h2, .next h2, .next .where, #reading, .next button[type=submit], .strip")]
              .map(e => [e, e.getBoundingClientRect()]).filter(([, box]) => box.width === 0 || box.top < 0 || box.bottom > innerHeight).map(([e, box]) => `${e.className.baseVal ?? e.id} ${box.bottom}`)
            """);
        Assert.Empty(hidden);
        string[] gone = await device.Page.EvaluateAsync<string[]>(
            """
            () => [...document.querySelectorAll("#canvas g.node:not(.pin) > rect.box")]
              .filter(e => e.getBoundingClientRect().width < 4 || getComputedStyle(e).fill === getComputedStyle(e).stroke && getComputedStyle(e).fill === "none").map(e => e.parentNode.dataset.key)
            """);
        Assert.Empty(gone);
    }

    [Fact]
    public async Task Targets_on_the_bench_are_48_pixels_high_or_more_and_text_15_or_more()
    {
        string id = browsing.NewSession("single-blower-manual.yaml");
        Device device = await browsing.DeviceAsync(820, 1180);
        await device.BenchAsync(id);
        string[] small = await device.Page.EvaluateAsync<string[]>(
            """
            () => [...document.querySelectorAll("main button, main select, main input, main summary, header a")]
              .filter(e => e.checkVisibility() && e.getBoundingClientRect().height < 47.5 && !e.closest(".kept"))
              .map(e => `${e.tagName} ${e.className} ${e.textContent.trim().slice(0, 20)} ${e.getBoundingClientRect().height}`)
            """);
        Assert.Empty(small);
        string[] fine = await device.Page.EvaluateAsync<string[]>(
            """
            () => [...document.querySelectorAll("main :not(svg *):not(svg), header *")]
              .filter(e => e.checkVisibility() && [...e.childNodes].some(n => n.nodeType === 3 && n.textContent.trim()) && parseFloat(getComputedStyle(e).fontSize) < 15)
              .map(e => `${e.tagName} ${e.textContent.trim().slice(0, 20)} ${getComputedStyle(e).fontSize}`)
            """);
        Assert.Empty(fine);
        Assert.False(await device.Page.EvaluateAsync<bool>("() => document.documentElement.scrollWidth > innerWidth"), "the page is wider than the screen");
    }
}
