namespace Fourpatch.Tests.Commands;

/// <summary>Command lines of calibration and health that must be refused; the columns as in <see cref="BadInput"/>.</summary>
internal static class CalBadInput
{
    private const string Rotate = "cal rotate --vehicle plain.toml --from ";
    private const string Rotated = Rotate + "rotate.csv";
    private const string CellHeader = "load_kg,counts,direction\n";
    private const string DollyHeader = "spot,mass_kg,counts_1,counts_2,counts_3,counts_4,plate\n";
    private const string RotateHeader = "placement,at_FL,at_FR,at_RL,at_RR,counts_1,counts_2,counts_3,counts_4\n";
    private const string LooksHeader = "time_utc,board,cell,mass_kg,zero_counts,loaded_counts,held_zero_counts,held_kg_per_count\n";

    private static readonly (int ExitCode, string CommandLine, string Place, string Remedy)[] All =
    [
        // The words.
        (2, "cal", "cal does nothing by itself, expected one of ", "--help"),
        (2, "cal rotat", "rotat", "did you mean rotate"),
        (2, "cal cell", "cell", "--help"),
        (2, "cal cell 5 --from cell.csv", "CELL", "a cell from 1 to 4"),
        (2, "cal cell one --from cell.csv", "CELL", "a cell from 1 to 4"),
        (2, "cal cell EMPTY --from cell.csv", "CELL", "a cell from 1 to 4"),
        (2, "cal cell 1 2 --from cell.csv", "2", "--help"),
        (2, "cal show", "--port", "fourpatch ports"),
        (2, "cal cell 1", "--port", "fourpatch ports"),
        (2, "cal platform", "--port", "fourpatch ports"),
        (2, "cal rotate --vehicle plain.toml", "--port", "fourpatch ports"),
        (2, "cal verify", "--port", "fourpatch ports"),

        // A dialogue answers in words; stored readings need no board.
        (2, "cal cell 1 --port virtual --json", "--json", "leave --json out"),
        (2, "cal platform --port virtual --json", "--json", "leave --json out"),
        (2, "cal rotate --vehicle plain.toml --port virtual --json", "--json", "leave --json out"),
        (2, "cal verify --port virtual --json", "--json", "leave --json out"),
        (2, "cal cell 1 --port virtual --store", "--store", "leave --store out"),
        (2, "cal cell 1 --from cell.csv --store", "--store", "name the board's port"),
        (2, "cal platform --from dolly.csv --store", "--store", "name the board's port"),
        (2, Rotated + " --store --known-total 480", "--store", "name the board's port"),
        (2, Rotated + " --store --port virtual", "--store", "leave --store out"),
        (2, "cal cell 1 --from cell.csv --port virtual", "--port", "add --store"),
        (2, "cal platform --from dolly.csv --castor-turn", "--castor-turn", "castor_deg"),
        (2, "cal cell 1 --port virtual --port virtual:pads.toml", "--board", "say which board"),
        (2, "cal show --port virtual --port virtual", "--port", "leave one of the two out"),
        (3, "cal cell 1 --port /dev/no-such-port", "/dev/no-such-port", "check plug, cable"),
        (3, "cal show --port tcp:127.0.0.1:1", "tcp:127.0.0.1:1", "check plug, cable"),

        // What is known of the mass and the cell.
        (2, "cal cell 1 --from cell.csv --mass 60", "--mass", "before a colon"),
        (2, "cal cell 1 --from cell.csv --mass gold:60", "--mass", "choose one of these kinds"),
        (2, "cal cell 1 --from cell.csv --mass shop:0", "--mass", "above 0"),
        (2, "cal cell 1 --from cell.csv --mass weights:60", "--mass", "+-"),
        (2, "cal cell 1 --from cell.csv --mass weights:60+-0", "--mass", "both figures are above 0"),
        (2, "cal cell 1 --from cell.csv --mass jug:20l@90C", "--mass", "from 0 to 40"),
        (2, "cal cell 1 --from cell.csv --mass weighbridge:1240", "--mass", "/"),
        (2, "cal cell 1 --from cell.csv --mass lever:400:shop:60", "--mass", "CELL-TO-BLOCK"),
        (2, "cal cell 1 --from cell.csv --mass lever:0/1200:shop:60", "--mass", "both distances are above 0"),
        (2, "cal cell 1 --from cell.csv --mass lever:400/1200:60", "--mass", "before a colon"),
        (2, "cal cell 1 --from cell.csv --capacity 0", "--capacity", "more than 0"),
        (2, "cal cell 1 --from cell.csv --capacity=-3", "--capacity", "minus sign"),
        (2, "cal cell 1 --from cell.csv --mv-per-v two", "--mv-per-v", "above 0, up to 20"),
        (2, "cal cell 1 --from cell.csv --mv-per-v 30", "--mv-per-v", "above 0, up to 20"),
        (2, "cal cell 1 --from cell.csv --expected x", "--expected", "\"x\""),
        (2, "cal cell 1 --from cell.csv --unit stone", "--unit", "choose one of the three"),

        // Stored readings.
        (2, "cal cell 1 --from nosuch.csv", "nosuch.csv", "check the name"),
        (2, "cal cell 1 --from folder", "folder", "name the file inside it"),
        (2, "cal cell 1 --from empty.csv", "empty.csv:1", "header line"),
        (2, "cal cell 1 --from headed.csv", "headed.csv:1", "add the readings"),
        (2, "cal cell 1 --from dolly.csv", "dolly.csv:1", "load_kg"),
        (2, "cal cell 1 --from cell-text.csv", "cell-text.csv:3: counts:", "plain number"),
        (2, "cal cell 1 --from cell-way.csv", "cell-way.csv:2: direction:", "up or down"),
        (2, "cal cell 1 --from cell-big.csv", "cell-big.csv:3: counts:", "24 bits"),
        (2, "cal cell 1 --from cell-blank.csv", "cell-blank.csv:3: load_kg:", "fill in the cell"),
        (2, "cal platform --from cell.csv", "cell.csv:1", "spot"),
        (2, "cal platform --from dolly-castor.csv", "dolly-castor.csv:3: plate:", "from 1 to 4"),
        (2, "cal platform --from dolly-short.csv", "dolly-short.csv:3: counts_4:", "fill in the cell"),
        (2, Rotate + "rotate-twice.csv", "rotate-twice.csv:3: at_FR:", "correct one of the two"),
        (2, Rotate + "rotate-half.csv", "rotate-half.csv:3: at_RR:", "clear all four"),
        (2, Rotate + "rotate-five.csv", "rotate-five.csv:3: at_RR:", "from 1 to 4"),
        (2, Rotate + "nosuch.csv", "nosuch.csv", "check the name"),

        // The total of a rotation.
        (2, "cal rotate --from rotate.csv", "--vehicle", "write a file with name"),
        (2, "cal rotate --from rotate.csv --vehicle three.toml", "--vehicle", "cal cell N"),
        (2, Rotated + " --known-total 0", "--known-total", "above 0"),
        (2, Rotated + " --known-total heavy", "--known-total", "\"heavy\""),
        (2, Rotated + " --known-total scale:480", "--known-total", "choose one of these kinds"),
        (2, Rotated + " --u-known-total 2", "--u-known-total", "--known-total KG"),
        (2, Rotated + " --known-total 480 --u-known-total x", "--u-known-total", "\"x\""),
        (2, Rotated + " --known-total 480 --u-known-total=-2", "--u-known-total", "minus sign"),
        (2, Rotated + " --known-total weighbridge:480/20 --u-known-total 2", "--u-known-total", "leave one of the two out"),

        // Check masses.
        (2, "cal verify --from nosuch.csv", "nosuch.csv", "check the name"),
        (2, "cal verify --from looks.csv --port virtual", "--port", "leave one of the two out"),
        (2, "cal verify --from looks.csv --history looks.csv", "--history", "leave one of the two out"),
        (2, "cal verify --from looks.csv --mass shop:20", "--mass", "leave one of the two out"),
        (2, "cal verify --from looks.csv --cell 4", "--cell", "leave --cell out"),
        (2, "cal verify --from looks.csv --cell 9", "--cell", "a cell from 1 to 4"),
        (2, "cal verify --from looks.csv --class III", "--division", "leave both out"),
        (2, "cal verify --from looks.csv --division 0.1", "--class", "leave both out"),
        (2, "cal verify --from looks.csv --class II --division 0.1", "--class", "choose one of the two"),
        (2, "cal verify --from looks.csv --class III --division 0", "--division", "more than 0"),
        (2, "cal verify --from looks-time.csv", "looks-time.csv:2: time_utc:", "2026-11-24"),
        (2, "cal verify --from looks-still.csv", "looks-still.csv:2: loaded_counts:", "the mass has moved"),
        (2, "cal verify --from looks-span.csv", "looks-span.csv:2: held_kg_per_count:", "leave the line out"),
        (2, "cal verify --from looks-mass.csv", "looks-mass.csv:2: mass_kg:", "above 0"),
        (2, "cal verify --from looks-cell.csv", "looks-cell.csv:2: cell:", "fill in the cell"),
        (2, "cal verify --port virtual --history looks.csv", "looks.csv", "name another file for --history"),
        (2, "cal verify --port virtual --history cell.csv", "cell.csv:1", "time_utc"),
        (2, "cal verify --port virtual --history nosuch/looks.csv", "--history", "name another file"),
        (2, "cal verify --port virtual --history folder", "--history", "name another file"),
        (2, "cal verify --port virtual --history EMPTY", "--history", "name another file"),

        // Backups.
        (2, "cal export --port virtual:pads.toml", "--out", "name one"),
        (2, "cal export --port virtual:pads.toml --out plain.toml", "plain.toml", "name another file"),
        (2, "cal export --port virtual:pads.toml --out nosuch/new.toml", "nosuch/new.toml", "name another file"),
        (2, "cal export --port virtual:pads.toml --out folder", "folder", "name another file"),
        (2, "cal export --out new.toml", "--port", "fourpatch ports"),
        (2, "cal import --port virtual:pads.toml", "--from", "name one"),
        (2, "cal import --port virtual:pads.toml --from nosuch.toml", "nosuch.toml", "check the name"),
        (2, "cal import --port virtual:pads.toml --from plain.toml", "plain.toml", "cal export"),
        (2, "cal import --port virtual:pads.toml --from altered.toml", "altered.toml:3", "unaltered copy"),
        (2, "cal import --port virtual:pads.toml --from later.toml", "later.toml:1: schema:", "version of the program"),
        (2, "cal import --port virtual:pads.toml --from cellless.toml", "cellless.toml:1: cell:", "[cell.1]"),
        (2, "cal import --from altered.toml", "altered.toml", "unaltered copy"),

        // Health.
        (2, "check", "--port", "fourpatch ports"),
        (2, "check --port virtual --seconds 4", "--seconds", "from 5 to 600"),
        (2, "check --port virtual --seconds long", "--seconds", "from 5 to 600"),
        (2, "check --port virtual --rate 40", "--rate", "10 or 80"),
        (2, "check --port virtual --supply 12", "--supply", "2.6 to 5.5"),
        (2, "check --port virtual --supply x", "--supply", "2.6 to 5.5"),
        (2, "check --port virtual --cells 1,5", "--cells", "from 1 to 4"),
        (2, "check --port virtual --cells 1,1", "--cells", "each once"),
        (2, "check --port virtual --cells EMPTY", "--cells", "as 1,2"),
        (3, "check --port /dev/no-such-port", "/dev/no-such-port", "check plug, cable"),
        (2, "bringup", "--port", "fourpatch ports"),
        (2, "bringup --port virtual --cell 0", "--cell", "a cell from 1 to 4"),
        (2, "bringup --port virtual --port virtual:pads.toml", "--port", "one board at a time"),
        (2, "bringup --port tcp:", "--port", "tcp:HOST:PORT"),
    ];

    public static TheoryData<int, string, string, string> Cases()
    {
        var data = new TheoryData<int, string, string, string>();
        foreach ((int exitCode, string commandLine, string place, string remedy) in All)
        {
            data.Add(exitCode, commandLine, place, remedy);
        }

        return data;
    }

    public static void WriteFiles(Bench bench)
    {
        BadInput.WriteFiles(bench);
        bench.Write("empty.csv", "");
        bench.Write("headed.csv", CellHeader);
        bench.Write("cell.csv", CellHeader + "0,100,up\n50,400100,up\n0,100,down\n");
        bench.Write("cell-text.csv", CellHeader + "0,100,up\n50,many,up\n");
        bench.Write("cell-way.csv", CellHeader + "0,100,sideways\n");
        bench.Write("cell-big.csv", CellHeader + "0,100,up\n50,8400000,up\n");
        bench.Write("cell-blank.csv", CellHeader + "0,100,up\n,400100,up\n");
        bench.Write("dolly.csv", DollyHeader + "empty,0,1,2,3,4,\nmiddle,80,100001,100002,100003,100004,\n");
        bench.Write("dolly-castor.csv", DollyHeader + "empty,0,1,2,3,4,\nmiddle,80,1,2,3,4,5\n");
        bench.Write("dolly-short.csv", DollyHeader + "empty,0,1,2,3,4,\nmiddle,80,1,2,3\n");
        bench.Write("rotate.csv", CalRotateTests.Table(2));
        bench.Write("rotate-twice.csv", RotateHeader + "zero,,,,,1,2,3,4\nA,1,1,3,4,1,2,3,4\n");
        bench.Write("rotate-half.csv", RotateHeader + "zero,,,,,1,2,3,4\nA,1,2,3,,1,2,3,4\n");
        bench.Write("rotate-five.csv", RotateHeader + "zero,,,,,1,2,3,4\nA,1,2,3,5,1,2,3,4\n");
        bench.Write("looks.csv", LooksHeader + "2026-03-01,B1,1,20,1000,201000,1000,1e-4\n");
        bench.Write("looks-time.csv", LooksHeader + "yesterday,B1,1,20,1000,201000,1000,1e-4\n");
        bench.Write("looks-still.csv", LooksHeader + "2026-03-01,B1,1,20,1000,1000,1000,1e-4\n");
        bench.Write("looks-span.csv", LooksHeader + "2026-03-01,B1,1,20,1000,201000,1000,0\n");
        bench.Write("looks-mass.csv", LooksHeader + "2026-03-01,B1,1,0,1000,201000,1000,1e-4\n");
        bench.Write("looks-cell.csv", LooksHeader + "2026-03-01,B1,,20,1000,201000,1000,1e-4\n");
        bench.Write("altered.toml", "schema = \"fourpatch.calibration/1\"\nboard = \"B1\"\n# crc32: 00000000\n");
        bench.Write("later.toml", CalBackupTests.Sealed("schema = \"fourpatch.calibration/9\"\nboard = \"B1\"\nwritten_utc = \"t\"\nsoftware_version = \"9\"\n[cell.1]\n"));
        bench.Write("cellless.toml", CalBackupTests.Sealed("schema = \"fourpatch.calibration/1\"\nboard = \"B1\"\nwritten_utc = \"t\"\nsoftware_version = \"9\"\n"));
    }
}

/// <summary>Bad input of calibration and health: one line with place and remedy, the right exit code, nothing written.</summary>
public class CalBadInputTests
{
    [Theory]
    [MemberData(nameof(CalBadInput.Cases), MemberType = typeof(CalBadInput))]
    public async Task Bad_input_gets_one_line_with_place_and_remedy_and_writes_nothing(int exitCode, string commandLine, string place, string remedy)
    {
        Outcome outcome = await BadInputTests.RunAsync(commandLine, CalBadInput.WriteFiles);
        BadInputTests.CheckLine(outcome, exitCode, place, remedy);
        Assert.Equal(commandLine.EndsWith("--json", StringComparison.Ordinal) ? "fourpatch.error/1" : null, outcome.Out.Length == 0 ? null : (string?)outcome.Answer["schema"]);
    }

    [Fact]
    public void There_are_enough_of_them() => Assert.True(CalBadInput.Cases().Count >= 110, $"{CalBadInput.Cases().Count} cases");
}
