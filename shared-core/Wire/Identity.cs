using Fourpatch.Core.Cells;

namespace Fourpatch.Core.Wire
{
    /// <summary>Why the board started last.</summary>
    public enum ResetReason : byte
    {
        /// <summary>Power came, or somebody pressed reset or opened the port: no note was left.</summary>
        PowerOrExternal = 1,

        /// <summary>The supervisor saw no progress and restarted the board.</summary>
        Watchdog = 2,
    }

    /// <summary>
    /// Who the board is: the fields of the identify answer after its verb. The first two (the word fourpatch and the
    /// protocol version) stay the same in every version to come. Reused; not thread-safe.
    /// </summary>
    public sealed class Identity
    {
        private static readonly string ProductWord = "fourpatch";
        private static readonly string WatchdogWord = "watchdog";
        private static readonly string PowerWord = "power-or-external";

        /// <summary>Protocol the board speaks.</summary>
        public int ProtocolVersion;

        /// <summary>Version of its firmware.</summary>
        public readonly AsciiText FirmwareVersion = new AsciiText(WireFormat.NameLengthMax);

        /// <summary>Name of the board, by which layouts know it.</summary>
        public readonly AsciiText BoardId = new AsciiText(WireFormat.NameLengthMax);

        /// <summary>Counts the boots of the board.</summary>
        public uint BootId;

        /// <summary>Why it started last.</summary>
        public ResetReason ResetReason;

        /// <summary>Number of the calibration record in flash: goes up by one with every commit, 0 when none is held.</summary>
        public uint CommitNumber;

        /// <summary>CRC-32 of the calibration record in flash, 0 when none is held.</summary>
        public uint CommitChecksum;

        /// <summary>Writes the fields, each with its comma before it.</summary>
        public void Write(LineWriter writer)
        {
            writer.Next();
            writer.AddWord(ProductWord);
            writer.Next();
            writer.AddDecimal(ProtocolVersion);
            writer.Next();
            writer.AddText(FirmwareVersion);
            writer.Next();
            writer.AddText(BoardId);
            writer.Next();
            writer.AddHex(BootId, 8);
            writer.Next();
            writer.AddWord(ResetReason == ResetReason.Watchdog ? WatchdogWord : PowerWord);
            writer.Next();
            writer.AddHex(CommitNumber, 8);
            writer.Next();
            writer.AddHex(CommitChecksum, 8);
        }

        /// <summary>Reads the fields, each with its comma before it.</summary>
        /// <returns>False when they are not those of this protocol version; <see cref="ProtocolVersion"/> is then still right if it could be read, else 0.</returns>
        public bool TryRead(FieldReader fields)
        {
            ProtocolVersion = 0;
            if (!fields.TryNext() || !fields.TryWord(ProductWord) || !fields.TryNext() || !fields.TryDecimal(1, 999999, out ProtocolVersion)
                || ProtocolVersion != WireFormat.ProtocolVersion)
            {
                return false;
            }

            if (!fields.TryNext() || !fields.TryText(FirmwareVersion) || !fields.TryNext() || !fields.TryText(BoardId)
                || !fields.TryNext() || !fields.TryHex(8, out BootId) || !fields.TryNext())
            {
                return false;
            }

            if (fields.TryWord(WatchdogWord))
            {
                ResetReason = ResetReason.Watchdog;
            }
            else if (fields.TryWord(PowerWord))
            {
                ResetReason = ResetReason.PowerOrExternal;
            }
            else
            {
                return false;
            }

            return fields.TryNext() && fields.TryHex(8, out CommitNumber) && fields.TryNext() && fields.TryHex(8, out CommitChecksum) && fields.AtEnd;
        }
    }
}
