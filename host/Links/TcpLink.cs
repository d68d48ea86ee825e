using System.Net.Sockets;

namespace Fourpatch.Links;

/// <summary>A board behind a TCP address: the virtual rig of another process, or a serial server.</summary>
public sealed class TcpLink : ILink
{
    private static readonly TimeSpan ConnectTimeout = TimeSpan.FromSeconds(3);

    // What a board's server says to a second program, and how its line begins.
    private static readonly byte[] Taken = "another program is connected"u8.ToArray();
    private const string Busy = "the other side hung up at once; does another program have it?";
    private readonly List<byte> _first = [];
    private readonly TcpClient _client;
    private readonly NetworkStream _stream;

    private TcpLink(TcpClient client, string description)
    {
        _client = client;
        _stream = client.GetStream();
        Description = description;
    }

    /// <inheritdoc/>
    public string Description { get; }

    /// <inheritdoc/>
    public bool IsLossless => false;

    /// <summary>Connects; gives up after three seconds.</summary>
    /// <exception cref="LinkUnavailableException">Nobody answers there.</exception>
    public static async ValueTask<TcpLink> OpenAsync(PortAddress address, CancellationToken cancel)
    {
        var client = new TcpClient { NoDelay = true };
        using var deadline = CancellationTokenSource.CreateLinkedTokenSource(cancel);
        deadline.CancelAfter(ConnectTimeout);
        try
        {
            await client.ConnectAsync(address.Target, address.TcpPort, deadline.Token).ConfigureAwait(false);
            return new TcpLink(client, address.ToString());
        }
        catch (Exception e) when (e is SocketException or OperationCanceledException)
        {
            client.Dispose();
            cancel.ThrowIfCancellationRequested();
            string reason = IsHangUp(e) ? Busy : e is SocketException socket ? socket.Message : $"no answer within {ConnectTimeout.TotalSeconds:0} s";
            throw new LinkUnavailableException($"cannot connect to {address}: {reason}", e) { IsTaken = IsHangUp(e) };
        }
    }

    /// <inheritdoc/>
    /// <exception cref="LinkUnavailableException">Another program has it.</exception>
    public async ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancel)
    {
        int count;
        try
        {
            count = await _stream.ReadAsync(buffer, cancel).ConfigureAwait(false);
        }
        catch (IOException e) when (_first.Count == 0 && IsHangUp(e.InnerException))
        {
            throw HungUp(e);
        }

        // A reset is told once, to whoever asks first: after a write that failed by it, reading finds a plain end.
        if (count == 0 && _first.Count == 0 && !buffer.IsEmpty)
        {
            throw HungUp(null);
        }

        if (_first.Count < Taken.Length && count > 0)
        {
            _first.AddRange(buffer[..Math.Min(count, Taken.Length - _first.Count)].Span);
        }

        return _first.SequenceEqual(Taken)
            ? throw new LinkUnavailableException($"another program has {Description}") { IsTaken = true }
            : count;
    }

    /// <inheritdoc/>
    /// <exception cref="LinkUnavailableException">Another program has it.</exception>
    public async ValueTask WriteAsync(ReadOnlyMemory<byte> bytes, CancellationToken cancel)
    {
        try
        {
            await _stream.WriteAsync(bytes, cancel).ConfigureAwait(false);
        }
        catch (IOException e) when (_first.Count == 0 && IsHangUp(e.InnerException))
        {
            throw HungUp(e);
        }
    }

    private LinkUnavailableException HungUp(IOException? e) => new($"{Description}: {Busy}", e) { IsTaken = true };

    private static bool IsHangUp(Exception? e) =>
        e is SocketException { SocketErrorCode: SocketError.ConnectionReset or SocketError.ConnectionAborted or SocketError.Shutdown };

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        await _stream.DisposeAsync().ConfigureAwait(false);
        _client.Dispose();
    }
}
