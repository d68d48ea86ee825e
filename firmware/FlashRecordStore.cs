using Fourpatch.Core.Rig;

namespace Fourpatch.Firmware
{
    /// <summary>
    /// Every record in two files that are written in turn: while one is being written, the other still holds the last
    /// state, so that power may fail at any moment. The whole one with the higher sequence counts. Called from one thread only.
    /// </summary>
    public sealed class FlashRecordStore : IRecordStore
    {
        private readonly RecordFile[] _first;
        private readonly RecordFile[] _second;

        /// <summary>The store in the runtime's own flash partition.</summary>
        public FlashRecordStore()
        {
            // A name of its own for each file, spelt out: joining strings is not worth the memory.
            _first = new RecordFile[2];
            _second = new RecordFile[2];
            _first[0] = new RecordFile("I:\\fourpatch-1a.bin", BoardMemory.CalibrationRecord, BoardMemory.RecordBytesMax);
            _second[0] = new RecordFile("I:\\fourpatch-1b.bin", BoardMemory.CalibrationRecord, BoardMemory.RecordBytesMax);
            _first[1] = new RecordFile("I:\\fourpatch-2a.bin", BoardMemory.BootRecord, BoardMemory.RecordBytesMax);
            _second[1] = new RecordFile("I:\\fourpatch-2b.bin", BoardMemory.BootRecord, BoardMemory.RecordBytesMax);
        }

        /// <inheritdoc/>
        public int Read(int record, byte[] buffer)
        {
            RecordFile newest = Newest(record);
            return newest == null ? -1 : newest.CopyContent(buffer);
        }

        /// <inheritdoc/>
        public bool TryWrite(int record, byte[] buffer, int count)
        {
            RecordFile newest = Newest(record);
            uint sequence = newest == null ? 1 : newest.Sequence + 1;
            RecordFile target = newest == _first[record - 1] ? _second[record - 1] : _first[record - 1];
            if (target.TryWrite(sequence, buffer, count))
            {
                return true;
            }

            // Refused is refused: should the file turn out whole after all, it must not win at the next start.
            target.Remove();
            return false;
        }

        private RecordFile Newest(int record)
        {
            RecordFile first = _first[record - 1];
            RecordFile second = _second[record - 1];
            bool hasFirst = first.TryRead();
            bool hasSecond = second.TryRead();
            if (hasFirst && hasSecond)
            {
                // The difference keeps its sense when the sequence wraps.
                return (int)(first.Sequence - second.Sequence) > 0 ? first : second;
            }

            if (hasFirst)
            {
                return first;
            }

            return hasSecond ? second : null;
        }
    }
}
