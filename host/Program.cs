using System.Runtime.InteropServices;
using Fourpatch.Commands;
using Fourpatch.Files;
using Fourpatch.Links;
using Fourpatch.Web;

// Ctrl-C ends a command in order: ports closed, files whole, terminal as it was. A second one ends it at once.
using var stop = new CancellationTokenSource();
var terminal = new SystemTerminal(stop.Token);
Console.CancelKeyPress += (_, pressed) =>
{
    pressed.Cancel = !stop.IsCancellationRequested;
    Begin();
};

// What waits inside the system (for a pipe, a disk that went away), or works on and on, hears nothing of it: it has this long.
void Begin()
{
    if (!stop.IsCancellationRequested)
    {
        new Thread(() =>
        {
            Thread.Sleep(TimeSpan.FromSeconds(8));
            terminal.Complain("stopped in the middle of something that would not end");
            Environment.Exit(ExitCodes.NotAcceptable);
        }) { IsBackground = true }.Start();
        stop.Cancel();
    }
}

// Told to end, or the terminal closed: in the same order.
void Stop(PosixSignalContext signal)
{
    signal.Cancel = !stop.IsCancellationRequested;
    Begin();
}

using PosixSignalRegistration told = PosixSignalRegistration.Create(PosixSignal.SIGTERM, Stop);
using PosixSignalRegistration hungUp = PosixSignalRegistration.Create(PosixSignal.SIGHUP, Stop);
var files = new WorkFolder();
var inside = new InsideLinks(files, TimeProvider.System);
var context = new CommandContext(terminal, TimeProvider.System, new LinkOpener(inside.OpenAsync), files, CommandContext.StandardDataFolder)
{
    More = [ServeCommand.Build],
    FindBrowser = () => InstalledBrowser.Find(Environment.GetEnvironmentVariable("PATH"), File.Exists),
};
return await Cli.RunAsync(args, context, stop.Token).ConfigureAwait(false);
