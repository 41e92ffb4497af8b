using System.Collections.Concurrent;
using Deque.AxeCore.Commons;
using Microsoft.Playwright;

namespace Ventwright.Web.Tests;

/// <summary>One device in the workshop: a page, and what went wrong on it.</summary>
internal sealed class Device
{
    private static readonly string Axe = new BundledAxeScriptProvider().GetScript();

    private readonly IServer _server;
    private readonly ConcurrentQueue<string> _errors = new(), _strays = new();

    public Device(IPage page, IServer server)
    {
        (Page, _server) = (page, server);
        page.PageError += (_, error) => _errors.Enqueue(error);
        page.Request += (_, request) =>
        {
            if (!request.Url.StartsWith(_server.Address, StringComparison.Ordinal) && !request.Url.StartsWith("data:", StringComparison.Ordinal)) _strays.Enqueue(request.Url);
        };
    }

    /// <summary>The page.</summary>
    public IPage Page { get; }

    /// <summary>Script errors on the page.</summary>
    public IReadOnlyCollection<string> Errors => _errors;

    /// <summary>Requests that went elsewhere than to the server.</summary>
    public IReadOnlyCollection<string> Strays => _strays;

    /// <summary>The field for the reading.</summary>
    public ILocator Field => Page.Locator("#reading");

    /// <summary>What the page says about the last reading.</summary>
    public ILocator Kept => Page.Locator(".kept");

    /// <summary>The message about something that could not be used.</summary>
    public ILocator Problem => Page.Locator(".next .problem");

    /// <summary>Opens a page of the app and waits until it is alive.</summary>
    public async Task GoAsync(string path)
    {
        await Page.GotoAsync(_server.Address + path);
        await Page.Locator("h1").First.WaitForAsync(new() { State = WaitForSelectorState.Attached });
    }

    /// <summary>The things of a look round, where the page asks for one.</summary>
    public ILocator Round => Page.Locator(".next .round li");

    /// <summary>Opens the bench page and waits for the suggested check.</summary>
    public async Task BenchAsync(string id)
    {
        await GoAsync($"/bench/{id}");
        await Field.Or(Round.First).First.WaitForAsync();
    }

    /// <summary>Passes checks over until a look round is asked for.</summary>
    public async Task RoundAsync()
    {
        await PassAsync(async () => await Round.CountAsync() == 0);
        await Round.First.WaitForAsync();
    }

    /// <summary>Passes look rounds over until a single check is asked for.</summary>
    public async Task SingleAsync()
    {
        await PassAsync(async () => await Round.CountAsync() > 0);
        Assert.Equal(0, await Round.CountAsync());
    }

    private async Task PassAsync(Func<Task<bool>> passes)
    {
        await Page.Locator(".suspects[aria-busy=false] .sus").WaitForAsync();
        for (int skipped = 0; skipped < 5 && await passes(); skipped++)
        {
            string asked = await Page.Locator(".next").InnerTextAsync();
            await Page.GetByRole(AriaRole.Button, new() { Name = "Skip" }).ClickAsync();
            await Page.WaitForFunctionAsync("before => document.querySelector('.next').innerText !== before", asked);
        }
    }

    /// <summary>Takes a check by its name in place of the suggested one.</summary>
    public async Task ChooseAsync(string find, string check)
    {
        await Page.Locator("#find").FillAsync(find);
        await Page.Locator(".finds button").First.ClickAsync();
        await Page.Locator(".picked .checks button", new() { HasText = check }).First.ClickAsync();
        await Page.Locator(".next .where", new() { HasText = check }).WaitForAsync();
    }

    /// <summary>Types a reading and enters it.</summary>
    public async Task EnterAsync(string text)
    {
        await Field.FillAsync(text);
        await Page.Locator(".next button[type=submit]").ClickAsync();
    }

    /// <summary>Number of the entry that the page says is kept, once it says so for this reading.</summary>
    public async Task<long> KeptAsync(string got)
    {
        ILocator kept = Page.Locator(".kept", new() { HasText = got });
        await kept.WaitForAsync();
        return long.Parse((await kept.GetAttributeAsync("data-number"))!, System.Globalization.CultureInfo.InvariantCulture);
    }

    /// <summary>Holds the page as it stands against axe-core; nothing serious may be found.</summary>
    /// <param name="name">Name of the page for the message.</param>
    public async Task AssertAccessibleAsync(string name)
    {
        // The page has no frames: axe runs in it, without the second page that Deque's own call opens for each run.
        await Page.EvaluateAsync(Axe);
        string[] serious = await Page.EvaluateAsync<string[]>(
            """
            async () => {
              const { violations, passes } = await axe.run(document, { resultTypes: ["violations"] });
              if (!passes.length) throw new Error("axe looked at nothing");
              return violations.filter(v => ["serious", "critical"].includes(v.impact))
                .map(v => `${v.id}: ${v.help}: ${v.nodes.slice(0, 3).map(n => n.html).join("; ")}`);
            }
            """);
        Assert.Empty(serious.Select(s => $"{name}: {s}"));
    }
}
