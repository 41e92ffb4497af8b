using Microsoft.Playwright;
using Ventwright.Store;
using Ventwright.Workshop;

namespace Ventwright.Web.Tests;

/// <summary>Writing a sheet in a real browser against the real program. No outside source.</summary>
public sealed class SheetEditorTests(BrowsingTheProgram browsing) : IClassFixture<BrowsingTheProgram>
{
    private const string Manual = "single-blower-manual.yaml";

    [Fact]
    public async Task An_error_shows_as_it_is_typed_and_mending_it_brings_the_drawing_up_to_date_and_a_version_is_saved()
    {
        string id = NewSheet(Text());
        Device device = await OpenAsync(id);
        IPage page = device.Page;
        await page.Locator("#canvas svg").WaitForAsync();
        await page.Locator(".verdict.good", new() { HasText = "No errors" }).WaitForAsync();

        await TypeAtAsync(page, "F1: { fuse: 20 A, from: battery, to: feed.fan", "F11: { fuse: 20 A, from: battery, to: feed.fam");
        ILocator problem = page.Locator(".problems button", new() { HasText = "feed.fam" });
        await problem.First.WaitForAsync();
        Assert.Contains("only F11 joins it", await problem.First.InnerTextAsync(), StringComparison.Ordinal);
        await page.Locator(".caution", new() { HasText = "last text without errors" }).WaitForAsync();
        Assert.Equal(1, await page.Locator("#canvas svg").CountAsync());

        await page.Locator("#save").ClickAsync();
        await page.Locator(".problem[role=alert]", new() { HasText = "The draft is kept" }).WaitForAsync();
        Assert.Contains("feed.fam", Sheets(s => s.Open(id).Text), StringComparison.Ordinal);
        Assert.Empty(Sheets(s => s.Open(id).Versions));

        await problem.First.ClickAsync();
        await page.Locator(".gutter .wrong").First.WaitForAsync();
        int line = await page.EvaluateAsync<int>("() => { const a = document.getElementById('sheet-text'); return a.value.slice(0, a.selectionStart).split('\\n').length; }");
        Assert.Contains("feed.fam", Sheets(s => s.Open(id).Text).Split('\n')[line - 1], StringComparison.Ordinal);

        await TypeAtAsync(page, "feed.fam", "feed.fan");
        await page.Locator(".verdict.good").WaitForAsync();
        await page.Locator("#canvas text", new() { HasText = "F11" }).First.WaitForAsync(new() { State = WaitForSelectorState.Attached });
        await page.Locator("#save").ClickAsync();
        await page.Locator(".kept", new() { HasText = "Version 1 is saved" }).WaitForAsync();
        Assert.Contains("F11: {", Sheets(s => s.Version(id, 1).Text), StringComparison.Ordinal);

        await page.Locator(".versions button", new() { HasText = "Start a session" }).ClickAsync();
        await page.Locator("#panel").WaitForAsync(new() { State = WaitForSelectorState.Attached });
        Assert.Empty(device.Errors);
        Assert.Empty(device.Strays);
    }

    [Fact]
    public async Task Keys_and_names_that_fit_are_offered_by_keyboard_and_by_touch()
    {
        string id = NewSheet(Text());
        Device device = await OpenAsync(id);
        IPage page = device.Page;
        await TypeAtAsync(page, "  # Plugs\n", "  K7: { relay: 85 ohm, pul\n  # Plugs\n", "pul");
        await page.Keyboard.PressAsync("Control+Space");
        await page.Locator(".fits li", new() { HasText = "pull-in" }).WaitForAsync();
        await page.Keyboard.PressAsync("Enter");
        await page.WaitForFunctionAsync("() => document.getElementById('sheet-text').value.includes('relay: 85 ohm, pull-in: ')");

        await page.Keyboard.TypeAsync("7 V, coil: [sw.");
        await page.GetByRole(AriaRole.Button, new() { Name = "What fits here" }).ClickAsync();
        await page.Locator(".fits li", new() { HasText = "sw.on" }).ClickAsync();
        await page.WaitForFunctionAsync("() => document.getElementById('sheet-text').value.includes('coil: [sw.on')");
        await page.Keyboard.PressAsync("Control+Space");
        await page.Locator(".fits:not([hidden])").WaitForAsync();
        await page.Keyboard.PressAsync("Escape");
        await page.Locator(".fits").WaitForAsync(new() { State = WaitForSelectorState.Hidden });
        Assert.Empty(device.Errors);
    }

    [Fact]
    public async Task The_part_at_the_cursor_is_lit_and_tapping_a_part_goes_to_its_line()
    {
        Device device = await OpenAsync(NewSheet(Text()));
        IPage page = device.Page;
        await page.Locator("#canvas[data-ready] svg").WaitForAsync();
        await CursorAsync(page, "M1: { blower");
        await page.Locator("#canvas g[data-picked]").First.WaitForAsync(new() { State = WaitForSelectorState.Attached });
        await page.Locator(".drawing h2", new() { HasText = "Blower (M1)" }).WaitForAsync();
        await page.Locator("#canvas g[data-key='wires:K2']").First.ClickAsync(new() { Force = true });
        await page.Locator(".drawing h2", new() { HasText = "K2" }).WaitForAsync();
    }

    [Fact]
    public async Task Ten_million_characters_harm_nothing_and_the_draft_before_them_stays()
    {
        string id = NewSheet(Text());
        Device device = await OpenAsync(id);
        IPage page = device.Page;
        ILocator told = page.Locator(".problem[role=alert]", new() { HasText = "million characters" });
        for (int tries = 1; ; tries++)
        {
            await page.EvaluateAsync("() => { const a = document.getElementById('sheet-text'); a.value = 'a: [b, {\\n'.repeat(1000000); a.dispatchEvent(new Event('input')); }");
            try
            {
                await told.WaitForAsync(new() { Timeout = 120_000 });
                break;
            }
            catch (TimeoutException) when (tries < 3)
            {
                // On a machine that is busy with other things the line to the browser may break on so much text and come back without it: a person would type again.
            }
        }

        Assert.Equal(Text(), Sheets(s => s.Open(id).Text));

        await page.EvaluateAsync("() => { const a = document.getElementById('sheet-text'); a.value = '- '.repeat(900000) + '{'.repeat(300000); a.dispatchEvent(new Event('input')); }");
        await page.Locator(".problems li").First.WaitForAsync();
        await page.Locator(".verdict.bad").WaitForAsync();
        await page.EvaluateAsync("text => { const a = document.getElementById('sheet-text'); a.value = text; a.dispatchEvent(new Event('input')); }", Text());
        await page.Locator(".verdict.good").WaitForAsync();
        Assert.Empty(device.Errors);
    }

    [Fact]
    public async Task What_was_typed_while_the_program_was_away_is_there_again_afterwards()
    {
        string id = NewSheet(Text());
        Device device = await OpenAsync(id);
        IPage page = device.Page;
        await page.Locator(".verdict.good").WaitForAsync();
        await TypeAtAsync(page, "Mode knob lamp", "Lamp number one");
        await page.Locator("[data-kept]").WaitForAsync();
        await page.WaitForFunctionAsync($"() => localStorage.getItem('vw-sheet-{id}') === null");
        Assert.Contains("Lamp number one", Sheets(s => s.Open(id).Text), StringComparison.Ordinal);
        Task restart = browsing.Server.KillAndRestartAsync();
        await page.EvaluateAsync("() => { const a = document.getElementById('sheet-text'); a.value = a.value.replace('Fan knob lamp', 'Lamp number two'); a.dispatchEvent(new Event('input')); }");
        await restart;

        // The page notices that the program is another one and loads itself again.
        await page.WaitForFunctionAsync($"() => document.getElementById('sheet-text')?.value.includes('Lamp number two') && document.getElementById('sheet-text').dataset.ready && localStorage.getItem('vw-sheet-{id}') === null");
        Assert.Contains("Lamp number two", Sheets(s => s.Open(id).Text), StringComparison.Ordinal);
        Assert.Contains("Lamp number one", Sheets(s => s.Open(id).Text), StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_session_is_moved_to_a_newer_version_after_a_look_at_what_that_changes()
    {
        string id = NewSheet(Text());
        string session;
        using (SqliteSessionStore store = SqliteSessionStore.Open(browsing.StorePath))
        {
            var sheets = new SheetVersions(store);
            SheetVersion one = sheets.Save(id, Text(), "a");
            sheets.Save(id, Text().Replace("feed.lights", "feed.dim", StringComparison.Ordinal), "a");
            var desk = new SessionDesk(store);
            session = desk.Start("Moved bench", one).Id;
            desk.Open(session).Read([], "volts(feed.lights)", "13.1 V");
            desk.Open(session).Read([("mode", "vent")], "volts(feed.ctl)", "13.1 V");
        }

        Device device = await browsing.DeviceAsync();
        await device.GoAsync($"/session/{session}/sheet");
        await device.Page.GetByRole(AriaRole.Button, new() { Name = "What would change? with version 2" }).ClickAsync();
        await device.Page.Locator(".lost li", new() { HasText = "no net `feed.lights`" }).WaitForAsync();
        await device.Page.Locator("#suspects").WaitForAsync();
        await device.Page.Locator("#move").ClickAsync();
        await device.Page.Locator(".kept", new() { HasText = "on version 2" }).WaitForAsync();
        await device.Page.Locator("section", new() { HasText = "Kept, but not readable with this version" }).First.WaitForAsync();
        Assert.Equal(2, browsing.OnDisk(session).Length);
        await device.GoAsync($"/bench/{session}");
        await device.Page.Locator(".events li", new() { HasText = "On version 2" }).WaitForAsync();
        Assert.Empty(device.Errors);
    }

    private static string Text() => File.ReadAllText(SheetShelf.Find(Manual)!);

    private string NewSheet(string text) => Sheets(s => s.Create(text));

    private T Sheets<T>(Func<SheetVersions, T> ask)
    {
        using SqliteSessionStore store = SqliteSessionStore.Open(browsing.StorePath);
        return ask(new(store));
    }

    private async Task<Device> OpenAsync(string id)
    {
        Device device = await browsing.DeviceAsync();
        await device.GoAsync($"/sheets/{id}");
        await device.Page.Locator("#sheet-text[data-ready]").WaitForAsync();
        return device;
    }

    /// <summary>Puts text in place of other text as a person would: by selecting and typing over. The cursor then stands behind it, or behind a part of it.</summary>
    private static Task<System.Text.Json.JsonElement?> TypeAtAsync(IPage page, string old, string text, string? cursorAfter = null) => page.EvaluateAsync(
        """
        ([old, text, after]) => {
          const area = document.getElementById("sheet-text"), at = area.value.indexOf(old);
          area.focus();
          area.setSelectionRange(at, at + old.length);
          document.execCommand("insertText", false, text);
          if (after) { const cursor = area.value.indexOf(after, at) + after.length; area.setSelectionRange(cursor, cursor); }
        }
        """, new[] { old, text, cursorAfter ?? "" });

    private static Task<System.Text.Json.JsonElement?> CursorAsync(IPage page, string before) => page.EvaluateAsync(
        "before => { const area = document.getElementById('sheet-text'), at = area.value.indexOf(before); area.focus(); area.setSelectionRange(at, at); }", before);
}
