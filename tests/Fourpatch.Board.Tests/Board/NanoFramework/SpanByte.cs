namespace System
{
    public readonly ref struct SpanByte
    {
        private readonly byte[] _array;

        public SpanByte(byte[] array)
        {
            _array = array;
        }

        public int Length => _array.Length;

        internal Span<byte> Bytes => _array;
    }
}
