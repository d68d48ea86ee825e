using System.Text;
using Fourpatch.Core.Cells;
using Fourpatch.Links;
using Fourpatch.Tests.Commands;
using Fourpatch.VirtualRig;
using Microsoft.Extensions.Time.Testing;

namespace Fourpatch.Tests.Links;

/// <summary>Keeping contact with one board. Deadlines pass faster than on the wall; the clock is the garage's too.</summary>
[Collection(KeepsTime.Name)]
public class BoardConnectionTests
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(60);

    // By the fast clock.
    private static readonly TimeSpan Deadline = TimeSpan.FromMinutes(5);
    private static readonly PortAddress Port = new(PortKind.Virtual, "");
    private readonly FastClock _clock = new(TimeProvider.System, 4);
    private readonly List<MeddlingLink> _opened = [];

    [Fact]
    public async Task A_board_is_identified_and_its_calibrations_are_read_before_it_counts_as_connected()
    {
        await using BoardConnection connection = Start(Garages.Pads());
        BoardState state = await connection.WhenReadyAsync(Deadline, default);
        Assert.Equal("B1", state.Identity!.BoardId);
        Assert.Equal("sim-pads", state.Identity.FirmwareVersion);
        Assert.Equal(41250, state.Calibrations[0].ZeroCounts);
        Assert.True(state.Calibrations[2].KgPerCount < 0);
        Assert.Equal("", state.Trouble);
        BoardItem connected = await NextAsync(connection, BoardItemKind.Connected);
        Assert.Equal(state.Identity, connected.Detail);
        Sample first = (await NextAsync(connection, BoardItemKind.Sample)).Sample;
        Assert.InRange(first.Cell, 1, 4);
    }

    [Fact]
    public async Task Answers_reach_whoever_asked()
    {
        await using BoardConnection connection = Start(Garages.Pads());
        await connection.WhenReadyAsync(Deadline, default);
        Task<Answer>[] asked = [.. Enumerable.Range(0, 20).Select(i => connection.AskAsync(BoardCommand.Calibration(1 + (i % 4)), default))];
        Answer[] answers = await Task.WhenAll(asked).WaitAsync(Patience);
        for (int i = 0; i < answers.Length; i++)
        {
            CellCalibration calibration = BoardProbe.ReadCalibration(answers[i], "calibration", 1 + (i % 4));
            Assert.True(calibration.IsSameAs(connection.State.Calibrations[i % 4]));
        }

        Assert.Equal(20, answers.Select(answer => answer.Number).Distinct().Count());
    }

    [Fact]
    public async Task A_lost_answer_is_asked_for_again()
    {
        var dropped = new HashSet<string>();
        string? DropFirst(string body) => body.StartsWith("A,", StringComparison.Ordinal) && dropped.Add(body.Split(',')[1]) ? null : body;
        await using BoardConnection connection = Start(Garages.Pads(), DropFirst);
        await connection.WhenReadyAsync(Deadline, default);
        Assert.Equal(10, dropped.Count);
        Answer answer = await connection.AskAsync(BoardCommand.Name(0), default).WaitAsync(Patience);
        Assert.Equal("name,0,B1", Encoding.ASCII.GetString(answer.Rest));
    }

    [Fact]
    public async Task A_device_that_never_answers_is_named_and_the_wait_has_an_end()
    {
        await using BoardConnection connection = Start(Garages.Pads(), _ => null);
        var refused = await Assert.ThrowsAsync<LinkUnavailableException>(() => connection.WhenReadyAsync(TimeSpan.FromSeconds(20), default));
        Assert.StartsWith("virtual is open, but no board answers there", refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_board_that_speaks_but_does_not_answer_is_told_apart_from_another_device()
    {
        await using BoardConnection connection = Start(Garages.Pads(), body => body.StartsWith("A,", StringComparison.Ordinal) ? null : body);
        var refused = await Assert.ThrowsAsync<LinkUnavailableException>(() => connection.WhenReadyAsync(TimeSpan.FromSeconds(40), default));
        Assert.Equal("virtual: the board does not answer 'identify'", refused.Message);
    }

    [Fact]
    public async Task A_board_of_another_protocol_version_is_recognised_and_the_remedy_named()
    {
        await using BoardConnection connection = Start(Garages.Pads(), body => body.Replace("ok,identify,fourpatch,1,", "ok,identify,fourpatch,2,", StringComparison.Ordinal));
        var refused = await Assert.ThrowsAsync<LinkUnavailableException>(() => connection.WhenReadyAsync(TimeSpan.FromSeconds(20), default));
        Assert.Contains("speaks protocol version 2, this program version 1: flash the firmware", refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_foreign_answer_to_identify_is_not_understood()
    {
        await using BoardConnection connection = Start(Garages.Pads(), body => body.Replace("ok,identify,fourpatch,", "ok,identify,toaster,", StringComparison.Ordinal));
        var refused = await Assert.ThrowsAsync<LinkUnavailableException>(() => connection.WhenReadyAsync(TimeSpan.FromSeconds(20), default));
        Assert.Contains("answer to 'identify' is not understood", refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_refused_command_is_an_answer_not_a_loss()
    {
        await using BoardConnection connection = Start(Garages.Pads());
        await connection.WhenReadyAsync(Deadline, default);
        Answer answer = await connection.AskAsync(BoardCommand.Commit(), default).WaitAsync(Patience);
        Assert.False(answer.IsOk);
        Assert.Equal("stream-on", Encoding.ASCII.GetString(answer.Rest));
    }

    [Fact]
    public async Task A_producer_that_can_wait_is_held_back_by_a_slow_reader_and_loses_nothing()
    {
        VirtualGarage garage = Garages.Pads();
        await using BoardConnection connection = Start(garage);
        await connection.WhenReadyAsync(Deadline, default);

        // Until it stands still; then for ten times as long as a silent board is given.
        TimeSpan stoodAt;
        do
        {
            stoodAt = garage.Now;
            await Task.Delay(TimeSpan.FromSeconds(16), _clock);
        }
        while (garage.Now != stoodAt);

        var last = new long[5];
        for (int i = 0; i < 5000; i++)
        {
            BoardItem item = await NextAsync(connection, null);
            Assert.NotEqual(BoardItemKind.Lost, item.Kind);
            if (item.Kind == BoardItemKind.Sample)
            {
                Assert.True(last[item.Sample.Cell] == 0 || item.Sample.Number == last[item.Sample.Cell] + 1);
                last[item.Sample.Cell] = item.Sample.Number;
            }
        }

        Assert.Equal(0, connection.Dropped);
        Assert.Single(_opened);
    }

    [Fact]
    public async Task A_line_that_cannot_wait_drops_what_nobody_reads_and_counts_it()
    {
        await using BoardConnection connection = Start(Garages.Pads(), isLossless: false);
        await UntilAsync(() => connection.Dropped > 1000);
        int samples = 0;
        while (connection.TryRead(out BoardItem item) && samples < 20000)
        {
            samples += item.Kind == BoardItemKind.Sample ? 1 : 0;
        }

        Assert.InRange(samples, 10000, 20000);
        Assert.True(connection.Dropped > 1000);
    }

    [Fact]
    public async Task A_board_that_starts_again_is_seen_by_its_boot_id_and_streams_on()
    {
        VirtualGarage garage = Garages.Pads();
        await using BoardConnection connection = Start(garage);
        BoardState before = await connection.WhenReadyAsync(Deadline, default);
        await NextAsync(connection, BoardItemKind.Sample);
        TimeSpan resetAt = garage.Now;
        garage.Boards[0].Reset();
        await NextAsync(connection, BoardItemKind.Restarted);
        BoardItem connected = await NextAsync(connection, BoardItemKind.Connected);
        Assert.Equal(before.Identity!.BootId + 1, ((BoardIdentity)connected.Detail!).BootId);
        Assert.Equal(1, connection.State.Restarts);
        Sample first = (await NextAsync(connection, BoardItemKind.Sample)).Sample;
        Assert.InRange(first.DeviceMicroseconds, 0, (garage.Now - resetAt).TotalMicroseconds);
    }

    [Fact]
    public async Task Silence_is_noticed_within_two_seconds_of_the_last_good_line()
    {
        var clock = new FakeTimeProvider();
        VirtualGarage garage = Garages.Pads();
        await using BoardConnection connection = BoardConnection.Start(Port, new GarageLinks(garage, clock), clock, wantsStream: true);
        for (int i = 0; i < 2000 && connection.State.Phase != ConnectionPhase.Ready; i++)
        {
            clock.Advance(TimeSpan.FromMilliseconds(20));
            await Task.Delay(1);
        }

        Assert.Equal(ConnectionPhase.Ready, connection.State.Phase);
        garage.StartFault(FaultKind.Silence);
        while (connection.Age < TimeSpan.FromSeconds(1.55))
        {
            Assert.Equal(ConnectionPhase.Ready, connection.State.Phase);
            clock.Advance(TimeSpan.FromMilliseconds(20));
            await Task.Delay(2);
        }

        // From here on it may be noticed at any step: each is given time to be.
        while (connection.State.Phase == ConnectionPhase.Ready)
        {
            Assert.True(connection.Age < TimeSpan.FromSeconds(2), $"last heard {connection.Age.TotalSeconds:0.00} s ago and not noticed");
            clock.Advance(TimeSpan.FromMilliseconds(50));
            SpinWait.SpinUntil(() => connection.State.Phase != ConnectionPhase.Ready, connection.Age < TimeSpan.FromSeconds(1.9) ? 400 : 60_000);
        }

        BoardItem lost = await NextAsync(connection, BoardItemKind.Lost);
        Assert.Equal("virtual has fallen silent", lost.Detail);
    }

    [Fact]
    public async Task Noise_on_the_line_costs_lines_and_never_contact()
    {
        VirtualGarage garage = Garages.Pads();
        garage.StartFault(FaultKind.LineNoise);
        await using BoardConnection connection = Start(garage);
        await connection.WhenReadyAsync(Deadline, default);
        for (int i = 0; i < 8000; i++)
        {
            BoardItem item = await NextAsync(connection, BoardItemKind.Sample);
            Assert.NotEqual(SampleStatus.Stuck, item.Sample.Status);
            Assert.InRange(item.Sample.Counts, -2_500_000, 2_500_000);
        }

        Assert.True(connection.SkippedLines > 20, $"{connection.SkippedLines} lines");
        Assert.True(connection.LostSampleLines > 20);
    }

    [Fact]
    public async Task Disposing_ends_every_wait_and_leaves_no_read_behind()
    {
        BoardConnection connection = Start(Garages.Pads(), body => body.StartsWith("A,", StringComparison.Ordinal) && int.Parse(body.Split(',')[1], null) > 11 ? null : body);
        await connection.WhenReadyAsync(Deadline, default);
        Task<Answer> asked = connection.AskAsync(BoardCommand.Identify(), default);
        await connection.DisposeAsync().AsTask().WaitAsync(Patience);
        await Assert.ThrowsAsync<LinkUnavailableException>(() => asked.WaitAsync(Patience));
        while (connection.TryRead(out _))
        {
        }

        Assert.False(await connection.WaitToReadAsync(default).AsTask().WaitAsync(Patience));
        Assert.All(_opened, link => Assert.True(link.IsDisposed && link.Reading == 0));
        await Assert.ThrowsAsync<LinkUnavailableException>(() => connection.AskAsync(BoardCommand.Identify(), default));
    }

    [Fact]
    public async Task Disposing_while_the_board_is_still_awaited_ends_that_too()
    {
        BoardConnection connection = Start(Garages.Pads(), _ => null);
        Task<BoardState> ready = connection.WhenReadyAsync(TimeSpan.FromDays(1), default);
        ValueTask<bool> items = connection.WaitToReadAsync(default);
        await UntilAsync(() => _opened.Count > 0);
        await connection.DisposeAsync().AsTask().WaitAsync(Patience);
        await Assert.ThrowsAsync<LinkUnavailableException>(() => ready.WaitAsync(Patience));
        while (await items && connection.TryRead(out _))
        {
            items = connection.WaitToReadAsync(default);
        }

        Assert.All(_opened, link => Assert.True(link.IsDisposed && link.Reading == 0));
    }

    [Fact]
    public async Task What_is_no_trouble_of_the_line_comes_through_as_it_is_and_at_once()
    {
        var opener = new ListedPorts((_, _) => throw new InvalidDataException("this file is no scenario"), []);
        await using BoardConnection connection = BoardConnection.Start(Port, opener, TimeProvider.System, wantsStream: true);
        var fault = await Assert.ThrowsAsync<InvalidDataException>(() => connection.WhenReadyAsync(TimeSpan.FromDays(1), default).WaitAsync(Patience));
        Assert.Equal("this file is no scenario", fault.Message);
        await Assert.ThrowsAsync<InvalidDataException>(() => connection.WaitToReadAsync(default).AsTask().WaitAsync(Patience));
    }

    [Fact]
    public async Task Asking_who_is_there_leaves_nothing_running_on_a_port_that_is_closed()
    {
        VirtualGarage garage = Garages.Pads();
        PortAnswer<BoardIdentity> answer = await BoardProbe.TryIdentifyAsync(Port, Opener(garage, null, true), _clock, default).WaitAsync(Patience);
        Assert.Equal("B1", answer.Found!.BoardId);
        Assert.Equal(default, await BoardProbe.TryIdentifyAsync(Port, Opener(garage, _ => null, true), _clock, default).WaitAsync(Patience));
        Assert.Equal(2, _opened.Count);
        Assert.All(_opened, link => Assert.True(link.IsDisposed && link.Reading == 0));
    }

    [Fact]
    public async Task A_board_that_speaks_is_given_longer_than_five_seconds_to_tell_all_it_holds()
    {
        // The first answer to every command is lost: nine commands, each answered at its second try.
        var lost = new HashSet<string>();
        TimeProvider clock = TimeProvider.System;
        long start = clock.GetTimestamp();
        ILinkOpener opener = Opener(Garages.Pads(), body => body.StartsWith("A,", StringComparison.Ordinal) && lost.Add(body.Split(',')[1]) ? null : body, false);
        PortAnswer<BoardState> answer = await BoardProbe.TryReadAllAsync(Port, opener, clock, default).WaitAsync(Patience);
        Assert.Equal("B1", answer.Found?.Identity?.BoardId);
        Assert.True(clock.GetElapsedTime(start) > TimeSpan.FromSeconds(5));
    }

    private BoardConnection Start(VirtualGarage garage, Func<string, string?>? meddle = null, bool isLossless = true) =>
        BoardConnection.Start(Port, Opener(garage, meddle, isLossless), _clock, wantsStream: true);

    private GarageLinks Opener(VirtualGarage garage, Func<string, string?>? meddle, bool isLossless) => new(garage)
    {
        Between = link =>
        {
            var between = new MeddlingLink(link, meddle) { IsLossless = isLossless };
            _opened.Add(between);
            return between;
        },
    };

    private static async Task<BoardItem> NextAsync(BoardConnection connection, BoardItemKind? kind)
    {
        using var patience = new CancellationTokenSource(Patience);
        while (await connection.WaitToReadAsync(patience.Token))
        {
            while (connection.TryRead(out BoardItem item))
            {
                if (kind is null || item.Kind == kind)
                {
                    return item;
                }
            }
        }

        throw new InvalidOperationException($"no {kind} came");
    }

    private static async Task UntilAsync(Func<bool> holds)
    {
        using var patience = new CancellationTokenSource(Patience);
        while (!holds())
        {
            await Task.Delay(5, patience.Token);
        }
    }
}
