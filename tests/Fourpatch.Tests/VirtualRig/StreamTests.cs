using Fourpatch.Core.Cells;
using Fourpatch.Vehicles;
using Fourpatch.VirtualRig;

namespace Fourpatch.Tests.VirtualRig;

/// <summary>What a laptop hears from a virtual board.</summary>
[Collection(KeepsTime.Name)]
public class StreamTests
{
    [Fact]
    public async Task The_same_seed_gives_the_same_bytes_and_another_seed_others()
    {
        var scenario = Noisy(Wren.OnPads());
        Assert.Equal(await BytesAsync(scenario, 5), await BytesAsync(scenario, 5));
        Assert.NotEqual(await BytesAsync(scenario, 5), await BytesAsync(scenario, 6));

        static async Task<byte[]> BytesAsync(Scenario scenario, ulong seed)
        {
            VirtualGarage garage = new(scenario, Wren.Vehicle, seed);
            Laptop laptop = new(garage);
            await laptop.StartAsync();
            await laptop.ListenAsync(3);
            garage.TakeCarOff();
            garage.LoadPad(3, 20);
            await laptop.ListenAsync(2);
            return [.. laptop.Bytes];
        }
    }

    [Fact]
    public void However_time_is_cut_up_the_same_happens()
    {
        VirtualGarage whole = new(Noisy(Wren.OnPads()), Wren.Vehicle, 3);
        VirtualGarage pieces = new(Noisy(Wren.OnPads()), Wren.Vehicle, 3);
        foreach (var garage in new[] { whole, pieces })
        {
            lock (garage.Gate) garage.Boards[0].Listen(isLossless: true);
        }
        whole.Advance(TimeSpan.FromSeconds(5));
        for (var i = 0; i < 1700; i++) pieces.Advance(TimeSpan.FromMicroseconds(2941));
        pieces.Advance(whole.Now - pieces.Now);
        Assert.Equal(All(whole), All(pieces));

        static byte[] All(VirtualGarage garage)
        {
            var buffer = new byte[100000];
            lock (garage.Gate) return buffer[..garage.Boards[0].Take(buffer)];
        }
    }

    [Fact]
    public async Task A_board_boots_with_its_chip_s_own_text_and_then_says_who_it_is()
    {
        VirtualGarage garage = new(Wren.OnPads(), Wren.Vehicle, 1, new DateOnly(2026, 5, 2));
        Laptop laptop = new(garage);
        await laptop.ListenAsync(1);
        Assert.Contains(laptop.Ear.PlainLines, line => line.StartsWith("boot loader", StringComparison.Ordinal));
        Assert.Equal(0, laptop.Ear.Damaged);
        Assert.StartsWith("A,1,ok,identify,fourpatch,1,sim-pads,B1,00000001,power-or-external,00000001,", await laptop.AskAsync("identify"));
        Assert.StartsWith("A,2,ok,calibration,1,0,116415322,500000,20260502,200,100,160,500000,virtual masses", await laptop.AskAsync("calibration,1"));
        Assert.Contains(laptop.Ear.Loads, line => line.StartsWith("L,kg,1=40", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData(10, 0.3, 0.55)]
    [InlineData(80, 0.035, 0.065)]
    public async Task After_power_up_four_conversions_of_every_cell_settle_and_are_not_delivered(double rateHz, double leastS, double mostS)
    {
        VirtualGarage garage = new(Wren.OnPads() with { RateHz = rateHz }, Wren.Vehicle, 1);
        Laptop laptop = new(garage);
        await laptop.ListenAsync(0.45);

        // The heartbeat of the start finds all four settling.
        Assert.Equal("ssss", laptop.Ear.Heartbeats[0].Health);
        await laptop.AskAsync("stream,on");
        await laptop.ListenAsync(3);
        Assert.All(laptop.Ear.Counters, counters => Assert.Equal(4u, counters!.Settling));
        Assert.All(laptop.Ear.Samples, sample => Assert.Equal(SampleStatus.Ok, sample.Status));

        // Datasheet: 400 ms at 10/s, 50 ms at 80/s; the fourth ends between three and four periods after the firmware's start (and a scan later).
        var period = 1 / rateHz;
        Assert.InRange(4 * period, leastS, mostS);
        var first = laptop.Ear.Samples.Where(s => s.Cell == 1).Select(s => s.Number).First();
        Assert.InRange(first, 5, rateHz > 40 ? 60 : 12);
    }

    [Fact]
    public async Task Noise_of_a_steady_load_is_what_the_datasheet_says_within_what_chance_allows()
    {
        VirtualGarage garage = new(Wren.OnPads(), Wren.Vehicle, 11);
        Laptop laptop = new(garage);
        await laptop.StartAsync();
        await laptop.ListenAnewAsync(30);
        for (var cell = 1; cell <= 4; cell++)
        {
            var counts = laptop.Ear.Counts(cell);
            Assert.InRange(counts.Length, 2300, 2500);

            // 90 nV rms at 5 V are 38.655 counts, rounding to whole counts adds 1/12 to the variance; 4 standard deviations of the
            // estimates (mean: sigma/sqrt(n); sigma: sigma/sqrt(2n)), so that one cell in some 8000 fails by chance and not these four.
            var expected = garage.TrueCellKg(new("B1", cell)) / new ScenarioCell().TrueKgPerCount;
            var sigma = Math.Sqrt(38.655 * 38.655 + 1.0 / 12);
            var mean = counts.Average();
            var rms = Math.Sqrt(counts.Sum(c => (c - mean) * (c - mean)) / (counts.Length - 1));
            Assert.InRange(mean, expected - 4 * sigma / Math.Sqrt(counts.Length), expected + 4 * sigma / Math.Sqrt(counts.Length));
            Assert.InRange(rms, sigma * (1 - 4 / Math.Sqrt(2 * counts.Length)), sigma * (1 + 4 / Math.Sqrt(2 * counts.Length)));

            // White: neighbours have nothing in common.
            var neighbours = Enumerable.Range(1, counts.Length - 1).Average(i => (counts[i] - mean) * (counts[i - 1] - mean)) / (rms * rms);
            Assert.InRange(neighbours, -4 / Math.Sqrt(counts.Length), 4 / Math.Sqrt(counts.Length));
        }
    }

    // Four springs, case C (worked by hand from statics; common practice, no source): counts read back with the board's own calibration.
    [Fact]
    public async Task The_worked_example_comes_through_pads_amplifiers_and_wire()
    {
        double[] raisedN = [3985.439100263221, 3714.560899736779, 3203.3620483369227, 3096.6379516630773];
        VirtualGarage garage = new(Wren.OnPads(new(0, 0, 0, 0.006)), Wren.Vehicle, 2);
        Laptop laptop = new(garage);
        await laptop.StartAsync();
        await laptop.ListenAnewAsync(10);
        CellCalibration calibration = new();
        for (var cell = 1; cell <= 4; cell++)
        {
            var answer = await laptop.AskAsync($"calibration,{cell}");
            calibration.SpanPicokilograms = long.Parse(answer.Split(',')[6], System.Globalization.CultureInfo.InvariantCulture);
            Assert.Equal(raisedN[cell - 1] / StandardGravity.MPerS2, laptop.Ear.Mean(cell) * calibration.KgPerCount, 0.001);
        }
    }

    // Ten minutes of four cells at 80/s, clones' speed on top: every conversion that was read is delivered or discarded with its reason,
    // and every delivered one arrives.
    [Fact]
    public async Task Ten_minutes_of_four_cells_are_accounted_for_to_the_last_conversion()
    {
        VirtualGarage garage = new(Noisy(Wren.OnPads()) with { Boards = [Wren.Board() with { RateErrorPercent = 19 }] }, Wren.Vehicle, 4);
        Laptop laptop = new(garage);
        await laptop.StartAsync();
        await laptop.ListenAsync(600);
        Assert.Contains("ok,stream,off", await laptop.AskAsync("stream,off"));
        await laptop.ListenAsync(2);

        var ear = laptop.Ear;
        Assert.Equal(0, ear.Damaged);
        Assert.Equal(0, ear.NotUnderstood);
        Assert.Equal(0, ear.MissingLines);
        Assert.Empty(ear.Gaps);
        for (var cell = 1; cell <= 4; cell++)
        {
            var c = ear.Counters[cell - 1]!;
            Assert.Equal(c.Read, c.Delivered + c.Idle + c.Settling + c.Overlapped + c.Desynced + c.Unsent);
            Assert.Equal(0u, c.Unsent + c.Overlapped + c.Desynced + c.MissedEstimate + c.Suspect);
            Assert.Equal(4u, c.Settling);
            var heard = ear.Samples.Where(s => s.Cell == cell).ToList();
            Assert.Equal((int)c.Delivered, heard.Count);
            Assert.InRange(heard.Count, 600 * 94, 600 * 97);
            for (var i = 1; i < heard.Count; i++) Assert.Equal(1, (heard[i].Number - heard[i - 1].Number) & 0xFF);
        }
    }

    [Fact]
    public async Task Every_cell_runs_on_a_clock_of_its_own()
    {
        VirtualGarage garage = new(Wren.OnPads() with { Boards = [Wren.Board() with { RateErrorPercent = 3 }] }, Wren.Vehicle, 1);
        Laptop laptop = new(garage);
        await laptop.StartAsync();
        await laptop.ListenAnewAsync(60);
        var ratesHz = Enumerable.Range(1, 4).Select(cell => laptop.Ear.Samples.Where(s => s.Cell == cell).ToArray())
            .Select(samples => (samples.Length - 1) * 1e6 / (samples[^1].TimeUs - samples[0].TimeUs)).ToArray();
        Assert.All(ratesHz, rate => Assert.InRange(rate, 80 * 1.03 * 0.9949, 80 * 1.03 * 1.0051));
        Assert.Equal(4, ratesHz.Select(rate => Math.Round(rate, 2)).Distinct().Count());
    }

    [Fact]
    public async Task Four_boards_share_one_garage_and_each_speaks_for_itself()
    {
        var scenario = Wren.OnDollies(4) with { Faults = [new() { Kind = FaultKind.Silence, Board = "B3", AtS = 2 }] };
        VirtualGarage garage = new(scenario, Wren.Vehicle, 1);
        var laptops = garage.Boards.Select(board => new Laptop(garage, board)).ToArray();
        await laptops[0].StartAsync();
        Assert.Contains(",B2,00000001,", await laptops[1].AskAsync("identify"));
        await laptops[0].ListenAsync(3);
        var kg = Enumerable.Range(1, 4).Sum(cell => laptops[0].Ear.Mean(cell)) * new ScenarioCell().TrueKgPerCount;
        Assert.Equal(garage.AsItStands.CornersKg.FL + 12, kg, 0.01);

        // Board 3 fell silent, board 4 did not: all that they said meanwhile was kept.
        await laptops[3].AskAsync("identify");
        Assert.True(laptops[3].Ear.Heartbeats.Count > 4);
        var waiting = new byte[100000];
        int count;
        lock (garage.Gate) count = garage.Boards[2].Take(waiting);
        BoardEar third = new();
        third.Hear(waiting.AsSpan(0, count));
        Assert.Equal(2, third.Heartbeats.Count);
    }

    [Fact]
    public async Task Sway_goes_from_side_to_side_and_leaves_the_sum_alone()
    {
        var scenario = Wren.OnPads() with { Noise = new() { WhiteCountsRms = 2, SwayKg = 1.5, SwayHz = 1 } };
        VirtualGarage garage = new(scenario, Wren.Vehicle, 1);
        Laptop laptop = new(garage);
        await laptop.StartAsync();
        await laptop.ListenAnewAsync(10);
        var kg = Enumerable.Range(1, 4).Select(cell => laptop.Ear.Counts(cell).Select(c => c * new ScenarioCell().TrueKgPerCount).ToArray()).ToArray();
        foreach (var cell in kg) Assert.InRange((cell.Max() - cell.Min()) / 2, 1.4, 1.6);
        var right = laptop.Ear.Samples.Where(s => s.Cell == 2).ToArray();
        var sums = laptop.Ear.Samples.Where(s => s.Cell == 1).Select(left => left.Counts + right.MinBy(r => Math.Abs(r.TimeUs - left.TimeUs))!.Counts)
            .Select(counts => counts * new ScenarioCell().TrueKgPerCount).ToArray();

        // The two cells of an axle are not read at the same moment: half a period apart at most, 6.3 ms of a 1 Hz swing of 1.5 kg
        // (and a scan of 1 ms on either side).
        Assert.InRange((sums.Max() - sums.Min()) / 2, 0, 1.5 * 2 * Math.PI * 0.0085);
    }

    [Fact]
    public async Task Drift_and_warmth_show_in_the_counts()
    {
        VirtualGarage garage = new(Wren.WithTruth(100, 100, 100, 100) with { Noise = new() { DriftKgPerH = 36 }, Boards = [Wren.Board(cell: new() { TempZeroPercentPerK = 0.01 })] }, Wren.Vehicle, 1);
        Laptop laptop = new(garage);
        await laptop.StartAsync();
        await laptop.ListenAnewAsync(2);
        var before = laptop.Ear.Mean(1);
        await laptop.ListenAsync(8);
        await laptop.ListenAnewAsync(2);
        Assert.Equal(10 * 0.01, (laptop.Ear.Mean(1) - before) * new ScenarioCell().TrueKgPerCount, 0.003);
        before = laptop.Ear.Mean(1);
        garage.SetTemperatureRise(10);
        await laptop.ListenAnewAsync(2);
        Assert.Equal(2 * 0.01 + 0.5, (laptop.Ear.Mean(1) - before) * new ScenarioCell().TrueKgPerCount, 0.01);
    }

    [Fact]
    public async Task A_scenario_with_a_length_ends_its_links()
    {
        VirtualGarage garage = new(Wren.OnPads() with { DurationS = 2 }, Wren.Vehicle, 1);
        await using var link = VirtualLink.AtFullSpeed(garage, garage.Boards[0]);
        var buffer = new byte[256];
        var total = 0;
        int count;
        while ((count = await link.ReadAsync(buffer, CancellationToken.None)) > 0) total += count;
        Assert.True(garage.HasEnded);
        Assert.Equal(TimeSpan.FromSeconds(2), garage.Now);
        Assert.True(total > 200);
    }

    internal static Scenario Noisy(Scenario scenario) => scenario with
    {
        Noise = new() { SwayKg = 0.2, DriftKgPerH = 0.5, FlickerCountsRms = 10, MainsKg = 0.5 },
    };
}
