using System.IO.Ports;

namespace Fourpatch.Links;

/// <summary>What happens to the two control lines of a serial port when it is opened: on many boards they pull reset.</summary>
public enum ControlLines
{
    /// <summary>Both on before opening, so that the usual auto-reset circuit sees no pulse.</summary>
    Asserted,

    /// <summary>Both off.</summary>
    Released,

    /// <summary>As the system does it.</summary>
    Leave,
}

/// <summary>A port that cannot be opened, in one line for people.</summary>
public sealed class LinkUnavailableException(string message, Exception? inner = null) : IOException(message, inner)
{
    /// <summary>True when another program seems to have it.</summary>
    public bool IsTaken { get; init; }
}

/// <summary>Opens connections; tests bring their own.</summary>
public interface ILinkOpener
{
    /// <summary>Opens a connection.</summary>
    /// <exception cref="LinkUnavailableException">It cannot be opened; the message says why.</exception>
    ValueTask<ILink> OpenAsync(PortAddress address, CancellationToken cancel);

    /// <summary>Serial ports of this machine now, in a stable order.</summary>
    IReadOnlyList<string> SerialPorts();
}

/// <summary>Serial ports and TCP. What lives inside the program (replay, virtual rig) is handed in, so that this room needs to know neither.</summary>
/// <param name="openInside">Opens <see cref="PortKind.Replay"/> and <see cref="PortKind.Virtual"/>.</param>
public sealed class LinkOpener(Func<PortAddress, CancellationToken, ValueTask<ILink>> openInside) : ILinkOpener
{
    /// <inheritdoc/>
    public async ValueTask<ILink> OpenAsync(PortAddress address, CancellationToken cancel) => address.Kind switch
    {
        PortKind.Serial => SerialLink.Open(address.Target, address.ControlLines),
        PortKind.Tcp => await TcpLink.OpenAsync(address, cancel).ConfigureAwait(false),
        _ => await openInside(address, cancel).ConfigureAwait(false),
    };

    /// <inheritdoc/>
    public IReadOnlyList<string> SerialPorts()
    {
        const string ById = "/dev/serial/by-id";
        var names = new List<string>();
        if (Directory.Exists(ById))
        {
            names.AddRange(Directory.EnumerateFiles(ById));
        }

        // A port that has a lasting name is listed under that one only.
        var resolved = names.Select(name => Path.GetFullPath(File.ResolveLinkTarget(name, true)?.FullName ?? name)).ToHashSet(StringComparer.Ordinal);
        names.AddRange(PortNames.Usable(SerialPort.GetPortNames()).Where(name => !resolved.Contains(name)));
        names.Sort(PortNames.Compare);
        return names;
    }
}
