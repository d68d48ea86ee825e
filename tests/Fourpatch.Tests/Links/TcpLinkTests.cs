using System.Net;
using System.Net.Sockets;
using Fourpatch.Tests.Commands;
using Fourpatch.VirtualRig;

namespace Fourpatch.Tests.Links;

/// <summary>A TCP port that somebody else has already.</summary>
[Collection(KeepsTime.Name)]
public class TcpLinkTests
{
    [Fact]
    public async Task A_second_program_is_told_that_another_has_the_port()
    {
        var clock = new FastClock(TimeProvider.System, 4);
        var paced = new PacedGarage(Garages.Pads(), clock);
        await using var server = new TcpServer(paced, paced.Garage.Boards[0]);
        using var stop = new CancellationTokenSource();
        Task serving = Task.Run(() => server.RunAsync(stop.Token));
        using var first = new TcpClient("127.0.0.1", server.Port);
        SpinWait.SpinUntil(() => server.HasClient, TimeSpan.FromSeconds(20));
        Outcome second = await WatchAsync(server.Port, clock);
        Assert.Equal(3, second.ExitCode);
        Assert.Contains($"another program has tcp:localhost:{server.Port}; end that one first", second.Errors.ReplaceLineEndings(" "), StringComparison.Ordinal);
        await stop.CancelAsync();
        await serving;
    }

    [Fact]
    public async Task Who_hangs_up_at_once_is_thought_to_be_busy()
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        using var stop = new CancellationTokenSource();
        Task hangingUp = HangUpAsync(listener, stop.Token);
        int port = ((IPEndPoint)listener.LocalEndpoint).Port;
        Outcome outcome = await WatchAsync(port, new FastClock(TimeProvider.System, 4));
        Assert.Equal(3, outcome.ExitCode);
        Assert.Contains("does another program have it?", outcome.Errors.ReplaceLineEndings(" "), StringComparison.Ordinal);
        await stop.CancelAsync();
        await hangingUp;
    }

    private static async Task HangUpAsync(TcpListener listener, CancellationToken stop)
    {
        try
        {
            while (true)
            {
                using TcpClient comer = await listener.AcceptTcpClientAsync(stop);

                // Closed with no time to linger, the other side sees a reset.
                comer.LingerState = new LingerOption(true, 0);
            }
        }
        catch (OperationCanceledException)
        {
        }
    }

    private static async Task<Outcome> WatchAsync(int port, TimeProvider clock)
    {
        using var bench = new Bench(clock: clock) { Width = 400 };
        Cars.WriteTo(bench);
        return await bench.RunAsync("watch", "--port", $"tcp:localhost:{port}", "--vehicle", "plain.toml", "--seconds", "1");
    }
}
