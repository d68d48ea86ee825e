using System.Text;
using Fourpatch.Files;
using Fourpatch.Records;
using Fourpatch.Tests.Records;

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
    public void A_record_cut_off_anywhere_or_with_nonsense_in_it_is_refused_and_nothing_is_imported()
    {
        using var scratch = new ScratchFolder();
        using var home = new RecordFolder();
        using RecordStore store = home.Open();
        string text = RecordTests.Text(Samples.Every().First());
        byte[] whole = Encoding.UTF8.GetBytes(text);
        string path = Path.Combine(scratch.Path, "record.json");
        for (int length = 0; length < whole.Length; length += 1 + (whole.Length / 1500))
        {
            Check(path, whole[..length], Import, $"{length} of {whole.Length} bytes");
        }

        foreach ((int from, int length) in Fields(text).Where((_, i) => i % 3 == 0))
        {
            foreach (string nonsense in new[] { "", "x", "-1", "1e308", "null", "[]", "\"" })
            {
                Check(path, Encoding.UTF8.GetBytes(string.Concat(text.AsSpan(0, from), nonsense, text.AsSpan(from + length))), Import, $"\"{text.Substring(from, length)}\" as {nonsense}");
            }
        }

        string? Import(string file) => Line(RecordJson.Parse(File.ReadAllText(file), file).Error);
    }

    // A refusal is one line; whatever is read or refused, the file is as it was.
    private static string? Check(string path, byte[] bytes, Func<string, string?> read, string what)
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

    private static string? Line(InputError? error) => error?.OneLine;

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

    // What stands between separators of any of the formats.
    private static IEnumerable<(int From, int Length)> Fields(string text)
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
        _ => "file",
    };

    private static string Backup() => CalibrationFile.Text(
        new CalibrationBackup("B1", [.. Enumerable.Range(1, 4).Select(cell => new CellBackup($"cell {cell}", Samples.Held(1000 * cell, 116_415_322, 200)))]), Samples.Evening);

    private static string Peaks()
    {
        using var scratch = new ScratchFolder();
        Assert.Null(PeakFile.Write(scratch.Path, [new(new Fourpatch.Rigs.CellId("B1", 2), 116_415_322, 20261101, 213.4, Samples.Evening)]));
        return File.ReadAllText(Path.Combine(scratch.Path, PeakFile.Name));
    }

    private static string LastUsedText()
    {
        using var scratch = new ScratchFolder();
        Assert.Null(LastUsedFile.Write(scratch.Path, new LastUsed("car.toml", new UsedRig(["/dev/ttyUSB0"], "pads.toml", "leave", ["B1"]))));
        return File.ReadAllText(Path.Combine(scratch.Path, LastUsedFile.Name));
    }
}
