using Fourpatch.Records;
using Fourpatch.Tests.Records;

namespace Fourpatch.Tests.Commands;

/// <summary>Bad input of everything about records: exit code 2, one line that names the place and the remedy, nothing written.</summary>
public class RecordsBadInputTests
{
    private const string Weigh = "weigh --vehicle plain.toml --typed FL=1,FR=2,RL=3,RR=4";

    // A ~ stands for a blank inside a word, EMPTY for an empty one.
    private static readonly (string CommandLine, string Place, string Remedy)[] All =
    [
        ("records", "", "--help"),
        ("records lst", "lst", "did you mean list"),
        ("records show", "", "--help"),
        ("records show nosuch --data d", "nosuch", "records list"),
        ("records show EMPTY --data d", "\"\"", "records list"),
        ("records show same --data d", "means 2 records", "say which by its id"),
        ("records show one --data nowhere", "nowhere", "--save NAME"),
        ("records show one --data plain.toml", "plain.toml", "--data DIR"),
        ("records show one --data text", "records.sqlite", "records import BACKUP"),
        ("records show one --data EMPTY", "--data", "name one"),
        ("records show one", "--data", "name one"),
        ("records show one --unit stone --data d", "--unit", "choose one"),
        ("records compare one --data d", "", "--help"),
        ("records compare one nosuch --data d", "AFTER", "records list"),
        ("records compare cal one --data d", "BEFORE", "records list"),
        ("records compare one three --data d", "same wheels", "choose another record"),
        ("records list --from yesterday --data d", "--from", "year, month and day"),
        ("records list --to 24.11.2026 --data d", "--to", "year, month and day"),
        ("records list --from 2026-13-01 --data d", "--from", "2026-11-24"),
        ("records list --from 2026-11-25 --to 2026-11-24 --data d", "--from", "exchange"),
        ("records list --method by-magic --data d", "--method", "all-at-once"),
        ("records list --kind weihging --data d", "--kind", "did you mean weighing"),
        ("records list --newest 0 --data d", "--newest", "whole number"),
        ("records list --newest all --data d", "--newest", "whole number"),
        ("records export --data d", "--out", "name one"),
        ("records export --out EMPTY --data d", "--out", "name one"),
        ("records export --out folder --data d", "folder", "--out"),
        ("records export --out plain.toml --data d", "plain.toml", "--out"),
        ("records export --out nosuch/x.csv --data d", "nosuch/x.csv", "name a folder"),
        ("records export nosuch --out x.csv --data d", "ID", "records list"),
        ("records export one --car Plain --out x.csv --data d", "ID", "leave the ids or the options out"),
        ("records export --car Nobody --out x.csv --data d", "no record fits", "records list"),
        ("records import --data d", "", "--help"),
        ("records import nosuch --data d", "nosuch", ""),
        ("records import folder --data d", "folder", "records export"),
        ("records import plain.toml --data d", "plain.toml", "records export"),
        ("records import empty.json --data d", "empty.json", "records export"),
        ("records import list.json --data d", "list.json", "records export"),
        ("records import odd.json --data d", "odd.json", "export it again"),
        ("records delete --data d", "", "--help"),
        ("records delete one --data d", "--yes", "add --yes"),
        ("records delete nosuch --yes --data d", "ID", "records list"),
        ("records delete one nosuch --yes --data d", "ID", "records list"),
        ("records backup --data d", "--out", "name a new one"),
        ("records backup --out plain.toml --data d", "plain.toml", "--out FILE"),
        ("records backup --out nosuch/x.sqlite --data d", "nosuch/x.sqlite", "--out FILE"),
        (Weigh + " --save EMPTY --data d", "--save", "correct it"),
        (Weigh + " --save last --data d", "--save", "another name"),
        (Weigh + " --save a\u0007b --data d", "--save", "instead of pasting it"),
        (Weigh + " --save x --data plain.toml", "plain.toml", "--data DIR"),
        (Weigh + " --keep-because wind --data d", "--keep-because", "--save NAME"),
        (Weigh + " --save x --keep-because EMPTY --data d", "--keep-because", "correct it"),
        (Weigh + " --condition driver --data d", "--condition", "fuel_l=12"),
        (Weigh + " --condition =12 --data d", "--condition", "fuel_l=12"),
        (Weigh + " --condition fuel~l=12 --data d", "--condition", "fuel_l=12"),
        (Weigh + " --condition fuel= --data d", "--condition", "correct it"),
        (Weigh + " --condition fuel=1 --condition fuel=2 --data d", "fuel is given twice", "leave one"),
    ];

    public static TheoryData<string, string, string> Cases()
    {
        var data = new TheoryData<string, string, string>();
        foreach ((string commandLine, string place, string remedy) in All)
        {
            data.Add(commandLine, place, remedy);
        }

        return data;
    }

    [Theory]
    [MemberData(nameof(Cases))]
    public async Task Bad_input_gets_one_line_with_place_and_remedy_and_changes_nothing(string commandLine, string place, string remedy)
    {
        using var bench = new Bench();
        WriteFiles(bench);
        Dictionary<string, string> before = Contents(bench);
        string[] args = [.. commandLine.Split(' ').Select(word => word.Replace('~', ' ').Replace("EMPTY", "", StringComparison.Ordinal))];
        Outcome outcome = await bench.RunAsync(args);
        bool isRight = outcome.ExitCode == 2 && outcome.Out.Length == 0 && outcome.ErrorLines is [var line]
            && line.Contains(place, StringComparison.Ordinal) && line.Contains(remedy, StringComparison.Ordinal)
            && !line.Contains("fault of this program", StringComparison.Ordinal) && !line.Any(char.IsControl);
        Assert.True(isRight, $"exit code {outcome.ExitCode}\nout: {outcome.Out}\nerrors: {outcome.Errors}");
        Assert.Equal(before, Contents(bench));
    }

    private static void WriteFiles(Bench bench)
    {
        Cars.WriteTo(bench);
        Directory.CreateDirectory(Path.Combine(bench.Folder, "folder"));
        bench.Write("folder/inside.txt", "somebody's");
        Directory.CreateDirectory(Path.Combine(bench.Folder, "text"));
        bench.Write("text/records.sqlite", string.Concat(Enumerable.Repeat("somebody's diary\n", 100)));
        bench.Write("empty.json", "");
        bench.Write("list.json", "[1, 2]");
        bench.Write("odd.json", "{\"schema\": \"fourpatch.weigh/1\"}");
        using RecordStore store = RecordStore.Open(Path.Combine(bench.Folder, "d")).Value;
        store.Save(Samples.Typed("one", [1, 2, 3, 4], new())).OrFail();
        store.Save(Samples.Typed("same", [1, 2, 3, 5], new())).OrFail();
        store.Save(Samples.Typed("same", [1, 2, 3, 6], new())).OrFail();
        store.Save(Samples.Every().First(record => record.Name == "three wheels") with { Name = "three" }).OrFail();
        store.Save(Samples.Calibration("cal", new("B1", 1), Samples.Fit(20, 253_100, 60, 596_800))).OrFail();
    }

    // What the records say, not the bytes of their file: opening it may tidy up.
    private static Dictionary<string, string> Contents(Bench bench)
    {
        Dictionary<string, string> contents = bench.Contents();
        string file = Path.Combine(bench.Folder, "d", RecordStore.FileName);
        contents[file] = Sql.Ask(file, "SELECT id, name FROM record ORDER BY id");
        return contents;
    }
}
