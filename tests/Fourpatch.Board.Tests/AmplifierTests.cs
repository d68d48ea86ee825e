using Fourpatch.Board.Simulation;
using Fourpatch.Core.Cells;
using Fourpatch.Firmware.Boards;

namespace Fourpatch.Board.Tests;

/// <summary>The firmware and amplifiers of every kind the datasheet allows.</summary>
public class AmplifierTests
{
    // HX711 datasheet: two's complement, saturating at 800000h and 7FFFFFh.
    [Theory]
    [InlineData(0)]
    [InlineData(1)]
    [InlineData(-1)]
    [InlineData(-8388607)]
    [InlineData(8388606)]
    [InlineData(1193046)]
    [InlineData(-74566)]
    public void Every_count_arrives_as_the_amplifier_made_it(int counts)
    {
        var bench = new Bench(41);
        foreach (var chip in bench.Board.Chips)
        {
            chip.InputCounts = counts;
            chip.NoiseCounts = 0;
        }

        bench.Board.PowerOn();
        bench.Run(3);
        bench.Command("stream,on");
        bench.Run(1);
        Assert.NotEmpty(bench.Samples);
        Assert.All(bench.Samples, sample => Assert.Equal(counts, sample.Counts));
    }

    [Theory]
    [InlineData(1e9, SampleStatus.SaturatedHigh)]
    [InlineData(-1e9, SampleStatus.SaturatedLow)]
    public void Beyond_its_range_a_cell_is_saturated(double input, SampleStatus status)
    {
        var bench = Bench.Streaming(42);
        bench.Board.Chips[3].InputCounts = input;
        bench.Run(1);
        bench.Forget();
        bench.Run(2);
        Assert.All(bench.Samples, sample => Assert.Equal(sample.Cell == 4 ? status : SampleStatus.Ok, sample.Status));
    }

    [Fact]
    public void Sixteen_equal_counts_are_stuck_and_noise_clears_it()
    {
        var bench = Bench.Streaming(43);
        bench.Board.Chips[0].NoiseCounts = 0;
        bench.Run(3);
        Assert.Equal("u,k,k,k", Bench.Letters(bench.LastBeat.Health));
        bench.Board.Chips[0].NoiseCounts = 21;
        bench.Run(2);
        Assert.Equal("k,k,k,k", Bench.Letters(bench.LastBeat.Health));
    }

    // The internal oscillator is only roughly 10 or 80 Hz; 11.7 and 93.7 have been measured on real ones.
    [Theory]
    [InlineData(8, 12, 9.3, 11.7)]
    [InlineData(64, 93.7, 80, 71)]
    [InlineData(10, 80, 10, 80)]
    public void Any_rate_within_tolerance_and_any_mixture_is_read_whole(double first, double second, double third, double fourth)
    {
        double[] rates = [first, second, third, fourth];
        var bench = Bench.Streaming(44, null, rates);
        bench.Run(3);
        bench.Forget();
        bench.Run(30);
        for (var i = 0; i < 4; i++)
        {
            Assert.InRange(bench.Samples.Count(sample => sample.Cell == i + 1) / 30.0, 0.99 * rates[i], 1.01 * rates[i]);
        }

        Assert.All(bench.Samples, sample => Assert.InRange(sample.Counts, Bench.InputCounts(sample.Cell - 1) - 300, Bench.InputCounts(sample.Cell - 1) + 300));
    }

    [Theory]
    [InlineData(10, 80)]
    [InlineData(80, 10)]
    public void A_rate_pin_switched_while_running_is_followed(double before, double after)
    {
        var bench = Bench.Streaming(45, null, before, before, before, before);
        foreach (var chip in bench.Board.Chips)
        {
            chip.RatePerSecond = after;
        }

        bench.Run(5);
        bench.Forget();
        bench.Run(10);
        Assert.Equal("k,k,k,k", Bench.Letters(bench.LastBeat.Health));
        Assert.InRange(bench.Samples.Count / 40.0, 0.99 * after, 1.01 * after);
    }

    [Theory]
    [InlineData(10, true)]
    [InlineData(96, true)]
    [InlineData(96, false)]
    public void Nothing_wrong_is_delivered_whichever_way_pulses_during_an_update_are_read(double rate, bool counted)
    {
        for (var seed = 1; seed <= 5; seed++)
        {
            var bench = new Bench(seed, null, rate, rate * 0.99, rate * 0.98, rate * 0.97);
            foreach (var chip in bench.Board.Chips)
            {
                chip.CountsPulsesDuringUpdate = counted;
                chip.Reading = counted ? SettlingReading.Silent : SettlingReading.Unsettled;
            }

            bench.Board.PowerOn();
            bench.Run(3);
            bench.Command("stream,on");
            bench.Run(20);
            Assert.NotEmpty(bench.Samples);
            Assert.All(bench.Samples, sample => Assert.InRange(sample.Counts, Bench.InputCounts(sample.Cell - 1) - 300, Bench.InputCounts(sample.Cell - 1) + 300));
        }
    }

    // A collection of the heap or a busy thread: the loop is held up at random, far longer than a conversion.
    [Theory]
    [InlineData(10)]
    [InlineData(96)]
    public void Pauses_of_the_runtime_lose_conversions_but_deliver_nothing_wrong(double rate)
    {
        for (var seed = 1; seed <= 5; seed++)
        {
            var bench = Bench.Streaming(seed, null, rate, rate * 0.99, rate * 0.98, rate * 0.97);
            var random = new Random(seed);
            bench.Forget();
            for (var i = 0; i < 300; i++)
            {
                bench.Board.HoldUp(TimeSpan.FromMilliseconds(random.Next(1, 60)));
                bench.Run(0.001 * random.Next(5, 150));
            }

            Assert.NotEmpty(bench.Samples);
            Assert.NotEmpty(bench.Gaps);
            Assert.All(bench.Samples, sample => Assert.True(
                sample.Status == SampleStatus.Ok && Math.Abs(sample.Counts - Bench.InputCounts(sample.Cell - 1)) < 300, $"seed {seed}: {sample}"));
            bench.Run(3);
            Assert.Equal("k,k,k,k", Bench.Letters(bench.LastBeat.Health));
        }
    }

    [Theory]
    [InlineData("ESP32_REV0", 25, 26)]
    [InlineData("ESP32_REV3", 25, 26)]
    [InlineData("ESP32_PSRAM_REV3", 25, 26)]
    [InlineData("ESP32_S3_QUAD", 4, 5)]
    [InlineData("ESP32_S3_OCTAL", 4, 5)]
    public void The_same_program_runs_on_both_boards(string targetName, int selectLow, int selectHigh)
    {
        var bench = new Bench(46);
        bench.Board.TargetName = targetName;
        bench.Board.SelectPins = (selectLow, selectHigh);
        bench.Board.PowerOn();
        bench.Run(3);
        Assert.Equal("k,k,k,k", Bench.Letters(bench.LastBeat.Health));
    }

    [Theory]
    [InlineData("ESP32_C3")]
    [InlineData("ESP32_C6_THREAD")]
    [InlineData("ESP32_S2_UART")]
    [InlineData("ESP32_H2")]
    [InlineData("ESP32_P4_UART")]
    [InlineData("ST_STM32F769I_DISCOVERY")]
    public void A_chip_without_a_pin_table_is_left_alone(string targetName) => Assert.False(BoardPins.TryFind(targetName, out _));

    // ESP32 and ESP32-S3 datasheets: strapping pins, flash pins, input-only pins, programming port, USB.
    [Fact]
    public void No_pin_table_uses_a_pin_that_has_other_work()
    {
        AssertPins(Esp32DevKit.Pins(), [0, 1, 2, 3, 5, 6, 7, 8, 9, 10, 11, 12, 15, 16, 17, 20, 24, 28, 29, 30, 31, 34, 35, 36, 37, 38, 39], 33);
        AssertPins(Esp32S3DevKit.Pins(), [0, 3, 19, 20, 22, 23, 24, 25, 26, 27, 28, 29, 30, 31, 32, 33, 34, 35, 36, 37, 43, 44, 45, 46], 48);
    }

    private static void AssertPins(BoardPins pins, int[] taken, int last)
    {
        int[] used = [pins.ClockOut, pins.DataIn, pins.Unconnected, pins.SelectLow, pins.SelectHigh, pins.SerialOut, pins.SerialIn];
        Assert.Equal(used.Length, used.Distinct().Count());
        Assert.All(used, pin => Assert.InRange(pin, 0, last));
        Assert.Empty(used.Intersect(taken));
    }
}
