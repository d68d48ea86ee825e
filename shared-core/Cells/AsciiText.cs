namespace Fourpatch.Core.Cells
{
    /// <summary>
    /// A short name in a fixed buffer: printable ASCII without the characters the wire needs for itself.
    /// Not thread-safe.
    /// </summary>
    public sealed class AsciiText
    {
        private readonly byte[] _bytes;

        /// <summary>An empty text that can hold up to <paramref name="capacity"/> characters.</summary>
        public AsciiText(int capacity)
        {
            _bytes = new byte[capacity];
        }

        /// <summary>Characters held, 0 to <see cref="Capacity"/>.</summary>
        public int Length { get; private set; }

        /// <summary>Characters that fit.</summary>
        public int Capacity
        {
            get { return _bytes.Length; }
        }

        /// <summary>The character at a place, 0 to Length - 1.</summary>
        public byte this[int index]
        {
            get { return _bytes[index]; }
        }

        /// <summary>True for what a name may hold: printable ASCII except comma, asterisk and double quote.</summary>
        public static bool IsAllowed(int character)
        {
            return character >= 0x20 && character <= 0x7E && character != ',' && character != '*' && character != '"';
        }

        /// <summary>Takes the text from a buffer.</summary>
        /// <returns>False, leaving the text as it was, when it is too long or holds a character that is not allowed.</returns>
        public bool TrySet(byte[] source, int offset, int length)
        {
            if (length < 0 || length > _bytes.Length || offset < 0 || offset + length > source.Length)
            {
                return false;
            }

            for (int i = 0; i < length; i++)
            {
                if (!IsAllowed(source[offset + i]))
                {
                    return false;
                }
            }

            for (int i = 0; i < length; i++)
            {
                _bytes[i] = source[offset + i];
            }

            Length = length;
            return true;
        }

        /// <summary>Takes the text from a string; the same rules.</summary>
        public bool TrySet(string source)
        {
            if (source == null || source.Length > _bytes.Length)
            {
                return false;
            }

            for (int i = 0; i < source.Length; i++)
            {
                if (!IsAllowed(source[i]))
                {
                    return false;
                }
            }

            for (int i = 0; i < source.Length; i++)
            {
                _bytes[i] = (byte)source[i];
            }

            Length = source.Length;
            return true;
        }

        /// <summary>Makes this text the same as another of at most this capacity; a longer one is cut.</summary>
        public void CopyFrom(AsciiText other)
        {
            Length = other.Length < _bytes.Length ? other.Length : _bytes.Length;
            for (int i = 0; i < Length; i++)
            {
                _bytes[i] = other._bytes[i];
            }
        }

        /// <summary>True when both hold the same characters.</summary>
        public bool IsSameAs(AsciiText other)
        {
            if (Length != other.Length)
            {
                return false;
            }

            for (int i = 0; i < Length; i++)
            {
                if (_bytes[i] != other._bytes[i])
                {
                    return false;
                }
            }

            return true;
        }

        /// <summary>The text as a string; allocates.</summary>
        public override string ToString()
        {
            char[] characters = new char[Length];
            for (int i = 0; i < Length; i++)
            {
                characters[i] = (char)_bytes[i];
            }

            return new string(characters);
        }
    }
}
