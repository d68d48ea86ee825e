using Fourpatch.Commands;
using Fourpatch.Links;

// Ctrl-C ends a command in order: ports closed, files whole, terminal as it was.
using var stop = new CancellationTokenSource();
Console.CancelKeyPress += (_, pressed) =>
{
    pressed.Cancel = true;
    stop.Cancel();
};

var files = new WorkFolder();
var inside = new InsideLinks(files, TimeProvider.System);
var context = new CommandContext(new SystemTerminal(), TimeProvider.System, new LinkOpener(inside.OpenAsync), files, CommandContext.StandardDataFolder);
return await Cli.RunAsync(args, context, stop.Token).ConfigureAwait(false);
