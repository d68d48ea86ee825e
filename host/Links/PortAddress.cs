using System.Globalization;

namespace Fourpatch.Links;

/// <summary>What kind of connection a <c>--port</c> value names.</summary>
public enum PortKind
{
    /// <summary>A serial port by path or COM name.</summary>
    Serial,

    /// <summary><c>tcp:HOST:PORT</c>.</summary>
    Tcp,

    /// <summary><c>replay:FILE</c>: a log, fed back as if it were a board.</summary>
    Replay,

    /// <summary><c>virtual</c> or <c>virtual:SCENARIO.toml</c>: the virtual rig inside this program.</summary>
    Virtual,
}

/// <summary>A <c>--port</c> value, understood.</summary>
/// <param name="Kind">Kind of connection.</param>
/// <param name="Target">Path, COM name or host; empty for the built-in virtual scenario.</param>
/// <param name="TcpPort">1 to 65535 for TCP, else 0.</param>
public sealed record PortAddress(PortKind Kind, string Target, int TcpPort = 0)
{
    /// <summary>How a serial port's control lines are set when it is opened.</summary>
    public ControlLines ControlLines { get; init; }

    /// <summary>True when a replayed log should run no faster than it was taken: for a screen. Other kinds keep their own pace.</summary>
    public bool IsAtOwnPace { get; init; }

    /// <summary>Reads a <c>--port</c> value. Total.</summary>
    /// <param name="text">As typed.</param>
    /// <param name="address">What it means.</param>
    /// <param name="problem">One line saying what is wrong and what is expected; empty on success.</param>
    public static bool TryParse(string text, out PortAddress? address, out string problem)
    {
        address = null;
        problem = "";
        if (text.StartsWith("tcp:", StringComparison.OrdinalIgnoreCase))
        {
            return TryParseTcp(text, out address, out problem);
        }

        if (text.StartsWith("replay:", StringComparison.OrdinalIgnoreCase))
        {
            string file = text["replay:".Length..];
            if (file.Length == 0)
            {
                problem = "replay: names no file; write replay:FILE.csv with a file that fourpatch log has written";
                return false;
            }

            address = new PortAddress(PortKind.Replay, file);
            return true;
        }

        if (text.Equals("virtual", StringComparison.OrdinalIgnoreCase))
        {
            address = new PortAddress(PortKind.Virtual, "");
            return true;
        }

        if (text.StartsWith("virtual:", StringComparison.OrdinalIgnoreCase))
        {
            address = new PortAddress(PortKind.Virtual, text["virtual:".Length..]);
            return true;
        }

        if (string.IsNullOrWhiteSpace(text) || text.Any(char.IsControl))
        {
            problem = "a port is a serial path or COM name, tcp:HOST:PORT, replay:FILE, or virtual";
            return false;
        }

        address = new PortAddress(PortKind.Serial, text);
        return true;
    }

    /// <summary>The value as it would be typed.</summary>
    public override string ToString() => Kind switch
    {
        PortKind.Tcp => string.Create(CultureInfo.InvariantCulture, $"tcp:{Target}:{TcpPort}"),
        PortKind.Replay => $"replay:{Target}",
        PortKind.Virtual => Target.Length == 0 ? "virtual" : $"virtual:{Target}",
        _ => Target,
    };

    private static bool TryParseTcp(string text, out PortAddress? address, out string problem)
    {
        address = null;
        problem = $"'{text}' is no TCP address; write tcp:HOST:PORT, for instance tcp:localhost:4150";
        int colon = text.LastIndexOf(':');
        if (colon <= "tcp:".Length - 1)
        {
            return false;
        }

        string host = text["tcp:".Length..colon];
        if (host.Length == 0 || !int.TryParse(text[(colon + 1)..], NumberStyles.None, CultureInfo.InvariantCulture, out int port) || port is < 1 or > 65535)
        {
            return false;
        }

        address = new PortAddress(PortKind.Tcp, host, port);
        problem = "";
        return true;
    }
}
