using Fourpatch.Core.Cells;

namespace Fourpatch.Core.Wire
{
    /// <summary>
    /// Builds one line of the wire at a time in a buffer of its own, with its checksum. Allocates only when made.
    /// A line that does not fit is marked <see cref="Overflowed"/> and must not be sent. Not thread-safe.
    /// </summary>
    public sealed class LineWriter
    {
        private readonly byte[] _buffer = new byte[WireFormat.LineBytesMax];
        private uint _crc;

        /// <summary>The bytes of the line, valid up to <see cref="Length"/> after <see cref="End"/>.</summary>
        public byte[] Buffer
        {
            get { return _buffer; }
        }

        /// <summary>Bytes of the line so far.</summary>
        public int Length { get; private set; }

        /// <summary>True when something did not fit since <see cref="Begin"/>.</summary>
        public bool Overflowed { get; private set; }

        /// <summary>Starts a new line with its kind.</summary>
        public void Begin(char kind)
        {
            Length = 0;
            Overflowed = false;
            _crc = Crc32.Start;
            AddByte((byte)kind);
        }

        /// <summary>A comma; the next field follows.</summary>
        public void Next()
        {
            AddByte((byte)',');
        }

        /// <summary>One ASCII character.</summary>
        public void AddCharacter(char character)
        {
            AddByte((byte)character);
        }

        /// <summary>ASCII text of the program's own (never what a person typed).</summary>
        public void AddWord(string word)
        {
            for (int i = 0; i < word.Length; i++)
            {
                AddByte((byte)word[i]);
            }
        }

        /// <summary>A short name.</summary>
        public void AddText(AsciiText text)
        {
            for (int i = 0; i < text.Length; i++)
            {
                AddByte(text[i]);
            }
        }

        /// <summary>The low <paramref name="digits"/> (1 to 8) hexadecimal digits, upper case.</summary>
        public void AddHex(uint value, int digits)
        {
            for (int shift = (digits - 1) << 2; shift >= 0; shift -= 4)
            {
                int digit = (int)((value >> shift) & 0xF);
                AddByte((byte)(digit < 10 ? '0' + digit : 'A' + digit - 10));
            }
        }

        /// <summary>A decimal integer without leading zeros.</summary>
        public void AddDecimal(long value)
        {
            ulong rest = (ulong)value;
            if (value < 0)
            {
                AddByte((byte)'-');
                rest = 0UL - rest;
            }

            ulong unit = 1;
            while (unit < 1000000000000000000UL && unit * 10 <= rest)
            {
                unit *= 10;
            }

            while (unit > 0)
            {
                int digit = 0;
                while (rest >= unit)
                {
                    rest -= unit;
                    digit++;
                }

                AddByte((byte)('0' + digit));
                unit /= 10;
            }
        }

        /// <summary>A number of hundredths with two decimals: -150 is written -1.50.</summary>
        public void AddHundredths(long hundredths)
        {
            if (hundredths < 0)
            {
                AddByte((byte)'-');
                hundredths = 0 - hundredths;
            }

            AddDecimal(hundredths / 100);
            AddByte((byte)'.');
            long rest = hundredths % 100;
            AddByte((byte)('0' + (int)(rest / 10)));
            AddByte((byte)('0' + (int)(rest % 10)));
        }

        /// <summary>Ends the line: asterisk, checksum, line end.</summary>
        /// <param name="withCarriageReturn">True for lines a person may read on a bare terminal.</param>
        /// <returns>False when the line did not fit.</returns>
        public bool End(bool withCarriageReturn)
        {
            uint checksum = Crc32.Finish(_crc);
            AddByte((byte)'*');
            AddHex(checksum, WireFormat.ChecksumDigits);
            if (withCarriageReturn)
            {
                AddByte((byte)'\r');
            }

            AddByte((byte)'\n');
            return !Overflowed;
        }

        private void AddByte(byte value)
        {
            if (Length >= _buffer.Length)
            {
                Overflowed = true;
                return;
            }

            _buffer[Length] = value;
            Length++;
            _crc = Crc32.Add(_crc, value);
        }
    }
}
