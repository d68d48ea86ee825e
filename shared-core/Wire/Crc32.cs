namespace Fourpatch.Core.Wire
{
    /// <summary>
    /// CRC-32/ISO-HDLC: polynomial 04C11DB7h reflected, initial value and final exclusive-or FFFFFFFFh;
    /// the check value of "123456789" is CBF43926h (catalogue of parametrised CRC algorithms, "CRC-32/ISO-HDLC").
    /// </summary>
    public static class Crc32
    {
        /// <summary>The running value before the first byte.</summary>
        public const uint Start = 0xFFFFFFFF;

        private static readonly uint[] Table = BuildTable();

        /// <summary>The running value after one more byte.</summary>
        public static uint Add(uint running, byte value)
        {
            return (running >> 8) ^ Table[(int)((running ^ value) & 0xFF)];
        }

        /// <summary>The checksum for a running value.</summary>
        public static uint Finish(uint running)
        {
            return running ^ 0xFFFFFFFF;
        }

        /// <summary>The checksum of a stretch of bytes.</summary>
        public static uint Of(byte[] bytes, int offset, int count)
        {
            uint[] table = Table;
            uint running = Start;
            int end = offset + count;
            int i = offset;

            // Four at a time: on the board every instruction counts, and a third of them would be the loop's own.
            for (; i + 3 < end; i += 4)
            {
                running = (running >> 8) ^ table[(byte)(running ^ bytes[i])];
                running = (running >> 8) ^ table[(byte)(running ^ bytes[i + 1])];
                running = (running >> 8) ^ table[(byte)(running ^ bytes[i + 2])];
                running = (running >> 8) ^ table[(byte)(running ^ bytes[i + 3])];
            }

            for (; i < end; i++)
            {
                running = (running >> 8) ^ table[(byte)(running ^ bytes[i])];
            }

            return Finish(running);
        }

        private static uint[] BuildTable()
        {
            uint[] table = new uint[256];
            for (uint i = 0; i < 256; i++)
            {
                uint value = i;
                for (int bit = 0; bit < 8; bit++)
                {
                    value = (value & 1) != 0 ? (value >> 1) ^ 0xEDB88320 : value >> 1;
                }

                table[(int)i] = value;
            }

            return table;
        }
    }
}
