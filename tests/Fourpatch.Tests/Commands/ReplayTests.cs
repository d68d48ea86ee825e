using System.Globalization;
using System.Text.Json.Nodes;
using Fourpatch.Commands.Logging;
using Fourpatch.Core.Cells;
using Fourpatch.Files;
using Fourpatch.Links;
using Fourpatch.Rigs;
using Fourpatch.Tests.Files;
using Fourpatch.VirtualRig;

namespace Fourpatch.Tests.Commands;

/// <summary>Logs that contradict themselves, or lack lines, weighed by <c>replay:</c> and summed up.</summary>
public class ReplayTests
{
    private const int Rows = 4 * 80 * 8;
    private static readonly double[] TruthKg = [118.4, 109.9, 127.3, 131.6];

    [Fact]
    public async Task A_log_as_it_was_written_weighs_and_sums_up_without_a_word()
    {
        using Bench bench = NewBench(text => text);
        JsonNode weighed = await WeighAsync(bench, 0);
        Assert.Equal(TruthKg.Sum(), (double)weighed["total_kg"]!, 0.1);
        Assert.DoesNotContain(weighed["quality"]!["reasons"]!.AsArray(), reason => (string?)reason!["code"] == "samples-lost");
        JsonNode summary = (await bench.RunAsync("log", "summary", "a.csv", "--json")).Answer;
        Assert.True((bool)summary["quality"]!["acceptable"]!);
        Assert.All(summary["cells"]!.AsArray(), cell => Assert.Equal(0, (int)cell!["contradicting"]!));
    }

    [Theory]
    [InlineData("kg_per_count=7E-05", "kg_per_count=7.4E-05", "cell B1:2: kg_per_count=7.4E-05, but held= says 7E-05")]
    [InlineData("kg_per_count=7E-05", "kg_per_count=-7E-05", "cell B1:2: kg_per_count=-7E-05, but held= says 7E-05")]
    [InlineData("kg_per_count=7E-05", "kg_per_count=0", "cell B1:2: kg_per_count=0, but")]
    [InlineData("kg_per_count=7E-05", "kg_per_count=1e300", "cell B1:2: kg_per_count=1E+300, but")]
    [InlineData("kg_per_count=7E-05", "kg_per_count=", "cell B1:2: kg_per_count=, but held= says 7E-05")]
    [InlineData("zero_counts=2000", "zero_counts=9000", "cell B1:2: zero_counts=9000, but held= says 2000")]
    [InlineData("held=32000,70000000", "held=32000,75000000", "cell B1:2: kg_per_count=7E-05, but held= says 7.5E-05")]
    [InlineData("held=32000,70000000", "held=32000,seventy", "cell B1:2: what stands behind held= is no calibration")]
    [InlineData("held=32000,70000000", "held=", "")]
    public async Task A_calibration_line_that_says_two_things_is_refused_with_line_and_cell(string written, string meddled, string problem)
    {
        using Bench bench = NewBench(text => OnLineOf(text, "# calibration: B1:2 ", line => line.Replace(written, meddled, StringComparison.Ordinal)));
        foreach (string command in new[] { "weigh --port replay:a.csv --vehicle plain.toml --seconds 3", "log summary a.csv" })
        {
            Outcome outcome = await bench.RunAsync(command.Split(' '));
            BadInputTests.CheckLine(outcome, 2, "a.csv:5: " + (problem.Length == 0 ? "cell B1:2: what stands behind held=" : problem), "restore the line");
        }
    }

    [Fact]
    public async Task Two_calibration_lines_of_one_cell_are_refused_where_they_differ()
    {
        const string More = "# calibration: B1:2 zero_counts= kg_per_count= held=\n";
        using Bench bench = NewBench(text => text.Replace("host_time_utc,device_us", More + "host_time_utc,device_us", StringComparison.Ordinal));
        BadInputTests.CheckLine(await bench.RunAsync("log", "summary", "a.csv"), 2, "a.csv:8: cell B1:2 has two calibration lines, and they differ", "restore the line");
        BadInputTests.CheckLine(await bench.RunAsync("weigh", "--port", "replay:a.csv", "--vehicle", "plain.toml"), 2, "a.csv:8: cell B1:2", "restore the line");

        // The same once more says nothing else.
        using Bench twice = NewBench(text => OnLineOf(text, "# calibration: B1:2 ", line => line + "\n" + line));
        await WeighAsync(twice, 0);
    }

    [Fact]
    public async Task A_log_without_calibration_lines_is_told_so()
    {
        using Bench bench = NewBench(text => string.Join('\n', text.Split('\n').Where(line => !line.StartsWith("# calibration", StringComparison.Ordinal))));
        BadInputTests.CheckLine(await bench.RunAsync("weigh", "--port", "replay:a.csv", "--vehicle", "plain.toml"), 2, "a.csv: the log has no '# calibration' lines", "those lines included");
    }

    [Fact]
    public async Task A_load_that_its_counts_do_not_give_is_refused_by_weighing_and_counted_by_the_summary()
    {
        using Bench bench = NewBench(text => string.Join('\n', text.Split('\n').Select((line, at) => at > 20 && line.Contains(",B1,2,", StringComparison.Ordinal) ? line[..line.LastIndexOf(',')] + ",114.7" : line)));
        CheckEnd(await bench.RunAsync("weigh", "--port", "replay:a.csv", "--vehicle", "plain.toml", "--seconds", "3"), "a.csv:22: cell B1:2: load_kg is 114.7, but its counts and the calibration stated above give 109.", "calibrated again while it was logged");
        Outcome outcome = await bench.RunAsync("log", "summary", "a.csv", "--json");
        Assert.Equal(1, outcome.ExitCode);
        JsonNode cell = outcome.Answer["cells"]![1]!;
        Assert.InRange((int)cell["contradicting"]!, (Rows / 4) - 10, Rows / 4);
        Assert.Equal("inconsistent", (string?)Assert.Single(outcome.Answer["quality"]!["reasons"]!.AsArray())!["code"]);
        Assert.Contains("a.csv:2", (string?)outcome.Answer["quality"]!["reasons"]![0]!["text"], StringComparison.Ordinal);
        Assert.Contains("NOT ACCEPTABLE", (await bench.RunAsync("log", "summary", "a.csv")).Out, StringComparison.Ordinal);

        // A spreadsheet that saved two digits contradicts nothing.
        using Bench rounded = NewBench(text => string.Join('\n', text.Split('\n').Select(line => line.Contains(",B1,2,", StringComparison.Ordinal)
            ? line[..(line.LastIndexOf(',') + 1)] + double.Parse(line[(line.LastIndexOf(',') + 1)..], CultureInfo.InvariantCulture).ToString("0.00", CultureInfo.InvariantCulture) : line)));
        await WeighAsync(rounded, 0);
    }

    [Fact]
    public async Task A_board_calibrated_again_while_it_was_logged_is_summed_up_and_not_played_back_beyond_that()
    {
        LogCalibration now = CalibrationOf(2, 71_000_000);
        string line = LogFormat.CalibrationText(now).TrimEnd('\n');
        using Bench bench = NewBench(text =>
        {
            string[] lines = text.Split('\n');
            int at = lines.Length * 3 / 4;
            return string.Join('\n', [.. lines[..at], line, .. lines[at..].Select(row => row.Contains(",B1,2,", StringComparison.Ordinal) ? WithLoadOf(row, now.Calibration()!) : row)]);
        });
        JsonNode summary = (await bench.RunAsync("log", "summary", "a.csv", "--json")).Answer;
        Assert.True((bool)summary["quality"]!["acceptable"]!);
        Assert.Equal(Rows, (int)summary["rows"]!);
        CheckEnd(await bench.RunAsync("weigh", "--port", "replay:a.csv", "--vehicle", "plain.toml", "--seconds", "7"), "cell B1:2 has another calibration from here on", "begun after that");

        // What stands before it weighs as ever.
        await WeighAsync(bench, 0);
    }

    [Fact]
    public async Task A_log_goes_on_with_the_calibration_its_board_comes_back_with_and_notes_it()
    {
        using var folder = new ScratchFolder();
        string path = Path.Combine(folder.Path, "a.csv");
        var clock = new FastClock(TimeProvider.System, 4);
        var links = new GarageLinks(Garages.Pads(), clock);
        await using RigSession rig = await RigSession.ConnectAsync([new PortAddress(PortKind.Virtual, "")], null, links, clock, CancellationToken.None);
        using (LogSeries series = LogSeries.Create(path, null, () => RigLog.HeaderOf(rig)).Value)
        {
            var log = new RigLog(series, rig);
            await UntilAsync(() => log.Rows > 500);
            var other = new CellCalibration();
            other.CopyFrom(rig.Boards[0].Calibration(2)!);
            other.SpanPicokilograms += other.SpanPicokilograms / 50;
            BoardConnection connection = rig.Boards[0].Connection;
            await connection.SetStreamAsync(false, CancellationToken.None);
            Assert.True((await connection.AskAsync(BoardCommand.Stage(2, other), CancellationToken.None)).IsOk);
            Assert.True((await connection.AskAsync(BoardCommand.Commit(), CancellationToken.None)).IsOk);
            await connection.SetStreamAsync(true, CancellationToken.None);
            links.Garage.Boards[0].Reset();
            await UntilAsync(() => rig.Boards[0].Connection.State.Restarts > 0 && rig.Boards[0] is { IsPresent: true, Connection.State.Phase: ConnectionPhase.Ready });
            long before = log.Rows;
            await UntilAsync(() => log.Rows > before + 500);
        }

        LogSummary summary = LogSummarizer.Read([path], null, CancellationToken.None).Value;
        Assert.All(summary.Cells, cell => Assert.Null(cell.Contradiction));
        Assert.Equal(0, summary.BadLines);
        using LogReader reader = LogReader.Open(path).Value;
        var items = new List<LogItem>();
        while (reader.Next() is { } item)
        {
            items.Add(item);
        }

        LogRecalibration noted = Assert.Single(items.OfType<LogRecalibration>());
        Assert.Equal(new CellId("B1", 2), noted.Calibration.Cell);
        Assert.NotEqual(reader.Header.Calibrations[1].KgPerCount, noted.Calibration.KgPerCount);

        async Task UntilAsync(Func<bool> done) => Assert.True(await rig.PumpAsync(done, TimeSpan.FromMinutes(2), CancellationToken.None));
    }

    [Fact]
    public async Task Lines_that_cannot_be_read_are_lost_readings_of_the_window_they_fall_into()
    {
        using Bench bench = NewBench(text => string.Join('\n', text.Split('\n').Select((line, at) => at % 3 == 0 ? line.Replace(",ok,", ",fine,", StringComparison.Ordinal) : line)));
        JsonNode weighed = await WeighAsync(bench, 0);
        JsonNode[] lost = [.. weighed["quality"]!["reasons"]!.AsArray().Where(reason => (string?)reason!["code"] == "samples-lost").OfType<JsonNode>()];
        Assert.Equal(4, lost.Length);
        Assert.Contains("of cell B1:1 ", (string?)lost[0]["text"], StringComparison.Ordinal);
        Assert.Contains("readings never came", (string?)lost[0]["text"], StringComparison.Ordinal);
    }

    // It is met while weighing, so it comes behind what a person was told first.
    private static void CheckEnd(Outcome outcome, string place, string remedy)
    {
        Assert.Equal((2, ""), (outcome.ExitCode, outcome.Out));
        Assert.Contains(place, outcome.ErrorLines[^1], StringComparison.Ordinal);
        Assert.Contains(remedy, outcome.ErrorLines[^1], StringComparison.Ordinal);
    }

    private static async Task<JsonNode> WeighAsync(Bench bench, int exitCode)
    {
        Outcome outcome = await bench.RunAsync("weigh", "--port", "replay:a.csv", "--vehicle", "plain.toml", "--seconds", "3", "--json");
        Assert.True(outcome.ExitCode == exitCode, outcome.Errors + outcome.Out);
        return outcome.Answer;
    }

    private static Bench NewBench(Func<string, string> meddle)
    {
        var bench = new Bench();
        bench.Write("plain.toml", Cars.Plain);
        bench.Write("a.csv", meddle(Written()));
        return bench;
    }

    private static string OnLineOf(string text, string start, Func<string, string> change) =>
        string.Join('\n', text.Split('\n').Select(line => line.StartsWith(start, StringComparison.Ordinal) ? change(line) : line));

    private static string WithLoadOf(string row, CellCalibration calibration)
    {
        string[] cells = row.Split(',');
        cells[7] = calibration.LoadKg(int.Parse(cells[6], CultureInfo.InvariantCulture)).ToString("R", CultureInfo.InvariantCulture);
        return string.Join(',', cells);
    }

    private static LogCalibration CalibrationOf(int cell, long spanPicokilograms) => LogCalibration.Of(new CellId("B1", cell), new CellCalibration
    {
        ZeroSixteenths = 16_000 * cell, SpanPicokilograms = spanPicokilograms, CapacityGrams = 300_000, DateYyyymmdd = 20261101,
        SpanOwnPpm = 100, SpanReferencePpm = 50, ZeroUncertaintySixteenths = 16, LargestLoadGrams = 200_000,
    });

    // Eight seconds of four cells at 80 a second, with noise as a chip has it.
    private static string Written()
    {
        LogCalibration[] calibrations = [.. Enumerable.Range(1, 4).Select(cell => CalibrationOf(cell, 70_000_000))];
        CellCalibration[] held = [.. calibrations.Select(one => one.Calibration()!)];
        var chance = new Random(7);
        var text = new System.Text.StringBuilder(LogFormat.HeaderText(new LogHeader("0.1.0", calibrations)));
        for (int i = 0; i < Rows; i++)
        {
            (int number, int at) = (i / 4, i % 4);
            long us = 1_000_000 + (number * 12_500L) + (at * 100);
            int counts = (int)Math.Round(held[at].ZeroCounts + (TruthKg[at] / held[at].KgPerCount) + (chance.Next(-30, 31)));
            text.Append(LogFormat.RowText(new LogRow(0, new DateTime(2026, 11, 24, 19, 5, 0, DateTimeKind.Utc).AddMicroseconds(us), us, new CellId("B1", at + 1), number, SampleStatus.Ok, counts, held[at].LoadKg(counts))));
        }

        return text.ToString();
    }
}
