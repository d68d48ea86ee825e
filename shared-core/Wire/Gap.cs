namespace Fourpatch.Core.Wire
{
    /// <summary>Why the amplifiers were not read for a while.</summary>
    public enum GapReason : byte
    {
        /// <summary>Flash was written; that blocks the whole runtime.</summary>
        Flash = 1,

        /// <summary>The sampling loop was not called for a while: memory collection, another thread, a slow port.</summary>
        LateLoop = 2,
    }

    /// <summary>A stretch in which nobody looked at the amplifiers. Reused; not thread-safe.</summary>
    public sealed class Gap
    {
        private static readonly string FlashWord = "flash";
        private static readonly string LateLoopWord = "late-loop";

        /// <summary>Why.</summary>
        public GapReason Reason;

        /// <summary>Board time at its start, microseconds modulo 2^32.</summary>
        public uint StartMicroseconds;

        /// <summary>How long it lasted, microseconds; FFFFFFFF stands for that or longer.</summary>
        public uint DurationMicroseconds;

        /// <summary>Writes the line.</summary>
        public bool TryWrite(LineWriter writer)
        {
            writer.Begin(WireFormat.GapKind);
            writer.Next();
            writer.AddWord(Reason == GapReason.Flash ? FlashWord : LateLoopWord);
            writer.Next();
            writer.AddHex(StartMicroseconds, 8);
            writer.Next();
            writer.AddHex(DurationMicroseconds, 8);
            return writer.End(true);
        }

        /// <summary>Reads the fields after the kind.</summary>
        public bool TryRead(FieldReader fields)
        {
            if (!fields.TryNext())
            {
                return false;
            }

            if (fields.TryWord(FlashWord))
            {
                Reason = GapReason.Flash;
            }
            else if (fields.TryWord(LateLoopWord))
            {
                Reason = GapReason.LateLoop;
            }
            else
            {
                return false;
            }

            return fields.TryNext() && fields.TryHex(8, out StartMicroseconds)
                && fields.TryNext() && fields.TryHex(8, out DurationMicroseconds) && fields.AtEnd;
        }
    }
}
