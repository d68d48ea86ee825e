using System;

namespace Fourpatch.Core.Wire
{
    /// <summary>What the last byte given to a <see cref="LineReader"/> completed.</summary>
    public enum LineOutcome
    {
        /// <summary>Nothing yet.</summary>
        None = 0,

        /// <summary>A line whose checksum agrees; its body is in <see cref="LineReader.Body"/>.</summary>
        Good = 1,

        /// <summary>A line without a checksum: something else's text, or the bare identify of a host.</summary>
        Plain = 2,

        /// <summary>A line whose checksum does not agree, or is not written as it must be.</summary>
        BadChecksum = 3,

        /// <summary>More than <see cref="WireFormat.LineBytesMax"/> bytes without a line end; skipped to the next line end.</summary>
        TooLong = 4,
    }

    /// <summary>
    /// Finds the lines in a stream of bytes. Total: every byte is accepted, nothing is thrown, and after any garbage the
    /// next line end starts afresh. Uses one buffer for its life. Not thread-safe.
    /// </summary>
    public class LineReader
    {
        // "*", eight digits; what stands before is the body.
        private const int TailBytes = 1 + WireFormat.ChecksumDigits;

        private readonly byte[] _line = new byte[WireFormat.LineBytesMax];
        private readonly byte[] _one = new byte[1];
        private int _length;
        private int _star = -1;
        private bool _skipping;

        /// <summary>The last line; only the first <see cref="BodyLength"/> bytes mean anything, until the next byte is pushed.</summary>
        public byte[] Body
        {
            get { return _line; }
        }

        /// <summary>Bytes of the last line before its asterisk.</summary>
        public int BodyLength { get; private set; }

        /// <summary>Lines whose checksum agreed.</summary>
        public long GoodLines { get; private set; }

        /// <summary>Lines without a checksum.</summary>
        public long PlainLines { get; private set; }

        /// <summary>Lines whose checksum did not agree.</summary>
        public long BadChecksumLines { get; private set; }

        /// <summary>Stretches longer than a line may be.</summary>
        public long TooLongLines { get; private set; }

        /// <summary>Forgets a line that has begun, as after the link was lost; counters stay.</summary>
        public void Reset()
        {
            Restart();
        }

        /// <summary>Takes one byte.</summary>
        public LineOutcome Push(byte value)
        {
            _one[0] = value;
            return Take(_one, 0, 1, out _);
        }

        /// <summary>Takes bytes up to the one that completes something, or all.</summary>
        /// <param name="bytes">Any bytes.</param>
        /// <param name="start">The first to take.</param>
        /// <param name="end">Behind the last.</param>
        /// <param name="next">The first that was not taken; <paramref name="end"/> when all were.</param>
        public LineOutcome Take(byte[] bytes, int start, int end, out int next)
        {
            int from = start;
            for (int i = start; i < end; i++)
            {
                // Four at a time where nothing can end: letters, digits, commas, which are nearly all.
                while (i + 4 < end && bytes[i] > (byte)'*' && bytes[i + 1] > (byte)'*' && bytes[i + 2] > (byte)'*' && bytes[i + 3] > (byte)'*')
                {
                    i += 4;
                }

                byte value = bytes[i];
                if (value == (byte)'\n')
                {
                    Keep(bytes, from, i);
                    from = i + 1;
                    LineOutcome outcome = EndLine();
                    if (outcome != LineOutcome.None)
                    {
                        next = from;
                        return outcome;
                    }
                }
                else if (value == (byte)'*' && _star < 0)
                {
                    // A body holds no asterisk, so the first one ends it.
                    _star = _length + i - from;
                }
            }

            Keep(bytes, from, end);
            next = end;
            return LineOutcome.None;
        }

        // All at once: a copy is native on the board, too.
        private void Keep(byte[] bytes, int from, int to)
        {
            // The line end needs room too.
            int room = WireFormat.LineBytesMax - 1 - _length;
            int count = to - from;
            if (count > room)
            {
                count = room;
                _skipping = true;
            }

            Array.Copy(bytes, from, _line, _length, count);
            _length += count;
        }

        /// <summary>CRC-32/ISO-HDLC of the first bytes of a line; for a machine that can do it faster than <see cref="Crc32"/>.</summary>
        protected virtual uint ChecksumOf(byte[] line, int count)
        {
            return Crc32.Of(line, 0, count);
        }

        private void Restart()
        {
            _length = 0;
            _star = -1;
            _skipping = false;
        }

        private LineOutcome EndLine()
        {
            int length = _length;
            int star = _star;
            bool skipped = _skipping;
            Restart();
            if (skipped)
            {
                TooLongLines++;
                return LineOutcome.TooLong;
            }

            if (length > 0 && _line[length - 1] == (byte)'\r')
            {
                length--;
            }

            if (length == 0)
            {
                return LineOutcome.None;
            }

            if (star < 0)
            {
                BodyLength = length;
                PlainLines++;
                return LineOutcome.Plain;
            }

            if (star > 0 && length - star == TailBytes && ChecksumAgrees(star))
            {
                BodyLength = star;
                GoodLines++;
                return LineOutcome.Good;
            }

            BodyLength = 0;
            BadChecksumLines++;
            return LineOutcome.BadChecksum;
        }

        private bool ChecksumAgrees(int star)
        {
            uint stated = 0;
            for (int i = star + 1; i <= star + WireFormat.ChecksumDigits; i++)
            {
                int digit = FieldReader.HexDigit(_line[i]);
                if (digit < 0)
                {
                    return false;
                }

                stated = (stated << 4) | (uint)digit;
            }

            return stated == ChecksumOf(_line, star);
        }
    }
}
