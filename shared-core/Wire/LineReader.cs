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
    public sealed class LineReader
    {
        // "*", eight digits; what stands before is the body.
        private const int TailBytes = 1 + WireFormat.ChecksumDigits;

        private readonly byte[] _line = new byte[WireFormat.LineBytesMax];
        private int _length;
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
            _length = 0;
            _skipping = false;
        }

        /// <summary>Takes one byte.</summary>
        public LineOutcome Push(byte value)
        {
            if (value == (byte)'\n')
            {
                return EndLine();
            }

            if (_skipping)
            {
                return LineOutcome.None;
            }

            // The line end needs room too.
            if (_length >= WireFormat.LineBytesMax - 1)
            {
                _skipping = true;
                return LineOutcome.None;
            }

            _line[_length] = value;
            _length++;
            return LineOutcome.None;
        }

        private LineOutcome EndLine()
        {
            int length = _length;
            bool skipped = _skipping;
            _length = 0;
            _skipping = false;
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

            int star = FindStar(length);
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

        // A body holds no asterisk, so the first one ends it.
        private int FindStar(int length)
        {
            for (int i = 0; i < length; i++)
            {
                if (_line[i] == (byte)'*')
                {
                    return i;
                }
            }

            return -1;
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

            return stated == Crc32.Of(_line, 0, star);
        }
    }
}
