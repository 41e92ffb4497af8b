using System.Globalization;
using Microsoft.Playwright;

namespace Ventwright.Web.Tests;

/// <summary>Fingers on the drawing: pinch, drag and tap as the browser hands them to the page.</summary>
public sealed class TouchTests(Browsing browsing) : IClassFixture<Browsing>
{
    [Fact]
    public async Task Two_fingers_zoom_the_drawing_one_moves_it_and_a_tap_picks_a_part()
    {
        string id = browsing.NewSession("single-blower-manual.yaml");
        Device device = await browsing.DeviceAsync(820, 1180);
        await device.BenchAsync(id);
        // From here on nothing above the drawing grows and moves it away from under the fingers.
        await device.Page.Locator(".suspects[aria-busy=false] .sus > li").First.WaitForAsync();
        await device.Page.Locator("#canvas[data-ready] svg").ScrollIntoViewIfNeededAsync();
        LocatorBoundingBoxResult box = (await device.Page.Locator("#canvas svg").BoundingBoxAsync())!;
        var fingers = new Fingers(await device.Page.Context.NewCDPSessionAsync(device.Page));
        (float x, float y) = (box.X + (box.Width / 2), box.Y + (box.Height / 2));

        ILocator drawing = device.Page.Locator("#canvas svg");
        string atFirst = (await drawing.GetAttributeAsync("viewBox"))!;
        double[] whole = await ViewAsync(device);
        await fingers.MoveAsync([(x - 30, y), (x + 30, y)], [(x - 120, y), (x + 120, y)]);
        double[] zoomed = await ViewAsync(device);
        Assert.InRange(zoomed[2] / whole[2], 0.2, 0.4);
        Assert.Equal(whole[0] + (whole[2] / 2), zoomed[0] + (zoomed[2] / 2), 0.02 * whole[2]);

        await fingers.MoveAsync([(x, y)], [(x - 100, y - 50)]);
        double[] moved = await ViewAsync(device);
        Assert.Equal(zoomed[0] + (100 * zoomed[2] / box.Width), moved[0], 0.03 * zoomed[2]);
        Assert.Equal(zoomed[2], moved[2], 1e-6 * whole[2]);

        await device.Page.GetByRole(AriaRole.Button, new() { Name = "Whole", Exact = false }).First.ClickAsync();
        await Assertions.Expect(drawing).ToHaveAttributeAsync("viewBox", atFirst, new() { Timeout = 60_000 });
        ILocator fuse = device.Page.Locator("#canvas g[data-key]").Filter(new() { HasText = "F3" }).First;
        await fuse.EvaluateAsync("e => e.scrollIntoView({ block: 'center' })"); // clear of the panel's handle at the lower edge
        LocatorBoundingBoxResult part = (await fuse.BoundingBoxAsync())!;
        await device.Page.Touchscreen.TapAsync(part.X + (part.Width / 2), part.Y + (part.Height / 2));
        await device.Page.Locator(".picked", new() { HasText = "F3" }).WaitForAsync(new() { Timeout = 60_000 });
        Assert.Empty(device.Errors);
    }

    private static async Task<double[]> ViewAsync(Device device)
    {
        string view = (await device.Page.Locator("#canvas svg").GetAttributeAsync("viewBox"))!;
        return [.. view.Split(' ').Select(n => double.Parse(n, CultureInfo.InvariantCulture))];
    }

    /// <summary>Fingers by the browser's own debugging protocol, so that the page gets real touch events.</summary>
    private sealed class Fingers(ICDPSession browser)
    {
        private const int Steps = 12;

        /// <summary>Puts fingers down, moves them in a straight line, and lifts them.</summary>
        public async Task MoveAsync((float X, float Y)[] from, (float X, float Y)[] to)
        {
            await SendAsync("touchStart", from);
            for (int step = 1; step <= Steps; step++)
                await SendAsync("touchMove", [.. from.Zip(to, (a, b) => (a.X + ((b.X - a.X) * step / Steps), a.Y + ((b.Y - a.Y) * step / Steps)))]);
            await SendAsync("touchEnd", []);
        }

        private async Task SendAsync(string type, (float X, float Y)[] points) => await browser.SendAsync("Input.dispatchTouchEvent", new Dictionary<string, object>
        {
            ["type"] = type,
            ["touchPoints"] = points.Select((p, i) => new Dictionary<string, object> { ["x"] = p.X, ["y"] = p.Y, ["id"] = i }).ToArray(),
        });
    }
}
