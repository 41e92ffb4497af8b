using System.Globalization;
using Microsoft.Playwright;
using Ventwright.Bench;
using Ventwright.Model.Kernel;
using Ventwright.Workshop;

namespace Ventwright.Web.Tests;

/// <summary>How long the screen takes after a reading, seen from the browser. A measurement, not a test: bench/response.sh runs it.</summary>
public sealed class ResponseTimes(BrowsingTheProgram browsing, ITestOutputHelper output) : IClassFixture<BrowsingTheProgram>
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
    [InlineData("twin-blower-automatic.yaml", null)]
    [InlineData("twin-blower-automatic.yaml", "Y3:coil-open")]
    [InlineData("single-blower-manual.yaml", null)]
    public async Task After_a_reading(string sheet, string? fault)
    {
        UnitOnSheet unit = UnitOnSheet.Of(sheet, await File.ReadAllTextAsync(SheetShelf.Find(sheet)!, TestContext.Current.CancellationToken));
        var real = new RealUnit(unit, fault);
        string id = browsing.NewSession(sheet);
        Device device = await browsing.DeviceAsync();
        await device.BenchAsync(id);
        await device.Page.Locator(".suspects[aria-busy=false] .sus").WaitForAsync();
        await AtRestAsync();
        List<double> kept = [], found = [];
        for (int i = 0; i < Readings; i++)
        {
            await Task.Delay(ToMakeTheCheck, TestContext.Current.CancellationToken);
            await AnswerAsync(device, real);
            await device.Page.EvaluateAsync(Watch);
            await device.Page.Locator(".next button.primary").ClickAsync();
            await device.Page.WaitForFunctionAsync("() => window.times.found");
            kept.Add(await device.Page.EvaluateAsync<double>("() => window.times.kept"));
            found.Add(await device.Page.EvaluateAsync<double>("() => window.times.found"));
        }

        output.WriteLine(
            $"{sheet}, {fault ?? "a sound unit"}, {Readings} checks: on the page as kept after {Text(kept)}; suspects, proven and next check anew after {Text(found)}");
    }

    /// <summary>Types or taps what the unit shows at the check that is asked for, without entering it yet.</summary>
    private static async Task AnswerAsync(Device device, RealUnit real)
    {
        ILocator asked = device.Page.Locator(".next .where");
        string set = await asked.GetAttributeAsync("data-set") ?? "";
        if (await device.Round.CountAsync() == 0)
        {
            await device.Field.FillAsync(real.Shows(set, await asked.GetAttributeAsync("data-at") ?? ""));
            return;
        }

        foreach (ILocator look in await device.Round.AllAsync())
        {
            string word = real.Shows(set, await look.GetAttributeAsync("data-at") ?? "");
            if (await look.Locator("select").CountAsync() > 0) await look.Locator("select").SelectOptionAsync(new SelectOptionValue { Label = word });
            else await look.Locator(".seg button").GetByText(word, new() { Exact = true }).ClickAsync();
        }
    }

    private static string Text(List<double> times)
    {
        double[] sorted = [.. times.Order()];
        return string.Create(CultureInfo.InvariantCulture, $"{sorted[sorted.Length / 2]:0} ms (median), {sorted[^2]:0} ms (19 of 20)");
    }

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

    /// <summary>A unit with everything at random within its tolerances, and what its check shows as one would write it.</summary>
    private sealed class RealUnit(UnitOnSheet sheet, string? fault)
    {
        private readonly SheetPredictor _predictor = new(sheet.Simulator);
        private readonly SimulatedUnit _unit = new(sheet.Simulator, fault is null ? [] : [sheet.Model.FindFault(fault)!], new Random(4), within: 1, misreads: 0);

        public string Shows(string set, string at)
        {
            Observable what = CheckNames.Parse(sheet.Model, at);
            return ReadingWords.Written(sheet.Model, what, _unit.Observe(_predictor, _predictor.Check(SettingWords.Make(sheet.Model, SettingText.Words(set)), what)));
        }
    }
}
