using Fourpatch.Core.Cells;

namespace Fourpatch.Core.Wire
{
    /// <summary>
    /// Reads the comma-separated fields of one line's body from left to right. Every number has exactly one accepted
    /// spelling; anything else fails without moving on. Never throws, allocates nothing. Not thread-safe.
    /// </summary>
    public sealed class FieldReader
    {
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
        public static int HexDigit(int character)
        {
            if (character >= '0' && character <= '9')
            {
                return character - '0';
            }

            return character >= 'A' && character <= 'F' ? character - 'A' + 10 : -1;
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
            if (_end - _position < digits)
            {
                return false;
            }

            for (int i = 0; i < digits; i++)
            {
                int digit = HexDigit(_bytes[_position + i]);
                if (digit < 0)
                {
                    return false;
                }

                value = (value << 4) | (uint)digit;
            }

            _position += digits;
            return true;
        }

        /// <summary>Takes a decimal integer in its one spelling: no leading zeros, no plus sign, no "-0".</summary>
        /// <returns>False when there is none, or it lies outside the stated range (both ends included; at most 15 digits).</returns>
        public bool TryDecimal(long lowest, long highest, out long value)
        {
            value = 0;
            int at = _position;
            bool negative = at < _end && _bytes[at] == (byte)'-';
            if (negative)
            {
                at++;
            }

            int first = at;
            long magnitude = 0;
            while (at < _end && _bytes[at] >= (byte)'0' && _bytes[at] <= (byte)'9')
            {
                if (at - first >= 15)
                {
                    return false;
                }

                magnitude = (magnitude * 10) + (_bytes[at] - '0');
                at++;
            }

            int digits = at - first;
            if (digits == 0 || (digits > 1 && _bytes[first] == (byte)'0') || (negative && magnitude == 0))
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
    }
}
