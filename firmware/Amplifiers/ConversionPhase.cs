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

        // No HX711 converts faster than 100/s (80/s, and clones have been seen at 96/s).
        private const long ShortestPeriodMicroseconds = 10000;

        // Looks are some milliseconds apart, so that single intervals are rough: the first period is a mean over this many.
        private const int IntervalsToLearn = 16;

        // And as many more until the beat itself is known well enough to call a result off it.
        private const int IntervalsToTrust = 32;

        // Beyond this many periods without a look, where the beat stands is not known any more.
        private const int PeriodsBridged = 64;

        private const long ToleranceMicroseconds = 1300;

        private const long Never = -1000000000000L;

        private long _periodMicroseconds;
        private long _fallMicroseconds;
        private long _firstMicroseconds;
        private long _highMicroseconds = Never;
        private bool _hasFall;
        private int _intervals;

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

        /// <summary>
        /// Until then no update can come: DOUT was seen high, so the result that is ready now is younger than that, and the
        /// next one a period away.
        /// </summary>
        public long SafeUntilMicroseconds
        {
            get
            {
                return _highMicroseconds + (_intervals < IntervalsToLearn ? ShortestPeriodMicroseconds : _periodMicroseconds - (_periodMicroseconds >> 5));
            }
        }

        /// <summary>Starts learning afresh, as after a restart of the amplifier.</summary>
        public void Forget()
        {
            _periodMicroseconds = 0;
            _highMicroseconds = Never;
            _hasFall = false;
            _intervals = 0;
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

        /// <summary>Enters a result that was ready when looked at.</summary>
        /// <param name="seenMicroseconds">Time of the look.</param>
        /// <returns>False when it came off the beat, as after a restart of the amplifier that nobody asked for.</returns>
        public bool Enter(long seenMicroseconds)
        {
            if (_intervals < IntervalsToLearn)
            {
                Learn(seenMicroseconds);
                return true;
            }

            return Follow(seenMicroseconds);
        }

        private void Learn(long seenMicroseconds)
        {
            // Only one result can have become ready since DOUT was high, if that is less than the shortest period ago.
            if (!_hasFall || seenMicroseconds - _highMicroseconds >= ShortestPeriodMicroseconds)
            {
                _hasFall = true;
                _intervals = 0;
                _firstMicroseconds = seenMicroseconds;
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

            // A good millisecond and a 64th of a period outside of what the looks allow.
            long tolerance = ToleranceMicroseconds + (_periodMicroseconds >> 6);
            if (error > tolerance || error < 0 - tolerance)
            {
                return EnterOffBeat(seenMicroseconds, predicted, error);
            }

            _fallMicroseconds = predicted + error;
            _periodMicroseconds += error >> 4;
            if (_intervals < IntervalsToTrust)
            {
                _intervals++;
            }

            return true;
        }

        private bool EnterOffBeat(long seenMicroseconds, long predicted, long error)
        {
            bool isTrusted = _intervals >= IntervalsToTrust;
            _fallMicroseconds = predicted + error;
            _intervals = IntervalsToLearn;
            if (error * 2 > _periodMicroseconds || error * 2 < 0 - _periodMicroseconds)
            {
                // Not even half right: another rate.
                _intervals = 0;
                _firstMicroseconds = seenMicroseconds;
                _fallMicroseconds = seenMicroseconds;
                _periodMicroseconds = 0;
                return false;
            }

            return !isTrusted;
        }
    }
}
