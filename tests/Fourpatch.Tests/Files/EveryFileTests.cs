using System.Text;
using Fourpatch.Calibrating;
using Fourpatch.Commands.Interviews;
using Fourpatch.Files;
using Fourpatch.Links;
using Fourpatch.Tests.Records;
using Fourpatch.Tests.Wire;

namespace Fourpatch.Tests.Files;

/// <summary>
/// Every kind of file the program reads, cut off at every byte and with every field replaced by nonsense: read or refused in one line,
/// never an exception, and the file as it was.
/// </summary>
public class EveryFileTests
{
    private static readonly bool IsFull = Environment.GetEnvironmentVariable("PROOF") == "full";

    private static readonly string[] Nonsense =
        ["", " ", "x", "-1", "0", "nan", "inf", "1e308", "-1e308", "1e-400", "99999999999999999999", "1,5", "\"", "'", "[", "{}", "#", "=", "true", "2026-13-45", "\u0000", "\ud83d\ude00", "a\u0301", "\r", "FL", "B1:9"];

    private static readonly Fourpatch.Vehicles.Vehicle Marked = VehicleFile.Parse(Examples.Vehicle, "wren.toml").Value;

    public static TheoryData<string> Kinds() => [.. Readers.Keys];

    private static readonly Dictionary<string, (Func<string> Good, Func<string, string?> Read)> Readers = new()
    {
        ["vehicle"] = (() => Examples.Vehicle, path => Line(VehicleFile.Read(path).Error)),
        ["motorcycle"] = (() => Examples.Motorcycle, path => Line(VehicleFile.Read(path).Error)),
        ["layout"] = (() => Examples.Pads, path => Line(LayoutFile.Read(path).Error)),
        ["dollies"] = (() => Examples.FourDollies, path => Line(LayoutFile.Read(path).Error)),
        ["scenario"] = (() => Examples.Scenario, path => Line(ScenarioFile.Read(path).Error)),
        ["parts"] = (() => Examples.Parts, path => Line(PartsFile.Read(path, Marked).Error)),
        ["cell readings"] = (() => Examples.CellReadings, path => Line(ReadingsFile.Cell(path).Error)),
        ["platform readings"] = (() => Examples.PlatformReadings, path => Line(ReadingsFile.Platform(path).Error)),
        ["rotation readings"] = (() => Examples.RotationReadings, path => Line(ReadingsFile.Rotation(path).Error)),
        ["one by one"] = (() => Examples.OneByOneReadings, path => Line(ReadingsFile.OneByOne(path).Error)),
        ["lift readings"] = (() => Examples.LiftReadings, path => Line(ReadingsFile.Lift(path).Error)),
        ["log"] = (() => Examples.Log, ReadLog),
        ["log summary"] = (() => Examples.Log, path => Line(LogSummarizer.Read([path], null, default).Error)),
        ["conditions"] = (() => "fuel_l = 12\ndriver = \"aboard\"\n", path => Line(ConditionsFile.Read(path).Error)),
        ["calibration backup"] = (Backup, path => Line(CalibrationFile.Read(path).Error)),
        ["history"] = (History, path => Line(VerificationFile.Read(path).Error)),
        ["interview"] = (Interview, path => Line(DraftAt(path).Read().Error)),
        ["peaks"] = (Peaks, path => Line(PeakFile.Read(Path.GetDirectoryName(path)!).Error)),
        ["last used"] = (LastUsedText, path => Line(LastUsedFile.Read(Path.GetDirectoryName(path)!).Error)),
    };

    [Theory]
    [MemberData(nameof(Kinds))]
    public void Cut_off_anywhere_it_is_read_or_refused_in_one_line(string kind)
    {
        (Func<string> good, Func<string, string?> read) = Readers[kind];
        byte[] whole = Encoding.UTF8.GetBytes(good());
        using var scratch = new ScratchFolder();
        string path = Path.Combine(scratch.Path, NameOf(kind));
        File.WriteAllBytes(path, whole);
        Assert.Null(read(path));
        for (int length = 0; length < whole.Length; length++)
        {
            Check(path, whole[..length], read, $"{kind}, {length} of {whole.Length} bytes");
        }

        Assert.Single(Directory.GetFileSystemEntries(scratch.Path));
    }

    [Theory]
    [MemberData(nameof(Kinds))]
    public void With_any_field_replaced_by_nonsense_it_is_read_or_refused_in_one_line(string kind)
    {
        (Func<string> good, Func<string, string?> read) = Readers[kind];
        string whole = good();
        using var scratch = new ScratchFolder();
        string path = Path.Combine(scratch.Path, NameOf(kind));
        int refused = 0, field = 0;
        foreach ((int from, int length) in Fields(whole))
        {
            // Every field meets its share of the list, and every field all of it in the long form.
            field++;
            foreach (string nonsense in IsFull ? Nonsense : Nonsense.Where((_, i) => (i + field) % 5 == 0))
            {
                byte[] bytes = Encoding.UTF8.GetBytes(string.Concat(whole.AsSpan(0, from), nonsense, whole.AsSpan(from + length)));
                refused += Check(path, bytes, read, $"{kind}, \"{whole.Substring(from, length)}\" as \"{nonsense}\"") is null ? 0 : 1;
            }
        }

        Assert.Single(Directory.GetFileSystemEntries(scratch.Path));
        Assert.True(refused > 3 || kind is "log" or "log summary" or "conditions", $"{kind}: {refused} refused");
    }

    [Theory]
    [MemberData(nameof(Kinds))]
    public void Bytes_that_are_no_text_are_refused_in_one_line(string kind)
    {
        using var scratch = new ScratchFolder();
        string path = Path.Combine(scratch.Path, NameOf(kind));
        var random = new Random(81);
        for (int i = 0; i < 50; i++)
        {
            byte[] bytes = new byte[random.Next(1, 3000)];
            random.NextBytes(bytes);
            Check(path, bytes, Readers[kind].Read, $"{kind}, seed 81, case {i}");
        }
    }

    [Fact]
    public void What_a_board_says_is_cut_off_anywhere_and_only_its_whole_lines_are_taken()
    {
        byte[][] lines = [.. WireVectors.Read(Repository.PathOf("tests/vectors/wire.txt")).Where(vector => vector.Kind == "good").Select(vector => vector.Bytes)];
        byte[] whole = [.. lines.SelectMany(line => line)];
        List<BoardItem> all = Taken(whole, out _);
        Assert.True(all.Count > lines.Length / 2);
        int lineEnds = 0;
        for (int length = 0; length < whole.Length; length++)
        {
            lineEnds += length > 0 && whole[length - 1] == '\n' ? 1 : 0;
            List<BoardItem> items = Taken(whole[..length], out long good);
            Assert.True(good == lineEnds, $"{length} of {whole.Length} bytes: {good} good lines of {lineEnds}");
            Assert.Equal(all.Take(items.Count).Select(item => (item.Kind, item.Sample)), items.Select(item => (item.Kind, item.Sample)));
        }
    }

    [Fact]
    public void Any_field_of_a_line_of_a_board_replaced_by_nonsense_spoils_that_line_and_no_other()
    {
        int tried = 0;
        foreach (WireVector vector in WireVectors.Read(Repository.PathOf("tests/vectors/wire.txt")).Where(vector => vector.Kind == "good"))
        {
            string line = Encoding.Latin1.GetString(vector.Bytes);
            foreach ((int from, int length) in Fields(line))
            {
                foreach (string nonsense in Nonsense.Where(text => text != line.Substring(from, length)))
                {
                    byte[] bytes = [.. Encoding.UTF8.GetBytes(string.Concat(line.AsSpan(0, from), nonsense, line.AsSpan(from + length))), .. "\nS,0000,00000000,1k000000*03AA1711\n"u8];
                    List<BoardItem> items = Taken(bytes, out long good);
                    Assert.True(good == 1 && items is [{ Kind: BoardItemKind.Sample, Sample: { Cell: 1, Counts: 0 } }], $"{vector}, \"{line.Substring(from, length)}\" as \"{nonsense}\"");
                    tried++;
                }
            }
        }

        Assert.True(tried > 1000, $"{tried} tried");
    }

    [Fact]
    public void A_history_cut_off_anywhere_is_added_to_without_losing_a_letter_or_left_alone()
    {
        byte[] whole = Encoding.UTF8.GetBytes(History());
        IReadOnlyList<VerificationRow> more = VerificationFile.Parse(History(), "looks.csv").Value;
        using var scratch = new ScratchFolder();
        string path = Path.Combine(scratch.Path, "looks.csv");
        for (int length = 0; length <= whole.Length; length++)
        {
            File.WriteAllBytes(path, whole[..length]);
            InputError? error = VerificationFile.Append(path, more);
            byte[] after = File.ReadAllBytes(path);
            Assert.True(after.AsSpan().StartsWith(whole.AsSpan(0, length)), $"{length} bytes: what was there is gone");
            Assert.True(error is null ? after.Length > length : after.Length == length, $"{length} bytes: {error?.OneLine}");
        }

        Assert.Single(Directory.GetFileSystemEntries(scratch.Path));
    }

    /// <summary>A refusal is one line; whatever is read or refused, the file is as it was.</summary>
    internal static string? Check(string path, byte[] bytes, Func<string, string?> read, string what)
    {
        File.WriteAllBytes(path, bytes);
        string? line;
        try
        {
            line = read(path);
        }
        catch (Exception fault) when (fault is not Xunit.Sdk.XunitException)
        {
            Assert.Fail($"{what}: {fault}");
            throw;
        }

        Assert.True(line is null || (line.Length > 0 && !line.Any(char.IsControl)), $"{what}: {line}");
        Assert.True(bytes.AsSpan().SequenceEqual(File.ReadAllBytes(path)), what);
        return line;
    }

    internal static string? Line(InputError? error) => error?.OneLine;

    private static string? ReadLog(string path)
    {
        if (!LogReader.Open(path).TryGet(out LogReader? reader, out InputError? error))
        {
            return error.OneLine;
        }

        using (reader)
        {
            string? bad = null;
            while (reader.Next() is { } item)
            {
                bad = item is LogBadLine { Error: var line } ? line.OneLine : bad;
            }

            return bad;
        }
    }

    /// <summary>What stands between separators of any of the formats.</summary>
    internal static IEnumerable<(int From, int Length)> Fields(string text)
    {
        int from = 0;
        for (int i = 0; i <= text.Length; i++)
        {
            if (i == text.Length || text[i] is ',' or '=' or '\n' or '\r' or '[' or ']' or '{' or '}' or ':' or '"' or ' ')
            {
                if (i > from)
                {
                    yield return (from, i - from);
                }

                from = i + 1;
            }
        }
    }

    private static string NameOf(string kind) => kind switch
    {
        "peaks" => PeakFile.Name,
        "last used" => LastUsedFile.Name,
        "interview" => "unfinished-vehicle.toml",
        _ => "file",
    };

    internal static string Backup() => CalibrationFile.Text(
        new CalibrationBackup("B1", [.. Enumerable.Range(1, 4).Select(cell => new CellBackup($"cell {cell}", Samples.Held(1000 * cell, 116_415_322, 200)))]), Samples.Evening);

    private static string Peaks()
    {
        using var scratch = new ScratchFolder();
        Assert.Null(PeakFile.Write(scratch.Path, [new(new Fourpatch.Rigs.CellId("B1", 2), 116_415_322, 20261101, 213.4, Samples.Evening)]));
        return File.ReadAllText(Path.Combine(scratch.Path, PeakFile.Name));
    }

    internal static string History() => VerificationFile.TextOf(
    [
        .. Enumerable.Range(1, 3).Select(cell => new VerificationRow(
            0, new("B1", cell), new CellCheck(Samples.Evening.AddMinutes(cell), 1000 * cell, 172_800.25 + cell, 20, 0.02, cell == 3 ? null : 3.5), Samples.Held(1000 * cell, 116_415_322, 200))),
    ]);

    private static InterviewDraft DraftAt(string path) => new(Path.GetDirectoryName(path), "vehicle");

    private static string Interview()
    {
        using var scratch = new ScratchFolder();
        var answers = new Answers();
        Question[] questions = [.. new[] { "name", "wheelbase", "tracks" }.Select(key => Ask.Text(key, "?", "help"))];
        foreach (Question question in questions)
        {
            answers.Set(question.Key, question.Read("Wren \"2\"").Value);
        }

        new InterviewDraft(scratch.Path, "vehicle").Write(questions, answers);
        return File.ReadAllText(Path.Combine(scratch.Path, "unfinished-vehicle.toml"));
    }

    private static List<BoardItem> Taken(byte[] bytes, out long goodLines)
    {
        var decoder = new BoardDecoder();
        var items = new List<BoardItem>();
        decoder.Take(bytes, Samples.Evening, items, _ => { });
        goodLines = decoder.GoodLines;
        return items;
    }

    internal static string LastUsedText()
    {
        using var scratch = new ScratchFolder();
        Assert.Null(LastUsedFile.Write(scratch.Path, new LastUsed("car.toml", new UsedRig(["/dev/ttyUSB0"], "pads.toml", "leave", ["B1"]))));
        return File.ReadAllText(Path.Combine(scratch.Path, LastUsedFile.Name));
    }
}
