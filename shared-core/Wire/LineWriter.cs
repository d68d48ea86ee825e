using Fourpatch.Core.Cells;

namespace Fourpatch.Core.Wire
{
    /// <summary>
    /// Builds one line of the wire at a time in a buffer of its own, with its checksum. Allocates only when made.
    /// A line that does not fit is marked <see cref="Overflowed"/> and must not be sent. Not thread-safe.
    /// </summary>
    public sealed class LineWriter
    {
        // Up to nine digits are written with int arithmetic, a third of the instructions of the long way.
        private const long ShortDecimalMax = 999999999;

        // Comma, cell, letter, two and three hexadecimal digits.
        private const int ConversionHeadBytes = 8;

        private static readonly byte[] HexDigits = BuildHexDigits();
        private static readonly byte[] Tens = BuildDecimalDigits(10);
        private static readonly byte[] Ones = BuildDecimalDigits(1);

        private readonly byte[] _buffer = new byte[WireFormat.LineBytesMax];
        private int _length;

        /// <summary>The bytes of the line, valid up to <see cref="Length"/> after <see cref="End"/>.</summary>
        public byte[] Buffer
        {
            get { return _buffer; }
        }

        /// <summary>Bytes of the line so far.</summary>
        public int Length
        {
            get { return _length; }
        }

        /// <summary>True when something did not fit since <see cref="Begin"/>.</summary>
        public bool Overflowed { get; private set; }

        /// <summary>Starts a new line with its kind.</summary>
        public void Begin(char kind)
        {
            _length = 0;
            Overflowed = false;
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
            byte[] buffer = _buffer;
            byte[] hexDigits = HexDigits;
            int at = _length;
            if (digits > buffer.Length - at)
            {
                Overflowed = true;
                return;
            }

            _length = at + digits;
            if (digits == 8)
            {
                buffer[at] = hexDigits[(int)(value >> 28)];
                buffer[at + 1] = hexDigits[(int)(value >> 24) & 0xF];
                buffer[at + 2] = hexDigits[(int)(value >> 20) & 0xF];
                buffer[at + 3] = hexDigits[(int)(value >> 16) & 0xF];
                at += 4;
                digits = 4;
            }

            if (digits == 4)
            {
                buffer[at] = hexDigits[(int)(value >> 12) & 0xF];
                buffer[at + 1] = hexDigits[(int)(value >> 8) & 0xF];
                buffer[at + 2] = hexDigits[(int)(value >> 4) & 0xF];
                buffer[at + 3] = hexDigits[(int)value & 0xF];
                return;
            }

            for (int i = at + digits - 1; i >= at; i--)
            {
                buffer[i] = hexDigits[(int)value & 0xF];
                value >>= 4;
            }
        }

        /// <summary>A decimal integer without leading zeros.</summary>
        public void AddDecimal(long value)
        {
            if (value >= 0 - ShortDecimalMax && value <= ShortDecimalMax)
            {
                AddShortDecimal((int)value);
                return;
            }

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

        /// <summary>
        /// The next field, a conversion: cell, status letter, two digits of number, three of time, counts. The same bytes as
        /// the parts added one by one, in half the instructions: this is what the board does most.
        /// </summary>
        public void AddConversion(int cell, char letter, int number, int offsetSteps, int counts)
        {
            byte[] buffer = _buffer;
            byte[] hexDigits = HexDigits;
            int at = _length;
            if (at + ConversionHeadBytes > buffer.Length)
            {
                Overflowed = true;
                return;
            }

            buffer[at] = (byte)',';
            buffer[at + 1] = (byte)('0' + cell);
            buffer[at + 2] = (byte)letter;
            buffer[at + 3] = hexDigits[(number >> 4) & 0xF];
            buffer[at + 4] = hexDigits[number & 0xF];
            buffer[at + 5] = hexDigits[(offsetSteps >> 8) & 0xF];
            buffer[at + 6] = hexDigits[(offsetSteps >> 4) & 0xF];
            buffer[at + 7] = hexDigits[offsetSteps & 0xF];
            _length = at + ConversionHeadBytes;
            AddShortDecimal(counts);
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
            uint checksum = Crc32.Of(_buffer, 0, _length);
            AddByte((byte)'*');
            AddHex(checksum, WireFormat.ChecksumDigits);
            if (withCarriageReturn)
            {
                AddByte((byte)'\r');
            }

            AddByte((byte)'\n');
            return !Overflowed;
        }

        // From the last pair of digits to the first.
        private void AddShortDecimal(int value)
        {
            byte[] buffer = _buffer;
            int at = _length;
            int rest = value;
            if (value < 0)
            {
                rest = 0 - value;
                AddByte((byte)'-');
                at++;
            }

            int end = at + DigitsOf(rest);
            if (end > buffer.Length)
            {
                Overflowed = true;
                return;
            }

            _length = end;
            byte[] tens = Tens;
            byte[] ones = Ones;
            while (rest >= 10)
            {
                int hundreds = rest / 100;
                int pair = rest - (hundreds * 100);
                end -= 2;
                buffer[end] = tens[pair];
                buffer[end + 1] = ones[pair];
                rest = hundreds;
            }

            if (end > at)
            {
                buffer[at] = ones[rest];
            }
        }

        private static int DigitsOf(int value)
        {
            if (value < 1000)
            {
                return value < 10 ? 1 : value < 100 ? 2 : 3;
            }

            if (value < 1000000)
            {
                return value < 10000 ? 4 : value < 100000 ? 5 : 6;
            }

            return value < 10000000 ? 7 : value < 100000000 ? 8 : 9;
        }

        private void AddByte(byte value)
        {
            int at = _length;
            if (at >= _buffer.Length)
            {
                Overflowed = true;
                return;
            }

            _buffer[at] = value;
            _length = at + 1;
        }

        private static byte[] BuildHexDigits()
        {
            byte[] digits = new byte[16];
            for (int i = 0; i < 16; i++)
            {
                digits[i] = (byte)(i < 10 ? '0' + i : 'A' + i - 10);
            }

            return digits;
        }

        private static byte[] BuildDecimalDigits(int unit)
        {
            byte[] digits = new byte[100];
            for (int i = 0; i < 100; i++)
            {
                digits[i] = (byte)('0' + (unit == 10 ? i / 10 : i % 10));
            }

            return digits;
        }
    }
}
