using System.Net;
using System.Net.Sockets;
using System.Text.Json.Nodes;
using Fourpatch.Links;
using Fourpatch.Tests.Commands;
using Fourpatch.Tests.Commands.Help;
using Fourpatch.VirtualRig;

namespace Fourpatch.Tests.Links;

/// <summary>A TCP port that somebody else has already.</summary>
[Collection(KeepsTime.Name)]
public class TcpLinkTests
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(60);

    [Fact]
    public async Task A_second_program_is_told_that_another_has_the_port()
    {
        var clock = new FastClock(TimeProvider.System, 2);
        await using var taken = await TakenPort.ServeAsync(clock);
        Outcome second = await WatchAsync(taken.Port, clock);
        Assert.Equal(3, second.ExitCode);
        Assert.Contains($"another program has tcp:localhost:{taken.Port}; end that program", second.Errors.ReplaceLineEndings(" "), StringComparison.Ordinal);
    }

    [Fact]
    public async Task The_guide_says_that_another_program_has_the_port_and_not_that_nobody_answers()
    {
        await using var taken = await TakenPort.ServeAsync(TimeProvider.System);
        using var bench = new Bench(clock: GuideTests.Patient);
        Outcome outcome = await bench.RunAsync("guide", "--port", $"tcp:localhost:{taken.Port}", "--json");
        JsonNode rig = outcome.Answer["steps"]![0]!;
        Assert.Equal($"another program has tcp:localhost:{taken.Port}", (string?)rig["found"]);
        Assert.Equal($"fourpatch guide --port tcp:localhost:{taken.Port}", (string?)outcome.Answer["next_command"]);
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task Who_hangs_up_at_once_is_thought_to_be_busy(bool byReset)
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        using var stop = new CancellationTokenSource();
        Task hangingUp = HangUpAsync(listener, byReset, stop.Token);
        int port = ((IPEndPoint)listener.LocalEndpoint).Port;
        Outcome outcome = await WatchAsync(port, new FastClock(TimeProvider.System, 2));
        Assert.Equal(3, outcome.ExitCode);
        Assert.Contains("does another program have it?", outcome.Errors.ReplaceLineEndings(" "), StringComparison.Ordinal);
        await stop.CancelAsync();
        await hangingUp;
    }

    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task Whether_writing_or_reading_meets_the_hang_up_first_both_say_so(bool byReset)
    {
        using var listener = new TcpListener(IPAddress.Loopback, 0);
        listener.Start();
        Task<TcpClient> coming = listener.AcceptTcpClientAsync();
        await using TcpLink link = await TcpLink.OpenAsync(new PortAddress(PortKind.Tcp, "127.0.0.1", ((IPEndPoint)listener.LocalEndpoint).Port), default);
        HangUp(await coming, byReset);
        var written = await Assert.ThrowsAsync<LinkUnavailableException>(async () =>
        {
            using var patience = new CancellationTokenSource(Patience);
            while (true)
            {
                await link.WriteAsync("identify\n"u8.ToArray(), patience.Token);
            }
        });
        var read = await Assert.ThrowsAsync<LinkUnavailableException>(() => link.ReadAsync(new byte[100], default).AsTask().WaitAsync(Patience));
        Assert.All([written, read], said => Assert.True(said.IsTaken));
        Assert.All([written, read], said => Assert.Contains("does another program have it?", said.Message, StringComparison.Ordinal));
    }

    private static async Task HangUpAsync(TcpListener listener, bool byReset, CancellationToken stop)
    {
        try
        {
            while (true)
            {
                HangUp(await listener.AcceptTcpClientAsync(stop), byReset);
            }
        }
        catch (OperationCanceledException)
        {
        }
    }

    // Closed with no time to linger, the other side sees a reset; else a plain end.
    private static void HangUp(TcpClient comer, bool byReset)
    {
        comer.LingerState = new LingerOption(byReset, 0);
        comer.Dispose();
    }

    private static async Task<Outcome> WatchAsync(int port, TimeProvider clock)
    {
        using var bench = new Bench(clock: clock) { Width = 400 };
        Cars.WriteTo(bench);
        return await bench.RunAsync("watch", "--port", $"tcp:localhost:{port}", "--vehicle", "plain.toml", "--seconds", "1");
    }

    /// <summary>A board that a first program has.</summary>
    private sealed class TakenPort : IAsyncDisposable
    {
        private readonly TcpServer _server;
        private readonly CancellationTokenSource _stop = new();
        private readonly TcpClient _first;
        private readonly Task _serving;

        private TakenPort(TimeProvider clock)
        {
            var paced = new PacedGarage(Garages.Pads(), clock);
            _server = new TcpServer(paced, paced.Garage.Boards[0]);
            _serving = Task.Run(() => _server.RunAsync(_stop.Token));
            _first = new TcpClient("127.0.0.1", _server.Port);
        }

        public int Port => _server.Port;

        public static async Task<TakenPort> ServeAsync(TimeProvider clock)
        {
            var taken = new TakenPort(clock);
            using var patience = new CancellationTokenSource(Patience);
            while (!taken._server.HasClient)
            {
                await Task.Delay(5, patience.Token);
            }

            return taken;
        }

        public async ValueTask DisposeAsync()
        {
            await _stop.CancelAsync();
            await _serving;
            _first.Dispose();
            await _server.DisposeAsync();
            _stop.Dispose();
        }
    }
}
