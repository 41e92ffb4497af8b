using Microsoft.Playwright;
using Ventwright.Store;
using Ventwright.Workshop;

// Each class has a server and a browser of its own; together they would only wait for each other.
[assembly: Xunit.v3.Parallelization(Mode = Xunit.Sdk.ParallelMode.None)]

namespace Ventwright.Web.Tests;

/// <summary>The program on an empty store of its own, to be killed and started again, and a browser as <see cref="Browsing"/> has it.</summary>
public sealed class BrowsingTheProgram : Browsing
{
    /// <summary>The server.</summary>
    internal new Server Server => (Server)base.Server;

    private protected override async Task<IServer> StartAsync() => await Web.Tests.Server.StartAsync(StorePath);
}

/// <summary>A server on an empty store of its own, and a browser that reaches nothing but this computer.</summary>
public class Browsing : IAsyncLifetime
{
    /// <summary>A loaded computer works out the first findings in a minute or two.</summary>
    private const int PatienceMs = 240_000;

    private static readonly string[] Arguments =
    [
        "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync",
    ];

    // An expectation waits as long as a loaded computer may take; it fails all the same when it does not come true.
    static Browsing() => Assertions.SetDefaultExpectTimeout(60_000);

    private readonly string _folder = Directory.CreateTempSubdirectory("ventwright-web-").FullName;
    private IPlaywright? _playwright;
    private IBrowser? _browser;

    /// <summary>The server.</summary>
    internal IServer Server { get; private set; } = null!;

    /// <summary>Path of the store.</summary>
    internal string StorePath => Path.Combine(_folder, "store.db");

    public async ValueTask InitializeAsync()
    {
        Server = await StartAsync();
        _playwright = await Playwright.CreateAsync();
        _browser = await _playwright.Chromium.LaunchAsync(new() { ExecutablePath = Chromium(), Args = Arguments });
    }

    public async ValueTask DisposeAsync()
    {
        if (_browser is not null) await _browser.DisposeAsync();
        _playwright?.Dispose();
        await Server.DisposeAsync();
        Directory.Delete(_folder, true);
        GC.SuppressFinalize(this);
    }

    private protected virtual async Task<IServer> StartAsync() => await ServerWithin.StartAsync(StorePath);

    /// <summary>A device with a browser profile of its own. Requests that leave this computer fail the test through <see cref="Device.Strays"/>.</summary>
    internal async Task<Device> DeviceAsync(int width = 1440, int height = 900)
    {
        IBrowserContext context = await _browser!.NewContextAsync(new() { ViewportSize = new() { Width = width, Height = height }, HasTouch = width < 1000 });
        context.SetDefaultTimeout(PatienceMs);
        IPage page = await context.NewPageAsync();
        return new(page, Server);
    }

    /// <summary>Starts a session on a shipped sheet, straight in the store, as the command line does.</summary>
    internal string NewSession(string sheet)
    {
        using SqliteSessionStore store = SqliteSessionStore.Open(StorePath);
        string path = SheetShelf.Find(sheet)!;
        return new SessionDesk(store).Start("Test bench", path, File.ReadAllText(path)).Id;
    }

    /// <summary>Enters a reading straight in the store.</summary>
    internal void Read(string id, string at, string got, params (string Name, string Value)[] set)
    {
        using SqliteSessionStore store = SqliteSessionStore.Open(StorePath);
        new SessionDesk(store).Open(id).Read(set, at, got);
    }

    /// <summary>Entries of a kind that are on disk and stand.</summary>
    internal SessionEvent[] OnDisk(string id, SessionEventKind kind = SessionEventKind.Reading)
    {
        using SqliteSessionStore store = SqliteSessionStore.Open(StorePath);
        return [.. store.Events(id).Where(e => e.Kind == kind && !e.Undone)];
    }

    private static string Chromium() => Array.Find(["/usr/bin/chromium", "/usr/bin/chromium-browser", "/usr/bin/google-chrome"], File.Exists)
        ?? throw new FileNotFoundException("no Chromium is installed; Debian, Ubuntu: apt-get install chromium");
}
