using Fourpatch.Core.Cells;

namespace Fourpatch.Firmware.Amplifiers
{
    /// <summary>What is known about one amplifier, and the verdict on each of its results. Times in board microseconds. Not thread-safe.</summary>
    public sealed class AmplifierChannel
    {
        // Four conversions fill the filter after power-up or reset (HX711 datasheet, "output settling time": 400 ms at 10/s, 50 ms at 80/s).
        private const int SettlingConversions = 4;

        // Twice, because an update that lifts a neighbour's line for a moment can hide a shared one once.
        private const int ConversionsToCompare = 2;

        // Longest wait for a result while the period is not known: two conversions at 10/s, a fifth slow, and a bit.
        private const long FirstDeadlineMicroseconds = 300000;

        // After a restart: 400 ms, a fifth slow, and a bit.
        private const long RestartDeadlineMicroseconds = 600000;

        private const long ShortestDeadlineMicroseconds = 50000;
        private const long RestartEveryMicroseconds = 1000000;
        private const long TryLowEveryMicroseconds = 100000;
        private const int BrokenToFallSilent = 3;

        // 8 bits of a look, 120 of a train, at 700 kHz.
        private const long TrainMicroseconds = 180;

        /// <summary>When its results come.</summary>
        public readonly ConversionPhase Phase = new ConversionPhase();

        private int _settlingLeft = SettlingConversions;
        private int _brokenInARow;
        private int _brokenSinceHigh;
        private long _deadlineMicroseconds;
        private long _nextTryMicroseconds;
        private long _safeUntilMicroseconds;

        /// <summary>True when it has missed its deadline and not answered since.</summary>
        public bool IsSilent { get; private set; }

        /// <summary>
        /// True for the first results after a start or a fault: each is compared with the neighbours' lines. Not yet while
        /// silent: a dead amplifier must not take the others' time.
        /// </summary>
        public bool IsDoubted
        {
            get { return _settlingLeft > SettlingConversions - ConversionsToCompare && !IsSilent; }
        }

        /// <summary>NoDevice, Desync (what comes cannot be its own), Settling or Ok.</summary>
        public SampleStatus Health
        {
            get
            {
                if (IsSilent)
                {
                    return SampleStatus.NoDevice;
                }

                if (_brokenInARow > 0)
                {
                    return SampleStatus.Desync;
                }

                return _settlingLeft > 0 ? SampleStatus.Settling : SampleStatus.Ok;
            }
        }

        /// <summary>The amplifier was restarted on purpose.</summary>
        public void Restarted(long nowMicroseconds)
        {
            _settlingLeft = SettlingConversions;
            Phase.Forget();
            _deadlineMicroseconds = nowMicroseconds + (IsSilent ? RestartEveryMicroseconds : RestartDeadlineMicroseconds);
        }

        /// <summary>DOUT was seen high.</summary>
        public void SawHigh(long nowMicroseconds)
        {
            _brokenSinceHigh = 0;
            Phase.SawHigh(nowMicroseconds);
        }

        /// <summary>True when the amplifier should have had a result by now: it is silent then, and it is time to restart it.</summary>
        public bool MissesDeadline(long nowMicroseconds)
        {
            if (nowMicroseconds <= _deadlineMicroseconds)
            {
                return false;
            }

            IsSilent = true;
            return true;
        }

        /// <summary>True when a result that is ready may be clocked out now.</summary>
        public bool MayRead(long nowMicroseconds)
        {
            _safeUntilMicroseconds = Phase.SafeUntilMicroseconds;
            if (nowMicroseconds + ConversionPhase.GuardMicroseconds <= _safeUntilMicroseconds)
            {
                return true;
            }

            return (!IsSilent || nowMicroseconds >= _nextTryMicroseconds) && !Phase.IsNearUpdate(nowMicroseconds);
        }

        /// <summary>Two select addresses lead to the same amplifier: nothing that comes here can be trusted.</summary>
        public void EnterShared(long nowMicroseconds)
        {
            _brokenInARow++;
            _settlingLeft = SettlingConversions;
            _deadlineMicroseconds = nowMicroseconds + FirstDeadlineMicroseconds;
        }

        /// <summary>Judges a result.</summary>
        /// <param name="result">How its bit train ended.</param>
        /// <param name="seenMicroseconds">Time of the look that showed it ready.</param>
        /// <param name="endMicroseconds">A time after the train.</param>
        public SampleStatus Enter(BurstResult result, long seenMicroseconds, long endMicroseconds)
        {
            if (result != BurstResult.Good)
            {
                return EnterBad(result, endMicroseconds);
            }

            bool isOnBeat = Phase.Enter(seenMicroseconds);
            _brokenInARow = 0;
            _brokenSinceHigh = 0;
            IsSilent = false;

            // A look and a train lie between, so at least their bits' time later DOUT was high again.
            Phase.SawHigh(seenMicroseconds + TrainMicroseconds);
            long patience = Phase.PeriodMicroseconds * 3;
            if (patience < ShortestDeadlineMicroseconds)
            {
                patience = patience == 0 ? FirstDeadlineMicroseconds : ShortestDeadlineMicroseconds;
            }

            _deadlineMicroseconds = endMicroseconds + patience;
            if (!isOnBeat)
            {
                // This one counts as nothing, and the next four are compared and dropped.
                _settlingLeft = SettlingConversions;
                return SampleStatus.Settling;
            }

            if (_settlingLeft > 0)
            {
                _settlingLeft--;
                return SampleStatus.Settling;
            }

            return endMicroseconds <= _safeUntilMicroseconds ? SampleStatus.Ok : SampleStatus.Overlapped;
        }

        private SampleStatus EnterBad(BurstResult result, long nowMicroseconds)
        {
            _settlingLeft = SettlingConversions;
            if (result == BurstResult.Overtaken)
            {
                return SampleStatus.Overlapped;
            }

            _brokenInARow++;
            _brokenSinceHigh++;
            if (_brokenSinceHigh >= BrokenToFallSilent)
            {
                // Low for ever is no amplifier: a live one lets DOUT rise after every train.
                IsSilent = true;
                Phase.Forget();
                _nextTryMicroseconds = nowMicroseconds + TryLowEveryMicroseconds;
            }

            return SampleStatus.Desync;
        }
    }
}
