using System.Net.Sockets;
using Fourpatch.VirtualRig;
using Microsoft.Extensions.Time.Testing;

namespace Fourpatch.Tests.VirtualRig;

/// <summary>The same board over TCP, on a pseudo-terminal and paced in process.</summary>
public class ServingTests
{
    private static readonly TimeSpan Served = TimeSpan.FromSeconds(4);

    [Fact]
    public void Bytes_over_tcp_are_those_in_process()
    {
        var (paced, clock) = Garage();
        TcpServer server = new(paced, paced.Garage.Boards[0]);
        Assert.Equal($"tcp:localhost:{server.Port}", server.PortName);
        using TcpClient client = new("127.0.0.1", server.Port);
        server.Pump();
        Assert.True(server.HasClient);
        var stream = client.GetStream();
        var heard = Serve(server, clock, buffer => client.Available > 0 ? stream.Read(buffer) : 0);
        Assert.Equal(InProcess(), heard);
        Assert.Equal(0, server.LostBytes);
    }

    [Fact]
    public async Task A_second_tcp_client_is_told_that_the_board_is_taken_and_the_first_keeps_it()
    {
        var (paced, clock) = Garage();
        await using TcpServer server = new(paced, paced.Garage.Boards[0]);
        using TcpClient first = new("127.0.0.1", server.Port);
        server.Pump();
        using TcpClient second = new("127.0.0.1", server.Port);
        server.Pump();
        using StreamReader reader = new(second.GetStream());
        Assert.Equal("another program is connected to this board\r\n", await reader.ReadToEndAsync());
        clock.Advance(TimeSpan.FromSeconds(1));
        server.Pump();
        Assert.True(first.Available > 0);

        // When the first has left, the next one is served.
        first.Dispose();
        using TcpClient third = new("127.0.0.1", server.Port);
        SpinWait.SpinUntil(() => Step(server, clock) && third.Available > 0, TimeSpan.FromSeconds(60));
        Assert.True(third.Available > 0);
    }

    [Fact]
    public async Task A_served_board_answers()
    {
        var (paced, clock) = Garage();
        await using TcpServer server = new(paced, paced.Garage.Boards[0]);
        using TcpClient client = new("127.0.0.1", server.Port);
        server.Pump();
        clock.Advance(TimeSpan.FromSeconds(1));
        server.Pump();
        await client.GetStream().WriteAsync("identify\n"u8.ToArray());
        BoardEar ear = new();
        var buffer = new byte[4096];
        var answered = SpinWait.SpinUntil(() =>
        {
            Step(server, clock);
            while (client.Available > 0) ear.Hear(buffer.AsSpan(0, client.GetStream().Read(buffer)));
            return ear.Answers.Count > 0;
        }, TimeSpan.FromSeconds(60));
        Assert.True(answered);
        Assert.StartsWith("A,0,ok,identify,fourpatch,", ear.Answers[0]);
    }

    [Fact]
    public async Task A_server_runs_by_its_clock_until_the_scenario_ends()
    {
        var (paced, clock) = Garage(durationS: 2);
        await using TcpServer server = new(paced, paced.Garage.Boards[0]);
        var running = server.RunAsync(CancellationToken.None);
        for (var i = 0; i < 10000 && !running.IsCompleted; i++)
        {
            clock.Advance(TimeSpan.FromMilliseconds(100));
            await Task.WhenAny(running, Task.Delay(1));
        }
        Assert.True(running.IsCompletedSuccessfully);
        Assert.True(paced.Garage.HasEnded);
        Assert.True(server.LostBytes > 200);
    }

    [Fact]
    public async Task A_paced_link_follows_its_clock_and_drops_what_nobody_reads()
    {
        var (paced, clock) = Garage();
        await using var link = VirtualLink.Paced(paced, paced.Garage.Boards[0]);
        Assert.False(link.IsLossless);
        var buffer = new byte[50000];
        var waiting = link.ReadAsync(buffer, CancellationToken.None).AsTask();
        Assert.False(waiting.IsCompleted);
        clock.Advance(TimeSpan.FromSeconds(1));
        Assert.InRange(await waiting.WaitAsync(TimeSpan.FromSeconds(60)), 100, 2000);
        clock.Advance(TimeSpan.FromMinutes(10));
        Assert.Equal(16384, await link.ReadAsync(buffer, CancellationToken.None));
        Assert.True(paced.Garage.Boards[0].DroppedBytes > 10000);

        var pending = link.ReadAsync(buffer, CancellationToken.None).AsTask();
        await link.DisposeAsync();
        Assert.Equal(0, await pending.WaitAsync(TimeSpan.FromSeconds(60)));
        using CancellationTokenSource cancelled = new();
        await cancelled.CancelAsync();
        await Assert.ThrowsAnyAsync<OperationCanceledException>(async () => await link.ReadAsync(buffer, cancelled.Token));
    }

    [Fact]
    public async Task A_fast_clock_runs_its_factor_times_and_so_do_its_timers()
    {
        FakeTimeProvider wall = new(new DateTimeOffset(2026, 5, 2, 18, 0, 0, TimeSpan.Zero));
        FastClock fast = new(wall, 20);
        var start = fast.GetTimestamp();
        var delay = Task.Delay(TimeSpan.FromSeconds(40), fast);
        wall.Advance(TimeSpan.FromSeconds(1.99));
        Assert.False(delay.IsCompleted);
        wall.Advance(TimeSpan.FromSeconds(0.02));
        await delay.WaitAsync(TimeSpan.FromSeconds(60));
        Assert.Equal(40.2, fast.GetElapsedTime(start).TotalSeconds, 1e-6);
        Assert.Equal(new DateTimeOffset(2026, 5, 2, 18, 0, 40, 200, TimeSpan.Zero), fast.GetUtcNow());

        PacedGarage paced = new(new(Wren.OnPads(), Wren.Vehicle, 8), fast);
        await using var link = VirtualLink.Paced(paced, paced.Garage.Boards[0], keepsAll: true);
        wall.Advance(TimeSpan.FromSeconds(30));
        BoardEar ear = new();
        var buffer = new byte[4096];
        while (ear.Heartbeats.Count < 600) ear.Hear(buffer.AsSpan(0, await link.ReadAsync(buffer, CancellationToken.None)));
        Assert.Equal(TimeSpan.FromSeconds(600), paced.Garage.Now);
        Assert.Equal(0, paced.Garage.Boards[0].DroppedBytes);
    }

    [PseudoTerminalFact]
    public void Bytes_through_a_pseudo_terminal_are_those_in_process_raw_and_whole()
    {
        var (paced, clock) = Garage();
        PtyServer server = new(paced, paced.Garage.Boards[0]);
        using var port = Open(server.PortName);
        var heard = Serve(server, clock, port.ReadNow);
        Assert.Equal(InProcess(), heard);
        Assert.Equal(0, server.LostBytes);
    }

    [PseudoTerminalFact]
    public async Task A_pseudo_terminal_outlives_its_readers_and_keeps_nothing_for_nobody()
    {
        var (paced, clock) = Garage();
        await using PtyServer server = new(paced, paced.Garage.Boards[0]);
        clock.Advance(TimeSpan.FromSeconds(2));
        server.Pump();
        Assert.True(server.LostBytes > 100);
        for (var round = 0; round < 3; round++)
        {
            using var port = Open(server.PortName);
            Assert.Equal(0, Read(port, new byte[100]));
            clock.Advance(TimeSpan.FromSeconds(2));
            server.Pump();
            BoardEar ear = new();
            var buffer = new byte[4096];
            ear.Hear(buffer.AsSpan(0, Read(port, buffer)));
            Assert.InRange(ear.Heartbeats.Count, 1, 3);
            port.Write("identify\n"u8);
            server.Pump();
            clock.Advance(TimeSpan.FromSeconds(0.2));
            server.Pump();
            ear.Hear(buffer.AsSpan(0, Read(port, buffer)));
            Assert.Single(ear.Answers);
            port.Dispose();
            var lost = server.LostBytes;
            clock.Advance(TimeSpan.FromSeconds(2));
            server.Pump();
            Assert.True(server.LostBytes > lost + 100);
        }
    }

    [PseudoTerminalFact]
    public async Task A_reader_that_does_not_read_loses_bytes_and_does_not_stop_the_board()
    {
        var (paced, clock) = Garage();
        await using PtyServer server = new(paced, paced.Garage.Boards[0]);
        using var port = Open(server.PortName);
        for (var i = 0; i < 600; i++)
        {
            clock.Advance(TimeSpan.FromSeconds(1));
            server.Pump();
        }
        Assert.True(server.LostBytes > 10000);
        Assert.Equal(TimeSpan.FromSeconds(600), paced.Garage.Now);
    }

    [PseudoTerminalFact]
    public async Task A_board_plugged_in_again_comes_back_under_another_name_and_boots()
    {
        var (paced, clock) = Garage();
        await using PtyServer server = new(paced, paced.Garage.Boards[0]);
        var oldName = server.PortName;
        using var old = Open(oldName);
        clock.Advance(TimeSpan.FromSeconds(1.5));
        server.Pump();
        BoardEar ear = new();
        var buffer = new byte[4096];
        ear.Hear(buffer.AsSpan(0, Read(old, buffer)));
        server.Unplug();
        Assert.False(paced.Garage.Boards[0].IsPowered);
        Assert.Equal(-1, old.Read(buffer));
        clock.Advance(TimeSpan.FromSeconds(3));
        server.Pump();

        var newName = server.PlugIn();
        Assert.NotEqual(oldName, newName);
        Assert.Equal(newName, server.PortName);
        using var port = Open(newName);
        clock.Advance(TimeSpan.FromSeconds(1.5));
        server.Pump();
        BoardEar earAfter = new();
        earAfter.Hear(buffer.AsSpan(0, Read(port, buffer)));
        Assert.Equal(ear.Heartbeats[^1].BootId + 1, earAfter.Heartbeats[^1].BootId);
        Assert.Contains(earAfter.PlainLines, line => line.StartsWith("boot loader", StringComparison.Ordinal));
    }

    private static (PacedGarage Paced, FakeTimeProvider Clock) Garage(double? durationS = null)
    {
        FakeTimeProvider clock = new();
        return (new(new(Wren.OnPads() with { DurationS = durationS }, Wren.Vehicle, 8), clock), clock);
    }

    private static byte[] InProcess()
    {
        VirtualGarage garage = new(Wren.OnPads(), Wren.Vehicle, 8);
        lock (garage.Gate) garage.Boards[0].Listen(isLossless: true);
        garage.Advance(Served);
        var buffer = new byte[100000];
        lock (garage.Gate) return buffer[..garage.Boards[0].Take(buffer)];
    }

    private static byte[] Serve(BoardServer server, FakeTimeProvider clock, Func<byte[], int> read)
    {
        List<byte> heard = [];
        var buffer = new byte[4096];
        var expected = InProcess().Length;
        for (var passed = TimeSpan.Zero; passed < Served; passed += TimeSpan.FromMilliseconds(20))
        {
            clock.Advance(TimeSpan.FromMilliseconds(20));
            server.Pump();
            ReadAll();
        }

        // The kernel may take its time to hand over the last ones.
        SpinWait.SpinUntil(() => { ReadAll(); return heard.Count >= expected; }, TimeSpan.FromSeconds(60));
        return [.. heard];

        void ReadAll()
        {
            int count;
            while ((count = read(buffer)) > 0) heard.AddRange(buffer.AsSpan(0, count));
        }
    }

    private static bool Step(BoardServer server, FakeTimeProvider clock)
    {
        clock.Advance(TimeSpan.FromMilliseconds(20));
        server.Pump();
        return true;
    }

    private static PseudoTerminalReader Open(string path) => new(path);

    private static int Read(PseudoTerminalReader port, byte[] buffer) => Math.Max(0, port.Read(buffer));
}
