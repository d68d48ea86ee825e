using Fourpatch.Core.Wire;

namespace Fourpatch.Core.Rig
{
    /// <summary>
    /// What the board keeps in flash: its name, the names and calibrations of its cells, and how often it booted;
    /// and beside it what is put aside until the next commit. Not thread-safe.
    /// </summary>
    public sealed class BoardMemory
    {
        /// <summary>Record number of names and calibrations.</summary>
        public const int CalibrationRecord = 1;

        /// <summary>Record number of the boot counter, apart so that counting boots never touches a calibration.</summary>
        public const int BootRecord = 2;

        /// <summary>Name of a board that has been given none.</summary>
        public const string DefaultBoardId = "B1";

        /// <summary>Bytes that hold any record.</summary>
        public const int RecordBytesMax = 400;

        private readonly IRecordStore _store;
        private readonly byte[] _buffer = new byte[RecordBytesMax];
        private readonly byte[] _readBack = new byte[RecordBytesMax];
        private readonly BoardRecord _held = new BoardRecord();
        private readonly BoardRecord _staged = new BoardRecord();
        private bool _isFlashUncertain;

        /// <summary>Memory over a store; call <see cref="Load"/> before anything else.</summary>
        public BoardMemory(IRecordStore store)
        {
            _store = store;
        }

        /// <summary>What flash holds.</summary>
        public BoardRecord Held
        {
            get { return _held; }
        }

        /// <summary>What the next commit would write.</summary>
        public BoardRecord Staged
        {
            get { return _staged; }
        }

        /// <summary>CRC-32 of the record held in flash, 0 when there is none.</summary>
        public uint HeldChecksum { get; private set; }

        /// <summary>Number of this boot.</summary>
        public uint BootId { get; private set; }

        /// <summary>Reads everything at start-up and counts the boot.</summary>
        public void Load()
        {
            int length = _store.Read(CalibrationRecord, _buffer);
            if (length >= 0 && _held.TryDecode(_buffer, length))
            {
                HeldChecksum = Crc32.Of(_buffer, 0, length);
            }
            else
            {
                _held.Clear();
                HeldChecksum = 0;
            }

            _staged.CopyFrom(_held);
            CountBoot();
        }

        /// <summary>Forgets what was put aside.</summary>
        public void Discard()
        {
            _staged.CopyFrom(_held);
        }

        /// <summary>Writes what was put aside, reads it back and holds it; does nothing when nothing differs from what is held.</summary>
        /// <param name="hasWritten">True when flash was touched.</param>
        /// <returns>False when flash did not take it; held and put aside stay as they were.</returns>
        public bool TryCommit(out bool hasWritten)
        {
            hasWritten = false;
            if (HeldChecksum != 0 && !_isFlashUncertain && _staged.IsSameAs(_held))
            {
                return true;
            }

            hasWritten = true;
            uint numberBefore = _staged.CommitNumber;
            _staged.CommitNumber = _held.CommitNumber + 1;
            int length = _staged.Encode(_buffer);
            if (!_store.TryWrite(CalibrationRecord, _buffer, length) || !ReadsBack(length))
            {
                // The store may have taken what did not read back: the next commit writes even when nothing seems to differ.
                _isFlashUncertain = true;
                _staged.CommitNumber = numberBefore;
                return false;
            }

            _isFlashUncertain = false;
            _held.CopyFrom(_staged);
            HeldChecksum = Crc32.Of(_buffer, 0, length);
            return true;
        }

        private bool ReadsBack(int length)
        {
            if (_store.Read(CalibrationRecord, _readBack) != length)
            {
                return false;
            }

            for (int i = 0; i < length; i++)
            {
                if (_readBack[i] != _buffer[i])
                {
                    return false;
                }
            }

            return true;
        }

        private void CountBoot()
        {
            uint last = 0;
            if (_store.Read(BootRecord, _readBack) == 4)
            {
                last = ByteOrder.ReadUInt32(_readBack, 0);
            }

            BootId = last + 1;
            ByteOrder.WriteUInt32(_readBack, 0, BootId);

            // A boot that cannot be counted still runs: the host then sees the same boot id and falls back on the uptime.
            _store.TryWrite(BootRecord, _readBack, 4);
        }
    }
}
