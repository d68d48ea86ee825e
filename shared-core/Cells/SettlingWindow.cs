using Fourpatch.Core.Arithmetic;

namespace Fourpatch.Core.Cells
{
    /// <summary>
    /// The latest samples of one load, and whether they show it steady. That is an equivalence test: a load is settled when
    /// the window shows that it moves no more than allowed, not when the window fails to show that it moves.
    /// Values in any unit; allowances in the same. Not thread-safe; allocates nothing after construction.
    /// </summary>
    public sealed class SettlingWindow
    {
        /// <summary>Fewer samples than this in a window are <see cref="SettlingVerdict.TooFew"/>: five batches of four conversions.</summary>
        public const int SamplesMin = 20;

        /// <summary>A single spike reaches at most this many samples, through the amplifier's filter of four conversions; more in a row are a change of load.</summary>
        public const int SpikeSamplesMax = 4;

        // Own noise may look this much larger in a short window (the deviation of 20 samples is uncertain by a quarter).
        private const double SpreadPerOwnNoise = 2.0;

        // Samples this far apart share little of a filter of four conversions, and still hardly any movement.
        private const int NoiseLag = 2;

        // Batches that scatter more than this many times what the fast noise explains are wandering, not noisy.
        private const double WanderPerNoise = 2.0;

        private const double SecondsPerMicrosecond = 1.0e-6;

        private readonly long[] _timesMicroseconds;
        private readonly double[] _values;
        private readonly double[] _windowTimes;
        private readonly double[] _windowValues;
        private readonly double[] _scratch;
        private readonly RobustMean _mean;
        private readonly BatchMeans _line = new BatchMeans();
        private int _next;
        private int _count;
        private long _longestGapMicroseconds;
        private long _spanMicroseconds;
        private int _longestRejectedRun;
        private bool _isNewestRejected;

        /// <summary>A window that keeps the last <paramref name="capacity"/> samples: at least the highest rate times the longest window, plus one.</summary>
        public SettlingWindow(int capacity)
        {
            _timesMicroseconds = new long[capacity];
            _values = new double[capacity];
            _windowTimes = new double[capacity];
            _windowValues = new double[capacity];
            _scratch = new double[capacity];
            _mean = new RobustMean(capacity);
        }

        /// <summary>Samples held, up to the capacity.</summary>
        public int Count
        {
            get { return _count; }
        }

        /// <summary>Time of the oldest sample held; 0 when there is none.</summary>
        public long FirstMicroseconds
        {
            get { return _count == 0 ? 0 : _timesMicroseconds[PlaceBack(_count)]; }
        }

        /// <summary>Time of the newest sample; 0 when there is none.</summary>
        public long LastMicroseconds
        {
            get { return _count == 0 ? 0 : _timesMicroseconds[PlaceBack(1)]; }
        }

        /// <summary>Mean of the samples used by the last evaluation.</summary>
        public double Mean
        {
            get { return _mean.Mean; }
        }

        /// <summary>Standard uncertainty of <see cref="Mean"/>, from the scatter of batch means; it contains what the load moved.</summary>
        public double StandardUncertainty
        {
            get { return _mean.StandardUncertainty; }
        }

        /// <summary>Degrees of freedom of <see cref="StandardUncertainty"/>.</summary>
        public double DegreesOfFreedom
        {
            get { return _mean.DegreesOfFreedom; }
        }

        /// <summary>How many independent samples would be as sure, from 1 to <see cref="Used"/>.</summary>
        public double EffectiveCount
        {
            get { return _mean.EffectiveCount; }
        }

        /// <summary>Samples used by the last evaluation.</summary>
        public int Used
        {
            get { return _mean.Used; }
        }

        /// <summary>Samples of the window left out as outliers.</summary>
        public int Rejected
        {
            get { return _mean.Rejected; }
        }

        /// <summary>Trend of the load in value per second; 0 when there were too few samples.</summary>
        public double SlopePerSecond { get; private set; }

        /// <summary>Standard error of <see cref="SlopePerSecond"/>: from the scatter of batch means, and never less than the scatter of the samples would leave.</summary>
        public double SlopeStandardError { get; private set; }

        /// <summary>Robust standard deviation of one sample about the trend; about the median when there were too few samples for a trend.</summary>
        public double Spread { get; private set; }

        /// <summary>Forgets all samples; results of the last evaluation stay.</summary>
        public void Clear()
        {
            _count = 0;
            _next = 0;
        }

        /// <summary>
        /// Takes a good sample (status Ok). One that is older than the last begins anew: the board has started again
        /// and what came before belongs to another time.
        /// </summary>
        /// <returns>False, and nothing is taken, when the value is not a finite number.</returns>
        public bool Add(long timeMicroseconds, double value)
        {
            if (!Quotient.IsFinite(value))
            {
                return false;
            }

            if (_count > 0 && timeMicroseconds < LastMicroseconds)
            {
                Clear();
            }

            _timesMicroseconds[_next] = timeMicroseconds;
            _values[_next] = value;
            _next = _next + 1 == _values.Length ? 0 : _next + 1;
            _count = _count < _values.Length ? _count + 1 : _count;
            return true;
        }

        /// <summary>Judges the samples that are not older than the window before the newest.</summary>
        /// <param name="windowMicroseconds">Length of the window; the movement is judged over this time.</param>
        /// <param name="allowedMovement">What the load may move over the window.</param>
        /// <param name="ownNoise">Known noise of one sample (one standard deviation), 0 when unknown. A spread above twice this
        /// and above <paramref name="allowedMovement"/> is not explained, and not settled.</param>
        /// <returns>The verdict; the results are those of this evaluation.</returns>
        public SettlingVerdict Evaluate(long windowMicroseconds, double allowedMovement, double ownNoise)
        {
            SlopePerSecond = 0.0;
            SlopeStandardError = 0.0;
            int count = Gather(windowMicroseconds);
            _mean.TryTake(_windowValues, count);
            Spread = _mean.Spread;
            bool isSeen = _spanMicroseconds * 10 >= windowMicroseconds * 9 && _longestGapMicroseconds * 4 <= windowMicroseconds;
            DropRejected(count);
            if (count < SamplesMin || !isSeen || !_line.TryTakeLine(_windowTimes, _windowValues, _mean.Used))
            {
                return SettlingVerdict.TooFew;
            }

            SlopePerSecond = _line.SlopePerSecond;
            Spread = SpreadAboutLine();
            // A few batches agree by chance now and then, and a window is looked at again with every sample.
            double leastError = _line.Scatter * _line.StandardErrorPerNoise;
            SlopeStandardError = _line.StandardError > leastError ? _line.StandardError : leastError;
            return Judge(windowMicroseconds * SecondsPerMicrosecond, allowedMovement, ownNoise);
        }

        private SettlingVerdict Judge(double windowSeconds, double allowedMovement, double ownNoise)
        {
            if (!Quotient.IsFinite(allowedMovement) || !StudentT.TryFactor95(_line.Batches - 2, out double factor))
            {
                return SettlingVerdict.TooFew;
            }

            // Rejection must not hide a load that has just changed.
            if (_isNewestRejected || _longestRejectedRun > SpikeSamplesMax)
            {
                return SettlingVerdict.Moving;
            }

            double movement = (SlopePerSecond < 0.0 ? -SlopePerSecond : SlopePerSecond) * windowSeconds;
            double doubt = factor * SlopeStandardError * windowSeconds;
            if (movement + doubt <= allowedMovement)
            {
                return IsSpreadExplained(allowedMovement, ownNoise) ? SettlingVerdict.Settled : SettlingVerdict.TooNoisy;
            }

            if (movement - doubt > allowedMovement || doubt <= allowedMovement)
            {
                return SettlingVerdict.Moving;
            }

            return IsDoubtNoise() ? SettlingVerdict.TooNoisy : SettlingVerdict.Moving;
        }

        private bool IsSpreadExplained(double allowedMovement, double ownNoise)
        {
            bool isFewRejected = _mean.Rejected <= SpikeSamplesMax || _mean.Rejected * 10 <= _mean.Used;
            return isFewRejected && (Spread <= allowedMovement || (Quotient.IsFinite(ownNoise) && Spread <= SpreadPerOwnNoise * ownNoise));
        }

        // A step, a bump or a slow swing makes the batches scatter far beyond what near samples differ by; noise does not.
        private bool IsDoubtNoise()
        {
            int pairs = _mean.Used - NoiseLag;
            for (int i = 0; i < pairs; i++)
            {
                double difference = Residual(i + NoiseLag) - Residual(i);
                _scratch[i] = difference < 0.0 ? -difference : difference;
            }

            // Two independent samples differ by the square root of two as much as one from its mean.
            double noise = RobustMean.DeviationScale * 0.70710678 * Median.OfReordered(_scratch, pairs);
            return SlopeStandardError <= WanderPerNoise * noise * _line.StandardErrorPerNoise;
        }

        private double SpreadAboutLine()
        {
            int used = _mean.Used;
            for (int i = 0; i < used; i++)
            {
                _scratch[i] = Residual(i);
            }

            double middle = Median.OfReordered(_scratch, used);
            for (int i = 0; i < used; i++)
            {
                double deviation = Residual(i) - middle;
                _scratch[i] = deviation < 0.0 ? -deviation : deviation;
            }

            return RobustMean.DeviationScale * Median.OfReordered(_scratch, used);
        }

        private double Residual(int index)
        {
            return _windowValues[index] - _mean.Mean - (SlopePerSecond * _windowTimes[index]);
        }

        // Copies the window in order of time, seconds before the newest, and measures what it spans.
        private int Gather(long windowMicroseconds)
        {
            _spanMicroseconds = 0;
            _longestGapMicroseconds = 0;
            int count = 0;
            long last = LastMicroseconds;
            while (count < _count && last - _timesMicroseconds[PlaceBack(count + 1)] <= windowMicroseconds)
            {
                count++;
            }

            long previous = 0;
            for (int i = 0; i < count; i++)
            {
                int place = PlaceBack(count - i);
                long time = _timesMicroseconds[place];
                _windowTimes[i] = (time - last) * SecondsPerMicrosecond;
                _windowValues[i] = _values[place];
                if (i == 0)
                {
                    _spanMicroseconds = last - time;
                }
                else if (time - previous > _longestGapMicroseconds)
                {
                    _longestGapMicroseconds = time - previous;
                }

                previous = time;
            }

            return count;
        }

        private void DropRejected(int count)
        {
            int kept = 0;
            int run = 0;
            _longestRejectedRun = 0;
            for (int i = 0; i < count; i++)
            {
                if (_mean.Rejected > 0 && _mean.IsRejected(i))
                {
                    run++;
                    _longestRejectedRun = run > _longestRejectedRun ? run : _longestRejectedRun;
                    continue;
                }

                run = 0;
                _windowTimes[kept] = _windowTimes[i];
                _windowValues[kept] = _windowValues[i];
                kept++;
            }

            _isNewestRejected = run > 0;
        }

        // Place in the ring of the sample that many back; 1 is the newest.
        private int PlaceBack(int back)
        {
            int place = _next - back;
            return place < 0 ? place + _values.Length : place;
        }
    }
}
