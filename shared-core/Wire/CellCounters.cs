namespace Fourpatch.Core.Wire
{
    /// <summary>
    /// What became of the conversions of one cell since boot. All modulo 2^32. Always
    /// Read = Delivered + Idle + Settling + Overlapped + Desynced + Unsent: every conversion that was read is accounted for.
    /// Reused; not thread-safe.
    /// </summary>
    public sealed class CellCounters
    {
        /// <summary>Cell, 1 to 4.</summary>
        public int Cell;

        /// <summary>Conversions read from the amplifier.</summary>
        public uint Read;

        /// <summary>Sent in a sample line, with whatever status.</summary>
        public uint Delivered;

        /// <summary>Discarded: nobody had asked for the stream.</summary>
        public uint Idle;

        /// <summary>Discarded: the amplifier was settling.</summary>
        public uint Settling;

        /// <summary>Discarded: read while the amplifier was updating.</summary>
        public uint Overlapped;

        /// <summary>Discarded: the bit train was not as it must be, or a clock pulse was stretched.</summary>
        public uint Desynced;

        /// <summary>Discarded: no room on the way out.</summary>
        public uint Unsent;

        /// <summary>Read at an end of the converter's range or the same too often in a row; also counted in one of the above.</summary>
        public uint Suspect;

        /// <summary>Never read, because nobody looked in time. An estimate from the time that passed.</summary>
        public uint MissedEstimate;

        /// <summary>Writes the line.</summary>
        public bool TryWrite(LineWriter writer)
        {
            writer.Begin(WireFormat.CountersKind);
            writer.Next();
            writer.AddDecimal(Cell);
            AddCounter(writer, Read);
            AddCounter(writer, Delivered);
            AddCounter(writer, Idle);
            AddCounter(writer, Settling);
            AddCounter(writer, Overlapped);
            AddCounter(writer, Desynced);
            AddCounter(writer, Unsent);
            AddCounter(writer, Suspect);
            AddCounter(writer, MissedEstimate);
            return writer.End(true);
        }

        /// <summary>Reads the fields after the kind.</summary>
        public bool TryRead(FieldReader fields)
        {
            return fields.TryNext() && fields.TryDecimal(1, WireFormat.CellCount, out Cell)
                && TryCounter(fields, out Read) && TryCounter(fields, out Delivered) && TryCounter(fields, out Idle)
                && TryCounter(fields, out Settling) && TryCounter(fields, out Overlapped) && TryCounter(fields, out Desynced)
                && TryCounter(fields, out Unsent) && TryCounter(fields, out Suspect) && TryCounter(fields, out MissedEstimate)
                && fields.AtEnd;
        }

        private static void AddCounter(LineWriter writer, uint value)
        {
            writer.Next();
            writer.AddHex(value, 8);
        }

        private static bool TryCounter(FieldReader fields, out uint value)
        {
            value = 0;
            return fields.TryNext() && fields.TryHex(8, out value);
        }
    }
}
