namespace Fourpatch.Tests.Commands;

/// <summary>
/// Command lines that must be refused: exit code, the words (a ~ stands for a blank inside a word, EMPTY for an empty one), and two
/// pieces the line must hold: where it is, and what to do.
/// </summary>
internal static class BadInput
{
    private const string Typed = "weigh --vehicle plain.toml --typed FL=400,FR=380,RL=330,RR=310";
    private const string Rig = "weigh --vehicle plain.toml --port virtual:pads.toml";

    private const string Stored = "weigh --vehicle plain.toml --method one-by-one --from gone.csv";

    // Behind these, --json would be taken for the value that is missing.
    private static readonly string[] EndsWithoutValue = ["--port", "--vehicle", "--data"];

    private static readonly string LongHost = new('a', 300);

    private static readonly (int ExitCode, string CommandLine, string Place, string Remedy)[] All =
    [
        // The command itself.
        (2, "wiegh", "wiegh", "did you mean weigh"),
        (2, "--nosuch", "--nosuch", "--help"),
        (2, "zzzzzz", "zzzzzz", "--help"),
        (2, "weigh extra", "extra", "--help"),
        (2, "weigh --vehicel plain.toml", "--vehicel", "did you mean --vehicle"),
        (2, "weigh --vehicle", "--vehicle", "--help"),
        (2, "weigh --vehicle plain.toml --vehicle three.toml --typed FL=1", "--vehicle", "--help"),
        (2, "weigh --vehicle @nothing.rsp --typed FL=1", "@nothing.rsp", "check the name"),

        // weigh: what must be there, and what does not go together.
        (2, "weigh", "--vehicle", "write a file with name"),
        (2, "weigh --vehicle plain.toml", "neither --port nor --typed", "--typed FL="),
        (2, Typed + " --port virtual", "both --port and --typed", "one of the two"),
        (2, Typed + " --layout pads-layout.toml", "--layout", "leave it out"),
        (2, Typed + " --seconds 5", "--seconds", "leave it out"),
        (2, Rig + " --u-corner 1", "--u-corner", "leave it out"),
        (2, Rig + " --resolution 1", "--resolution", "leave it out"),
        (2, Rig + " --same-scale", "--same-scale", "leave it out"),
        (2, Rig + " --u-span 1", "--u-span", "leave it out"),
        (2, Typed + " --same-scale", "--same-scale", "--u-span 0.2%"),
        (2, Typed + " --unit st", "--unit", "choose one of the three"),
        (2, Typed + " --unit EMPTY", "--unit", "choose one of the three"),
        (2, Typed + " --method by-magic", "--method", "choose one of the three"),
        (2, Typed + " --method EMPTY", "--method", "choose one of the three"),

        // weigh: one dolly, two pads, a plate.
        (2, Typed + " --method one-by-one", "--typed", "--from"),
        (2, Typed + " --shim FL=6", "--typed", "leave --method and --shim out"),
        (2, Rig + " --block partner", "--block", "another --method"),
        (2, Rig + " --from plain.toml", "--from", "another --method"),
        (2, Rig + " --shim FL=0", "--shim", "write it like FL=6"),
        (2, Rig + " --shim FL=0.001", "--shim", "1 to 100 mm; a thinner one is lost in the floor's own unevenness; write it like FL=6"),
        (2, Rig + " --shim FL=6,FR=6", "--shim", "write it like FL=6"),
        (2, Rig + " --shim FX=6", "FX", "did you mean"),
        (2, Stored, "gone.csv", "check the name"),
        (2, Stored + " --block corner", "--block", "choose one of them"),
        (2, Stored + " --pairs axles", "--pairs", "leave it out"),
        (2, Stored + " --port virtual", "--port", "leave it out"),
        (2, Stored + " --typed FL=1", "--typed", "leave"),
        (2, Stored + " --u-known-total 2", "--u-known-total", "say the total"),
        (2, Stored + " --known-total heavy", "--known-total", "heavy"),
        (2, "weigh --vehicle plain.toml --method by-axle --from gone.csv --pairs diagonals", "--pairs", "choose one of them"),
        (2, "weigh --vehicle plain.toml --method by-axle --from gone.csv --block all", "--block", "leave it out"),
        (2, "weigh --vehicle plain.toml --method one-by-one --from plain.toml", "plain.toml", "corner,rise_mm,reading_kg"),
        (2, "weigh --vehicle three.toml --method one-by-one --from gone.csv", "--vehicle", "weigh it all at once"),

        // weigh: draws.
        (2, Typed + " --monte-carlo 999", "--monte-carlo", "leave the number away"),
        (2, Typed + " --monte-carlo many", "--monte-carlo", "leave the number away"),
        (2, Typed + " --monte-carlo -1", "--monte-carlo", "leave the number away"),

        // weigh: loads as typed.
        (2, "weigh --vehicle plain.toml --typed 400", "--typed", "NAME=VALUE"),
        (2, "weigh --vehicle plain.toml --typed EMPTY", "--typed", "NAME=VALUE"),
        (2, "weigh --vehicle plain.toml --typed FL=400,FR=380,RL=330", "RR is missing", "add RR="),
        (2, "weigh --vehicle plain.toml --typed FL=400,FR=380,RL=330,RX=310", "RX", "did you mean"),
        (2, "weigh --vehicle plain.toml --typed FL=400,FL=400,RL=330,RR=310", "FL is given twice", "leave one of them out"),
        (2, "weigh --vehicle plain.toml --typed FL=400,FR=380,RL=330,RR=", "RR", "write"),
        (2, "weigh --vehicle plain.toml --typed FL=abc,FR=380,RL=330,RR=310", "FL", "abc"),
        (2, "weigh --vehicle plain.toml --typed FL=-400,FR=380,RL=330,RR=310", "FL", "minus sign"),
        (2, "weigh --vehicle plain.toml --typed FL=40-400,FR=380,RL=330,RR=310", "FL", "check what is subtracted"),
        (2, "weigh --vehicle plain.toml --typed FL=400,5,FR=380,RL=330,RR=310", "\"5\"", "decimal point"),
        (2, "weigh --vehicle plain.toml --typed FL=400mm,FR=380,RL=330,RR=310", "FL", "kg"),
        (2, "weigh --vehicle plain.toml --typed FL=400+,FR=380,RL=330,RR=310", "FL", "write"),
        (2, "weigh --vehicle plain.toml --typed FL=1e999,FR=380,RL=330,RR=310", "FL", "mass in kg"),
        (2, "weigh --vehicle plain.toml --typed FL=nan,FR=380,RL=330,RR=310", "FL", "write"),
        (2, "weigh --vehicle plain.toml --typed FL:400,FR:380,RL:330,RR:310", "--typed", "NAME=VALUE"),
        (2, "weigh --vehicle plain.toml --typed FL=400;FR=380;RL=330;RR=310", "FL", "comma"),
        (2, "weigh --vehicle three.toml --typed FL=400,FR=380,RL=330,RR=310", "FL", "front-left"),
        (2, "weigh --vehicle three.toml --typed front-left=90,front-right=85", "rear is missing", "add rear="),
        (2, "weigh --vehicle plain.toml --typed \u001b[31mFL=400", "is no corner", "use one of them"),

        // weigh: what is said of the scales.
        (2, Typed + " --u-corner x", "--u-corner", "\"x\""),
        (2, Typed + " --u-corner 0", "--u-corner", "leave it out"),
        (2, Typed + " --u-corner=-1", "--u-corner", "minus sign"),
        (2, Typed + " --u-corner 3mm", "--u-corner", "kg"),
        (2, Typed + " --u-corner EMPTY", "--u-corner", "write"),
        (2, Typed + " --resolution 0", "--resolution", "leave it out"),
        (2, Typed + " --resolution abc", "--resolution", "\"abc\""),
        (2, Typed + " --u-span x", "--u-span", "0.1%"),
        (2, Typed + " --u-span=-1", "--u-span", "minus sign"),
        (2, Typed + " --u-span 0,2", "--u-span", "decimal point"),
        (2, Typed + " --u-corner 1 --u-corner 2", "--u-corner", "--help"),

        // Vehicle files.
        (2, "weigh --vehicle nosuch.toml --typed FL=1", "nosuch.toml", "check the name"),
        (2, "weigh --vehicle . --typed FL=1", ".", "name the file inside it"),
        (2, "weigh --vehicle EMPTY --typed FL=1", "", "name"),
        (2, "weigh --vehicle binary.toml --typed FL=1", "binary.toml", ""),
        (2, "weigh --vehicle empty.toml --typed FL=1", "empty.toml", "add a line"),
        (2, "weigh --vehicle broken.toml --typed FL=1", "broken.toml:2", "write KEY = VALUE"),
        (2, "weigh --vehicle misspelt.toml --typed FL=1", "misspelt.toml:2: wheelbase_m:", "did you mean wheelbase_mm?"),
        (2, "weigh --vehicle short.toml --typed FL=1", "short.toml:2: wheelbase_mm:", "did you mean cm?"),
        (2, "weigh --vehicle quoted.toml --typed FL=1", "quoted.toml:2: wheelbase_mm:", "without quotes"),
        (2, "weigh --vehicle pads.toml --typed FL=1", "pads.toml:1: vehicle:", "use one of kind"),
        (2, "watch --port virtual --vehicle nosuch.toml", "nosuch.toml", "check the name"),
        (2, "watch --port virtual --vehicle broken.toml", "broken.toml:2", "write KEY = VALUE"),
        (2, "demo --vehicle nosuch.toml", "nosuch.toml", "check the name"),
        (2, "demo --vehicle misspelt.toml", "misspelt.toml:2: wheelbase_m:", "did you mean wheelbase_mm?"),
        (2, "demo --vehicle three.toml", "--vehicle", "a car or kart"),

        // Layout files.
        (2, Rig + " --layout nosuch.toml", "nosuch.toml", "check the name"),
        (2, Rig + " --layout broken-layout.toml", "broken-layout.toml:2: station.FL.cells:", "the cell's number"),
        (2, Rig + " --layout twice-layout.toml", "twice-layout.toml:4: station.FR.cells:", "name another cell"),
        (2, Rig + " --layout strange-layout.toml", "strange-layout.toml:1: station.XX:", "use one of them"),
        (2, Rig + " --layout round-layout.toml", "one dolly", "station"),
        (2, "watch --vehicle plain.toml --port virtual:pads.toml --layout round-layout.toml --save evening", "--save", "--method one-by-one"),
        (2, "weigh --vehicle three.toml --port virtual:pads.toml", "--layout", "[station.NAME]"),
        (3, Rig + " --layout other-layout.toml", "board B7", "correct the layout"),
        (3, "watch --vehicle plain.toml --port virtual:pads.toml --layout other-layout.toml", "board B7", "correct the layout"),

        // Windows, units, control lines.
        (2, Rig + " --seconds 2", "--seconds", "from 3 to 120"),
        (2, Rig + " --seconds 121", "--seconds", "from 3 to 120"),
        (2, Rig + " --seconds ten", "--seconds", "from 3 to 120"),
        (2, Rig + " --seconds=-5", "--seconds", "from 3 to 120"),
        (2, Rig + " --seconds EMPTY", "--seconds", "from 3 to 120"),
        (2, Rig + " --seconds 1e400", "--seconds", "from 3 to 120"),
        (2, "watch --port virtual --vehicle plain.toml --seconds 0", "--seconds", "correct it"),
        (2, "watch --port virtual --vehicle plain.toml --sound loud", "--sound", "choose one of the two"),
        (2, "watch --port virtual --vehicle plain.toml --save last", "--save", "choose another name"),
        (2, "serve --port virtual --vehicle plain.toml --page-port 70000", "--page-port", "choose a port"),
        (2, "serve --port virtual --vehicle plain.toml --page-port x", "--page-port", "--help"),
        (2, "serve --port virtual --vehicle plain.toml --sound loud", "--sound", "choose one of the two"),
        (2, "serve --port virtual --vehicle nosuch.toml", "nosuch.toml", "check the name"),
        (3, "serve --vehicle plain.toml --port /dev/no-such-port", "/dev/no-such-port", "check plug, cable"),
        (2, "watch --port virtual --vehicle plain.toml --unit stone", "--unit", "choose one of the three"),
        (2, "watch --port virtual --vehicle plain.toml --control-lines up", "--control-lines", "choose one of the three"),
        (2, "log --port virtual --out new.csv --seconds soon", "--seconds", "correct it"),
        (2, "log --port virtual --out new.csv --control-lines up", "--control-lines", "choose one of the three"),

        // Ports.
        (2, "weigh --vehicle plain.toml --port", "--port", "--help"),
        (2, "weigh --vehicle plain.toml --port EMPTY", "--port", "serial path"),
        (2, "weigh --vehicle plain.toml --port tcp:", "--port", "tcp:HOST:PORT"),
        (2, "weigh --vehicle plain.toml --port tcp:localhost", "--port", "tcp:localhost:4150"),
        (2, "weigh --vehicle plain.toml --port tcp:localhost:0", "--port", "tcp:localhost:4150"),
        (2, "weigh --vehicle plain.toml --port tcp:localhost:65536", "--port", "tcp:localhost:4150"),
        (2, "weigh --vehicle plain.toml --port tcp:localhost:x", "--port", "tcp:localhost:4150"),
        (2, "weigh --vehicle plain.toml --port tcp::4150", "--port", "tcp:localhost:4150"),
        (2, "weigh --vehicle plain.toml --port replay:", "--port", "replay:FILE.csv"),
        (2, "watch --vehicle plain.toml", "--port", "fourpatch ports"),
        (2, "log --out new.csv", "--port", "fourpatch ports"),
        (3, "weigh --vehicle plain.toml --port /dev/no-such-port", "/dev/no-such-port", "check plug, cable"),
        (3, "weigh --vehicle plain.toml --port folder", "folder", "check plug, cable"),
        (3, "watch --vehicle plain.toml --port /dev/no-such-port", "/dev/no-such-port", "check plug, cable"),
        (3, "log --port /dev/no-such-port --out new.csv", "/dev/no-such-port", "check plug, cable"),
        (3, "weigh --vehicle plain.toml --port tcp:127.0.0.1:1", "tcp:127.0.0.1:1", "check plug, cable"),
        (3, "log --port tcp:127.0.0.1:1 --out new.csv", "tcp:127.0.0.1:1", "check plug, cable"),
        (3, "watch --vehicle plain.toml --port tcp:no.such.host.invalid:4150", "no.such.host.invalid", "check plug, cable"),
        (3, "weigh --vehicle plain.toml --port tcp:" + LongHost + ":4150", "aaaa", "check plug, cable"),
        (3, "weigh --vehicle plain.toml --port virtual:silent.toml", "virtual", "check plug, cable"),
        (3, "weigh --vehicle plain.toml --port virtual:pads.toml#B9", "no board B9", "check plug, cable"),
        (2, Rig + " --port virtual:pads.toml", "--port", "leave one of the two out"),

        // Scenario files.
        (2, "weigh --vehicle plain.toml --port virtual:nosuch.toml", "nosuch.toml", "check the name"),
        (2, "weigh --vehicle plain.toml --port virtual:broken.toml", "broken.toml:2", "write KEY = VALUE"),
        (2, "weigh --vehicle plain.toml --port virtual:carless.toml", "nowhere.toml", "check the name"),
        (2, "watch --vehicle plain.toml --port virtual:misbuilt.toml", "misbuilt.toml:2: build:", "did you mean"),
        (2, "log --port virtual:nosuch.toml --out new.csv", "nosuch.toml", "check the name"),
        (2, "simulate --tcp 0 --scenario nosuch.toml", "nosuch.toml", "check the name"),
        (2, "simulate --tcp 0 --scenario misbuilt.toml", "misbuilt.toml:2: build:", "did you mean"),
        (2, "simulate --tcp 0 --scenario stiff.toml", "stiff.toml", "wheel_rate_n_per_mm"),
        (2, "weigh --vehicle plain.toml --port virtual:stiff.toml", "stiff.toml", "wheel_rate_n_per_mm"),

        // simulate.
        (2, "simulate", "neither --tcp nor --pty", "--tcp PORT"),
        (2, "simulate --tcp 0 --pty", "both --pty and --tcp", "--tcp PORT"),
        (2, "simulate --tcp x", "--tcp", "0 to 65535"),
        (2, "simulate --tcp 65536", "--tcp", "0 to 65535"),
        (2, "simulate --tcp=-1", "--tcp", "0 to 65535"),
        (2, "simulate --tcp", "--tcp", "--help"),
        (2, "simulate --tcp 65534 --scenario dollies.toml", "--tcp", "name a lower port"),
        (2, "simulate --tcp 0 --seed x", "--seed", "a whole number"),
        (2, "simulate --tcp 0 --seed=-1", "--seed", "a whole number"),
        (2, "simulate --tcp 0 --seed 99999999999999999999999", "--seed", "a whole number"),
        (2, "simulate --tcp 0 --fault stucked", "--fault", "did you mean stuck"),
        (2, "simulate --tcp 0 --fault stuck:5", "--fault", "a cell from 1 to 4"),
        (2, "simulate --tcp 0 --fault silence:2", "--fault", "leave the cell out"),
        (2, "simulate --tcp 0 --fault stuck@soon", "--fault", "behind @"),
        (2, "simulate --tcp 0 --fault stuck:B9:1", "B9", "there are B1"),
        (2, "simulate --tcp 0 --fault EMPTY", "--fault", "unplugged"),
        (2, "simulate --tcp 0 --scenario tipping.toml", "tipping.toml", "change the scenario"),
        (2, "simulate --pty --scenario tipping.toml", "tipping.toml", "change the scenario"),

        // log and demo: where they write.
        (2, "log --port virtual:pads.toml", "--out", "name one"),
        (2, "log --port virtual:pads.toml --out plain.toml", "plain.toml", "name another file"),
        (2, "log --port virtual:pads.toml --out nosuch/new.csv", "nosuch/new.csv", "name a folder"),
        (2, "log --port virtual:pads.toml --out folder", "folder", "name"),
        (2, "log --port virtual:pads.toml --out EMPTY", "--out", "name"),
        (2, "log --port virtual:pads.toml --out new.csv --rotate 50", "--rotate", "50MB"),
        (2, "log --port virtual:pads.toml --out new.csv --rotate 5kB", "--rotate", "name a larger size"),
        (2, "log --port virtual:pads.toml --out new.csv --rotate big", "--rotate", "write it like 50MB"),
        (2, "log --port virtual:pads.toml --out new.csv --rotate=-1MB", "--rotate", "above 0"),
        (2, "log --port virtual:pads.toml --out new.csv --rotate EMPTY", "--rotate", "write it like 50MB"),
        (2, "log summary", "FILE", "--help"),
        (2, "log sumary plain.toml", "sumary", "did you mean summary"),
        (2, "log summary nosuch.csv", "nosuch.csv", "check the name"),
        (2, "log summary folder", "folder", "name the file inside it"),
        (2, "log summary plain.toml", "plain.toml:1: this is no log", "name a file written by fourpatch log"),
        (2, "log summary empty.toml", "empty.toml:1: this is no log", "name a file written by fourpatch log"),
        (2, "log summary nosuch.csv --unit stone", "--unit", "choose one of the three"),
        (2, "log summary nosuch.csv --port virtual", "--port", "--help"),

        // Interviews: before the first question.
        (2, "vehicle", "vehicle", "--help"),
        (2, "vehicle old", "old", "--help"),
        (2, "vehicle new --unit stone", "--unit", "choose one of the three"),
        (2, "rig new --unit stone", "--unit", "choose one of the three"),
        (2, "rig new --vehicle nosuch.toml", "nosuch.toml", "check the name"),
        (2, "parts new", "--vehicle", "fourpatch vehicle new"),
        (2, "parts new --vehicle broken.toml", "broken.toml:2", "write KEY = VALUE"),
        (2, "parts new --vehicle plain.toml --unit stone", "--unit", "choose one of the three"),

        // What is remembered.
        (2, "ports --data EMPTY", "--data", "name one"),
        (2, "weigh --data", "--data", "--help"),
        (2, "demo --out .", ".", "--out DIR"),
        (2, "demo --out plain.toml", "plain.toml", "--out DIR"),
        (2, "demo --out plain.toml/deeper", "plain.toml", "--out DIR"),
        (2, "demo --out EMPTY", "--out", "name"),
        (2, "demo --seed x", "--seed", "a whole number"),
        (2, "demo --seed 1.5", "--seed", "a whole number"),
        (2, "demo --unit stone", "--unit", "choose one of the three"),
        (2, "demo --scenario pads.toml", "--scenario", "--help"),
        (2, "ports --port virtual", "--port", "--help"),
    ];

    public static TheoryData<int, string, string, string> Cases() => DataOf(All);

    /// <summary>Those of commands that answer in JSON too.</summary>
    public static TheoryData<int, string, string, string> CasesWithJson() =>
        DataOf(All.Where(one => one.CommandLine.Split(' ')[0] is "weigh" or "watch" or "log" or "demo" or "ports"
            && !EndsWithoutValue.Any(option => one.CommandLine.EndsWith(option, StringComparison.Ordinal))));

    public static void WriteFiles(Bench bench)
    {
        Cars.WriteTo(bench);
        Directory.CreateDirectory(Path.Combine(bench.Folder, "folder"));
        bench.Write("folder/inside.txt", "somebody's");
        bench.Write("empty.toml", "");
        bench.Write("binary.toml", "name = \"\u0000\u0001\uFFFD\"");
        bench.Write("broken.toml", "name = \"Plain\"\nwheelbase_mm = 2600 mm\n");
        bench.Write("misspelt.toml", Cars.Plain.Replace("wheelbase_mm", "wheelbase_m", StringComparison.Ordinal));
        bench.Write("short.toml", Cars.Plain.Replace("2600", "260", StringComparison.Ordinal));
        bench.Write("quoted.toml", Cars.Plain.Replace("2600", "\"2600\"", StringComparison.Ordinal));
        bench.Write("pads-layout.toml", Pads("B1:1", "B1:2", "B1:3", "B1:4"));
        bench.Write("broken-layout.toml", Pads("B1:5", "B1:2", "B1:3", "B1:4"));
        bench.Write("twice-layout.toml", Pads("B1:1", "B1:1", "B1:3", "B1:4"));
        bench.Write("strange-layout.toml", "[station.XX]\ncells = [\"B1:1\"]\n");
        bench.Write("other-layout.toml", Pads("B7:1", "B7:2", "B7:3", "B7:4"));
        bench.Write("round-layout.toml", "[dolly.one]\ncells = [\"B1:1\", \"B1:2\", \"B1:3\", \"B1:4\"]\n");
        bench.Write("silent.toml", Cars.Pads + "\n[[fault]]\nname = \"silence\"\n");
        bench.Write("carless.toml", Cars.Pads.Replace("plain.toml", "nowhere.toml", StringComparison.Ordinal));
        bench.Write("misbuilt.toml", Cars.Pads.Replace("\"pads\"", "\"padz\"", StringComparison.Ordinal));
        bench.Write("stiff.toml", "vehicle = \"plain.toml\"\nbuild = \"pads\"\n[car]\nmass_kg = 500\ncg_behind_front_axle_mm = 1200\n");
        bench.Write("tipping.toml", "vehicle = \"sprung.toml\"\nbuild = \"pads\"\n[car]\nmass_kg = 500\ncg_behind_front_axle_mm = 3200\n");
        bench.Write("sprung.toml", Cars.Plain + "\n[wheel_rate_n_per_mm]\nfront = 25\nrear = 28\n");
        bench.Write("dollies.toml", "vehicle = \"sprung.toml\"\nbuild = \"four-dollies\"\n[car]\nmass_kg = 500\ncg_behind_front_axle_mm = 1200\n");
    }

    private static TheoryData<int, string, string, string> DataOf(IEnumerable<(int ExitCode, string CommandLine, string Place, string Remedy)> cases)
    {
        var data = new TheoryData<int, string, string, string>();
        foreach ((int exitCode, string commandLine, string place, string remedy) in cases)
        {
            data.Add(exitCode, commandLine, place, remedy);
        }

        return data;
    }

    private static string Pads(params string[] cells) =>
        string.Concat(new[] { "FL", "FR", "RL", "RR" }.Zip(cells, (name, cell) => $"[station.{name}]\ncells = [\"{cell}\"]\n"));
}
