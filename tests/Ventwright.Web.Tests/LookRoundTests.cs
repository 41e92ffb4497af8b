using Microsoft.Playwright;
using Ventwright.Bench;
using Ventwright.Diagnosis;
using Ventwright.Workshop;

namespace Ventwright.Web.Tests;

/// <summary>A look round in a real browser: several things seen in one setting and kept in one go. Expected words come from the sheet; no outside source.</summary>
public sealed class LookRoundTests(Browsing browsing) : IClassFixture<Browsing>
{
    private const string Manual = "single-blower-manual.yaml";

    [Fact]
    public async Task It_stays_while_another_enters_and_is_kept_and_taken_back_in_one_go()
    {
        string id = await WithRoundAsync();
        int before = browsing.OnDisk(id).Length;
        Device one = await browsing.DeviceAsync(820, 1180), two = await browsing.DeviceAsync();
        await Task.WhenAll(one.BenchAsync(id), two.BenchAsync(id));
        await one.RoundAsync();
        await one.AssertAccessibleAsync("look round");
        int count = await one.Round.CountAsync();
        ILocator enter = one.Page.Locator(".next button.primary");
        await Assertions.Expect(enter).ToBeDisabledAsync();
        IReadOnlyList<string> looks = await one.Page.Locator(".round .thing p").AllInnerTextsAsync();
        for (int i = 0; i < 2; i++) await one.Round.Nth(i).Locator(".seg button").First.ClickAsync();
        await Assertions.Expect(enter).ToHaveTextAsync($"Enter 2 of {count}");

        await two.ChooseAsync("feed.fan", "Volts at feed.fan");
        await two.EnterAsync("12.83");
        await one.Page.Locator(".events li", new() { HasText = "12.83 V" }).WaitForAsync(new() { State = WaitForSelectorState.Attached });
        await one.Page.Locator(".suspects[aria-busy=false]").WaitForAsync();
        Assert.Equal(looks, await one.Page.Locator(".round .thing p").AllInnerTextsAsync());
        await Assertions.Expect(enter).ToHaveTextAsync($"Enter 2 of {count}");

        await enter.ClickAsync();
        await one.Page.Locator(".next .kept").First.WaitForAsync();
        Assert.Equal(before + 3, browsing.OnDisk(id).Length);
        await one.Page.GetByRole(AriaRole.Button, new() { Name = "Undo all 2" }).ClickAsync();
        await Assertions.Expect(one.Page.Locator(".next .kept")).ToHaveCountAsync(0);
        Assert.Equal(before + 1, browsing.OnDisk(id).Length);
        Assert.Empty(one.Errors);
    }

    [Fact]
    public async Task What_cannot_be_reached_is_not_asked_for_again()
    {
        string id = await WithRoundAsync();
        Device device = await browsing.DeviceAsync();
        await device.BenchAsync(id);
        await device.RoundAsync();
        string look = await device.Page.Locator(".round .thing p").First.InnerTextAsync();
        await device.Round.First.GetByRole(AriaRole.Button, new() { Name = "Cannot reach it: " }).ClickAsync();
        await device.Page.Locator(".next button.primary").ClickAsync();
        await Assertions.Expect(device.Page.Locator(".round .thing p", new() { HasText = look })).ToHaveCountAsync(0);
        await Assertions.Expect(device.Page.Locator(".next .where", new() { HasText = look })).ToHaveCountAsync(0);
        Assert.Single(browsing.OnDisk(id, SessionEventKind.Unreachable));
    }

    /// <summary>A session in which a look round is among the suggestions: a sound unit, looked at as suggested until there is one.</summary>
    private async Task<string> WithRoundAsync()
    {
        string id = browsing.NewSession(Manual), path = SheetShelf.Find(Manual)!;
        var unit = UnitOnSheet.Of(path, await File.ReadAllTextAsync(path, TestContext.Current.CancellationToken));
        await unit.Ready;
        BenchDiagnosis bench = unit.NewDiagnosis();
        var real = new SimulatedUnit(unit.Simulator, [], new Random(5), within: 0.2, misreads: 0);
        for (int i = 0; i < 8; i++)
        {
            IReadOnlyList<Advice> next = bench.Find().Next;
            if (next.Any(a => a.Also.Count > 0)) return id;
            Outcome seen = real.Observe(bench.Predictor, bench.Predictor.Check(next[0].Setting, next[0].What));
            bench.Take($"{i}", next[0].Setting, next[0].What, seen);
            browsing.Read(id, next[0].What.ToString(), ReadingWords.Written(unit.Model, next[0].What, seen), [.. next[0].Setting.Words.Select(w => (w.Key, w.Value))]);
        }

        throw new InvalidOperationException("no look round was suggested in eight steps");
    }
}
