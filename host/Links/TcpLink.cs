using System.Net.Sockets;

namespace Fourpatch.Links;

/// <summary>A board behind a TCP address: the virtual rig of another process, or a serial server.</summary>
public sealed class TcpLink : ILink
{
    private static readonly TimeSpan ConnectTimeout = TimeSpan.FromSeconds(3);
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
            string reason = e is SocketException socket ? socket.Message : $"no answer within {ConnectTimeout.TotalSeconds:0} s";
            throw new LinkUnavailableException($"cannot connect to {address}: {reason}", e);
        }
    }

    /// <inheritdoc/>
    public ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancel) => _stream.ReadAsync(buffer, cancel);

    /// <inheritdoc/>
    public ValueTask WriteAsync(ReadOnlyMemory<byte> bytes, CancellationToken cancel) => _stream.WriteAsync(bytes, cancel);

    /// <inheritdoc/>
    public async ValueTask DisposeAsync()
    {
        await _stream.DisposeAsync().ConfigureAwait(false);
        _client.Dispose();
    }
}
