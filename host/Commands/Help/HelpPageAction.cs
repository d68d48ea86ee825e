using System.CommandLine;
using System.CommandLine.Invocation;

namespace Fourpatch.Commands.Help;

/// <summary><c>--help</c> of every command: its page instead of the command-line library's own.</summary>
internal sealed class HelpPageAction(CommandContext context) : SynchronousCommandLineAction
{
    /// <inheritdoc/>
    public override bool ClearsParseErrors => true;

    /// <inheritdoc/>
    public override int Invoke(ParseResult parseResult)
    {
        HelpText.Write(context.Terminal.Out, HelpPage.Of(parseResult.CommandResult.Command), context.Terminal.Width);
        return ExitCodes.Good;
    }
}
