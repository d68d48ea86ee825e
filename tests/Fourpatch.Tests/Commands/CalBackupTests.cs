using System.Globalization;
using System.IO.Hashing;
using System.Text;
using System.Text.Json.Nodes;
using Fourpatch.Core.Cells;
using Fourpatch.Files;
using MathNet.Numerics.Random;

namespace Fourpatch.Tests.Commands;

/// <summary><c>cal export</c> and <c>cal import</c>: there and back, altered files, other boards.</summary>
public class CalBackupTests
{
    private static async Task<string> ExportedAsync(CalBench bench)
    {
        Outcome outcome = await bench.Bench.RunAsync("cal", "export", "--port", "virtual", "--out", "backup.toml");
        Assert.Equal((0, "backup.toml: board B1, 4 of 4 cells calibrated\n"), (outcome.ExitCode, outcome.Out));
        return bench.Bench.Read("backup.toml");
    }

    internal static string Sealed(string text) =>
        string.Create(CultureInfo.InvariantCulture, $"{text}# crc32: {Crc32.HashToUInt32(Encoding.UTF8.GetBytes(text)):X8}\n");

    private static string Unsealed(string text) => text[..(text.TrimEnd('\n').LastIndexOf('\n') + 1)];

    [Fact]
    public async Task What_was_exported_comes_back_letter_by_letter()
    {
        using var bench = new CalBench(CalBench.EmptyPads(), new Script().On("Store this in board B1?", "yes"));
        await bench.Bench.RunAsync("name", "front-left", "--cell", "1", "--port", "virtual");
        string exported = await ExportedAsync(bench);
        JsonArray before = await bench.HeldAsync();
        bench.Bench.Write("cell.csv", "load_kg,counts,direction\n0,100,up\n50,400100,up\n0,100,down\n");
        await bench.Bench.RunAsync("cal", "cell", "2", "--from", "cell.csv", "--store", "--port", "virtual");
        await bench.Bench.RunAsync("name", "other", "--cell", "1", "--port", "virtual");

        Outcome outcome = await bench.RunAsync("cal", "import", "--port", "virtual", "--from", "backup.toml");
        Assert.True(outcome.ExitCode == 0, outcome.Out + outcome.Errors);
        Assert.Contains("cell 1: name other becomes front-left", outcome.OneLine, StringComparison.Ordinal);
        Assert.Contains("cell 2: zero 100 counts", outcome.OneLine, StringComparison.Ordinal);
        Assert.DoesNotContain("cell 3", outcome.OneLine, StringComparison.Ordinal);
        Assert.Equal(before.ToJsonString(), (await bench.HeldAsync()).ToJsonString());
        await bench.Bench.RunAsync("cal", "export", "--port", "virtual", "--out", "again.toml");
        static string[] Lines(string text) => [.. text.Split('\n').Where(line => !line.StartsWith("written_utc", StringComparison.Ordinal) && !line.StartsWith("# crc32", StringComparison.Ordinal))];
        Assert.Equal(Lines(exported), Lines(bench.Bench.Read("again.toml")));

        // The second time there is nothing to do, and nothing is asked.
        Outcome second = await bench.Bench.RunAsync("cal", "import", "--port", "virtual", "--from", "backup.toml");
        Assert.Equal((0, "Board B1 holds exactly that already; nothing to store.\n"), (second.ExitCode, second.Out));
    }

    [Fact]
    public async Task The_checksum_is_that_of_the_lines_before_it_by_anothers_arithmetic()
    {
        using var bench = new CalBench(CalBench.EmptyPads());
        string text = await ExportedAsync(bench);
        Assert.Equal(Sealed(Unsealed(text)), text);
        Assert.Contains("kg_per_count = -0.0000695\n", text, StringComparison.Ordinal);
        Assert.Contains("zero_counts = 41250\n", text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task An_altered_file_is_refused_wherever_it_was_altered()
    {
        using var bench = new CalBench(CalBench.EmptyPads());
        string text = await ExportedAsync(bench);
        string before = (await bench.HeldAsync()).ToJsonString();
        const int Seed = 41;
        var random = new MersenneTwister(Seed, false);
        for (int trial = 0; trial < 25; trial++)
        {
            int at = random.Next(text.Length - 12);
            char other = text[at] == '7' ? '8' : '7';
            bench.Bench.Write("altered.toml", text[..at] + other + text[(at + 1)..]);
            Outcome outcome = await bench.Bench.RunAsync("cal", "import", "--port", "virtual", "--from", "altered.toml", "--store");
            Assert.True(outcome.ExitCode == 2 && outcome.ErrorLines.Length == 1, $"seed {Seed}, place {at}: {outcome.ExitCode} {outcome.Errors}");
        }

        Assert.Equal(before, (await bench.HeldAsync()).ToJsonString());
    }

    [Fact]
    public async Task Line_ends_that_a_mail_has_changed_do_not_matter()
    {
        using var bench = new CalBench(CalBench.EmptyPads());
        string text = await ExportedAsync(bench);
        bench.Bench.Write("mailed.toml", text.Replace("\n", "\r\n", StringComparison.Ordinal));
        Assert.Equal(0, (await bench.Bench.RunAsync("cal", "import", "--port", "virtual", "--from", "mailed.toml")).ExitCode);
    }

    [Theory]
    [InlineData("no", 0)]
    [InlineData("quit", 1)]
    [InlineData(null, 1)]
    public async Task Who_does_not_say_yes_stores_nothing(string? answer, int exitCode)
    {
        using var bench = new CalBench(CalBench.EmptyPads(), new Script().On("Store this in board B1?", answer));
        string text = Unsealed(await ExportedAsync(bench));
        bench.Bench.Write("new.toml", Sealed(text.Replace("zero_counts = 41250\n", "zero_counts = 41251\n", StringComparison.Ordinal)));
        Assert.Equal(exitCode, (await bench.RunAndStoreNothingAsync("cal", "import", "--port", "virtual", "--from", "new.toml")).ExitCode);
    }

    [Fact]
    public async Task Another_boards_file_is_refused_unless_told()
    {
        using var bench = new CalBench(CalBench.EmptyPads());
        string text = Unsealed(await ExportedAsync(bench)).Replace("board = \"B1\"", "board = \"B7\"", StringComparison.Ordinal);
        bench.Bench.Write("other.toml", Sealed(text.Replace("zero_counts = 7710\n", "zero_counts = 7711.0625\n", StringComparison.Ordinal)));
        string before = (await bench.HeldAsync()).ToJsonString();
        Outcome refused = await bench.Bench.RunAsync("cal", "import", "--port", "virtual", "--from", "other.toml", "--store");
        Assert.Equal((2, 1), (refused.ExitCode, refused.ErrorLines.Length));
        Assert.Contains("--any-board", refused.Errors, StringComparison.Ordinal);
        Assert.Equal(before, (await bench.HeldAsync()).ToJsonString());

        Outcome told = await bench.Bench.RunAsync("cal", "import", "--port", "virtual", "--from", "other.toml", "--store", "--any-board");
        Assert.Equal(0, told.ExitCode);
        JsonArray held = await bench.HeldAsync();
        Assert.Equal(("B1", 7711.0625), ((string?)held[2]!["board"], (double)held[2]!["zero_counts"]!));
    }

    [Fact]
    public async Task A_backup_of_an_uncalibrated_cell_takes_its_calibration_away_again()
    {
        using var bench = new CalBench(CalBench.EmptyPads(cell => cell with { Calibrated = cell.ZeroCounts != 7710 }));
        await bench.Bench.RunAsync("cal", "export", "--port", "virtual", "--out", "backup.toml");
        bench.Bench.Write("cell.csv", "load_kg,counts,direction\n0,100,up\n50,400100,up\n0,100,down\n");
        await bench.Bench.RunAsync("cal", "cell", "3", "--from", "cell.csv", "--store", "--port", "virtual");
        Assert.True((bool)(await bench.HeldAsync())[2]!["calibrated"]!);
        Outcome outcome = await bench.Bench.RunAsync("cal", "import", "--port", "virtual", "--from", "backup.toml", "--store");
        Assert.Contains("becomes not calibrated", outcome.OneLine, StringComparison.Ordinal);
        Assert.False((bool)(await bench.HeldAsync())[2]!["calibrated"]!);
    }

    [Fact]
    public async Task An_existing_file_is_never_overwritten()
    {
        using var bench = new CalBench(CalBench.EmptyPads());
        bench.Bench.Write("mine.toml", "mine");
        Outcome outcome = await bench.Bench.RunAsync("cal", "export", "--port", "virtual", "--out", "mine.toml");
        Assert.Equal((2, "mine"), (outcome.ExitCode, bench.Bench.Read("mine.toml")));
    }

    [Fact]
    public void Whatever_a_board_can_hold_reads_back_the_same()
    {
        const int Seed = 7;
        var random = new MersenneTwister(Seed, false);
        for (int trial = 0; trial < 400; trial++)
        {
            var backup = new CalibrationBackup("B1", [.. Enumerable.Range(0, 4).Select(_ => Any(random))]);
            CalibrationBackup back = CalibrationFile.Parse(CalibrationFile.Text(backup, DateTimeOffset.UnixEpoch), "any.toml").Value;
            for (int i = 0; i < 4; i++)
            {
                Assert.True(back.Cells[i].Held.IsSameAs(backup.Cells[i].Held), $"seed {Seed}, trial {trial}");
                Assert.Equal(backup.Cells[i].Name, back.Cells[i].Name);
            }
        }
    }

    private static CellBackup Any(MersenneTwister random)
    {
        int Edge(int most) => random.Next(4) == 0 ? most : random.Next(most);
        var held = new CellCalibration
        {
            ZeroSixteenths = (random.Next(2) == 0 ? 1 : -1) * Edge(CellCalibration.LargestZeroSixteenths),
            SpanPicokilograms = (random.Next(2) == 0 ? 1 : -1) * (random.Next(4) == 0 ? CellCalibration.LargestSpanPicokilograms : random.NextInt64() % 1_000_000_000),
            CapacityGrams = Edge(CellCalibration.LargestGrams),
            LargestLoadGrams = Edge(CellCalibration.LargestGrams),
            DateYyyymmdd = Edge(99_991_231),
            SpanOwnPpm = Edge(CellCalibration.LargestPpm),
            SpanReferencePpm = Edge(CellCalibration.LargestPpm),
            ZeroUncertaintySixteenths = Edge(CellCalibration.LargestZeroUncertaintySixteenths),
        };
        Assert.True(held.Reference.TrySet(random.Next(3) == 0 ? "" : "back\\slash + # = '~'"));
        return new CellBackup(random.Next(2) == 0 ? "" : "front-left", held);
    }
}
