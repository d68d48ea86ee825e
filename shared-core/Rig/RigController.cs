using Fourpatch.Core.Cells;
using Fourpatch.Core.Wire;

namespace Fourpatch.Core.Rig
{
    /// <summary>
    /// The whole behaviour of a board, behind four small interfaces: the same code runs on the ESP32 and in the virtual rig.
    /// One thread calls <see cref="Step"/> again and again; it never waits and, once started, allocates nothing.
    /// </summary>
    public sealed class RigController
    {
        private const int InputBytesPerStep = 64;
        private const long HeartbeatMicroseconds = 1000000;
        private const long LoadsMicroseconds = 500000;

        // Four microseconds a step.
        private const int OffsetStepShift = 2;

        // A loop that comes round this late has left conversions unread at 80 samples per second.
        private const long LateLoopMicroseconds = 25000;

        private readonly IAmplifierBank _bank;
        private readonly IBytePort _port;
        private readonly IClock _clock;
        private readonly BoardMemory _memory;
        private readonly CommandDesk _desk;
        private readonly LineReader _reader = new LineReader();
        private readonly LineWriter _writer = new LineWriter();
        private readonly byte[] _input = new byte[InputBytesPerStep];
        private readonly Conversion _conversion = new Conversion();
        private readonly CellWatch[] _cells = new CellWatch[WireFormat.CellCount];
        private readonly Heartbeat _heartbeat = new Heartbeat();
        private readonly Gap _gap = new Gap();

        private SampleLine _line = new SampleLine();
        private SampleLine _nextLine = new SampleLine();
        private int _nextLineNumber;
        private long _lineOpenedMicroseconds;
        private long _lastStepMicroseconds;
        private long _nextHeartbeatMicroseconds;
        private long _nextLoadsMicroseconds;
        private long _nextCountersMicroseconds;
        private int _nextCountersCell;
        private uint _unsentLines;
        private bool _hasSentSamples;

        /// <summary>A board over its four interfaces. Call <see cref="Start"/> once before the first step.</summary>
        /// <param name="bank">The amplifiers.</param>
        /// <param name="port">The serial line.</param>
        /// <param name="store">Flash.</param>
        /// <param name="clock">Time since boot.</param>
        /// <param name="resetReason">Why the board started.</param>
        /// <param name="firmwareVersion">At most <see cref="WireFormat.NameLengthMax"/> characters.</param>
        public RigController(IAmplifierBank bank, IBytePort port, IRecordStore store, IClock clock, ResetReason resetReason, string firmwareVersion)
        {
            _bank = bank;
            _port = port;
            _clock = clock;
            _memory = new BoardMemory(store);
            _desk = new CommandDesk(_memory, resetReason, firmwareVersion);
            for (int i = 0; i < WireFormat.CellCount; i++)
            {
                _cells[i] = new CellWatch(i + 1);
            }
        }

        /// <summary>The books of a cell, index 0 to 3.</summary>
        public CellWatch Cell(int cellIndex)
        {
            return _cells[cellIndex];
        }

        /// <summary>True while the host wants sample lines.</summary>
        public bool IsStreaming
        {
            get { return _desk.IsStreaming; }
        }

        /// <summary>What the board keeps in flash.</summary>
        public BoardMemory Memory
        {
            get { return _memory; }
        }

        /// <summary>Reads flash and counts the boot.</summary>
        public void Start()
        {
            _memory.Load();
            long now = _clock.NowMicroseconds;
            _lastStepMicroseconds = now;

            // An eighth of a second apart at least, so that they never wait for one another.
            _nextHeartbeatMicroseconds = now;
            _nextLoadsMicroseconds = now + (LoadsMicroseconds / 2);
            _nextCountersMicroseconds = now + (HeartbeatMicroseconds / (2 * WireFormat.CellCount));
        }

        /// <summary>One turn: look at the four amplifiers, take at most 64 bytes of input, send what is due.</summary>
        /// <param name="nowMicroseconds">Board time; never less than at the last call.</param>
        public void Step(long nowMicroseconds)
        {
            if (nowMicroseconds - _lastStepMicroseconds > LateLoopMicroseconds)
            {
                ReportGap(GapReason.LateLoop, _lastStepMicroseconds, nowMicroseconds);
            }

            _lastStepMicroseconds = nowMicroseconds;
            for (int i = 0; i < WireFormat.CellCount; i++)
            {
                LookAtCell(i);
            }

            TakeInput();

            // One line a turn: at 80 samples per second two would keep the amplifiers waiting too long. Samples go first,
            // but not twice in a row while something else is due.
            bool isSampleLineDue = IsSampleLineDue(nowMicroseconds);
            bool samplesFirst = isSampleLineDue && !_hasSentSamples;
            _hasSentSamples = samplesFirst || (!SendWhatIsDue(nowMicroseconds) && isSampleLineDue);
            if (_hasSentSamples)
            {
                SendSampleLine();
            }
        }

        private bool IsSampleLineDue(long nowMicroseconds)
        {
            return _line.Count == WireFormat.CellCount || _nextLine.Count > 0
                || (_line.Count > 0 && nowMicroseconds - _lineOpenedMicroseconds >= WireFormat.SampleLineSpacingMicroseconds);
        }

        private void LookAtCell(int index)
        {
            CellWatch cell = _cells[index];
            if (!_bank.TryTake(index, _conversion))
            {
                SampleStatus health = _bank.Health(index);
                if (health == SampleStatus.NoDevice)
                {
                    cell.LastStatus = SampleStatus.NoDevice;
                }

                // A silent amplifier, or one that fills its filter after a reset, converts nothing that could be missed.
                if (health != SampleStatus.Ok)
                {
                    cell.ForgetTime();
                }

                return;
            }

            cell.Enter(_conversion);
            if (CellWatch.IsDiscarded(_conversion.Status))
            {
                return;
            }

            if (!_desk.IsStreaming)
            {
                cell.Counters.Idle++;
                return;
            }

            Gather(index + 1, cell.Counters.Read);
        }

        // Cells run on clocks of their own: a line stays open until it holds all four, or for one spacing. What does not fit
        // into it any more opens the next one, which has its turn later: nothing is sent in the middle of a scan.
        private void Gather(int cell, uint number)
        {
            if (TryGather(_line, cell, number) || TryGather(_nextLine, cell, number))
            {
                return;
            }

            // Rare: both hold this cell already, because something else was due.
            SendSampleLine();
            if (!TryGather(_line, cell, number) && !TryGather(_nextLine, cell, number))
            {
                _cells[cell - 1].Counters.Unsent++;
            }
        }

        private bool TryGather(SampleLine line, int cell, uint number)
        {
            uint timeMicroseconds = (uint)_conversion.TimeMicroseconds;
            if (line.Count == 0)
            {
                line.Begin(0, timeMicroseconds);
                if (line == _line)
                {
                    _lineOpenedMicroseconds = _lastStepMicroseconds;
                }
            }

            if (line.Holds(cell))
            {
                return false;
            }

            // Board time wraps in the line; the difference does not.
            int offset = (int)(timeMicroseconds - line.BaseMicroseconds);
            if (offset < 0)
            {
                // The cells are looked at in turn, not in the order in which their results became ready: one that was ready
                // before the first of the line must not cost a line of its own, or the serial line overflows.
                int stepsBack = (WireFormat.OffsetStepMicroseconds - 1 - offset) >> OffsetStepShift;
                if (!line.TryMoveBaseBack(stepsBack))
                {
                    return false;
                }

                offset = (int)(timeMicroseconds - line.BaseMicroseconds);
            }

            return line.TryAdd(cell, _conversion.Status, (int)number, offset >> OffsetStepShift, _conversion.Counts);
        }

        private void SendSampleLine()
        {
            SampleLine line = _line;
            line.LineNumber = _nextLineNumber;
            bool sent = line.TryWrite(_writer) && Send();
            int count = line.Count;
            for (int i = 0; i < count; i++)
            {
                CellCounters counters = _cells[line.Cell(i) - 1].Counters;
                if (sent)
                {
                    counters.Delivered++;
                }
                else
                {
                    counters.Unsent++;
                }
            }

            // The number moves on also when the line found no room, so that the host sees the hole.
            _nextLineNumber = (_nextLineNumber + 1) & 0xFFFF;
            line.Begin(0, 0);
            _line = _nextLine;
            _nextLine = line;
            _lineOpenedMicroseconds = _lastStepMicroseconds;
        }

        private void TakeInput()
        {
            int count = _port.Read(_input, 0, InputBytesPerStep);
            int at = 0;
            while (at < count)
            {
                LineOutcome outcome = _reader.Take(_input, at, count, out at);
                if (outcome == LineOutcome.Good || outcome == LineOutcome.Plain)
                {
                    Answer(outcome == LineOutcome.Plain);
                }
                else if (outcome != LineOutcome.None)
                {
                    _desk.CountBadLine();
                }
            }
        }

        private void Answer(bool isPlain)
        {
            bool wasStreaming = _desk.IsStreaming;
            long before = _clock.NowMicroseconds;
            if (!_desk.TryAnswer(_reader.Body, _reader.BodyLength, isPlain, _writer))
            {
                return;
            }

            Send();
            // What was gathered while the stream was on still goes out, behind the answer that ended it.
            while (wasStreaming && !_desk.IsStreaming && _line.Count > 0)
            {
                SendSampleLine();
            }

            if (_desk.HasWrittenFlash)
            {
                long after = _clock.NowMicroseconds;
                ReportGap(GapReason.Flash, before, after);
                _lastStepMicroseconds = after;
            }
        }

        private void ReportGap(GapReason reason, long startMicroseconds, long endMicroseconds)
        {
            long duration = endMicroseconds - startMicroseconds;
            _gap.Reason = reason;
            _gap.StartMicroseconds = (uint)startMicroseconds;
            _gap.DurationMicroseconds = duration > 0xFFFFFFFFL ? 0xFFFFFFFF : (uint)duration;
            if (_gap.TryWrite(_writer))
            {
                Send();
            }
        }

        // At most one line; what is due as well follows in the next turn.
        private bool SendWhatIsDue(long nowMicroseconds)
        {
            if (nowMicroseconds >= _nextHeartbeatMicroseconds)
            {
                _nextHeartbeatMicroseconds = NextDue(_nextHeartbeatMicroseconds, HeartbeatMicroseconds, nowMicroseconds);
                SendHeartbeat(nowMicroseconds);
                return true;
            }

            if (nowMicroseconds >= _nextCountersMicroseconds)
            {
                _nextCountersMicroseconds = NextDue(_nextCountersMicroseconds, HeartbeatMicroseconds / WireFormat.CellCount, nowMicroseconds);
                if (_cells[_nextCountersCell].Counters.TryWrite(_writer))
                {
                    Send();
                }

                _nextCountersCell = _nextCountersCell == WireFormat.CellCount - 1 ? 0 : _nextCountersCell + 1;
                return true;
            }

            if (nowMicroseconds >= _nextLoadsMicroseconds)
            {
                _nextLoadsMicroseconds = NextDue(_nextLoadsMicroseconds, LoadsMicroseconds, nowMicroseconds);
                if (LoadsLine.TryWrite(_writer, _cells, _memory.Held))
                {
                    Send();
                }

                return true;
            }

            return false;
        }

        // After a long gap the lines that were due meanwhile are not sent in a burst.
        private static long NextDue(long dueMicroseconds, long everyMicroseconds, long nowMicroseconds)
        {
            long next = dueMicroseconds + everyMicroseconds;
            return next > nowMicroseconds ? next : nowMicroseconds + everyMicroseconds;
        }

        private void SendHeartbeat(long nowMicroseconds)
        {
            _heartbeat.BootId = _memory.BootId;
            _heartbeat.UptimeMilliseconds = (uint)(nowMicroseconds / 1000);
            _heartbeat.IsStreaming = _desk.IsStreaming;
            _heartbeat.BadLines = _desk.BadLines & 0xFFFF;
            _heartbeat.UnsentLines = _unsentLines & 0xFFFF;
            for (int i = 0; i < WireFormat.CellCount; i++)
            {
                SampleStatus health = _bank.Health(i);
                _heartbeat.SetHealth(i, health == SampleStatus.Ok ? _cells[i].LastStatus : health);
            }

            if (_heartbeat.TryWrite(_writer))
            {
                Send();
            }
        }

        private bool Send()
        {
            if (!_writer.Overflowed && _port.TryWrite(_writer.Buffer, 0, _writer.Length))
            {
                return true;
            }

            _unsentLines++;
            return false;
        }
    }
}
