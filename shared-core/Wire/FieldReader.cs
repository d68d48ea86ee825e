using Fourpatch.Core.Cells;

namespace Fourpatch.Core.Wire
{
    /// <summary>
    /// Reads the comma-separated fields of one line's body from left to right. Every number has exactly one accepted
    /// spelling; anything else fails without moving on. Never throws, allocates nothing. Not thread-safe.
    /// </summary>
    public sealed class FieldReader
    {
        private const int ConversionHeadBytes = 8;
        private const byte NoDigit = 0xFF;

        private static readonly byte[] HexValues = BuildHexValues();

        private byte[] _bytes;
        private int _position;
        private int _end;

        /// <summary>True when everything has been read.</summary>
        public bool AtEnd
        {
            get { return _position >= _end; }
        }

        /// <summary>Starts on a body.</summary>
        public void Begin(byte[] bytes, int length)
        {
            _bytes = bytes;
            _position = 0;
            _end = length;
        }

        /// <summary>The value of an upper-case hexadecimal digit, or -1.</summary>
        public static int HexDigit(byte character)
        {
            byte value = HexValues[character];
            return value == NoDigit ? -1 : value;
        }

        /// <summary>Passes the comma before the next field.</summary>
        public bool TryNext()
        {
            return TryLiteral(',');
        }

        /// <summary>Passes one given character.</summary>
        public bool TryLiteral(char expected)
        {
            if (AtEnd || _bytes[_position] != (byte)expected)
            {
                return false;
            }

            _position++;
            return true;
        }

        /// <summary>Takes any one character.</summary>
        public bool TryCharacter(out int character)
        {
            character = 0;
            if (AtEnd)
            {
                return false;
            }

            character = _bytes[_position];
            _position++;
            return true;
        }

        /// <summary>Takes exactly <paramref name="digits"/> (1 to 8) upper-case hexadecimal digits.</summary>
        public bool TryHex(int digits, out uint value)
        {
            value = 0;
            return _end - _position >= digits && TryHexAt(_position, digits, out value) && TryPass(digits);
        }

        /// <summary>
        /// The next field, a conversion: comma, cell, status letter, two digits of number, three of time, counts. The same as its parts
        /// taken one by one, in a third of the time: this is what a laptop reads most.
        /// </summary>
        /// <returns>False when it is not written so; cell, letter and counts are not looked at beyond that.</returns>
        public bool TryConversion(out int cell, out int letter, out int number, out int offset, out int counts)
        {
            cell = 0;
            letter = 0;
            number = 0;
            offset = 0;
            counts = 0;
            byte[] bytes = _bytes;
            byte[] values = HexValues;
            int at = _position;
            if (_end - at <= ConversionHeadBytes || bytes[at] != (byte)',')
            {
                return false;
            }

            int number1 = values[bytes[at + 3]];
            int number0 = values[bytes[at + 4]];
            int offset2 = values[bytes[at + 5]];
            int offset1 = values[bytes[at + 6]];
            int offset0 = values[bytes[at + 7]];
            if ((number1 | number0 | offset2 | offset1 | offset0) >= NoDigit)
            {
                return false;
            }

            cell = bytes[at + 1] - '0';
            letter = bytes[at + 2];
            number = (number1 << 4) | number0;
            offset = (offset2 << 8) | (offset1 << 4) | offset0;
            _position = at + ConversionHeadBytes;
            return TryDecimal(BridgeCounts.Lowest, BridgeCounts.Highest, out counts);
        }

        /// <summary>Takes a decimal integer in its one spelling: no leading zeros, no plus sign, no "-0".</summary>
        /// <returns>False when there is none, or it lies outside the stated range (both ends included; at most 15 digits).</returns>
        public bool TryDecimal(long lowest, long highest, out long value)
        {
            value = 0;
            byte[] bytes = _bytes;
            int end = _end;
            int at = _position;
            bool negative = at < end && bytes[at] == (byte)'-';
            if (negative)
            {
                at++;
            }

            int first = at;
            long magnitude = 0;
            while (at < end)
            {
                int digit = bytes[at] - '0';
                if (digit < 0 || digit > 9)
                {
                    break;
                }

                if (at - first >= 15)
                {
                    return false;
                }

                magnitude = (magnitude * 10) + digit;
                at++;
            }

            int digits = at - first;
            if (digits == 0 || (digits > 1 && bytes[first] == (byte)'0') || (negative && magnitude == 0))
            {
                return false;
            }

            long signed = negative ? 0 - magnitude : magnitude;
            if (signed < lowest || signed > highest)
            {
                return false;
            }

            value = signed;
            _position = at;
            return true;
        }

        /// <summary>As <see cref="TryDecimal(long, long, out long)"/>, for an int.</summary>
        public bool TryDecimal(int lowest, int highest, out int value)
        {
            bool read = TryDecimal((long)lowest, (long)highest, out long wide);
            value = (int)wide;
            return read;
        }

        /// <summary>Passes a whole field that is exactly this word.</summary>
        public bool TryWord(string word)
        {
            if (_end - _position < word.Length)
            {
                return false;
            }

            for (int i = 0; i < word.Length; i++)
            {
                if (_bytes[_position + i] != (byte)word[i])
                {
                    return false;
                }
            }

            int after = _position + word.Length;
            if (after < _end && _bytes[after] != (byte)',')
            {
                return false;
            }

            _position = after;
            return true;
        }

        /// <summary>Takes a whole field as a short name; empty is allowed.</summary>
        public bool TryText(AsciiText text)
        {
            int at = _position;
            while (at < _end && _bytes[at] != (byte)',')
            {
                at++;
            }

            if (!text.TrySet(_bytes, _position, at - _position))
            {
                return false;
            }

            _position = at;
            return true;
        }

        private bool TryHexAt(int at, int digits, out uint value)
        {
            byte[] bytes = _bytes;
            byte[] values = HexValues;
            uint read = 0;
            value = 0;
            for (int end = at + digits; at < end; at++)
            {
                byte digit = values[bytes[at]];
                if (digit == NoDigit)
                {
                    return false;
                }

                read = (read << 4) | digit;
            }

            value = read;
            return true;
        }

        private bool TryPass(int count)
        {
            _position += count;
            return true;
        }

        private static byte[] BuildHexValues()
        {
            byte[] values = new byte[256];
            for (int i = 0; i < 256; i++)
            {
                values[i] = (byte)(i >= '0' && i <= '9' ? i - '0' : i >= 'A' && i <= 'F' ? i - 'A' + 10 : NoDigit);
            }

            return values;
        }
    }
}
