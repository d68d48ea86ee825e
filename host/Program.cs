using Fourpatch.Commands;
using Fourpatch.Files;
using Fourpatch.Links;

// Ctrl-C ends a command in order: ports closed, files whole, terminal as it was. A second one ends it at once.
using var stop = new CancellationTokenSource();
Console.CancelKeyPress += (_, pressed) =>
{
    pressed.Cancel = !stop.IsCancellationRequested;
    stop.Cancel();
};

var files = new WorkFolder();
var inside = new InsideLinks(files, TimeProvider.System);
var context = new CommandContext(new SystemTerminal(stop.Token), TimeProvider.System, new LinkOpener(inside.OpenAsync), files, CommandContext.StandardDataFolder)
{
    FindBrowser = () => InstalledBrowser.Find(Environment.GetEnvironmentVariable("PATH"), File.Exists),
};
return await Cli.RunAsync(args, context, stop.Token).ConfigureAwait(false);
