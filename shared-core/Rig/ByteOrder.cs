namespace Fourpatch.Core.Rig
{
    /// <summary>Integers in records: least significant byte first, whatever the processor does.</summary>
    public static class ByteOrder
    {
        /// <summary>Writes four bytes.</summary>
        public static void WriteUInt32(byte[] buffer, int offset, uint value)
        {
            for (int i = 0; i < 4; i++)
            {
                buffer[offset + i] = (byte)(value >> (8 * i));
            }
        }

        /// <summary>Reads four bytes.</summary>
        public static uint ReadUInt32(byte[] buffer, int offset)
        {
            uint value = 0;
            for (int i = 3; i >= 0; i--)
            {
                value = (value << 8) | buffer[offset + i];
            }

            return value;
        }

        /// <summary>Writes eight bytes.</summary>
        public static void WriteInt64(byte[] buffer, int offset, long value)
        {
            WriteUInt32(buffer, offset, (uint)value);
            WriteUInt32(buffer, offset + 4, (uint)(value >> 32));
        }

        /// <summary>Reads eight bytes.</summary>
        public static long ReadInt64(byte[] buffer, int offset)
        {
            return ((long)ReadUInt32(buffer, offset + 4) << 32) | ReadUInt32(buffer, offset);
        }
    }
}
