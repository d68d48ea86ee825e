using System.CommandLine;
using System.Reflection;
using System.Security.Cryptography;
using Fourpatch.Commands;
using Fourpatch.VirtualRig;
using Xunit.Abstractions;

namespace Fourpatch.Tests.Commands;

/// <summary>
/// Every option of every command, found by walking the program's own tree, with every wrong value a table can list: one line on the error
/// output, exit code 2 (3 where the port is not there), nothing else said, nothing written.
/// </summary>
[Collection(KeepsTime.Name)]
public class EveryOptionTests(ITestOutputHelper output)
{
    // Long enough for any refusal; what runs on had nothing to refuse.
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(20);

    // Wrong for any option that takes a number, a unit, a choice, a file or a list.
    private static readonly string[] Wrong =
        ["", "nan", "1e308", "-1e308", "zzz", "-", ",", "=", "FL=", "FL=1,FL=1", "1e999", "\u0007", "folder", "binary.toml", "nosuch/deeper/file", "plain.toml/inside", "/proc/x.svg"];

    // What a person may say freely, and what takes a folder or file that is yet to be: there some of these are right.
    private static readonly string[] Free =
        ["--note", "--save", "--condition", "--keep-because", "--name", "--reason", "--data", "--out", "--car", "--for", "--because"];

    // They ask, or go on until they are stopped: a wrong value is refused before, but a right one never ends.
    private static readonly string[] Skipped = ["--help", "-h", "-?", "/h", "/?", "--version"];

    [Fact]
    public async Task Every_option_of_every_command_refuses_what_is_wrong_in_one_line_and_writes_nothing()
    {
        using var bench = new Bench(clock: new FastClock(TimeProvider.System, 40));
        BadInput.WriteFiles(bench);
        Dictionary<string, string> before = Contents(bench.Folder);
        var faults = new List<string>();
        int cases = 0, accepted = 0;
        foreach ((Command command, string path) in Commands(Root(bench), ""))
        {
            foreach (Option option in command.Options.Where(option => !Skipped.Contains(option.Name)))
            {
                foreach (string[] words in Cases(option))
                {
                    string[] args = [.. path.Split(' ', StringSplitOptions.RemoveEmptyEntries), .. Base(path, option.Name), .. words];
                    cases++;
                    Running running = bench.Start(args);
                    using var patience = new CancellationTokenSource(Patience);
                    using var stopping = patience.Token.Register(running.Stop);
                    Outcome outcome = await running.EndAsync();
                    string said = string.Join(' ', args.Select(arg => arg.Length == 0 ? "EMPTY" : arg));
                    bool mustRefuse = words.Length == 1 || words.Length > 2;
                    if (!mustRefuse && outcome.ExitCode is 0 or 1)
                    {
                        accepted++;
                        bool isFault = outcome.Errors.Contains("fault of this program", StringComparison.Ordinal);
                        if (isFault || patience.IsCancellationRequested || !Free.Contains(option.Name)) faults.Add($"taken ({outcome.ExitCode}): {said}: {outcome.Errors.Trim()}");
                        continue;
                    }

                    bool isRight = outcome.ExitCode is 2 or 3 && outcome.Out.Length == 0 && outcome.Errors.EndsWith('\n') && outcome.ErrorLines is [var line]
                        && !line.Any(char.IsControl) && !line.Contains("fault of this program", StringComparison.Ordinal);
                    if (!isRight) faults.Add($"exit {outcome.ExitCode}: {said}: {outcome.Errors.Trim()} | {outcome.Out.Trim()}");
                }
            }

            Dictionary<string, string> after = Contents(bench.Folder);
            if (!before.SequenceEqual(after)) faults.Add($"{path}: changed {string.Join(", ", after.Where(pair => before.GetValueOrDefault(pair.Key) != pair.Value).Select(pair => pair.Key))}");
            before = after;
        }

        output.WriteLine($"{cases} cases, {accepted} of them taken as right");
        Assert.True(cases >= 400, $"{cases} cases");
        Assert.True(faults.Count == 0, string.Join('\n', faults.Prepend($"{faults.Count} of {cases}:")));
    }

    // No value, twice, and one value of each kind that is wrong.
    private static IEnumerable<string[]> Cases(Option option)
    {
        if (option.ValueType == typeof(bool))
        {
            yield return [option.Name + "=maybe"];
            yield break;
        }

        if (option.Arity.MinimumNumberOfValues > 0)
        {
            yield return [option.Name];
        }

        if (option.Arity.MaximumNumberOfValues == 1)
        {
            yield return [option.Name, "1", option.Name, "2"];
        }

        foreach (string value in Wrong)
        {
            yield return [option.Name, value];
        }
    }

    // What else the command needs, so that the option is what is wrong; never the option itself.
    private static IEnumerable<string> Base(string path, string option)
    {
        string words = path switch
        {
            "weigh" => "--vehicle plain.toml --typed FL=400,FR=380,RL=330,RR=310",
            "place" or "perch" or "plan" or "explain" => "--vehicle plain.toml",
            "lever" => "--reading 106 --wheel-to-block 200 --scale-to-block 600",
            "choose" => "--mass 700 --front 46%",
            "floor" => "--vehicle plain.toml --below-laser FL=842,FR=850,RL=868,RR=866",
            "cgheight" => "--vehicle plain.toml",
            _ => "",
        };
        string[] all = words.Split(' ', StringSplitOptions.RemoveEmptyEntries);
        for (int i = 0; i + 1 < all.Length; i += 2)
        {
            if (all[i] != option)
            {
                yield return all[i];
                yield return all[i + 1];
            }
        }
    }

    private static IEnumerable<(Command Command, string Path)> Commands(Command at, string path)
    {
        if (at.Action is not null && path.Length > 0)
        {
            yield return (at, path);
        }

        foreach (Command below in at.Subcommands)
        {
            foreach ((Command, string) found in Commands(below, $"{path} {below.Name}".TrimStart()))
            {
                yield return found;
            }
        }
    }

    private static RootCommand Root(Bench bench)
    {
        MethodInfo build = typeof(Cli).GetMethod("BuildRoot", BindingFlags.NonPublic | BindingFlags.Static)!;
        return (RootCommand)build.Invoke(null, [bench.Context()])!;
    }

    private static Dictionary<string, string> Contents(string folder) =>
        Directory.EnumerateFileSystemEntries(folder, "*", SearchOption.AllDirectories).Order(StringComparer.Ordinal).ToDictionary(
            path => path,
            path => File.Exists(path) ? Convert.ToHexString(SHA256.HashData(File.ReadAllBytes(path))) : "");
}
