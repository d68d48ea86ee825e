using System.CommandLine;
using System.CommandLine.Parsing;
using Fourpatch.Files;

namespace Fourpatch.Commands;

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
            string remedy = Nearest.To(unknown, [.. known]) is { } near ? $"did you mean {near}? {help}" : help;
            return new InputError(ErrorCode.UnknownKey, $"the {what} {InputError.Quote(unknown)} is not known here", "", remedy);
        }

        return new InputError(ErrorCode.Syntax, parsed.Errors[0].Message.TrimEnd('.').Replace('\n', ' '), "", help);
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
