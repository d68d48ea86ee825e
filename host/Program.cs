using System.Runtime.InteropServices;
using Fourpatch.Commands;
using Fourpatch.Files;
using Fourpatch.Links;
using Fourpatch.Web;

// Ctrl-C ends a command in order: ports closed, files whole, terminal as it was. A second one ends it at once.
using var stop = new CancellationTokenSource();
Console.CancelKeyPress += (_, pressed) =>
{
    pressed.Cancel = !stop.IsCancellationRequested;
    stop.Cancel();
};

// Told to end, or the terminal closed: in the same order.
void Stop(PosixSignalContext signal)
{
    signal.Cancel = !stop.IsCancellationRequested;
    stop.Cancel();
}

using PosixSignalRegistration told = PosixSignalRegistration.Create(PosixSignal.SIGTERM, Stop);
using PosixSignalRegistration hungUp = PosixSignalRegistration.Create(PosixSignal.SIGHUP, Stop);
var files = new WorkFolder();
var inside = new InsideLinks(files, TimeProvider.System);
var context = new CommandContext(new SystemTerminal(stop.Token), TimeProvider.System, new LinkOpener(inside.OpenAsync), files, CommandContext.StandardDataFolder)
{
    More = [ServeCommand.Build],
    FindBrowser = () => InstalledBrowser.Find(Environment.GetEnvironmentVariable("PATH"), File.Exists),
};
return await Cli.RunAsync(args, context, stop.Token).ConfigureAwait(false);
