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

        // What a byte makes of the checksum when one, two or three more follow it: four bytes at a time need not wait for one another.
        private static readonly uint[] Table1 = Follow(Table);
        private static readonly uint[] Table2 = Follow(Table1);
        private static readonly uint[] Table3 = Follow(Table2);

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
            uint[] table1 = Table1;
            uint[] table2 = Table2;
            uint[] table3 = Table3;
            uint running = Start;
            int end = offset + count;
            int i = offset;
            for (; i + 3 < end; i += 4)
            {
                running = table3[(byte)(running ^ bytes[i])] ^ table2[(byte)((running >> 8) ^ bytes[i + 1])]
                    ^ table1[(byte)((running >> 16) ^ bytes[i + 2])] ^ table[(byte)((running >> 24) ^ bytes[i + 3])];
            }

            for (; i < end; i++)
            {
                running = (running >> 8) ^ table[(byte)(running ^ bytes[i])];
            }

            return Finish(running);
        }

        private static uint[] Follow(uint[] table)
        {
            uint[] next = new uint[256];
            for (int i = 0; i < 256; i++)
            {
                next[i] = (table[i] >> 8) ^ Table[(byte)table[i]];
            }

            return next;
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
