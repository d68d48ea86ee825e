using Fourpatch.Core.Cells;

namespace Fourpatch.Core.Wire
{
    /// <summary>Once a second: the board is alive, which boot this is, and how each cell stands. Reused; not thread-safe.</summary>
    public sealed class Heartbeat
    {
        private readonly SampleStatus[] _health = new SampleStatus[WireFormat.CellCount];

        /// <summary>Counts the boots of this board; another value means it restarted.</summary>
        public uint BootId;

        /// <summary>Milliseconds since boot, modulo 2^32.</summary>
        public uint UptimeMilliseconds;

        /// <summary>True while sample lines are sent.</summary>
        public bool IsStreaming;

        /// <summary>Lines from the host that could not be read, modulo 2^16.</summary>
        public uint BadLines;

        /// <summary>Lines of this board that found no room on their way out, modulo 2^16.</summary>
        public uint UnsentLines;

        /// <summary>Status of the last look at a cell, index 0 to 3.</summary>
        public SampleStatus Health(int index)
        {
            return _health[index];
        }

        /// <summary>Sets the status of a cell, index 0 to 3.</summary>
        public void SetHealth(int index, SampleStatus status)
        {
            _health[index] = status;
        }

        /// <summary>Writes the line.</summary>
        public bool TryWrite(LineWriter writer)
        {
            writer.Begin(WireFormat.HeartbeatKind);
            writer.Next();
            writer.AddHex(BootId, 8);
            writer.Next();
            writer.AddHex(UptimeMilliseconds, 8);
            writer.Next();
            writer.AddCharacter(IsStreaming ? '1' : '0');
            writer.Next();
            for (int i = 0; i < WireFormat.CellCount; i++)
            {
                writer.AddCharacter(WireFormat.LetterOf(_health[i]));
            }

            writer.Next();
            writer.AddHex(BadLines, 4);
            writer.Next();
            writer.AddHex(UnsentLines, 4);
            return writer.End(true);
        }

        /// <summary>Reads the fields after the kind.</summary>
        public bool TryRead(FieldReader fields)
        {
            if (!fields.TryNext() || !fields.TryHex(8, out BootId) || !fields.TryNext() || !fields.TryHex(8, out UptimeMilliseconds)
                || !fields.TryNext() || !fields.TryCharacter(out int streaming) || (streaming != '0' && streaming != '1') || !fields.TryNext())
            {
                return false;
            }

            IsStreaming = streaming == '1';
            for (int i = 0; i < WireFormat.CellCount; i++)
            {
                if (!fields.TryCharacter(out int letter) || !WireFormat.TryStatusOf(letter, out _health[i]))
                {
                    return false;
                }
            }

            return fields.TryNext() && fields.TryHex(4, out BadLines) && fields.TryNext() && fields.TryHex(4, out UnsentLines) && fields.AtEnd;
        }
    }
}
