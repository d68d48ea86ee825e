using Fourpatch.Core.Arithmetic;

namespace Fourpatch.Core.Cells
{
    /// <summary>
    /// Mean of a series of samples that says what it left out and how sure it is. Left out is what stands more than five
    /// scaled median absolute deviations from the median; nothing is left out of fewer than five samples.
    /// The uncertainty comes from the scatter of batch means (<see cref="BatchMeans"/>), never from the number of samples.
    /// Any unit. Not thread-safe; allocates nothing after construction.
    /// </summary>
    public sealed class RobustMean
    {
        /// <summary>Makes the median absolute deviation estimate the standard deviation of normal noise.</summary>
        public const double DeviationScale = 1.4826;

        /// <summary>Farther than this many scaled deviations from the median a sample is left out.</summary>
        public const double RejectBeyond = 5.0;

        private const int RejectFrom = 5;

        // The same for the mean absolute deviation: the square root of half pi.
        private const double MeanDeviationScale = 1.2533;

        private readonly double[] _scratch;
        private readonly double[] _used;
        private readonly bool[] _isRejected;
        private readonly BatchMeans _batches = new BatchMeans();

        /// <summary>Room for series of up to <paramref name="capacity"/> samples, at least 1.</summary>
        public RobustMean(int capacity)
        {
            _scratch = new double[capacity];
            _used = new double[capacity];
            _isRejected = new bool[capacity];
        }

        /// <summary>Mean of the samples used.</summary>
        public double Mean { get; private set; }

        /// <summary>Standard uncertainty of the mean; 0 for a single sample, which says nothing about its own scatter.</summary>
        public double StandardUncertainty { get; private set; }

        /// <summary>Degrees of freedom of <see cref="StandardUncertainty"/>: batches less one; 0 for a single sample.</summary>
        public double DegreesOfFreedom { get; private set; }

        /// <summary>How many independent samples would be as sure: from 1 to <see cref="Used"/>.</summary>
        public double EffectiveCount { get; private set; }

        /// <summary>Robust standard deviation of one sample about the median.</summary>
        public double Spread { get; private set; }

        /// <summary>Samples in the mean.</summary>
        public int Used { get; private set; }

        /// <summary>Samples left out.</summary>
        public int Rejected { get; private set; }

        /// <summary>True when the last series' sample at this place was left out.</summary>
        public bool IsRejected(int index)
        {
            return _isRejected[index];
        }

        /// <summary>Takes the mean of the first <paramref name="count"/> samples, which must be in the order of time and are left as they are.</summary>
        /// <returns>False, with results of 0, when there is none, more than the capacity, or one that is not a finite number.</returns>
        public bool TryTake(double[] samples, int count)
        {
            Clear();
            if (count < 1 || count > _scratch.Length || count > samples.Length)
            {
                return false;
            }

            for (int i = 0; i < count; i++)
            {
                if (!Quotient.IsFinite(samples[i]))
                {
                    return false;
                }

                _scratch[i] = samples[i];
            }

            double median = Median.OfReordered(_scratch, count);
            Spread = SpreadAbout(median, samples, count);
            double farthest = count < RejectFrom ? double.MaxValue : RejectBeyond * Spread;
            double sum = 0.0;
            double squares = 0.0;
            for (int i = 0; i < count; i++)
            {
                double deviation = samples[i] - median;
                _isRejected[i] = deviation > farthest || deviation < -farthest;
                if (!_isRejected[i])
                {
                    _used[Used] = samples[i];
                    Used++;
                    sum += deviation;
                    squares += deviation * deviation;
                }
            }

            Rejected = count - Used;
            // Deviations from the median are summed, not samples: equal samples give back exactly themselves.
            Quotient.TryDivide(sum, Used, out double offset);
            Mean = median + offset;
            _batches.TakeMean(_used, Used);
            StandardUncertainty = _batches.StandardError;
            DegreesOfFreedom = _batches.Batches - 1;
            EffectiveCount = CountAsSureAs(squares - (offset * sum));
            return true;
        }

        private void Clear()
        {
            Mean = 0.0;
            StandardUncertainty = 0.0;
            DegreesOfFreedom = 0.0;
            EffectiveCount = 0.0;
            Spread = 0.0;
            Used = 0;
            Rejected = 0;
        }

        private double SpreadAbout(double median, double[] samples, int count)
        {
            double sum = 0.0;
            double largest = 0.0;
            for (int i = 0; i < count; i++)
            {
                double deviation = samples[i] - median;
                _scratch[i] = deviation < 0.0 ? -deviation : deviation;
                sum += _scratch[i];
                largest = _scratch[i] > largest ? _scratch[i] : largest;
            }

            double middle = Median.OfReordered(_scratch, count);
            if (middle > 0.0 || count < 2)
            {
                return DeviationScale * middle;
            }

            // More than half of the samples are equal, as with coarse steps: then the mean deviation measures the spread,
            // that of all but the farthest, so that one outlier among equals stays one.
            Quotient.TryDivide(sum - largest, count - 1, out double meanDeviation);
            return MeanDeviationScale * meanDeviation;
        }

        private double CountAsSureAs(double sumOfSquares)
        {
            double variance = StandardUncertainty * StandardUncertainty;
            if (!Quotient.TryDivide(sumOfSquares, (Used - 1) * variance, out double count) || count > Used)
            {
                return Used;
            }

            return count < 1.0 ? 1.0 : count;
        }
    }
}
