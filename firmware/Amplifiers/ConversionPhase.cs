using Fourpatch.Core.Arithmetic;

namespace Fourpatch.Firmware.Amplifiers
{
    /// <summary>
    /// The beat of one amplifier, which runs on an oscillator of its own. From when DOUT was seen high and when low it
    /// learns the period and where in it the results come, so that no train is started just before an update, and a
    /// result that comes off the beat is noticed. All times in board microseconds. Not thread-safe.
    /// </summary>
    public sealed class ConversionPhase
    {
        /// <summary>No train starts in this time before the next predicted update; a train and its call take about half of it.</summary>
        public const long GuardMicroseconds = 650;

        // Looks are some milliseconds apart, so that single intervals are rough: the first period is a mean over this many.
        private const int IntervalsToLearn = 16;

        // Beyond this many periods without a look, where the beat stands is not known any more.
        private const int PeriodsBridged = 64;

        private const int OffBeatsToForget = 3;
        private const long Never = -1000000000000L;

        private long _periodMicroseconds;
        private long _fallMicroseconds;
        private long _firstMicroseconds;
        private long _highMicroseconds = Never;
        private bool _hasFall;
        private int _intervals;
        private int _offBeats;

        /// <summary>Period of the conversions, 0 while not known.</summary>
        public long PeriodMicroseconds
        {
            get { return _periodMicroseconds; }
        }

        /// <summary>When the last result became ready, as well as it can be told.</summary>
        public long FallMicroseconds
        {
            get { return _fallMicroseconds; }
        }

        /// <summary>Starts learning afresh, as after a restart of the amplifier.</summary>
        public void Forget()
        {
            _periodMicroseconds = 0;
            _highMicroseconds = Never;
            _hasFall = false;
            _intervals = 0;
            _offBeats = 0;
        }

        /// <summary>DOUT was high at some time not before this.</summary>
        public void SawHigh(long nowMicroseconds)
        {
            _highMicroseconds = nowMicroseconds;
        }

        /// <summary>True when the next update is predicted so soon that a train begun now might meet it.</summary>
        public bool IsNearUpdate(long nowMicroseconds)
        {
            if (_intervals < IntervalsToLearn)
            {
                return false;
            }

            long next = _fallMicroseconds + _periodMicroseconds;
            for (int i = 0; i < PeriodsBridged; i++)
            {
                next += _periodMicroseconds;
                if (next > nowMicroseconds)
                {
                    return next - nowMicroseconds < GuardMicroseconds;
                }
            }

            return false;
        }

        /// <summary>
        /// True when no update can have come before the end of a train: DOUT was seen high less than a period ago,
        /// so the result that was read is younger than that.
        /// </summary>
        /// <param name="endMicroseconds">A time after the train.</param>
        public bool IsSafeUntil(long endMicroseconds)
        {
            int margin = _intervals < IntervalsToLearn ? 3 : 4;
            return endMicroseconds <= _highMicroseconds + _periodMicroseconds - (_periodMicroseconds >> margin);
        }

        /// <summary>Enters a result that was ready when looked at.</summary>
        /// <param name="seenMicroseconds">Time of the look.</param>
        /// <returns>False when it came off the beat, as after a restart of the amplifier that nobody asked for.</returns>
        public bool Enter(long seenMicroseconds)
        {
            if (!_hasFall)
            {
                _hasFall = true;
                _firstMicroseconds = seenMicroseconds;
                _fallMicroseconds = seenMicroseconds;
                return true;
            }

            if (_intervals < IntervalsToLearn)
            {
                Learn(seenMicroseconds);
                return true;
            }

            return Follow(seenMicroseconds);
        }

        private void Learn(long seenMicroseconds)
        {
            long interval = seenMicroseconds - _fallMicroseconds;
            if (_intervals > 0 && interval * 2 > _periodMicroseconds * 3)
            {
                // Something was missed, or the rate changed: the mean starts again here.
                _firstMicroseconds = seenMicroseconds;
                _intervals = 0;
            }
            else if (_intervals > 0 && interval * 2 < _periodMicroseconds)
            {
                _firstMicroseconds = _fallMicroseconds;
                _intervals = 1;
                _periodMicroseconds = interval;
            }
            else
            {
                _intervals++;
                Quotient.TryDivideRounded(seenMicroseconds - _firstMicroseconds, _intervals, out _periodMicroseconds);
            }

            _fallMicroseconds = seenMicroseconds;
        }

        private bool Follow(long seenMicroseconds)
        {
            long predicted = _fallMicroseconds + _periodMicroseconds;
            if (_highMicroseconds <= predicted)
            {
                // Results that nobody looked at lie between.
                for (int i = 0; i < PeriodsBridged && predicted + _periodMicroseconds <= seenMicroseconds; i++)
                {
                    predicted += _periodMicroseconds;
                }
            }

            // It fell after DOUT was last seen high, and before it was seen low.
            long error = 0;
            if (predicted < _highMicroseconds)
            {
                error = _highMicroseconds - predicted;
            }
            else if (predicted > seenMicroseconds)
            {
                error = seenMicroseconds - predicted;
            }

            long magnitude = error < 0 ? 0 - error : error;
            if (magnitude * 8 > _periodMicroseconds)
            {
                _fallMicroseconds = seenMicroseconds;
                _offBeats++;
                if (_offBeats >= OffBeatsToForget)
                {
                    long high = _highMicroseconds;
                    Forget();
                    _highMicroseconds = high;
                }

                return false;
            }

            _offBeats = 0;
            _fallMicroseconds = predicted + error;
            _periodMicroseconds += error >> 4;
            return true;
        }
    }
}
