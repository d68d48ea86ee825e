using System.Runtime.CompilerServices;
namespace Fourpatch.Files;

/// <summary>
/// The lines of a stream one after the other as bytes, in constant memory: of a line beyond the longest allowed no more
/// than that is kept. Not thread-safe.
/// </summary>
internal sealed class LogLines(Stream stream)
{
    private const int BufferBytes = 1 << 20;

    /// <summary>What <see cref="LogReader"/> takes for too long, with its line end.</summary>
    private const int Longest = 1_000;

    private readonly byte[] _buffer = new byte[BufferBytes];
    private int _start;
    private int _end;
    private bool _atEnd;

    /// <summary>Bytes handed out so far.</summary>
    public long Position { get; private set; }

    /// <summary>False for a line longer than any log has.</summary>
    public bool IsOfUsualLength { get; private set; }

    /// <summary>False for a last line without its end.</summary>
    public bool IsWhole { get; private set; }

    /// <summary>The next line without its end, valid until the next call; false when there is none.</summary>
    /// <exception cref="IOException">The stream cannot be read on.</exception>
    [MethodImpl(MethodImplOptions.AggressiveOptimization)]
    public bool Next(out ReadOnlySpan<byte> line)
    {
        IsOfUsualLength = true;
        while (true)
        {
            var rest = _buffer.AsSpan(_start, _end - _start);
            var length = rest.IndexOf((byte)'\n');
            if (length >= 0)
            {
                _start += length + 1;
                Position += length + 1;
                IsWhole = true;
                IsOfUsualLength &= length <= Longest;
                line = length > 0 && rest[length - 1] == '\r' ? rest[..(length - 1)] : rest[..length];
                return true;
            }

            if (_atEnd)
            {
                _start = _end;
                Position += rest.Length;
                IsWhole = false;
                line = rest;
                return rest.Length > 0 || !IsOfUsualLength;
            }

            Fill();
        }
    }

    private void Fill()
    {
        var kept = _end - _start;
        if (kept > Longest)
        {
            // Its end is far away: what came so far is let go of.
            IsOfUsualLength = false;
            Position += kept;
            kept = 0;
        }
        else
        {
            _buffer.AsSpan(_start, kept).CopyTo(_buffer);
        }

        var read = stream.Read(_buffer.AsSpan(kept));
        (_start, _end) = (0, kept + read);
        _atEnd = read == 0;
    }
}
