using Fourpatch.Core.Arithmetic;
using Fourpatch.Core.Cells;
using Fourpatch.Core.Wire;

namespace Fourpatch.Core.Rig
{
    /// <summary>
    /// Keeps the books of one cell: counts every conversion, notices when its counts no longer move, learns its period
    /// and estimates from it what was never read. Not thread-safe.
    /// </summary>
    public sealed class CellWatch
    {
        /// <summary>
        /// This many equal results in a row are no bridge: the chip's own noise is some 20 counts rms
        /// (50 nV at gain 128 and 5 V, HX711 datasheet, "input noise").
        /// </summary>
        public const int StuckAfter = 16;

        // Intervals alike in a row before they are believed. A shorter period than known is believed soon; a longer one
        // only late, because steadily missing every other conversion looks the same.
        private const int ShorterAfter = 2;
        private const int LongerAfter = 8;

        // Of so many periods at most is the mean taken by which long gaps are measured: intervals follow one another, so that
        // what the loop adds to single ones cancels, and one turn of it is spread over all of them.
        private const int MeanOfPeriodsMax = 512;

        private int _lastCounts;
        private int _equalInARow;
        private long _lastTimeMicroseconds;
        private bool _hasLast;
        private long _periodMicroseconds;
        private long _sumOfPeriodsMicroseconds;
        private int _periodsSummed;
        private long _lastIntervalMicroseconds;
        private int _alikeInARow;
        private long _sumCounts;
        private int _sumOf;

        /// <summary>What became of the conversions.</summary>
        public readonly CellCounters Counters = new CellCounters();

        /// <summary>Status of the last conversion; NoDevice before the first.</summary>
        public SampleStatus LastStatus = SampleStatus.NoDevice;

        /// <summary>Learnt conversion period in microseconds, 0 until conversions have come at even intervals.</summary>
        public long PeriodMicroseconds
        {
            get { return _periodMicroseconds; }
        }

        /// <summary>Books for a cell, 1 to 4.</summary>
        public CellWatch(int cell)
        {
            Counters.Cell = cell;
        }

        /// <summary>
        /// Enters a conversion that was read, and gives its status its last word (range, stuck).
        /// Discarded kinds are counted here; for one that <see cref="IsDiscarded"/> does not name, the caller says what became of it.
        /// </summary>
        public void Enter(Conversion conversion)
        {
            Counters.Read++;
            NoteTime(conversion.TimeMicroseconds);
            if (conversion.Status == SampleStatus.Ok)
            {
                conversion.Status = BridgeCounts.RangeStatus(conversion.Counts);
                NoteStuck(conversion);
            }

            LastStatus = conversion.Status;
            switch (conversion.Status)
            {
                case SampleStatus.Ok:
                    _sumCounts += conversion.Counts;
                    _sumOf++;
                    break;
                case SampleStatus.Settling:
                    Counters.Settling++;
                    break;
                case SampleStatus.Overlapped:
                    Counters.Overlapped++;
                    break;
                case SampleStatus.Desync:
                case SampleStatus.ClockStretched:
                    Counters.Desynced++;
                    break;
                default:
                    Counters.Suspect++;
                    break;
            }
        }

        /// <summary>True for a status whose conversions are never delivered.</summary>
        public static bool IsDiscarded(SampleStatus status)
        {
            return status == SampleStatus.Settling || status == SampleStatus.Overlapped
                || status == SampleStatus.Desync || status == SampleStatus.ClockStretched;
        }

        /// <summary>Forgets when the last conversion came, as when the amplifier fell silent: the silence is no loss of ours.</summary>
        public void ForgetTime()
        {
            _hasLast = false;
        }

        /// <summary>Mean of the good counts since the last call, in 1/16 count.</summary>
        /// <returns>False when there was none.</returns>
        public bool TryTakeMeanSixteenths(out long meanSixteenths)
        {
            bool isNegative = _sumCounts < 0;
            long magnitude = isNegative ? 0 - _sumCounts : _sumCounts;
            bool any = Quotient.TryDivideRounded(magnitude << 4, _sumOf, out meanSixteenths);
            if (isNegative)
            {
                meanSixteenths = 0 - meanSixteenths;
            }

            _sumCounts = 0;
            _sumOf = 0;
            return any;
        }

        private void NoteStuck(Conversion conversion)
        {
            _equalInARow = conversion.Counts == _lastCounts && _equalInARow > 0 ? _equalInARow + 1 : 1;
            _lastCounts = conversion.Counts;
            if (_equalInARow >= StuckAfter)
            {
                _equalInARow = StuckAfter;
                if (conversion.Status == SampleStatus.Ok)
                {
                    conversion.Status = SampleStatus.Stuck;
                }
            }
        }

        private void NoteTime(long timeMicroseconds)
        {
            long interval = timeMicroseconds - _lastTimeMicroseconds;
            _lastTimeMicroseconds = timeMicroseconds;
            if (!_hasLast)
            {
                _hasLast = true;
                _lastIntervalMicroseconds = 0;
                _alikeInARow = 0;
                return;
            }

            if (IsNear(interval, _periodMicroseconds))
            {
                _periodMicroseconds += (interval - _periodMicroseconds) >> 3;
                _lastIntervalMicroseconds = interval;
                _alikeInARow = 0;
                NotePeriod(interval);
                return;
            }

            LearnPeriod(interval);
            if (_periodMicroseconds > 0 && interval * 2 > _periodMicroseconds * 3
                && Quotient.TryDivideRounded(interval * _periodsSummed, _sumOfPeriodsMicroseconds, out long periods) && periods > 1)
            {
                Counters.MissedEstimate += (uint)(periods - 1);
            }
        }

        private void NotePeriod(long interval)
        {
            _sumOfPeriodsMicroseconds += interval;
            _periodsSummed++;
            if (_periodsSummed >= MeanOfPeriodsMax)
            {
                _sumOfPeriodsMicroseconds >>= 1;
                _periodsSummed >>= 1;
            }
        }

        // A result that is seen late makes one interval long and the next one short by as much. One odd interval must
        // therefore teach nothing: believed, a short one would make every later conversion look like a loss.
        private void LearnPeriod(long interval)
        {
            _alikeInARow = IsNear(interval, _lastIntervalMicroseconds) ? _alikeInARow + 1 : 0;
            _lastIntervalMicroseconds = interval;
            if (_alikeInARow >= (_periodMicroseconds == 0 || interval < _periodMicroseconds ? ShorterAfter : LongerAfter))
            {
                _periodMicroseconds = interval;
                _sumOfPeriodsMicroseconds = interval;
                _periodsSummed = 1;
            }
        }

        // Within a quarter of the reference.
        private static bool IsNear(long interval, long reference)
        {
            long difference = interval - reference;
            return reference > 0 && difference * 4 <= reference && difference * 4 >= 0 - reference;
        }
    }
}
