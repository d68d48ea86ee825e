using System.Globalization;
using System.Net;
using System.Net.Sockets;

namespace Fourpatch.VirtualRig;

/// <summary>
/// A virtual board behind a TCP port. One client at a time, as on a serial port: a second one is told so in plain text and
/// disconnected; the first keeps its connection.
/// </summary>
public sealed class TcpServer : BoardServer
{
    private static readonly byte[] Busy = "another program is connected to this board\r\n"u8.ToArray();

    // Long enough for the words to arrive: closed at once, what the comer has already sent would turn them into a reset.
    private static readonly TimeSpan Farewell = TimeSpan.FromSeconds(10);

    private readonly Socket _listener;
    private readonly List<(Socket Comer, long Since)> _refused = [];
    private Socket? _client;

    /// <summary>Listens at once.</summary>
    /// <param name="garage">The garage the board is in.</param>
    /// <param name="board">The board.</param>
    /// <param name="port">TCP port; 0: any free one, see <see cref="Port"/>.</param>
    /// <param name="address">Where to listen; null: this computer only (127.0.0.1).</param>
    /// <exception cref="IOException">The port cannot be had; the message says why.</exception>
    public TcpServer(PacedGarage garage, VirtualBoard board, int port = 0, IPAddress? address = null)
        : base(garage, board)
    {
        var at = address ?? IPAddress.Loopback;
        _listener = new(at.AddressFamily, SocketType.Stream, ProtocolType.Tcp) { Blocking = false };
        try
        {
            _listener.Bind(new IPEndPoint(at, port));
            _listener.Listen();
        }
        catch (SocketException e)
        {
            _listener.Dispose();
            throw new IOException(string.Create(CultureInfo.InvariantCulture, $"TCP port {port} cannot be opened: {e.Message}. Name another port, or 0 for any free one."), e);
        }
        Port = ((IPEndPoint)_listener.LocalEndPoint!).Port;
    }

    /// <summary>The TCP port.</summary>
    public int Port { get; }

    /// <inheritdoc/>
    public override string PortName => string.Create(CultureInfo.InvariantCulture, $"tcp:localhost:{Port}");

    /// <summary>Whether a client is connected.</summary>
    public bool HasClient => _client is not null;

    /// <inheritdoc/>
    protected override int Receive(Span<byte> buffer)
    {
        AcceptWhoCame();
        LetGoWhoWasRefused(buffer);
        if (_client is null) return 0;
        try
        {
            var count = _client.Receive(buffer, SocketFlags.None, out var error);
            if (error == SocketError.WouldBlock) return 0;
            if (error != SocketError.Success || count == 0) Hangup();
            return error == SocketError.Success ? count : 0;
        }
        catch (SocketException)
        {
            Hangup();
            return 0;
        }
    }

    /// <inheritdoc/>
    protected override int Send(ReadOnlySpan<byte> bytes)
    {
        if (_client is null) return 0;
        var count = _client.Send(bytes, SocketFlags.None, out var error);
        if (error is not (SocketError.Success or SocketError.WouldBlock)) Hangup();
        return error == SocketError.Success ? count : 0;
    }

    /// <inheritdoc/>
    protected override ValueTask CloseAsync()
    {
        Hangup();
        _refused.ForEach(refused => refused.Comer.Dispose());
        _refused.Clear();
        _listener.Dispose();
        return ValueTask.CompletedTask;
    }

    private void AcceptWhoCame()
    {
        while (_listener.Poll(0, SelectMode.SelectRead))
        {
            Socket comer;
            try
            {
                comer = _listener.Accept();
            }
            catch (SocketException)
            {
                return;
            }

            comer.Blocking = false;
            comer.NoDelay = true;
            if (_client is null || HasLeft(_client))
            {
                Hangup();
                _client = comer;
                continue;
            }

            comer.Send(Busy, SocketFlags.None, out var error);
            if (error == SocketError.Success) comer.Shutdown(SocketShutdown.Send);
            _refused.Add((comer, Garage.Clock.GetTimestamp()));
        }
    }

    private void LetGoWhoWasRefused(Span<byte> buffer)
    {
        for (var i = _refused.Count - 1; i >= 0; i--)
        {
            var (comer, since) = _refused[i];
            var count = comer.Receive(buffer, SocketFlags.None, out var error);
            var isStillThere = error == SocketError.WouldBlock || (error == SocketError.Success && count > 0);
            if (isStillThere && Garage.Clock.GetElapsedTime(since) < Farewell) continue;
            comer.Dispose();
            _refused.RemoveAt(i);
        }
    }

    // A client that closed its end shows as readable with nothing to read.
    private static bool HasLeft(Socket client) => client.Poll(0, SelectMode.SelectRead) && client.Available == 0;

    private void Hangup()
    {
        _client?.Dispose();
        _client = null;
    }
}
