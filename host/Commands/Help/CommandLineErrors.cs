using System.CommandLine;
using System.CommandLine.Parsing;
using Fourpatch.Files;

namespace Fourpatch.Commands.Help;

/// <summary>Turns what the command-line library complains of into our one line.</summary>
internal static class CommandLineErrors
{
    public static InputError Of(ParseResult parsed)
    {
        string command = string.Join(' ', CommandWords(parsed.CommandResult));
        string help = $"see 'fourpatch {command}".TrimEnd() + " --help'";
        if (parsed.UnmatchedTokens is [var unknown, ..])
        {
            IEnumerable<string> known = unknown.StartsWith('-')
                ? parsed.CommandResult.Command.Options.Select(option => option.Name)
                : parsed.CommandResult.Command.Subcommands.Select(sub => sub.Name);
            string what = unknown.StartsWith('-') ? "option" : "word";
            string remedy = Nearest.To(unknown, [.. known]) is not { } near ? (Elsewhere(parsed.RootCommandResult.Command, unknown) is { } there ? $"did you mean '{there}'? {help}" : help)
                : near == unknown ? $"put it behind {command}"
                : $"did you mean {near}? {help}";
            return new InputError(ErrorCode.UnknownKey, $"the {what} {InputError.Quote(unknown)} is not known here", "", remedy);
        }

        return parsed.Errors[0].SymbolResult switch
        {
            OptionResult option => OfOption(option, help),
            ArgumentResult { Parent: OptionResult option } => OfOption(option, help),
            ArgumentResult argument => OfArgument(argument, help),
            CommandResult { Command: { Subcommands: [_, ..] below } at } => new InputError(
                ErrorCode.Missing, command.Length == 0 ? "no command was given" : $"{at.Name} does nothing by itself", $"{(below.Count > 1 ? "one of " : "")}{string.Join(", ", below.Select(sub => sub.Name))} behind it", help) { Field = command },
            _ => new InputError(ErrorCode.Syntax, parsed.Errors[0].Message.TrimEnd('.').Replace('\n', ' '), "", help),
        };
    }

    // A word of two-word commands typed by itself: "fourpatch compare".
    private static string? Elsewhere(Command root, string word) => root.Subcommands
        .SelectMany(group => group.Subcommands.Where(below => below.Name.Equals(word, StringComparison.OrdinalIgnoreCase)).Select(below => $"fourpatch {group.Name} {below.Name}"))
        .FirstOrDefault();

    private static InputError OfOption(OptionResult result, string help)
    {
        Option option = result.Option;
        string expected = option.HelpName is { } value ? $"{option.Name} {value}" : option.Name;
        return (result.Tokens.Count == 0
            ? new InputError(ErrorCode.Missing, "nothing stands behind it", expected, help)
            : result.IdentifierTokenCount > 1
                ? new InputError(ErrorCode.Duplicate, $"it is given {result.IdentifierTokenCount} times", $"{expected} once", $"leave one out, or {help}")
                : new InputError(ErrorCode.WrongType, $"found {InputError.Quote(result.Tokens[^1].Value)}", expected, help)) with { Field = option.Name };
    }

    private static InputError OfArgument(ArgumentResult result, string help)
    {
        string name = result.Argument.HelpName ?? result.Argument.Name;
        string expected = result.Parent is CommandResult { Command: var command } ? HelpPage.Of(command).Usage : name;
        return result.Tokens.Count < result.Argument.Arity.MinimumNumberOfValues
            ? new InputError(ErrorCode.Missing, $"{name} is missing", expected, help) { Field = name }
            : new InputError(ErrorCode.WrongType, $"found {InputError.Quote(result.Tokens.Count > 0 ? result.Tokens[^1].Value : "")}", expected, help) { Field = name };
    }

    private static Stack<string> CommandWords(CommandResult result)
    {
        var words = new Stack<string>();
        for (SymbolResult? at = result; at is CommandResult command && command.Command is not RootCommand; at = command.Parent)
        {
            words.Push(command.Command.Name);
        }

        return words;
    }
}
