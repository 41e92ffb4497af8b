using System.Globalization;
using System.Text.RegularExpressions;
using Microsoft.Playwright;

namespace Ventwright.Web.Tests;

/// <summary>How long the screen takes after a reading, seen from the browser. A measurement, not a test: bench/response.sh runs it.</summary>
public sealed partial class ResponseTimes(BrowsingTheProgram browsing, ITestOutputHelper output) : IClassFixture<BrowsingTheProgram>
{
    private const int Readings = 20;

    /// <summary>Nobody sets a unit and reads a meter in less; the program looks ahead meanwhile.</summary>
    private static readonly TimeSpan ToMakeTheCheck = TimeSpan.FromSeconds(2);

    /// <summary>Watches the page itself, so that the way of the message to the test does not count: from the tap to the paint after each change.</summary>
    private const string Watch =
        """
        () => {
          const last = () => document.querySelector(".kept")?.dataset.number;
          const before = last(), times = window.times = { start: performance.now() };
          const look = () => {
            const now = performance.now() - times.start;
            if (!times.kept && last() !== before) times.kept = now;
            if (times.kept && document.querySelector(".suspects[aria-busy=false]")) times.found = now;
            else requestAnimationFrame(look);
          };
          requestAnimationFrame(look);
        }
        """;

    [Theory(Explicit = true)]
    [InlineData("twin-blower-automatic.yaml")]
    [InlineData("single-blower-manual.yaml")]
    public async Task After_a_reading(string sheet)
    {
        string id = browsing.NewSession(sheet);
        Device device = await browsing.DeviceAsync();
        await device.BenchAsync(id);
        await device.Page.Locator(".suspects[aria-busy=false] .sus").WaitForAsync();
        await AtRestAsync();
        List<double> kept = [], found = [];
        for (int i = 0; i < Readings; i++)
        {
            await Task.Delay(ToMakeTheCheck, TestContext.Current.CancellationToken);
            if (await device.Round.CountAsync() > 0) await LookRoundAsync(device);
            else await device.Field.FillAsync(await SoundAsync(device));
            await device.Page.EvaluateAsync(Watch);
            await device.Page.Locator(".next button.primary").ClickAsync();
            await device.Page.WaitForFunctionAsync("() => window.times.found");
            kept.Add(await device.Page.EvaluateAsync<double>("() => window.times.kept"));
            found.Add(await device.Page.EvaluateAsync<double>("() => window.times.found"));
        }

        output.WriteLine($"{sheet}, {Readings} readings: on the page as kept after {Text(kept)}; suspects, proven and next check anew after {Text(found)}");
    }

    private static string Text(List<double> times)
    {
        double[] sorted = [.. times.Order()];
        return string.Create(CultureInfo.InvariantCulture, $"{sorted[sorted.Length / 2]:0} ms (median), {sorted[^2]:0} ms (19 of 20)");
    }

    /// <summary>What a sound unit shows at the check that is asked for, as one would type or tap it.</summary>
    private static async Task<string> SoundAsync(Device device)
    {
        await device.Page.GetByRole(AriaRole.Button, new() { Name = "What should it show?" }).ClickAsync();
        string text = await device.Page.Locator(".expected b").InnerTextAsync();
        foreach (string word in await device.Page.Locator(".wordbuttons button").AllInnerTextsAsync())
            if (text.StartsWith(word, StringComparison.Ordinal)) return word;
        if (text.Contains("OL", StringComparison.Ordinal)) return "OL";
        text = text.Split(", in some", 2)[0];
        double[] numbers = [.. Number().Matches(text).Select(m => double.Parse(m.Value, CultureInfo.InvariantCulture))];
        string unit = Unit(text) ?? await device.Page.Locator("#unit option").First.InnerTextAsync();
        double value = numbers.Average();
        return string.Create(CultureInfo.InvariantCulture, $"{value:0.####} {unit}");
    }

    /// <summary>Taps what a sound unit shows at each thing of a look round.</summary>
    private static async Task LookRoundAsync(Device device)
    {
        await device.Page.GetByRole(AriaRole.Button, new() { Name = "What should it show?" }).ClickAsync();
        foreach (ILocator look in await device.Round.AllAsync())
        {
            string expected = await look.Locator(".expected b").InnerTextAsync();
            foreach (ILocator word in await look.Locator(".seg button").AllAsync())
            {
                if (!expected.StartsWith(await word.InnerTextAsync(), StringComparison.Ordinal)) continue;
                await word.ClickAsync();
                break;
            }
        }
    }

    private static string? Unit(string text) => UnitAtEnd().Match(text) is { Success: true } match ? match.Value : null;

    /// <summary>Waits until the server has worked out everything that it works out ahead.</summary>
    private async Task AtRestAsync()
    {
        TimeSpan before;
        do
        {
            before = browsing.Server.Worked;
            await Task.Delay(3000, TestContext.Current.CancellationToken);
        }
        while (browsing.Server.Worked - before > TimeSpan.FromMilliseconds(300));
    }

    [GeneratedRegex(@"-?\d+(\.\d+)?", RegexOptions.ExplicitCapture, matchTimeoutMilliseconds: 1000)]
    private static partial Regex Number();

    [GeneratedRegex(@"[a-zA-Z%°]+$", RegexOptions.ExplicitCapture, matchTimeoutMilliseconds: 1000)]
    private static partial Regex UnitAtEnd();
}
