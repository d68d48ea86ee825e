using System.Net.Sockets;
using Fourpatch.Files;

namespace Fourpatch.Commands;

/// <summary>Why a TCP port of this computer could not be opened, in the program's own words, whatever the system below says.</summary>
internal static class TcpPortTrouble
{
    /// <param name="port">The port.</param>
    /// <param name="trouble">What came of opening it.</param>
    /// <param name="option">The option that chooses it.</param>
    public static InputError Of(int port, Exception trouble, string option) => new(
        ErrorCode.OutOfRange, FormattableString.Invariant($"TCP port {port} cannot be opened: {Why(trouble)}"), "", "choose another, or 0 for any free one") { Field = option };

    // The system's own word lies at the bottom of whatever was thrown about it.
    private static string Why(Exception trouble) => trouble.GetBaseException() is not SocketException socket ? trouble.Message : socket.SocketErrorCode switch
    {
        SocketError.AddressAlreadyInUse => "another program has it",
        SocketError.AccessDenied => "this computer leaves it to its administrator",
        _ => socket.Message,
    };
}
