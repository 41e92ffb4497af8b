using Microsoft.Playwright;

namespace Ventwright.Web.Tests;

/// <summary>Automatic mode on the screen: the drive with its plots, the slow car, the step test at work, and what they say for a unit without a module.</summary>
public sealed class AutomaticTests(BrowsingTheProgram browsing) : IClassFixture<BrowsingTheProgram>
{
    private static readonly LocatorWaitForOptions Patient = new() { Timeout = 180_000 };

    [Fact]
    public async Task A_unit_without_a_module_is_told_so_on_each_page()
    {
        string id = browsing.NewSession("single-blower-manual.yaml");
        Device device = await browsing.DeviceAsync(1440, 900);
        foreach (string page in (string[])["", "/drive", "/slow"])
        {
            await device.GoAsync($"/bench/{id}/automatic{page}");
            await device.Page.Locator(".empty", new() { HasText = "no module" }).WaitForAsync();
        }
    }

    [Fact]
    public async Task A_drive_is_plotted_against_a_fault_and_read_out_by_keyboard()
    {
        string id = browsing.NewSession("twin-blower-automatic.yaml");
        Device device = await browsing.DeviceAsync(1440, 900);
        await device.GoAsync($"/bench/{id}/automatic/drive");
        ILocator none = device.Page.Locator("#none-yet");
        await none.WaitForAsync();
        ILocator minutes = device.Page.GetByLabel("Minutes, empty for its own length");
        await minutes.FillAsync("<script>alert(1)</script>");
        await device.Page.GetByRole(AriaRole.Button, new() { Name = "Drive", Exact = true }).ClickAsync();
        await device.Page.GetByRole(AriaRole.Alert).First.WaitForAsync();
        await minutes.FillAsync("3");
        // Hundreds of faults: they stand by part, and typing a part's name goes to it.
        ILocator against = device.Page.GetByLabel("Against the sound unit");
        await Assertions.Expect(against.Locator("optgroup[label='Cabin sensor (RT1)'] option[value='RT1:open']")).ToHaveCountAsync(1);
        await against.FocusAsync();
        await device.Page.Keyboard.TypeAsync("Evaporator sensor");
        await Assertions.Expect(against.Locator("option:checked")).ToContainTextAsync("Evaporator sensor (RT3)");
        await against.SelectOptionAsync(["RT1:open"]);
        await device.Page.GetByRole(AriaRole.Button, new() { Name = "Drive", Exact = true }).ClickAsync();
        await device.Page.Locator("figure.plot svg[role=img]").First.WaitForAsync(Patient);
        await Assertions.Expect(none).ToHaveCountAsync(0);
        Assert.True(await device.Page.Locator("figure.plot").CountAsync() >= 3);
        Assert.True(await device.Page.Locator("path.dashed").CountAsync() > 0);
        ILocator output = device.Page.Locator("label.dial output"), slider = device.Page.Locator("label.dial input");
        string before = await output.InnerTextAsync();
        await slider.FocusAsync();
        for (int i = 0; i < 5; i++) await slider.PressAsync("ArrowRight");
        await Assertions.Expect(output).Not.ToHaveTextAsync(before);
        await device.AssertAccessibleAsync("drive");
        Assert.Empty(device.Errors);
        Assert.Empty(device.Strays);
    }

    [Fact]
    public async Task The_slow_car_takes_answers_keeps_them_as_readings_and_moves_on()
    {
        string id = browsing.NewSession("twin-blower-automatic.yaml");
        Device device = await browsing.DeviceAsync(820, 1180);
        await device.GoAsync($"/bench/{id}/automatic/slow");
        await device.Page.Locator("#none-yet").WaitForAsync();
        await device.AssertAccessibleAsync("slow car, nothing begun");
        await device.Page.GetByRole(AriaRole.Button, new() { Name = "Begin", Exact = true }).ClickAsync();
        await device.Page.Locator("td.ohms").First.WaitForAsync(Patient);
        await Assertions.Expect(device.Page.Locator(".answers")).ToContainTextAsync("Volts over Left blower (M1), left.plus against left.minus");
        ILocator fields = device.Page.Locator("section[aria-labelledby=turn-title] form input"), send = device.Page.GetByRole(AriaRole.Button, new() { Name = "Enter and drive on" });
        await fields.First.FillAsync("-5 ohm");
        await send.ClickAsync();
        await device.Page.GetByRole(AriaRole.Alert).First.WaitForAsync();
        string first = await device.Page.Locator("#turn-title").InnerTextAsync();
        foreach ((string volts, int i) in ((string[])["0.02", "0.02", "11.9", "11.9"]).Select((v, i) => (v, i))) await fields.Nth(i).FillAsync(volts);
        await device.Page.Locator("section[aria-labelledby=turn-title] form select").SelectOptionAsync(["clicks"]);
        await send.ClickAsync();
        await Assertions.Expect(device.Page.Locator("#turn-title")).Not.ToHaveTextAsync(first, new() { Timeout = 120_000 });
        await device.AssertAccessibleAsync("slow car");
        string second = await device.Page.Locator("#turn-title").InnerTextAsync();

        // A second device sees it, and a program that was killed knows it still.
        Device other = await browsing.DeviceAsync(1440, 900);
        await other.GoAsync($"/bench/{id}/automatic/slow");
        await Assertions.Expect(other.Page.Locator("#turn-title")).ToHaveTextAsync(second, new() { Timeout = 120_000 });
        Assert.Empty(device.Errors);
        await browsing.Server.KillAndRestartAsync();
        Assert.Equal(5, browsing.OnDisk(id).Length);
        Device again = await browsing.DeviceAsync(820, 1180);
        await again.GoAsync($"/bench/{id}/automatic/slow");
        await Assertions.Expect(again.Page.Locator("#turn-title")).ToHaveTextAsync(second, new() { Timeout = 240_000 });

        await again.Page.GetByRole(AriaRole.Button, new() { Name = "Take turn 1 back" }).ClickAsync();
        await Assertions.Expect(again.Page.Locator("#turn-title")).ToHaveTextAsync(first, new() { Timeout = 120_000 });
        Assert.Empty(browsing.OnDisk(id));
        Assert.Empty(again.Errors);
    }

    [Fact]
    public async Task The_step_test_says_that_it_is_at_work_and_the_page_stays_alive()
    {
        string id = browsing.NewSession("twin-blower-automatic.yaml");
        Device device = await browsing.DeviceAsync(820, 1180);
        await device.GoAsync($"/bench/{id}/automatic");
        await device.Page.Locator("progress, details.step").First.WaitForAsync(Patient);
        await device.AssertAccessibleAsync("step test");
        await device.Page.GetByRole(AriaRole.Link, new() { Name = "Drive" }).First.ClickAsync();
        await device.Page.GetByLabel("Scenario").WaitForAsync(Patient);
    }
}
