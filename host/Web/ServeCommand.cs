using System.CommandLine;
using System.Globalization;
using System.Net;
using System.Text;
using Fourpatch.Commands;
using Fourpatch.Commands.Live;
using Fourpatch.Files;
using Fourpatch.Reports;
using Fourpatch.Weighing;
using QRCoder;

namespace Fourpatch.Web;

/// <summary><c>serve</c>: the corners live on a page, for the phone in the pocket.</summary>
internal sealed class ServeCommand
{
    /// <summary>The option for the port of the page.</summary>
    public const string PagePort = "--page-port";

    private const int UsualPort = 4180;
    private const int LargestPort = 65535;
    private readonly LiveOptions _live = new();
    private readonly Option<bool> _lan = new("--lan") { Description = "open the page to the network this computer is in, for whoever has the link" };
    private readonly Option<int> _port = new(PagePort) { Description = "TCP port of the page, 0 for any", HelpName = "N", DefaultValueFactory = _ => UsualPort };
    private readonly Option<string> _sound = Opts.Sound();
    private readonly CommandContext _context;

    private ServeCommand(CommandContext context) => _context = context;

    public static Command Build(CommandContext context)
    {
        var serve = new ServeCommand(context);
        var command = new Command("serve", """
            Show the corners on a page, live, and take them and run the guides from there: the phone at the car.
            By itself the page can be opened on this computer only. --lan opens it to the network: scan the code, or type the link. The link holds a key of
            this run; without it nothing is shown and nothing can be changed. The page is not encrypted: use it in a network of your own.
            No Wi-Fi in the garage: turn on the phone's hotspot, connect this computer to it, then start this command. Nothing is fetched from the internet.
            If the firewall asks, allow it for private networks. A phone that goes dark stops listening: set its screen to stay on, the page says how.
            Silence does not mean safe.
            """)
        {
            serve._lan, serve._port, serve._sound,
        };
        serve._live.AddTo(command);
        command.SetAction(serve.RunAsync);
        return command;
    }

    private async Task<int> RunAsync(ParseResult parsed, CancellationToken cancel)
    {
        int port = parsed.GetValue(_port);
        if (port is < 0 or > LargestPort)
        {
            throw new RefusalException(new InputError(ErrorCode.OutOfRange, FormattableString.Invariant($"found {port}"), $"0 to {LargestPort}", "choose a port") { Field = PagePort });
        }

        bool hasSound = Opts.ReadSound(parsed, _sound);
        bool lan = parsed.GetValue(_lan);
        LiveStart start = await _live.StartAsync(parsed, _context, cancel).ConfigureAwait(false);
        await _context.Terminal.ErrorOut.WriteLineAsync(start.Chosen.Line).ConfigureAwait(false);
        await start.RunAsync(async over =>
        {
            await using PageServer server = await PageServer.StartAsync(start, _context, port, lan, hasSound).ConfigureAwait(false);
            SayWhere(server, lan);
            await TellAsync(start, over).ConfigureAwait(false);
        }, cancel).ConfigureAwait(false);
        return ExitCodes.Good;
    }

    private void SayWhere(PageServer server, bool lan)
    {
        string query = lan ? $"?key={server.Door.Key}" : "";
        string Link(IPAddress address) => string.Create(CultureInfo.InvariantCulture, $"http://{address}:{server.Port}/{query}");
        Say($"On this computer: {Link(IPAddress.Loopback)}");
        if (!lan)
        {
            Say("For a phone, start it with --lan.");
        }
        else if (PageServer.OwnAddresses() is { Count: > 0 } addresses)
        {
            Say("On a phone in the same network, scan this or type the link:");
            SayCode(Link(addresses[0]));
            foreach (IPAddress address in addresses)
            {
                Say(Link(address));
            }

            Say("Whoever has the link can see and change everything here, until this command ends.");
        }
        else
        {
            Say("This computer is in no network. Turn on the phone's hotspot, connect this computer to it, and start this command again.");
        }

        Say("Ctrl-C ends.");
    }

    // The link in text follows in any case: a code that does not fit helps nobody.
    private void SayCode(string link)
    {
        using var generator = new QRCodeGenerator();
        using QRCodeData data = generator.CreateQrCode(link, QRCodeGenerator.ECCLevel.L);
        using var code = new AsciiQRCode(data);
        bool hasBlocks = _context.Terminal.Out.Encoding.CodePage == Encoding.UTF8.CodePage;
        string[] lines = (hasBlocks ? code.GetGraphicSmall() : code.GetGraphic(1, "##", "  ")).Split('\n');
        if (lines.Max(line => line.Length) > _context.Terminal.Width)
        {
            return;
        }

        // White on black, whatever the terminal's own colours are.
        (string before, string after) = _context.Terminal.IsInteractive ? ("\u001b[97;40m", "\u001b[0m") : ("", "");
        foreach (string line in lines)
        {
            _context.Terminal.Out.WriteLine(before + line.TrimEnd('\r') + after);
        }
    }

    // What happens is told here, too: somebody may stand at the bench.
    private async Task TellAsync(LiveStart start, CancellationToken cancel)
    {
        long seen = 0, news = 0;
        string alarm = "";
        while (true)
        {
            LiveView view = await start.Session.NextAsync(seen, cancel).ConfigureAwait(false);
            seen = view.Number;
            string Time() => TimeZoneInfo.ConvertTime(view.Time, _context.Clock.LocalTimeZone).ToString("HH:mm:ss", CultureInfo.InvariantCulture);
            if (view.News.Number != news)
            {
                news = view.News.Number;
                Say($"{Time()}  {view.News.Text}");
            }

            string now = view.Alarm?.Text ?? "";
            if (now.Length > 0 && now != alarm && view.Alarm!.Kind != LiveAlarmKind.FallingFast)
            {
                Say($"{Time()}  {now}");
            }

            alarm = now;
        }
    }

    private void Say(string text)
    {
        // A link is never broken: it must be there to click on.
        if (text.Contains("http://", StringComparison.Ordinal))
        {
            _context.Terminal.Out.WriteLine(text);
        }
        else
        {
            WeighingText.WriteWrapped(_context.Terminal.Out, text, _context.Terminal.Width);
        }

        _context.Terminal.Out.Flush();
    }
}
