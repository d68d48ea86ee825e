using System.Device.Gpio;
using System.Globalization;
using Fourpatch.Board.Simulation;
using Fourpatch.Core.Cells;
using Fourpatch.Core.Rig;
using Fourpatch.Core.Wire;
using Fourpatch.Firmware;
using Fourpatch.Firmware.Amplifiers;
using nanoFramework.Hardware.Esp32;
using Xunit.Abstractions;

namespace Fourpatch.Board.Tests;

/// <summary>Whether four amplifiers can be read in time at the stated costs: pin write 300 us, SPI transfer 150, serial write 200, instruction 0.7.</summary>
public class BudgetTests(ITestOutputHelper output)
{
    private const long MostScanInstructions = 3_500, MostTurnInstructions = 7_000;

    private static readonly double Seconds = Environment.GetEnvironmentVariable("PROOF") == "full" ? 600 : 60;

    [Theory]
    [InlineData(96, 8.0, 9.5)]
    [InlineData(80, 8.0, 9.5)]
    [InlineData(10, 8.0, 9.5)]
    public void A_scan_of_four_takes_under_8_ms(double rate, double scanLimitMs, double turnLimitMs)
    {
        var turns = new List<Turn>();
        var bench = new Bench(3, null, () => GoRound(turns), rate, rate, rate, rate);
        bench.Board.PowerOn();
        bench.Run(3);
        bench.Command("stream,on");
        bench.Run(1);
        turns.Clear();
        bench.Run(Seconds);
        var full = turns.Where(turn => turn.Conversions == 4).ToList();
        foreach (var group in turns.GroupBy(turn => turn.Conversions).OrderBy(group => group.Key))
        {
            output.WriteLine(string.Create(CultureInfo.InvariantCulture,
                $"{rate}/s, {group.Key} ready: {group.Count()} turns, scan mean {group.Average(turn => turn.ScanMs):F2} ms max {group.Max(turn => turn.ScanMs):F2} ms, with the line written mean {group.Average(turn => turn.TurnMs):F2} ms max {group.Max(turn => turn.TurnMs):F2} ms; instructions: scan {group.Min(turn => turn.ScanInstructions)}, turn {group.Min(turn => turn.TurnInstructions)}"));
        }

        // Managed code by count; the rest of the time are calls. The ear of this test runs counted code, too, between two turns of the
        // board or in the middle of one: it only ever adds, so the least of the turns with four is the board's own.
        Assert.InRange(full.Min(turn => turn.ScanInstructions), 1, MostScanInstructions);
        Assert.InRange(full.Min(turn => turn.TurnInstructions), 1, MostTurnInstructions);
        Assert.True(turns.Max(turn => turn.ScanMs) < scanLimitMs);
        Assert.True(turns.Max(turn => turn.TurnMs) < turnLimitMs);
        Assert.True(rate < 20 || full.Count > 0, "no turn with all four ready was seen");
    }

    [Theory]
    [InlineData(96, 1)]
    [InlineData(96, 2)]
    [InlineData(80, 3)]
    [InlineData(10, 4)]
    public void Overlapped_conversions_stay_under_two_in_a_thousand_and_nothing_else_is_lost(double rate, int seed)
    {
        var bench = Bench.Streaming(seed, null, rate, rate, rate, rate * 0.97);
        bench.Run(2);
        var before = bench.Counters.Select(counters => counters!).ToArray();
        var made = bench.Board.Chips.Select(chip => chip.Conversions).ToArray();
        bench.Forget();
        bench.Run(Seconds);
        for (var i = 0; i < 4; i++)
        {
            var now = bench.Counters[i]!;
            double read = now.Read - before[i].Read;
            var overlapped = (now.Overlapped - before[i].Overlapped) / read;
            var settling = (now.Settling - before[i].Settling) / read;
            var lost = 1 - (read / (bench.Board.Chips[i].Conversions - made[i]));
            output.WriteLine(string.Create(CultureInfo.InvariantCulture,
                $"{rate}/s seed {seed} cell {i + 1}: read {read}, overlapped {100 * overlapped:F3} %, settling {100 * settling:F3} %, never read {100 * lost:F2} %, board's estimate {now.MissedEstimate - before[i].MissedEstimate}, bad trains at the chip {bench.Board.Chips[i].BadTrains}"));
            Assert.True(overlapped < 0.002);
            Assert.True(settling < 0.01);
            Assert.True(lost < 0.02);
            Assert.Equal(before[i].Desynced, now.Desynced);
            Assert.Equal(before[i].Unsent, now.Unsent);
        }

        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{bench.BytesReceived / Seconds:F0} bytes/s, {bench.SampleLines / Seconds:F1} sample lines/s, longest hold of the port {bench.Board.Uart.LongestHold / 1000} us"));
        Assert.All(bench.Samples, sample => Assert.True(sample.Status == SampleStatus.Ok && Math.Abs(sample.Counts - Bench.InputCounts(sample.Cell - 1)) < 300, sample.ToString()));
        Assert.True(bench.BytesReceived / Seconds < 9216);
        Assert.Equal(0, bench.Board.Uart.LongestHold);
        Assert.Equal(0, bench.BadLines);
    }

    [Theory]
    [InlineData(80)]
    [InlineData(10)]
    public void Times_of_conversions_follow_the_amplifiers_beat(double rate)
    {
        var bench = Bench.Streaming(5, null, rate, rate, rate, rate);
        bench.Run(2);
        bench.Forget();
        bench.Run(20);
        foreach (var cell in bench.Samples.GroupBy(sample => sample.Cell))
        {
            var times = cell.Select(sample => sample.TimeMicroseconds).ToArray();
            var intervals = times.Zip(times.Skip(1), (earlier, later) => (double)(later - earlier)).Order().ToArray();
            Assert.Equal(1e6 / rate, intervals.Average(), 0.01 * 1e6 / rate);
            Assert.InRange(intervals[intervals.Length / 100], 0.85e6 / rate, 1e6 / rate);
        }
    }

    [Fact]
    public void The_timing_line_at_boot_measures_the_costs_it_finds()
    {
        var costs = new CallCosts { PinWrite = 123_000, SpiTransfer = 77_000, SerialWrite = 250_000, Instruction = 400 };
        var bench = new Bench(1, costs);
        bench.Board.PowerOn();
        bench.Run(3);
        var line = Assert.Single(bench.Texts, text => text.StartsWith("#,timing", StringComparison.Ordinal)).Split(',');
        var figures = line.Skip(2).Chunk(2).ToDictionary(pair => pair[0], pair => int.Parse(pair[1], CultureInfo.InvariantCulture));
        Assert.InRange(figures["pin-us"], 123, 140);
        Assert.InRange(figures["spi-us"], 77, 95);
        Assert.InRange(figures["serial-us"], 250, 350);
        Assert.InRange(figures["instruction-ns"], 400, 410);
    }

    private static void GoRound(List<Turn> turns)
    {
        var clock = new Clock();
        Configuration.SetPinFunction(23, DeviceFunction.SPI1_MOSI);
        Configuration.SetPinFunction(19, DeviceFunction.SPI1_MISO);
        Configuration.SetPinFunction(18, DeviceFunction.SPI1_CLOCK);
        var bank = new AmplifierBank(new ChannelSelector(new GpioController(), 25, 26), new AmplifierLine(), clock);
        var port = new ScanEnd(new SerialBytePort(33, 32, clock));
        var controller = new RigController(bank, port, new FlashRecordStore(), clock, ResetReason.PowerOrExternal, "test");
        controller.Start();
        bank.Start();
        var board = SimulatedBoard.Current;
        while (true)
        {
            var start = board.Threads.Now;
            var executed = ManagedCode.Executed;
            var read = Enumerable.Range(0, 4).Sum(i => controller.Cell(i).Counters.Read);
            controller.Step(clock.NowMicroseconds);
            board.Spend(0);
            turns.Add(new Turn(
                (port.At - start) / 1e6, (board.Threads.Now - start) / 1e6, Enumerable.Range(0, 4).Sum(i => controller.Cell(i).Counters.Read) - read,
                port.Executed - executed, ManagedCode.Executed - executed));
        }
    }

    /// <summary>What one turn took.</summary>
    private sealed record Turn(double ScanMs, double TurnMs, long Conversions, long ScanInstructions, long TurnInstructions);

    /// <summary>Notes when the scan is over: the controller takes its input right after it.</summary>
    private sealed class ScanEnd(IBytePort port) : IBytePort
    {
        public long At { get; private set; }

        public long Executed { get; private set; }

        public int Read(byte[] buffer, int offset, int count)
        {
            SimulatedBoard.Current.Spend(0);
            At = SimulatedBoard.Current.Threads.Now;
            Executed = ManagedCode.Executed;
            return port.Read(buffer, offset, count);
        }

        public bool TryWrite(byte[] buffer, int offset, int count) => port.TryWrite(buffer, offset, count);
    }
}
