using System.Globalization;
using System.IO.Hashing;
using System.Text;
using Fourpatch.Links;

namespace Fourpatch.Tests.Links;

/// <summary>A link that changes, drops or adds whole lines on their way from the board, and counts what is under way.</summary>
/// <param name="inner">The link.</param>
/// <param name="meddle">From a line's body (without its checksum; other text as it is) to what arrives instead; null: nothing.</param>
internal sealed class MeddlingLink(ILink inner, Func<string, string?>? meddle = null) : ILink
{
    private readonly List<byte> _line = [];
    private readonly Queue<byte> _ready = new();
    private int _reading;

    public string Description => inner.Description;

    public bool IsLossless { get; init; } = inner.IsLossless;

    /// <summary>Reads that have not come back.</summary>
    public int Reading => Volatile.Read(ref _reading);

    public bool IsDisposed { get; private set; }

    /// <summary>A line's bytes for a body.</summary>
    public static byte[] Frame(string body)
    {
        byte[] bytes = Encoding.Latin1.GetBytes(body);
        return [.. bytes, .. Encoding.ASCII.GetBytes(string.Create(CultureInfo.InvariantCulture, $"*{Crc32.HashToUInt32(bytes):X8}\n"))];
    }

    public async ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancel)
    {
        Interlocked.Increment(ref _reading);
        try
        {
            if (!IsLossless)
            {
                await Task.Yield();
            }

            if (meddle is null)
            {
                return await inner.ReadAsync(buffer, cancel);
            }

            while (_ready.Count == 0)
            {
                int count = await inner.ReadAsync(buffer, cancel);
                if (count == 0)
                {
                    return 0;
                }

                Take(buffer.Span[..count]);
            }

            int taken = Math.Min(buffer.Length, _ready.Count);
            for (int i = 0; i < taken; i++)
            {
                buffer.Span[i] = _ready.Dequeue();
            }

            return taken;
        }
        finally
        {
            Interlocked.Decrement(ref _reading);
        }
    }

    public ValueTask WriteAsync(ReadOnlyMemory<byte> bytes, CancellationToken cancel) => inner.WriteAsync(bytes, cancel);

    public ValueTask DisposeAsync()
    {
        IsDisposed = true;
        return inner.DisposeAsync();
    }

    private void Take(ReadOnlySpan<byte> bytes)
    {
        foreach (byte value in bytes)
        {
            _line.Add(value);
            if (value == '\n')
            {
                string text = Encoding.Latin1.GetString([.. _line]);
                int star = text.LastIndexOf('*');
                byte[]? passed = star < 0 ? [.. _line] : meddle!(text[..star]) is { } body ? body == text[..star] ? [.. _line] : Frame(body) : null;
                foreach (byte one in passed ?? [])
                {
                    _ready.Enqueue(one);
                }

                _line.Clear();
            }
        }
    }
}
