using Fourpatch.Core.Cells;

namespace Fourpatch.Core.Wire
{
    /// <summary>One to four conversions that finished within about 10 ms, at most one of each cell. Reused; not thread-safe.</summary>
    public sealed class SampleLine
    {
        private readonly int[] _cell = new int[WireFormat.CellCount];
        private readonly SampleStatus[] _status = new SampleStatus[WireFormat.CellCount];
        private readonly int[] _number = new int[WireFormat.CellCount];
        private readonly int[] _offsetSteps = new int[WireFormat.CellCount];
        private readonly int[] _counts = new int[WireFormat.CellCount];
        private int _count;
        private int _cellsHeld;

        /// <summary>Number of the line, counting up from 0 at boot, modulo 65536.</summary>
        public int LineNumber { get; set; }

        /// <summary>Board time from which the offsets count in microseconds, that of the earliest conversion within 4 us, modulo 2^32 (wraps after 71 min 34.967 s).</summary>
        public uint BaseMicroseconds { get; private set; }

        /// <summary>Conversions held, 0 to 4.</summary>
        public int Count
        {
            get { return _count; }
        }

        /// <summary>Cell of a conversion, 1 to 4.</summary>
        public int Cell(int index)
        {
            return _cell[index];
        }

        /// <summary>What is known about a conversion.</summary>
        public SampleStatus Status(int index)
        {
            return _status[index];
        }

        /// <summary>Number of the conversion among all that were read from its cell, modulo 256.</summary>
        public int Number(int index)
        {
            return _number[index];
        }

        /// <summary>Time of a conversion after <see cref="BaseMicroseconds"/>, in steps of 4 us.</summary>
        public int OffsetSteps(int index)
        {
            return _offsetSteps[index];
        }

        /// <summary>Signed counts of a conversion.</summary>
        public int Counts(int index)
        {
            return _counts[index];
        }

        /// <summary>Starts an empty line.</summary>
        public void Begin(int lineNumber, uint baseMicroseconds)
        {
            LineNumber = lineNumber & 0xFFFF;
            BaseMicroseconds = baseMicroseconds;
            _count = 0;
            _cellsHeld = 0;
        }

        /// <summary>Moves the base back, so that an earlier conversion can join; those already in the line keep their times.</summary>
        /// <returns>False, with nothing changed, when an offset would then be out of its range.</returns>
        public bool TryMoveBaseBack(int steps)
        {
            for (int i = 0; i < _count; i++)
            {
                if (steps < 0 || steps > WireFormat.OffsetStepsMax - _offsetSteps[i])
                {
                    return false;
                }
            }

            for (int i = 0; i < _count; i++)
            {
                _offsetSteps[i] += steps;
            }

            BaseMicroseconds -= (uint)(steps * WireFormat.OffsetStepMicroseconds);
            return true;
        }

        /// <summary>True when a conversion of this cell is already in the line.</summary>
        public bool Holds(int cell)
        {
            return (_cellsHeld & (1 << cell)) != 0;
        }

        /// <summary>Adds a conversion.</summary>
        /// <returns>False when a field is out of its range, the status none of the known, the line is full or holds that cell already.</returns>
        public bool TryAdd(int cell, SampleStatus status, int number, int offsetSteps, int counts)
        {
            int count = _count;
            if (count >= WireFormat.CellCount || cell < 1 || cell > WireFormat.CellCount || Holds(cell)
                || status < SampleStatus.Ok || status > SampleStatus.Stuck || offsetSteps < 0 || offsetSteps > WireFormat.OffsetStepsMax
                || counts < BridgeCounts.Lowest || counts > BridgeCounts.Highest)
            {
                return false;
            }

            _cell[count] = cell;
            _status[count] = status;
            _number[count] = number & 0xFF;
            _offsetSteps[count] = offsetSteps;
            _counts[count] = counts;
            _count = count + 1;
            _cellsHeld |= 1 << cell;
            return true;
        }

        /// <summary>Writes the line.</summary>
        /// <returns>False when it did not fit (it always does) or is empty.</returns>
        public bool TryWrite(LineWriter writer)
        {
            if (_count == 0)
            {
                return false;
            }

            writer.Begin(WireFormat.SampleKind);
            writer.Next();
            writer.AddHex((uint)LineNumber, 4);
            writer.Next();
            writer.AddHex(BaseMicroseconds, 8);
            for (int i = 0; i < _count; i++)
            {
                writer.AddConversion(_cell[i], WireFormat.LetterOf(_status[i]), _number[i], _offsetSteps[i], _counts[i]);
            }

            return writer.End(false);
        }

        /// <summary>Reads the fields after the kind.</summary>
        /// <returns>False, with nothing usable in this object, when anything is not as it must be.</returns>
        public bool TryRead(FieldReader fields)
        {
            _count = 0;
            if (!fields.TryNext() || !fields.TryHex(4, out uint lineNumber) || !fields.TryNext() || !fields.TryHex(8, out uint baseMicroseconds))
            {
                return false;
            }

            Begin((int)lineNumber, baseMicroseconds);
            while (!fields.AtEnd)
            {
                if (!fields.TryConversion(out int cell, out int letter, out int number, out int offset, out int counts)
                    || !WireFormat.TryStatusOf(letter, out SampleStatus status)
                    || !TryAdd(cell, status, number, offset, counts))
                {
                    _count = 0;
                    return false;
                }
            }

            return _count > 0;
        }
    }
}
