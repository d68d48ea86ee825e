using System.CommandLine;
using System.Reflection;
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
    private static readonly bool IsFull = Environment.GetEnvironmentVariable("PROOF") == "full";

    // Long enough for any refusal; what runs on had nothing to refuse.
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(20);

    // Wrong for any option that takes a number, a unit, a choice, a file or a list.
    private static readonly string[] Wrong =
        ["", "nan", "1e308", "-1e308", "zzz", "-", ",", "=", "FL=", "FL=1,FL=1", "1e999", "\u0007", "folder", "binary.toml", "nosuch/deeper/file", "plain.toml/inside", "/proc/x.svg"];

    // What a person may say freely, and what takes a folder or file that is yet to be: there some of these are right.
    private static readonly string[] Free =
        ["--note", "--save", "--condition", "--keep-because", "--data", "--out", "--car", "--print", "--svg", "--html", "--plot"];

    private static readonly string[] Skipped = ["--help", "-h", "-?", "/h", "/?", "--version"];

    // One asks for the plug to be pulled before it looks for the port, the other tells what it found there, also when that is nothing.
    private static readonly string[] NeedNoPort = ["bringup", "guide"];

    [Fact]
    public async Task Every_option_of_every_command_refuses_what_is_wrong_in_one_line_and_writes_nothing()
    {
        // Little faster than the wall: what is taken as right runs its whole job, with its deadlines.
        using var bench = new Bench(clock: new FastClock(TimeProvider.System, 2));
        BadInput.WriteFiles(bench);
        bench.Write("parts.csv", "item,action,mass_kg,behind_front_axle_mm,left_of_centre_mm\nengine,fit,78.5,1720,0\nbattery,movable,12,900,100\n");
        Dictionary<string, string> before = bench.Contents();
        var faults = new List<string>();
        int cases = 0, accepted = 0, number = 0;
        foreach ((Command command, string path) in Commands(Root(bench), ""))
        {
            foreach (Option option in command.Options.Where(option => !Skipped.Contains(option.Name)))
            {
                // Every option meets its share of the wrong values, and all of them in the long form.
                number++;
                foreach (string[] words in Cases(option).Where((words, i) => IsFull || words.Length != 2 || (i + number) % 6 == 0))
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
                        if (isFault || patience.IsCancellationRequested || !(Free.Contains(option.Name) || (NeedNoPort.Contains(path) && option.Name == "--port"))) faults.Add($"taken ({outcome.ExitCode}): {said}: {outcome.Errors.Trim()}");
                        continue;
                    }

                    bool isRight = outcome.ExitCode is 2 or 3 && outcome.Out.Length == 0 && outcome.Errors.EndsWith('\n') && outcome.ErrorLines is [var line]
                        && !line.Any(char.IsControl) && !line.Contains("fault of this program", StringComparison.Ordinal);
                    if (!isRight) faults.Add($"exit {outcome.ExitCode}: {said}: {outcome.Errors.Trim()} | {outcome.Out.Trim()}");
                }
            }

            // What is not yet there may be made where a file or folder may be named freely; what was there stays as it was.
            Dictionary<string, string> after = bench.Contents();
            string[] touched = [.. before.Where(pair => after.GetValueOrDefault(pair.Key) != pair.Value).Select(pair => pair.Key)];
            bool mayMake = command.Options.Any(option => Free.Contains(option.Name));
            if (touched.Length > 0 || (!mayMake && after.Count > before.Count)) faults.Add($"{path}: changed {string.Join(", ", touched)}, {after.Count - before.Count} new");
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

        // A file that is there may be written over where a person names it: not in this folder.
        foreach (string value in Wrong.Where(value => !Free.Contains(option.Name) || value != "binary.toml"))
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
            "plan" => "--vehicle plain.toml --corners FL=69.4,FR=65.2,RL=59.8,RR=61.0 --parts parts.csv",
            "place" => "--vehicle plain.toml --corners FL=69.4,FR=65.2,RL=59.8,RR=61.0 --parts parts.csv --target-front 47%",
            "perch" => "--vehicle sprung.toml --corners FL=69.4,FR=65.2,RL=59.8,RR=61.0 --target-cross 50%",
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
}
