using Fourpatch.Files;
using Fourpatch.Records;
using Fourpatch.Tests.Files;
using Fourpatch.Tests.Records;
using Fourpatch.VirtualRig;

namespace Fourpatch.Tests.Commands;

/// <summary>
/// The whole program on files that are cut off: read, or exit code 2 (3 where only the port that is not there was left to complain of), one
/// line, and nothing written or lost. What each reader makes of every byte is told by the tests beside the readers.
/// </summary>
[Collection(KeepsTime.Name)]
public class EveryFileCommandTests
{
    private const string Car = "weigh --vehicle plain.toml";
    private const string Typed = Car + " --typed FL=100,FR=98,RL=128,RR=126";

    private static readonly bool IsFull = Environment.GetEnvironmentVariable("PROOF") == "full";

    private static readonly Dictionary<string, (Func<byte[]> Good, string File, string CommandLine)> Kinds = new()
    {
        ["vehicle"] = (() => Of(Examples.Vehicle), "file.toml", "weigh --vehicle file.toml --typed FL=100,FR=98,RL=128,RR=126"),
        ["motorcycle"] = (() => Of(Examples.Motorcycle), "file.toml", "weigh --vehicle file.toml --typed front=90,rear=110"),
        ["layout"] = (() => Of(Examples.Pads), "file.toml", Car + " --layout file.toml --port nosuch"),
        ["dollies"] = (() => Of(Examples.FourDollies), "file.toml", Car + " --layout file.toml --port nosuch"),
        ["parts"] = (() => Of(Examples.Parts), "file.csv", "plan --vehicle wren.toml --corners FL=69.4,FR=65.2,RL=59.8,RR=61.0 --parts file.csv"),
        ["cell readings"] = (() => Of(Examples.CellReadings), "file.csv", "cal cell 1 --from file.csv"),
        ["platform readings"] = (() => Of(Examples.PlatformReadings), "file.csv", "cal platform --from file.csv"),
        ["rotation readings"] = (() => Of(Examples.RotationReadings), "file.csv", "cal rotate --vehicle plain.toml --from file.csv"),
        ["one by one"] = (() => Of(Examples.OneByOneReadings), "file.csv", Car + " --method one-by-one --from file.csv"),
        ["lift readings"] = (() => Of(Examples.LiftReadings), "file.csv", "cgheight --vehicle plain.toml --lift front --from file.csv"),
        ["log"] = (() => Of(Examples.Log), "file.csv", "log summary file.csv"),
        ["conditions"] = (() => Of("fuel_l = 12\ndriver = \"aboard\"\n"), "file.toml", Typed + " --conditions file.toml --save cut --data data"),
        ["calibration backup"] = (() => Of(EveryFileTests.Backup()), "file.toml", "cal import --from file.toml --port nosuch"),
        ["history"] = (() => Of(EveryFileTests.History()), "file.csv", "cal verify --from file.csv"),
        ["last used"] = (() => Of(EveryFileTests.LastUsedText()), "data/" + LastUsedFile.Name, "weigh --data data --typed FL=100,FR=98,RL=128,RR=126"),
        ["export"] = (() => Export("all.json"), "file.json", "records import file.json --data other"),
        ["table of records"] = (() => Export("all.csv"), "file.csv", "records import file.csv --data other"),
        ["backup of records"] = (() => Export("all.sqlite"), "file.sqlite", "records import file.sqlite --data other"),
        ["file of records"] = (() => Export("all.sqlite"), "data/" + RecordStore.FileName, "records list --data data"),
    };

    public static TheoryData<string> Names() => [.. Kinds.Keys];

    [Theory]
    [MemberData(nameof(Names))]
    public async Task Cut_off_it_is_read_or_refused_with_exit_code_2_in_one_line_and_nothing_is_written(string kind)
    {
        (Func<byte[]> good, string file, string commandLine) = Kinds[kind];
        using var bench = new Bench(clock: new FastClock(TimeProvider.System, 4));
        Cars.WriteTo(bench);
        bench.Write("wren.toml", Examples.Vehicle);
        Directory.CreateDirectory(Path.Combine(bench.Folder, "data"));
        Directory.CreateDirectory(Path.Combine(bench.Folder, "other"));
        string path = Path.Combine(bench.Folder, file);
        byte[] whole = good();
        int refused = 0;

        // A dozen places, all of them in the long form; a file of records, which is large, at as many of each hundred bytes.
        int stride = !IsFull ? Math.Max(1, (whole.Length / 12) | 1) : whole.Length > 20_000 ? 101 : 1;
        for (int length = 0; length < whole.Length; length += stride)
        {
            File.WriteAllBytes(path, whole[..length]);
            Dictionary<string, string> before = bench.Contents();
            Outcome outcome = await bench.RunAsync(commandLine.Split(' '));
            string what = $"{kind}, {length} of {whole.Length} bytes: exit code {outcome.ExitCode}\nout: {outcome.Out}\nerrors: {outcome.Errors}";
            Assert.True(outcome.ExitCode is >= 0 and <= 3 && !outcome.Errors.Contains("fault of this program", StringComparison.Ordinal), what);
            if (outcome.ExitCode < 2)
            {
                continue;
            }

            refused++;
            Assert.True(outcome.Out.Length == 0 && outcome.Errors.EndsWith('\n') && outcome.ErrorLines is [var line] && !line.Any(char.IsControl), what);
            Assert.Equal(before, bench.Contents());
        }

        Assert.True(refused > 0, $"{kind}: never refused");
    }

    private static byte[] Of(string text) => System.Text.Encoding.UTF8.GetBytes(text);

    private static byte[] Export(string name)
    {
        using var scratch = new ScratchFolder();
        using var home = new RecordFolder();
        using RecordStore store = home.Open();
        string[] ids = [store.Save(Samples.Typed("one", [400, 380, 330, 310], new())).Value.Id, store.Save(Samples.Typed("two", [1, 2, 3, 4], new())).Value.Id];
        string path = Path.Combine(scratch.Path, name);
        _ = Path.GetExtension(name) switch
        {
            ".sqlite" => (int)store.Backup(path).OrFail(),
            ".csv" => RecordExport.Write(store, ids, ExportForm.Csv, path).OrFail(),
            _ => RecordExport.Write(store, ids, ExportForm.Json, path).OrFail(),
        };
        return File.ReadAllBytes(path);
    }
}
