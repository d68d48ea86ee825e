using System.CommandLine;
using System.CommandLine.Help;

namespace Fourpatch.Commands.Help;

/// <summary>A term and what is to be said of it: an option, an argument, a command.</summary>
internal sealed record HelpEntry(string Term, string Text);

/// <summary>Entries under one heading.</summary>
internal sealed record HelpSection(string Title, IReadOnlyList<HelpEntry> Entries);

/// <summary>
/// All there is to say about one command, taken from the command itself, its group and its examples. <c>--help</c>, the manual page and the
/// reference are three ways to write it.
/// </summary>
/// <param name="Words">The command's words without the program's name; empty for the program itself.</param>
/// <param name="Description">Paragraphs; the first is the line that lists show.</param>
/// <param name="Usage">How it is typed.</param>
/// <param name="Sections">Arguments, options, commands.</param>
/// <param name="Examples">Ready to type.</param>
internal sealed record HelpPage(string Words, IReadOnlyList<string> Description, string Usage, IReadOnlyList<HelpSection> Sections, IReadOnlyList<HelpExample> Examples)
{
    /// <summary>The program's name.</summary>
    public const string Program = "fourpatch";

    private const string ProgramOnly = "--version";

    /// <summary>The command with the program's name.</summary>
    public string Name => Words.Length == 0 ? Program : $"{Program} {Words}";

    /// <summary>Whether <c>P</c> stands for a port in an example.</summary>
    public bool NamesAPort => Examples.Any(example => example.Line.Split(' ').Contains("P"));

    /// <summary>The page of a command.</summary>
    public static HelpPage Of(Command command)
    {
        string words = WordsOf(command);
        var sections = new List<HelpSection>();
        Add("Arguments", command.Arguments.Where(one => !one.Hidden).Select(one => new HelpEntry(ArgumentTerm(one), one.Description ?? "")));
        Command[] subs = [.. command.Subcommands.Where(one => !one.Hidden)];
        if (command is RootCommand)
        {
            // A newcomer looks for a command first.
            foreach (CommandGroup group in CommandGroup.All)
            {
                Add(group.Title, group.Commands.SelectMany(name => subs.Where(sub => sub.Name == name)).Select(EntryOf));
            }
        }
        else
        {
            Add("Commands", subs.Select(EntryOf));
        }

        Add("Options", OptionsOf(command).Select(one => new HelpEntry(OptionTerm(one), OptionText(one))));
        return new HelpPage(words, Paragraphs(command.Description ?? ""), UsageOf(command, words, subs.Length > 0), sections, HelpExamples.Of(words));

        void Add(string title, IEnumerable<HelpEntry> entries)
        {
            HelpEntry[] all = [.. entries];
            if (all.Length > 0)
            {
                sections.Add(new HelpSection(title, all));
            }
        }
    }

    /// <summary>A command and everything below it, in the order of the lists.</summary>
    public static IEnumerable<Command> Tree(Command command) => [command, .. command.Subcommands.Where(sub => !sub.Hidden).SelectMany(Tree)];

    private static string WordsOf(Command command)
    {
        var words = new Stack<string>();
        for (Command? at = command; at is not null and not RootCommand; at = at.Parents.OfType<Command>().FirstOrDefault())
        {
            words.Push(at.Name);
        }

        return string.Join(' ', words);
    }

    // Lines of a source text are no paragraphs: each sentence group stands in a line of its own there, and is folded anew.
    private static string[] Paragraphs(string text) => [.. text.Split('\n', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries)];

    private static IEnumerable<Option> OptionsOf(Command command)
    {
        IEnumerable<Option> inherited = command.Parents.OfType<Command>().SelectMany(parent => OptionsOf(parent).Where(option => option.Recursive));
        return command.Options.Where(option => !option.Hidden).Concat(inherited).DistinctBy(option => option.Name)
            .OrderBy(option => option is HelpOption || option.Name is ProgramOnly || option.Recursive ? 1 : 0);
    }

    private static HelpEntry EntryOf(Command command) => new(
        string.Join(' ', [command.Name, .. command.Arguments.Where(one => !one.Hidden).Select(ArgumentTerm)]), Paragraphs(command.Description ?? "").FirstOrDefault() ?? "");

    private static string ArgumentTerm(Argument argument)
    {
        string name = $"<{argument.HelpName ?? argument.Name}>";
        string many = argument.Arity.MaximumNumberOfValues > 1 ? name + "..." : name;
        return argument.Arity.MinimumNumberOfValues == 0 ? $"[{many}]" : many;
    }

    private static string OptionTerm(Option option)
    {
        string names = string.Join(", ", option.Aliases.Where(alias => !alias.StartsWith('/')).OrderBy(alias => alias.Length).Append(option.Name).Distinct());
        return option.HelpName is { } value && option.Arity.MaximumNumberOfValues > 0 ? $"{names} <{value}>" : names;
    }

    private static string OptionText(Option option) => option is HelpOption
        ? "this help"
        : option.Name == ProgramOnly ? "the version"
        : option.HasDefaultValue && option.GetDefaultValue() is string or int && option.GetDefaultValue()?.ToString() is { Length: > 0 } value
            ? $"{option.Description} [{value} unless said otherwise]"
            : option.Description ?? "";

    private static string UsageOf(Command command, string words, bool hasCommands) => string.Join(' ', new[]
    {
        words.Length == 0 ? Program : $"{Program} {words}",
        hasCommands ? "[command]" : "",
        string.Join(' ', command.Arguments.Where(one => !one.Hidden).Select(ArgumentTerm)),
        "[options]",
    }.Where(piece => piece.Length > 0));
}
