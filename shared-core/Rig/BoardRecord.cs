using Fourpatch.Core.Cells;
using Fourpatch.Core.Wire;

namespace Fourpatch.Core.Rig
{
    /// <summary>Names and calibrations of one board, and their bytes in flash. Not thread-safe.</summary>
    public sealed class BoardRecord
    {
        private const byte Version = 1;
        private const int HeaderBytes = 5;
        private const int NameBytes = 1 + WireFormat.NameLengthMax;
        private const int CellBytes = NameBytes + (8 * 7) + 4 + 1 + CellCalibration.ReferenceCapacity;
        private const int RecordBytes = HeaderBytes + NameBytes + (WireFormat.CellCount * CellBytes);

        private readonly CellCalibration[] _calibrations = new CellCalibration[WireFormat.CellCount];
        private readonly AsciiText[] _cellNames = new AsciiText[WireFormat.CellCount];

        /// <summary>An empty record with the default board name.</summary>
        public BoardRecord()
        {
            for (int i = 0; i < WireFormat.CellCount; i++)
            {
                _calibrations[i] = new CellCalibration();
                _cellNames[i] = new AsciiText(WireFormat.NameLengthMax);
            }

            BoardId = new AsciiText(WireFormat.NameLengthMax);
            Clear();
        }

        /// <summary>Goes up by one with every commit.</summary>
        public uint CommitNumber { get; set; }

        /// <summary>Name of the board.</summary>
        public AsciiText BoardId { get; private set; }

        /// <summary>Calibration of a cell, index 0 to 3.</summary>
        public CellCalibration Calibration(int cellIndex)
        {
            return _calibrations[cellIndex];
        }

        /// <summary>Name of a cell, index 0 to 3; may be empty.</summary>
        public AsciiText CellName(int cellIndex)
        {
            return _cellNames[cellIndex];
        }

        /// <summary>The record of a board that has never been calibrated or named.</summary>
        public void Clear()
        {
            CommitNumber = 0;
            BoardId.TrySet(BoardMemory.DefaultBoardId);
            CellCalibration blank = new CellCalibration();
            AsciiText noName = new AsciiText(0);
            for (int i = 0; i < WireFormat.CellCount; i++)
            {
                _calibrations[i].CopyFrom(blank);
                _cellNames[i].CopyFrom(noName);
            }
        }

        /// <summary>Takes over everything of another record.</summary>
        public void CopyFrom(BoardRecord other)
        {
            CommitNumber = other.CommitNumber;
            BoardId.CopyFrom(other.BoardId);
            for (int i = 0; i < WireFormat.CellCount; i++)
            {
                _calibrations[i].CopyFrom(other._calibrations[i]);
                _cellNames[i].CopyFrom(other._cellNames[i]);
            }
        }

        /// <summary>True when names and calibrations are the same, whatever the commit number.</summary>
        public bool IsSameAs(BoardRecord other)
        {
            for (int i = 0; i < WireFormat.CellCount; i++)
            {
                if (!_calibrations[i].IsSameAs(other._calibrations[i]) || !_cellNames[i].IsSameAs(other._cellNames[i]))
                {
                    return false;
                }
            }

            return BoardId.IsSameAs(other.BoardId);
        }

        /// <summary>Writes the record's bytes.</summary>
        /// <param name="buffer">At least <see cref="BoardMemory.RecordBytesMax"/> bytes.</param>
        /// <returns>Bytes written.</returns>
        public int Encode(byte[] buffer)
        {
            buffer[0] = Version;
            ByteOrder.WriteUInt32(buffer, 1, CommitNumber);
            int at = PutText(buffer, HeaderBytes, BoardId);
            for (int i = 0; i < WireFormat.CellCount; i++)
            {
                CellCalibration calibration = _calibrations[i];
                at = PutText(buffer, at, _cellNames[i]);
                at = PutNumber(buffer, at, calibration.ZeroSixteenths);
                at = PutNumber(buffer, at, calibration.SpanPicokilograms);
                at = PutNumber(buffer, at, calibration.CapacityGrams);
                at = PutNumber(buffer, at, calibration.SpanOwnPpm);
                at = PutNumber(buffer, at, calibration.SpanReferencePpm);
                at = PutNumber(buffer, at, calibration.ZeroUncertaintySixteenths);
                at = PutNumber(buffer, at, calibration.LargestLoadGrams);
                ByteOrder.WriteUInt32(buffer, at, (uint)calibration.DateYyyymmdd);
                at = PutText(buffer, at + 4, calibration.Reference);
            }

            return at;
        }

        /// <summary>Reads the record's bytes.</summary>
        /// <returns>False when they are not a record of this version, or hold a value out of range; this object is then in disorder: clear it.</returns>
        public bool TryDecode(byte[] buffer, int length)
        {
            if (length != RecordBytes || buffer[0] != Version)
            {
                return false;
            }

            CommitNumber = ByteOrder.ReadUInt32(buffer, 1);
            int at = HeaderBytes;
            bool good = TryTakeText(buffer, ref at, BoardId);
            for (int i = 0; i < WireFormat.CellCount && good; i++)
            {
                CellCalibration calibration = _calibrations[i];
                good = TryTakeText(buffer, ref at, _cellNames[i])
                    && TryTakeInt(buffer, ref at, out calibration.ZeroSixteenths)
                    && TryTakeLong(buffer, ref at, out calibration.SpanPicokilograms)
                    && TryTakeInt(buffer, ref at, out calibration.CapacityGrams)
                    && TryTakeInt(buffer, ref at, out calibration.SpanOwnPpm)
                    && TryTakeInt(buffer, ref at, out calibration.SpanReferencePpm)
                    && TryTakeInt(buffer, ref at, out calibration.ZeroUncertaintySixteenths)
                    && TryTakeInt(buffer, ref at, out calibration.LargestLoadGrams);
                if (good)
                {
                    calibration.DateYyyymmdd = (int)ByteOrder.ReadUInt32(buffer, at);
                    at += 4;
                    good = TryTakeText(buffer, ref at, calibration.Reference) && calibration.IsInRange;
                }
            }

            return good;
        }

        private static int PutNumber(byte[] buffer, int at, long value)
        {
            ByteOrder.WriteInt64(buffer, at, value);
            return at + 8;
        }

        private static int PutText(byte[] buffer, int at, AsciiText text)
        {
            buffer[at] = (byte)text.Length;
            at++;
            for (int i = 0; i < text.Capacity; i++)
            {
                buffer[at + i] = i < text.Length ? text[i] : (byte)0;
            }

            return at + text.Capacity;
        }

        private static bool TryTakeLong(byte[] buffer, ref int at, out long value)
        {
            value = ByteOrder.ReadInt64(buffer, at);
            at += 8;
            return true;
        }

        private static bool TryTakeInt(byte[] buffer, ref int at, out int value)
        {
            long wide = ByteOrder.ReadInt64(buffer, at);
            at += 8;
            value = (int)wide;
            return wide == value;
        }

        private static bool TryTakeText(byte[] buffer, ref int at, AsciiText text)
        {
            int length = buffer[at];
            int start = at + 1;
            at = start + text.Capacity;
            return text.TrySet(buffer, start, length);
        }
    }
}
