using System.Text.RegularExpressions;

namespace Fourpatch.Tests;

/// <summary>The rooms of the project: which may know which, and what every file keeps to. DEVELOPERS.md has the drawing.</summary>
public partial class ArchitectureTests
{
    // Each room of the host with all it may know of the host. Nothing else of the project is needed to read it.
    private static readonly Dictionary<string, string[]> MayKnow = new()
    {
        ["Uncertainty"] = [],
        ["Vehicles"] = ["Uncertainty"],
        ["Planning"] = ["Vehicles", "Uncertainty"],
        ["Links"] = [],
        ["Rigs"] = ["Links", "Uncertainty"],
        ["VirtualRig"] = ["Links", "Rigs", "Vehicles"],
        ["Calibrating"] = ["Links", "Rigs", "Vehicles", "Uncertainty"],
        ["Weighing"] = ["Links", "Rigs", "Vehicles", "Uncertainty"],
        ["Records"] = ["Files", "Weighing", "Calibrating", "Rigs", "Vehicles", "Uncertainty", "Planning"],
        ["Files"] = ["Weighing", "Calibrating", "Planning", "VirtualRig", "Rigs", "Links", "Vehicles", "Uncertainty"],
        ["Reports"] = ["Files", "Records", "Weighing", "Calibrating", "Planning", "Rigs", "Links", "Vehicles", "Uncertainty"],
        ["Commands"] = ["Reports", "Files", "Records", "Weighing", "Calibrating", "Planning", "VirtualRig", "Rigs", "Links", "Vehicles", "Uncertainty"],
        ["Web"] = ["Commands", "Reports", "Files", "Records", "Weighing", "Calibrating", "Planning", "VirtualRig", "Rigs", "Links", "Vehicles", "Uncertainty"],
    };

    // Rooms that are mathematics alone: no file, no screen, no clock, no rig.
    private static readonly string[] Pure = ["Uncertainty", "Vehicles", "Planning"];

    [Fact]
    public void Every_room_of_the_host_knows_only_rooms_below_it()
    {
        string[] complaints = [.. Sources("host").Where(source => source.Room.Length > 0).SelectMany(source =>
            KnownRooms(source.Text).Where(room => room != source.Room && !MayKnow[source.Room].Contains(room))
                .Select(room => $"{source.Path} knows {room}"))];
        Assert.Empty(complaints);
    }

    [Fact]
    public void The_folders_inside_a_room_make_no_circle()
    {
        // Cli puts the whole program together and may know every folder of the commands.
        ILookup<string, string> known = Sources("host").Where(source => source.Path != "host/Commands/Cli.cs")
            .Where(source => source.Room.Length > 0).Select(source => (Name: NamespaceOf("Fourpatch", source.Path["host/".Length..]), source.Text))
            .SelectMany(source => Usings().Matches(source.Text).Select(match => match.Groups[1].Value)
                .Append(source.Name[..source.Name.LastIndexOf('.')]).Where(to => to.Contains('.', StringComparison.Ordinal)) // what is around it, it knows without asking
                .Select(to => (From: source.Name, To: to)))
            .Where(arrow => arrow.From != arrow.To).Distinct().ToLookup(arrow => arrow.From, arrow => arrow.To);
        Assert.Contains("Fourpatch.Weighing", known["Fourpatch.Weighing.Raised"]);
        Assert.DoesNotContain(known.Select(from => from.Key), start => Reached(start).Contains(start));

        HashSet<string> Reached(string start)
        {
            var reached = new HashSet<string>();
            var open = new Stack<string>(known[start]);
            while (open.TryPop(out string? next))
            {
                if (reached.Add(next))
                {
                    foreach (string further in known[next])
                    {
                        open.Push(further);
                    }
                }
            }

            return reached;
        }
    }

    [Fact]
    public void The_rooms_are_those_named_here_and_each_file_says_the_namespace_of_its_folder()
    {
        Assert.DoesNotContain(Sources("host").Select(source => source.Room), room => room.Length > 0 && !MayKnow.ContainsKey(room));
        string[] complaints =
        [
            .. new[] { ("host", "Fourpatch"), ("shared-core", "Fourpatch.Core"), ("firmware", "Fourpatch.Firmware") }
                .SelectMany(root => Sources(root.Item1).Select(source => (source.Path, Expected: NamespaceOf(root.Item2, source.Path[(root.Item1.Length + 1)..]), Found: NamespaceLine().Match(source.Text))))
                .Where(source => source.Found.Success && source.Found.Groups[1].Value != source.Expected)
                .Select(source => $"{source.Path} says {source.Found.Groups[1].Value}, expected {source.Expected}"),
        ];
        Assert.Empty(complaints);
    }

    [Fact]
    public void The_shared_core_and_the_firmware_know_nothing_of_the_host()
    {
        Assert.Empty(Sources("shared-core").SelectMany(source => KnownRooms(source.Text).Select(room => $"{source.Path} knows {room}")));
        Assert.Empty(Sources("firmware").SelectMany(source => KnownRooms(source.Text).Where(room => room != "Firmware").Select(room => $"{source.Path} knows {room}")));
        foreach (string project in Directory.EnumerateFiles(Repository.PathOf("shared-core"), "*.*proj", SearchOption.TopDirectoryOnly))
        {
            Assert.DoesNotContain("fourpatch.csproj", File.ReadAllText(project), StringComparison.Ordinal);
        }
    }

    [Fact]
    public void Mathematics_touches_no_file_screen_clock_or_chance_of_its_own()
    {
        string[] complaints = [.. Sources("host").Where(source => Pure.Contains(source.Room))
            .SelectMany(source => Outside().Matches(source.Text).Select(match => $"{source.Path}: {match.Value}"))];
        Assert.Empty(complaints);
    }

    [Fact]
    public void Time_is_passed_in()
    {
        string[] complaints = [.. Sources("host").Concat(Sources("shared-core")).Where(source => source.Path != "host/Program.cs")
            .SelectMany(source => OwnTime().Matches(source.Text).Select(match => $"{source.Path}: {match.Value}"))];
        Assert.Empty(complaints);
    }

    [Fact]
    public void No_source_file_is_longer_than_four_hundred_lines()
    {
        string[] complaints = [.. new[] { "host", "shared-core", "firmware" }.SelectMany(Sources)
            .Select(source => (source.Path, Lines: source.Text.Count(letter => letter == '\n'))).Where(source => source.Lines > 400).Select(source => $"{source.Path}: {source.Lines} lines")];
        Assert.Empty(complaints);
    }

    [Fact]
    public void No_room_is_a_bin_for_odds_and_ends() =>
        Assert.Empty(new[] { "host", "shared-core", "firmware" }.SelectMany(Sources).Where(source => OddsAndEnds().IsMatch(source.Path)).Select(source => source.Path));

    [Fact]
    public void No_file_names_a_machine_it_was_written_on_or_where_packages_come_from()
    {
        string[] complaints = [.. TextFiles().SelectMany(path => Places().Matches(File.ReadAllText(path)).Select(match => $"{path}: {match.Value}"))];
        Assert.Empty(complaints);
    }

    [Theory]
    [InlineData("using Fourpatch.Rigs;", "Rigs")]
    [InlineData("    Fourpatch.Files.Typed.Mass(x)", "Files")]
    [InlineData("using static Fourpatch.Weighing.Acceptance;", "Weighing")]
    [InlineData("/// <see cref=\"Fourpatch.Commands.Cli\"/>", null)]
    [InlineData("// as Fourpatch.Rigs does", null)]
    [InlineData("using Fourpatch.Core.Wire;", null)]
    [InlineData("namespace Fourpatch.Links;", null)]
    public void What_is_looked_for_is_found(string line, string? room) => Assert.Equal(room is null ? [] : [room], KnownRooms(line + "\n"));

    private static string[] KnownRooms(string text) =>
        [.. RoomNames().Matches(Comment().Replace(text, "")).Select(match => match.Groups[1].Value).Where(room => room != "Core").Distinct()];

    private static IEnumerable<(string Path, string Room, string Text)> Sources(string root)
    {
        string folder = Repository.PathOf(root);
        return Directory.Exists(folder)
            ? Directory.EnumerateFiles(folder, "*.cs", SearchOption.AllDirectories).Select(path => Path.GetRelativePath(Repository.Root, path).Replace('\\', '/'))
                .Where(path => !Built().IsMatch(path)).Order(StringComparer.Ordinal)
                .Select(path => (path, Room: path[(root.Length + 1)..].Split('/') is [var room, _, ..] ? room : "", File.ReadAllText(Repository.PathOf(path))))
            : [];
    }

    private static string NamespaceOf(string root, string path) => string.Join('.', [root, .. path.Split('/')[..^1]]);

    private static IEnumerable<string> TextFiles() => Directory.EnumerateFiles(Repository.Root, "*", SearchOption.AllDirectories)
        .Where(path => TextFile().IsMatch(path) && !Built().IsMatch(Path.GetRelativePath(Repository.Root, path).Replace('\\', '/')) && Path.GetFileName(path) != "ArchitectureTests.cs");

    [GeneratedRegex(@"(?<!namespace )\bFourpatch\.([A-Z]\w*)")]
    private static partial Regex RoomNames();

    [GeneratedRegex(@"^using (?:static )?(Fourpatch\.[\w.]+);", RegexOptions.Multiline)]
    private static partial Regex Usings();

    [GeneratedRegex(@"//[^\n]*")]
    private static partial Regex Comment();

    [GeneratedRegex(@"^namespace ([\w.]+)", RegexOptions.Multiline)]
    private static partial Regex NamespaceLine();

    [GeneratedRegex(@"\b(System\.IO|Console|File|Directory|Stream\w*|TimeProvider|DateTime\w*|Stopwatch|Environment|new Random\(\)|Random\.Shared|Thread|Task)\b[.(;]")]
    private static partial Regex Outside();

    [GeneratedRegex(@"\b(DateTime(Offset)?\.(Utc)?Now|Stopwatch\.|Environment\.TickCount|Thread\.Sleep|Random\.Shared|new Random\(\))")]
    private static partial Regex OwnTime();

    [GeneratedRegex(@"(Util|Utils|Utilities|Helper|Helpers|Misc|Common)(\.cs|/)")]
    private static partial Regex OddsAndEnds();

    [GeneratedRegex(@"(^|/)(bin|obj|\.git|TestResults|node_modules)/")]
    private static partial Regex Built();

    [GeneratedRegex(@"\.(cs|csproj|nfproj|props|targets|sln|md|toml|json|yml|sh|txt|editorconfig|gitignore)$|/\.ci/")]
    private static partial Regex TextFile();

    [GeneratedRegex(@"(?<![\w/])/(work|root|home|Users)/[\w.-]+|[A-Z]:\\Users|nuget\.org|npmjs\.(org|com)|pypi\.org|proxy\.golang")]
    private static partial Regex Places();
}
