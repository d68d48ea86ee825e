using System.CommandLine;
using System.CommandLine.Completions;
using Fourpatch.Files;

namespace Fourpatch.Commands.Help;

/// <summary><c>help</c>: short texts by topic, the help of any command, and the whole as a manual page or a reference.</summary>
internal sealed class HelpCommand
{
    private readonly Argument<string[]> _about = new("about") { Description = "a topic, or the words of a command; nothing lists the topics", HelpName = "TOPIC", Arity = ArgumentArity.ZeroOrMore };
    private readonly Option<bool> _man = new("--man") { Description = "everything as a manual page, for 'man -l FILE'" };
    private readonly Option<bool> _markdown = new("--markdown") { Description = "everything as a reference in Markdown" };
    private readonly CommandContext _context;

    private HelpCommand(CommandContext context) => _context = context;

    public static Command Build(CommandContext context)
    {
        var help = new HelpCommand(context);
        help._about.CompletionSources.Add(help.Next);
        var command = new Command("help", "Short texts about the work, and the help of every command.") { help._about, help._man, help._markdown };
        command.SetAction(help.Run);
        return command;
    }

    private int Run(ParseResult parsed)
    {
        string[] about = parsed.GetValue(_about) ?? [];
        Command root = parsed.RootCommandResult.Command;
        TextWriter output = _context.Terminal.Out;
        bool man = parsed.GetValue(_man);
        if (man || parsed.GetValue(_markdown))
        {
            if (about.Length > 0 || (man && parsed.GetValue(_markdown)))
            {
                throw new RefusalException(new InputError(ErrorCode.Contradiction, "--man and --markdown write everything", "one of them, and nothing else", "leave the rest out") { Field = man ? "--man" : "--markdown" });
            }

            HelpPage[] pages = [.. HelpPage.Tree(root).Select(HelpPage.Of)];
            output.Write(man ? ManualPage.Of(pages) : MarkdownReference.Of(pages));
            return ExitCodes.Good;
        }

        if (about.Length == 0)
        {
            WriteList(output);
            return ExitCodes.Good;
        }

        HelpTopic? topic = about.Length == 1 ? HelpTopic.All.FirstOrDefault(one => one.Name.Equals(about[0], StringComparison.OrdinalIgnoreCase)) : null;
        Command? command = Find(root, about);
        if (topic is null && command is null)
        {
            throw new RefusalException(Unknown(root, about));
        }

        if (topic is not null)
        {
            HelpText.WriteTopic(output, topic.Text, _context.Terminal.Width);
        }

        if (command is not null)
        {
            if (topic is not null)
            {
                output.WriteLine();
            }

            HelpText.Write(output, HelpPage.Of(command), _context.Terminal.Width);
        }

        return ExitCodes.Good;
    }

    private void WriteList(TextWriter output)
    {
        HelpText.WriteTopic(output, "'fourpatch help TOPIC' has a short text about:", _context.Terminal.Width);
        foreach (HelpTopic topic in HelpTopic.All)
        {
            HelpText.WriteTopic(output, $"  {topic.Name,-12} {topic.About}", _context.Terminal.Width);
        }

        HelpText.WriteTopic(output, "'fourpatch help COMMAND' is the help of a command, 'fourpatch --help' lists them. 'fourpatch guide' says what comes next for you.", _context.Terminal.Width);
    }

    // Topics and commands; behind the words of a command, those below it.
    private IEnumerable<CompletionItem> Next(CompletionContext line)
    {
        string[] typed = line.ParseResult.GetValue(_about) ?? [];
        string[] before = line.WordToComplete.Length > 0 && typed.Length > 0 ? typed[..^1] : typed;
        IEnumerable<string> names = Find(line.ParseResult.RootCommandResult.Command, before)?.Subcommands.Select(sub => sub.Name) ?? [];
        return (before.Length == 0 ? HelpTopic.All.Select(topic => topic.Name).Union(names) : names).Select(name => new CompletionItem(name));
    }

    private static Command? Find(Command root, IEnumerable<string> words)
    {
        Command? at = root;
        foreach (string word in words)
        {
            at = at?.Subcommands.FirstOrDefault(sub => sub.Name.Equals(word, StringComparison.OrdinalIgnoreCase));
        }

        return at;
    }

    private static InputError Unknown(Command root, string[] about)
    {
        if (about.Length > 1 && Array.TrueForAll(about, word => HelpTopic.All.Any(topic => topic.Name.Equals(word, StringComparison.OrdinalIgnoreCase)) || Find(root, [word]) is not null))
        {
            return new InputError(ErrorCode.Syntax, $"found {about.Length} topics", "one topic, or the words of one command", $"ask for each by itself: {string.Join(", ", about.Select(word => $"'fourpatch help {word}'"))}") { Field = "help" };
        }

        // The longest beginning that is a command; what follows it is what nobody knows.
        int known = 0;
        while (known < about.Length && Find(root, about[..(known + 1)]) is not null)
        {
            known++;
        }

        IEnumerable<string> names = Find(root, about[..known])!.Subcommands.Select(sub => sub.Name);
        string[] candidates = [.. known == 0 ? HelpTopic.All.Select(topic => topic.Name).Concat(names) : names];
        return new InputError(ErrorCode.UnknownName, $"found {InputError.Quote(about[known])}", "a topic or a command",
            Nearest.To(about[known], candidates) is { } near ? $"did you mean {near}? 'fourpatch help' lists the topics" : "'fourpatch help' lists the topics, 'fourpatch --help' the commands") { Field = "help" };
    }
}
