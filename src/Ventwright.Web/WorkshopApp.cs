using System.Net;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.DataProtection;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.AspNetCore.Server.Kestrel.Core;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Hosting;
using Microsoft.Extensions.Logging;
using Ventwright.Store;
using Ventwright.Web.Lan;
using Ventwright.Web.Rigs;
using Ventwright.Workshop;
using Ventwright.Workshop.Rigs;

namespace Ventwright.Web;

/// <summary>The bench app: a web server on this computer, with everything it serves inside the program.</summary>
public static class WorkshopApp
{
    private const long LargestMessageBytes = 4 << 20;
    private static readonly TimeSpan RefreshEvery = TimeSpan.FromSeconds(2);

    /// <summary>Serves until it is stopped (Ctrl+C, SIGTERM, or the token).</summary>
    /// <param name="options">How it is started.</param>
    /// <param name="started">Is told the address once it listens.</param>
    /// <param name="stop">Stops it as Ctrl+C does.</param>
    /// <exception cref="StoreException">The store cannot be opened.</exception>
    /// <exception cref="RefusedException">The port cannot be used.</exception>
    public static async Task RunAsync(AppOptions options, Action<string> started, CancellationToken stop = default)
    {
        ArgumentNullException.ThrowIfNull(options);
        using SqliteSessionStore store = SqliteSessionStore.Open(options.StorePath);
        WebApplicationBuilder builder = WebApplication.CreateEmptyBuilder(new() { ApplicationName = "Ventwright.Web", ContentRootPath = AppContext.BaseDirectory });
        builder.WebHost.UseKestrelCore().ConfigureKestrel(kestrel => Listen(kestrel, options));
        builder.Logging.AddSimpleConsole().SetMinimumLevel(LogLevel.Error);
        builder.Services.AddRouting().AddDataProtection().UseEphemeralDataProtectionProvider();
        if (options.Lan) builder.Services.AddSingleton<PairedDevices>().AddSingleton(services => new LanAddress(PortOf(services.GetRequiredService<IServer>())));
        builder.Services.AddSingleton<ISessionStore>(store).AddSingleton<ISheetStore>(store).AddSingleton<IRunStore>(store).AddSingleton<BenchRig>().AddSingleton<SessionDesk>().AddSingleton<SheetVersions>().AddHttpContextAccessor();
        // Open pages keep their line; what must be on disk is on disk, so that nobody has to wait for them.
        builder.Services.Configure<HostOptions>(host => host.ShutdownTimeout = TimeSpan.FromSeconds(3));
        builder.Services.AddRazorComponents().AddInteractiveServerComponents().AddHubOptions(hub => hub.MaximumReceiveMessageSize = LargestMessageBytes);
        await using WebApplication app = builder.Build();
        Map(app, options);
        await StartAsync(app, options);
        started($"http://localhost:{PortOf(app.Services.GetRequiredService<IServer>())}");
        using var timer = new Timer(_ => Refresh(app.Services.GetRequiredService<SessionDesk>()), null, RefreshEvery, RefreshEvery);
        await app.WaitForShutdownAsync(stop);
    }

    /// <summary>The command line may add entries to a session that is open here.</summary>
    private static void Refresh(SessionDesk desk)
    {
        try
        {
            desk.Refresh();
        }
        catch (Exception e) when (e is StoreException or ObjectDisposedException)
        {
            // Whoever enters something next is told what is wrong with the store.
        }
    }

    private static void Listen(KestrelServerOptions kestrel, AppOptions options)
    {
        kestrel.AddServerHeader = false;
        if (options.Lan) kestrel.ListenAnyIP(options.Port);
        else kestrel.Listen(IPAddress.Loopback, options.Port);
    }

    private static int PortOf(IServer server) => new Uri(server.Features.Get<IServerAddressesFeature>()!.Addresses.First().Replace("[::]", "localhost", StringComparison.Ordinal)).Port;

    private static void Map(WebApplication app, AppOptions options)
    {
        if (options.Lan) app.UseMiddleware<PairedOnly>();
        app.UseMiddleware<LocalOnly>();
        app.UseRouting();
        app.UseAntiforgery();
        EmbeddedFiles.Map(app);
        RigEndpoints.Map(app);
        app.MapRazorComponents<App>().AddInteractiveServerRenderMode();
    }

    private static async Task StartAsync(WebApplication app, AppOptions options)
    {
        try
        {
            await app.StartAsync();
        }
        catch (IOException e)
        {
            throw new RefusedException($"port {options.Port} cannot be used ({e.Message}). Close the program that uses it, or name another with --port.", e);
        }
    }
}
