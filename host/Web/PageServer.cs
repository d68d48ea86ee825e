using System.Net;
using System.Net.NetworkInformation;
using System.Net.Sockets;
using Fourpatch.Commands;
using Fourpatch.Commands.Live;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.AspNetCore.Server.Kestrel.Core;
using Microsoft.Extensions.DependencyInjection;
using Microsoft.Extensions.Hosting;

namespace Fourpatch.Web;

/// <summary>The web server of the page, running until disposed. Everything it takes is bounded: sizes, times, connections.</summary>
internal sealed class PageServer : IAsyncDisposable
{
    /// <summary>Bytes of the largest request body.</summary>
    public const int LargestBody = 4096;

    // Enough for whoever comes at once to be refused in words; each is answered in a moment.
    private const int MostConnections = 1200;
    private static readonly TimeSpan HeadersWithin = TimeSpan.FromSeconds(5);
    private static readonly TimeSpan IdleAtMost = TimeSpan.FromSeconds(30);
    private static readonly TimeSpan EndWithin = TimeSpan.FromSeconds(2);

    private readonly WebApplication _app;
    private readonly GuideDesk _guides;

    private PageServer(WebApplication app, GuideDesk guides, Doorkeeper door, int port)
    {
        _app = app;
        _guides = guides;
        Door = door;
        Port = port;
    }

    /// <summary>Who may come in.</summary>
    public Doorkeeper Door { get; }

    /// <summary>The port it listens on.</summary>
    public int Port { get; }

    /// <summary>Starts listening.</summary>
    /// <param name="start">The live session.</param>
    /// <param name="context">The outside world.</param>
    /// <param name="port">TCP port; 0: any.</param>
    /// <param name="isOpenToNetwork">False: this computer only.</param>
    /// <param name="hasSound">Whether the page may make sounds at all.</param>
    /// <exception cref="RefusalException">The port cannot be had.</exception>
    public static async Task<PageServer> StartAsync(LiveStart start, CommandContext context, int port, bool isOpenToNetwork, bool hasSound)
    {
        // Nothing is read from the environment or from files: the command line alone says what is served.
        WebApplicationBuilder builder = WebApplication.CreateEmptyBuilder(new WebApplicationOptions());
        builder.WebHost.UseKestrelCore().ConfigureKestrel(kestrel =>
        {
            kestrel.AddServerHeader = false;
            kestrel.Limits.MaxRequestBodySize = LargestBody;
            kestrel.Limits.MaxRequestLineSize = 2048;
            kestrel.Limits.MaxRequestHeadersTotalSize = 8192;
            kestrel.Limits.MaxRequestHeaderCount = 64;
            kestrel.Limits.MaxConcurrentConnections = MostConnections;
            kestrel.Limits.RequestHeadersTimeout = HeadersWithin;
            kestrel.Limits.KeepAliveTimeout = IdleAtMost;
            kestrel.Limits.MinRequestBodyDataRate = new MinDataRate(240, TimeSpan.FromSeconds(2));
            kestrel.Listen(isOpenToNetwork ? IPAddress.Any : IPAddress.Loopback, port, listen => listen.Protocols = HttpProtocols.Http1);
        });
        builder.Services.Configure<HostOptions>(host => host.ShutdownTimeout = EndWithin);
        builder.Services.AddSingleton<IHostLifetime, NoLifetime>();
        WebApplication app = builder.Build();
        CancellationToken stop = app.Lifetime.ApplicationStopping;
        var door = new Doorkeeper(isOpenToNetwork);
        var guides = new GuideDesk(context, start.Session, stop);
        var streams = new LiveStreams(start.Session, guides, context.Clock, hasSound, stop);
        var page = new PageHandler(start, context, door, streams, guides);
        app.Run(page.HandleAsync);
        try
        {
            await app.StartAsync(CancellationToken.None).ConfigureAwait(false);
        }
        catch (Exception e) when (e is IOException or SocketException)
        {
            await guides.DisposeAsync().ConfigureAwait(false);
            await app.DisposeAsync().ConfigureAwait(false);
            throw new RefusalException(TcpPortTrouble.Of(port, e, ServeCommand.PagePort));
        }

        string bound = app.Services.GetRequiredService<IServer>().Features.Get<IServerAddressesFeature>()!.Addresses.First();
        return new PageServer(app, guides, door, new Uri(bound.Replace("0.0.0.0", "127.0.0.1", StringComparison.Ordinal)).Port);
    }

    /// <summary>This computer's addresses in its networks, those with a way out first.</summary>
    public static IReadOnlyList<IPAddress> OwnAddresses() =>
    [
        .. NetworkInterface.GetAllNetworkInterfaces()
            .Where(network => network.OperationalStatus == OperationalStatus.Up && network.NetworkInterfaceType != NetworkInterfaceType.Loopback)
            .Select(network => network.GetIPProperties())
            .OrderByDescending(network => network.GatewayAddresses.Count)
            .SelectMany(network => network.UnicastAddresses.Select(unicast => unicast.Address))
            .Where(address => address.AddressFamily == AddressFamily.InterNetwork),
    ];

    public async ValueTask DisposeAsync()
    {
        await _app.StopAsync(CancellationToken.None).ConfigureAwait(false);
        await _guides.DisposeAsync().ConfigureAwait(false);
        await _app.DisposeAsync().ConfigureAwait(false);
    }

    // Ctrl-C comes in by the command's token alone.
    private sealed class NoLifetime : IHostLifetime
    {
        public Task WaitForStartAsync(CancellationToken cancellationToken) => Task.CompletedTask;

        public Task StopAsync(CancellationToken cancellationToken) => Task.CompletedTask;
    }
}
