using Microsoft.Playwright;
using Ventwright.Store;
using Ventwright.Workshop;

namespace Ventwright.Web.Tests;

/// <summary>The questions for a first sheet in a real browser. No outside source.</summary>
public sealed class GuidedStartTests(Browsing browsing) : IClassFixture<Browsing>
{
    [Fact]
    public async Task Answers_in_plain_words_give_a_sheet_without_errors_in_the_editor()
    {
        Device device = await browsing.DeviceAsync(820, 1180);
        IPage page = device.Page;
        await device.GoAsync("/sheets");
        await page.GetByRole(AriaRole.Link, new() { Name = "Answer questions" }).ClickAsync();
        await page.Locator("#title").FillAsync("Larch <b>saloon</b> \"S\"");
        await AnswerAsync(page, "How many blowers?", "two");
        await AnswerAsync(page, "What sets the speed", "a control module, by itself");
        await AnswerAsync(page, "How is the blend flap", "a servo motor");
        await AnswerAsync(page, "How many solenoid valves", "4");
        await AnswerAsync(page, "sensor for the air outside", "yes");
        await page.Locator("p", new() { HasText = "Two blowers, 4 vacuum flaps on solenoids" }).WaitForAsync();
        await page.Locator("#write").ClickAsync();
        await page.Locator(".verdict.good").WaitForAsync();
        await page.Locator("#canvas text", new() { HasText = "M9" }).First.WaitForAsync(new() { State = WaitForSelectorState.Attached });
        Assert.Contains("Larch <b>saloon</b>", await page.Locator("h1").InnerTextAsync(), StringComparison.Ordinal);
        string id = new Uri(page.Url).Segments[^1];
        using SqliteSessionStore store = SqliteSessionStore.Open(browsing.StorePath);
        Assert.Empty(SheetVersions.Read(id, new SheetVersions(store).Open(id).Text).Problems);
        Assert.Empty(device.Errors);
        Assert.Empty(device.Strays);
    }

    private static Task AnswerAsync(IPage page, string question, string answer) =>
        page.Locator("fieldset", new() { HasText = question }).GetByRole(AriaRole.Button, new() { Name = answer, Exact = true }).ClickAsync();
}
