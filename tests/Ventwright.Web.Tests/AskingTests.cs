using Microsoft.Playwright;
using Ventwright.Workshop;

namespace Ventwright.Web.Tests;

/// <summary>What a person asks beside the readings: symptoms to pick from, why a value is what it is, a closer look at what leads.</summary>
public sealed class AskingTests(Browsing browsing) : IClassFixture<Browsing>
{
    private const string Manual = "single-blower-manual.yaml";

    [Fact]
    public async Task A_symptom_is_picked_weighs_on_the_suspects_and_is_taken_back()
    {
        string id = browsing.NewSession(Manual);
        Device device = await browsing.DeviceAsync(820, 1180);
        await device.GoAsync($"/bench/{id}/symptoms");
        ILocator motor = device.Page.Locator("li.noticed[data-at='motion(M1)']");
        await TurnAsync(device, "vent", "4");
        ILocator still = motor.GetByRole(AriaRole.Button, new() { Name = "still" });
        await still.ClickAsync();
        await motor.Locator("button[aria-pressed=true]", new() { HasText = "still" }).WaitForAsync();
        await device.AssertAccessibleAsync("symptoms");

        SessionEvent told = Assert.Single(browsing.OnDisk(id, SessionEventKind.Symptom));
        ReadingBody body = WrittenEntries.Body<ReadingBody>(told);
        Assert.Equal(("motion(M1)", "still"), (body.At, body.Got));
        Assert.Equal(["4", "vent"], body.Set.Values.Order());

        await device.GoAsync($"/bench/{id}");
        await device.Page.Locator(".suspects[aria-busy=false] .sus > li").First.WaitForAsync();
        await device.Page.Locator(".sus .why", new() { HasText = "still" }).First.WaitForAsync();

        await device.GoAsync($"/bench/{id}/symptoms");
        await TurnAsync(device, "vent", "4");
        await motor.Locator("button[aria-pressed=true]").ClickAsync();
        await Assertions.Expect(motor.Locator("button[aria-pressed=true]")).ToHaveCountAsync(0);
        Assert.Empty(browsing.OnDisk(id, SessionEventKind.Symptom));
        Assert.Empty(device.Errors);
    }

    [Fact]
    public async Task Surroundings_of_a_symptom_that_make_no_sense_are_refused_and_stay_as_they_were()
    {
        string id = browsing.NewSession(Manual);
        Device device = await browsing.DeviceAsync();
        await device.GoAsync($"/bench/{id}/symptoms");
        await device.Page.Locator("li.noticed").First.WaitForAsync();
        await device.Page.Locator(".panel details summary").ClickAsync();
        ILocator field = device.Page.Locator(".panel details input").First;
        await field.FillAsync("<script>alert(1)</script>");
        await field.PressAsync("Tab");
        await device.Page.GetByRole(AriaRole.Alert).WaitForAsync();
        Assert.True(await device.Page.Locator("li.noticed").CountAsync() > 0);
        Assert.Empty(device.Errors);
    }

    [Fact]
    public async Task Why_a_value_is_what_it_is_goes_down_to_numbers_laws_and_sources()
    {
        string id = browsing.NewSession(Manual);
        Device device = await browsing.DeviceAsync();
        await device.GoAsync($"/bench/{id}/part/M1");
        ILocator asked = device.Page.Locator("table.list button[aria-expanded]").First;
        await asked.ClickAsync();
        ILocator chain = device.Page.Locator("tr.chain");
        await chain.Locator(".why-tree .why-tree .now").First.WaitForAsync();
        Assert.Contains("V", await chain.InnerTextAsync(), StringComparison.Ordinal);
        Assert.True(await chain.Locator("dl.laws dt").CountAsync() >= 1);
        Assert.All(await chain.Locator("dl.laws dd small").AllInnerTextsAsync(), source => Assert.NotEmpty(source));
        await device.AssertAccessibleAsync("why");
        await asked.ClickAsync();
        await Assertions.Expect(chain).ToHaveCountAsync(0);
        Assert.Empty(device.Errors);
    }

    [Fact]
    public async Task A_closer_look_names_the_line_of_the_sheet_that_would_fit_and_goes_when_a_reading_comes()
    {
        string id = browsing.NewSession(Manual);
        browsing.Read(id, "ohms(fan.2, fan.3)", "1.0 ohm", ("supply", "off"));
        browsing.Read(id, "ohms(fan.1, fan.out)", "2.35 ohm", ("supply", "off"));
        Device device = await browsing.DeviceAsync();
        await device.BenchAsync(id);
        await device.Page.Locator(".suspects[aria-busy=false] .sus > li").First.WaitForAsync();
        ILocator ask = device.Page.GetByRole(AriaRole.Button, new() { Name = "Look closer" });
        await ask.ClickAsync();
        await device.Page.Locator(".closer h3").WaitForAsync();
        await device.Page.Locator(".closer li", new() { HasText = "Resistor pack" }).First.WaitForAsync();
        browsing.Read(id, "ohms(fan.1, fan.2)", "1.1 ohm", ("supply", "off"));
        await ask.WaitForAsync();
        Assert.Empty(device.Errors);
    }

    /// <summary>Turns the selectors of the page one after another, and waits each time until it stands so.</summary>
    private static async Task TurnAsync(Device device, params string[] positions)
    {
        foreach (string position in positions)
        {
            ILocator button = device.Page.Locator(".panel").GetByRole(AriaRole.Button, new() { Name = position, Exact = true });
            await button.ClickAsync();
            await Assertions.Expect(button).ToHaveAttributeAsync("aria-pressed", "true", new() { Timeout = 60_000 });
        }
    }
}
