using System.CommandLine;
using System.CommandLine.Completions;
using System.CommandLine.Invocation;

namespace Fourpatch.Commands.Help;

/// <summary>
/// What a shell's script is answered: how its line may go on, one a line, and nothing at all where nothing is known. An empty line would be a
/// candidate, and keep the shell from offering its files.
/// </summary>
internal sealed class SuggestAction(CommandContext context) : SynchronousCommandLineAction
{
    // A line that is not finished yet is no mistake.
    public override bool ClearsParseErrors => true;

    /// <inheritdoc/>
    public override int Invoke(ParseResult parseResult)
    {
        string line = parseResult.Tokens.LastOrDefault(token => token.Type != System.CommandLine.Parsing.TokenType.Directive)?.Value ?? "";
        foreach (CompletionItem next in parseResult.RootCommandResult.Command.Parse(line, parseResult.Configuration).GetCompletions(line.Length))
        {
            if (next.Label.Length > 0)
            {
                context.Terminal.Out.WriteLine(next.Label);
            }
        }

        return ExitCodes.Good;
    }
}
