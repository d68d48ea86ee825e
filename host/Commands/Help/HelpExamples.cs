namespace Fourpatch.Commands.Help;

/// <summary>A command line ready to type, and what it is good for.</summary>
/// <param name="Line">With the program's name; <c>P</c> stands for a port.</param>
/// <param name="Does">In a few words.</param>
internal sealed record HelpExample(string Line, string Does);

/// <summary>
/// The examples of every command: the one place they are written, for help, manual page and reference. The tests run all of them, in a folder
/// with car.toml, parts.csv, the logs, readings and records that they name.
/// </summary>
internal static class HelpExamples
{
    private const string Loads = "--corners FL=69.4,FR=65.2,RL=59.8,RR=61.0";

    private static readonly Dictionary<string, HelpExample[]> All = new()
    {
        [""] =
        [
            new("fourpatch guide", "where you stand, and the one next command"),
            new("fourpatch demo", "the whole job on a rig that is not there"),
            new("fourpatch help weighing", "a short text; 'fourpatch help' lists the others"),
        ],
        ["guide"] = [new("fourpatch guide", "looks at the ports, too"), new("fourpatch guide --port P", "looks at this one only")],
        ["help"] = [new("fourpatch help calibrating", "a short text"), new("fourpatch help cal cell", "the help of a command")],
        ["demo"] = [new("fourpatch demo", "an invented car called Wren"), new("fourpatch demo --vehicle car.toml --out evening", "your own car")],
        ["vehicle"] = [new("fourpatch vehicle new", "answer questions; the file is written at the end")],
        ["vehicle new"] = [new("fourpatch vehicle new", "seven questions are enough to weigh"), new("fourpatch vehicle new --out car.toml --unit lb", "lengths and masses in any unit")],
        ["rig"] = [new("fourpatch rig new", "answer questions; the file is written at the end")],
        ["rig new"] = [new("fourpatch rig new", "nothing needs to be connected"), new("fourpatch rig new --port P --out rig.toml", "press on each place, and it knows its cell")],
        ["parts"] = [new("fourpatch parts new", "answer questions; the list is written at the end")],
        ["parts new"] = [new("fourpatch parts new --vehicle car.toml", "a new list"), new("fourpatch parts new --out parts.csv", "goes on with a list")],
        ["choose"] =
        [
            new("fourpatch choose --mass 700 --front 46%", "which cells to buy, for every build"),
            new("fourpatch choose --mass 900 --front 54% --build lever --lever-factor 3", "small cells under beams"),
        ],
        ["lever"] =
        [
            new("fourpatch lever --corner 365 --capacity 150 --wheel-to-block 200 --scale-to-block 600", "whether the scale is large enough"),
            new("fourpatch lever --reading 106 --wheel-to-block 200 --scale-to-block 600 --beam-kg 12", "what the wheel carries"),
        ],
        ["floor"] =
        [
            new("fourpatch floor --vehicle car.toml --below-laser FL=842,FR=850,RL=868,RR=866", "slope, twist and what they do"),
            new("fourpatch floor --above-line FL=3,FR=0,RL=5,RR=4 --by hose --shims 1.5,3,6 --save garage", "shims on hand; kept as a place"),
        ],
        ["cgheight"] =
        [
            new("fourpatch cgheight --vehicle car.toml --lift front --known-total 438", "leads two people through it"),
            new("fourpatch cgheight --lift front --known-total 438 --from lift.csv", "stored readings"),
        ],
        ["ports"] = [new("fourpatch ports", "every serial port, and who answers there")],
        ["bringup"] = [new("fourpatch bringup --port P", "all four cells, one after the other"), new("fourpatch bringup --port P --cell 2", "one of them")],
        ["check"] = [new("fourpatch check --port P --seconds 60", "nothing on the pads"), new("fourpatch check --port P --cells 1,2", "only two cells are fitted")],
        ["zero"] = [new("fourpatch zero --port P", "nothing on the pads")],
        ["name"] = [new("fourpatch name B2 --port P", "one board connected"), new("fourpatch name left --cell 1 --port P", "one of its cells")],
        ["cal"] = [new("fourpatch cal show --port P", "what the board holds"), new("fourpatch help calibrating", "which way is for you")],
        ["cal show"] = [new("fourpatch cal show --port P", "what the board holds")],
        ["cal cell"] =
        [
            new("fourpatch cal cell 1 --port P --mass shop:60 --capacity 300", "a mass weighed on a shop scale"),
            new("fourpatch cal cell 1 --from cell1.csv", "stored readings, no rig"),
        ],
        ["cal platform"] =
        [
            new("fourpatch cal platform --port P --mass shop:80", "the four cells of a dolly, in place"),
            new("fourpatch cal platform --from spots.csv", "stored readings, no rig"),
        ],
        ["cal rotate"] =
        [
            new("fourpatch cal rotate --port P --vehicle car.toml", "no known mass at all"),
            new("fourpatch cal rotate --from turns.csv --vehicle car.toml --known-total 487", "stored readings, no rig"),
        ],
        ["cal verify"] =
        [
            new("fourpatch cal verify --port P --mass shop:20 --history looks.csv", "is every cell still what it was?"),
            new("fourpatch cal verify --from looks.csv", "the history alone"),
        ],
        ["cal export"] = [new("fourpatch cal export --port P --out backup.toml", "before the board is flashed anew")],
        ["cal import"] = [new("fourpatch cal import --port P --from backup.toml", "shows what changes, and asks")],
        ["log"] = [new("fourpatch log --port P --out evening.csv --seconds 30", "half a minute"), new("fourpatch log summary evening.csv", "what it holds")],
        ["log summary"] =
        [
            new("fourpatch log summary evening.csv", "mean, spread, drift, faults and gaps"),
            new("fourpatch log summary evening.csv --show noise --cell B1:2 --plot noise.svg", "a picture of one cell"),
        ],
        ["weigh"] =
        [
            new("fourpatch weigh --typed FL=400,FR=380,RL=330,RR=310 --vehicle car.toml", "loads read off any four scales"),
            new("fourpatch weigh --port P --vehicle car.toml --save before", "four pads; kept under a name"),
            new("fourpatch weigh --method one-by-one --port P", "one dolly going round; leads you"),
            new("fourpatch weigh --port virtual --vehicle car.toml --budget", "no rig; every cause of doubt"),
        ],
        ["watch"] = [new("fourpatch watch --port P --vehicle car.toml", "space takes, q ends"), new("fourpatch watch --port virtual --vehicle car.toml --seconds 10", "no rig")],
        ["serve"] = [new("fourpatch serve --port P --vehicle car.toml", "a page on this computer"), new("fourpatch serve --port P --lan", "and for the phone: scan the code")],
        ["part"] = [new("fourpatch part weigh radiator --parts parts.csv --port P --on FL", "a part on a pad")],
        ["part weigh"] =
        [
            new("fourpatch part weigh radiator --parts parts.csv --port P --on FL", "on a pad"),
            new("fourpatch part weigh exhaust --parts parts.csv --port P --on FL,FR --apart 900", "a long part on two"),
            new("fourpatch part weigh radiator --parts parts.csv --reading 6.9 --resolution 0.1", "on any scale"),
        ],
        ["part fit"] =
        [
            new("fourpatch part fit radiator --parts parts.csv", "from now on it is in the car"),
            new("fourpatch part fit radiator --parts parts.csv --before before --after last", "was the prediction right?"),
        ],
        ["plan"] =
        [
            new($"fourpatch plan --vehicle car.toml {Loads} --parts parts.csv", "loads typed"),
            new("fourpatch plan --record last --parts parts.csv --sweep fuel=0..14 --svg walk.svg", "a kept weighing; a tank; a picture"),
        ],
        ["place"] = [new("fourpatch place --record last --parts parts.csv --target-front 46%", "where parts must sit, how much ballast")],
        ["perch"] =
        [
            new($"fourpatch perch --vehicle car.toml {Loads} --target-cross 50%", "how far to turn which seat"),
            new("fourpatch perch --record last --target-cross 50% --repeat", "turn, weigh, and again"),
        ],
        ["job"] = [new("fourpatch job", "done, open, next"), new("fourpatch job --print sheet.html --paper letter", "a worksheet for pencil")],
        ["records"] = [new("fourpatch records list", "what is kept"), new("fourpatch records compare before after", "what changed")],
        ["records list"] = [new("fourpatch records list --car Wren --newest 10", "one car"), new("fourpatch records list --kind floor", "one kind")],
        ["records show"] = [new("fourpatch records show last", "the newest weighing, computed again")],
        ["records compare"] = [new("fourpatch records compare before after", "each difference with how sure it is")],
        ["records export"] = [new("fourpatch records export --out table.csv", "for a spreadsheet"), new("fourpatch records export before after --out taken", "all they hold, in a folder")],
        ["records import"] = [new("fourpatch records import taken", "a folder that was exported")],
        ["records delete"] = [new("fourpatch records delete before --yes", "without asking")],
        ["records backup"] = [new("fourpatch records backup --out records.bak", "everything in one file, checked")],
        ["report"] = [new("fourpatch report last --out wren.html", "a page to read and print"), new("fourpatch report last --text", "a few lines to paste")],
        ["explain"] =
        [
            new("fourpatch explain last --floor garage", "how much of it is the floor"),
            new("fourpatch explain last --tyres FL=1646,FR=1648,RL=1734,RR=1732", "and the tyres' sizes"),
        ],
        ["simulate"] =
        [
            new("fourpatch simulate --tcp 4150", "then --port tcp:localhost:4150 in another terminal"),
            new("fourpatch simulate --tcp 4150 --fault unplugged:2@20", "cell 2 loses its plug after 20 s"),
        ],
        ["completion"] = [new("fourpatch completion bash", "prints a script: 'fourpatch completion --help' says where it goes")],
    };

    /// <summary>The examples of one command.</summary>
    /// <param name="words">Its words without the program's name.</param>
    public static IReadOnlyList<HelpExample> Of(string words) => All.TryGetValue(words, out HelpExample[]? examples) ? examples : [];
}
