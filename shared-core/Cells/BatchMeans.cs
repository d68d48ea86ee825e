using Fourpatch.Core.Arithmetic;

namespace Fourpatch.Core.Cells
{
    /// <summary>
    /// Cuts a series into consecutive batches and judges its mean and its trend by the scatter of the batch means.
    /// Neighbouring samples are not independent (the amplifier's filter spreads a step over four conversions, a car sways,
    /// electronics wander); means of batches much longer than that nearly are. Independent normal samples give exact
    /// Student t intervals. What correlation still reaches across the batches is added from first-order autoregression.
    /// Not thread-safe; allocates nothing after construction.
    /// </summary>
    public sealed class BatchMeans
    {
        /// <summary>Most batches made: enough that t is near its limit, few enough that each is long.</summary>
        public const int BatchesMax = 12;

        private const int BatchesMin = 5;

        // The filter of the HX711 settles in four conversions (datasheet, "output settling time").
        private const int BatchLengthShift = 2;

        // Above this a first-order model of so short a series says nothing.
        private const double LargestCorrelation = 0.9;

        private readonly double[] _counts = new double[BatchesMax];
        private readonly double[] _values = new double[BatchesMax];
        private readonly double[] _times = new double[BatchesMax];
        private int _batches;
        private int _samples;
        private double _meanValue;
        private double _meanTime;

        /// <summary>Batches made by the last <see cref="Take"/>.</summary>
        public int Batches
        {
            get { return _batches; }
        }

        /// <summary>Samples in a batch, rounded down; at least 1.</summary>
        public int BatchLength { get; private set; }

        /// <summary>Slope of the straight line, value per second; 0 when it could not be found.</summary>
        public double SlopePerSecond { get; private set; }

        /// <summary>Standard error of the slope, on <see cref="Batches"/> - 2 degrees of freedom.</summary>
        public double SlopeStandardError { get; private set; }

        /// <summary>What <see cref="SlopeStandardError"/> would be for independent samples with a standard deviation of 1.</summary>
        public double SlopeErrorPerNoise { get; private set; }

        /// <summary>Standard uncertainty of the mean, on <see cref="Batches"/> - 1 degrees of freedom; 0 for fewer than two samples.</summary>
        public double MeanStandardUncertainty { get; private set; }

        /// <summary>Cuts a series into batches. It must be in order of time and finite.</summary>
        /// <param name="timesSeconds">Times of the samples, or null when only the mean is asked for.</param>
        /// <param name="values">The samples.</param>
        /// <param name="count">How many, at least 1.</param>
        public void Take(double[] timesSeconds, double[] values, int count)
        {
            _samples = count;
            _batches = count >> BatchLengthShift;
            if (_batches > BatchesMax)
            {
                _batches = BatchesMax;
            }
            else if (_batches < BatchesMin)
            {
                _batches = count < BatchesMin ? count : BatchesMin;
            }

            double anchor = values[0];
            for (int i = 0; i < _batches; i++)
            {
                _counts[i] = 0.0;
                _values[i] = 0.0;
                _times[i] = 0.0;
            }

            // Sample i belongs to batch i x batches / count, found without dividing.
            int batch = 0;
            for (int i = 0; i < count; i++)
            {
                while (i * _batches >= (batch + 1) * count)
                {
                    batch++;
                }

                _counts[batch] += 1.0;
                _values[batch] += values[i] - anchor;
                _times[batch] += timesSeconds == null ? 0.0 : timesSeconds[i];
            }

            BatchLength = (int)_counts[0];
            double sumValues = 0.0;
            double sumTimes = 0.0;
            for (int i = 0; i < _batches; i++)
            {
                sumValues += _values[i];
                sumTimes += _times[i];
                Quotient.TryDivide(_values[i], _counts[i], out double value);
                Quotient.TryDivide(_times[i], _counts[i], out double time);
                _values[i] = anchor + value;
                _times[i] = time;
            }

            Quotient.TryDivide(sumValues, count, out _meanValue);
            _meanValue += anchor;
            Quotient.TryDivide(sumTimes, count, out _meanTime);
            if (timesSeconds == null)
            {
                JudgeMean(values);
            }
            else
            {
                FitLine(timesSeconds, values);
            }
        }

        // Weighted with the batch sizes, so that for independent samples the mean square is that of one sample.
        private void JudgeMean(double[] values)
        {
            double squares = 0.0;
            for (int i = 0; i < _batches; i++)
            {
                double residual = _values[i] - _meanValue;
                squares += _counts[i] * residual * residual;
            }

            MeanStandardUncertainty = StandardError(squares, _batches - 1, _samples, Correlation(null, values));
        }

        private void FitLine(double[] timesSeconds, double[] values)
        {
            SlopePerSecond = 0.0;
            SlopeStandardError = 0.0;
            SlopeErrorPerNoise = 0.0;
            double squaresOfTime = 0.0;
            double products = 0.0;
            for (int i = 0; i < _batches; i++)
            {
                double time = _times[i] - _meanTime;
                squaresOfTime += _counts[i] * time * time;
                products += _counts[i] * time * (_values[i] - _meanValue);
            }

            if (_batches < 3 || !Quotient.TryDivide(products, squaresOfTime, out double slope))
            {
                return;
            }

            SlopePerSecond = slope;
            Quotient.TryDivide(1.0, squaresOfTime, out double inverse);
            SquareRoot.TryOf(inverse, out double errorPerNoise);
            SlopeErrorPerNoise = errorPerNoise;
            double squares = 0.0;
            for (int i = 0; i < _batches; i++)
            {
                double residual = _values[i] - _meanValue - (slope * (_times[i] - _meanTime));
                squares += _counts[i] * residual * residual;
            }

            SlopeStandardError = StandardError(squares, _batches - 2, squaresOfTime, Correlation(timesSeconds, values));
        }

        private double StandardError(double squares, int degreesOfFreedom, double divisor, double correlation)
        {
            if (!Quotient.TryDivide(squares, degreesOfFreedom * divisor, out double variance))
            {
                return 0.0;
            }

            SquareRoot.TryOf(variance * BeyondBatches(correlation), out double root);
            return root;
        }

        // First-order autocorrelation of neighbouring samples about the mean, or about the line when times are given.
        private double Correlation(double[] timesSeconds, double[] values)
        {
            double products = 0.0;
            double squares = 0.0;
            double previous = 0.0;
            for (int i = 0; i < _samples; i++)
            {
                double residual = values[i] - _meanValue;
                if (timesSeconds != null)
                {
                    residual -= SlopePerSecond * (timesSeconds[i] - _meanTime);
                }

                products += residual * previous;
                squares += residual * residual;
                previous = residual;
            }

            Quotient.TryDivide(products, squares, out double correlation);
            return correlation;
        }

        // Variance of the mean of all samples against that which the scatter of the batches shows, for a first-order series.
        private double BeyondBatches(double correlation)
        {
            if (correlation <= 0.0)
            {
                return 1.0;
            }

            double rho = correlation > LargestCorrelation ? LargestCorrelation : correlation;
            Quotient.TryDivide(Inflation(rho, _samples), Inflation(rho, BatchLength), out double factor);
            return factor > 1.0 ? factor : 1.0;
        }

        // n x variance of the mean of n samples of a first-order series, in units of the variance of one.
        private static double Inflation(double rho, int samples)
        {
            double power = 1.0;
            for (int i = 0; i < samples; i++)
            {
                power *= rho;
            }

            Quotient.TryDivide(1.0, 1.0 - rho, out double sum);
            Quotient.TryDivide(2.0 * rho * (1.0 - power) * sum * sum, samples, out double ends);
            return ((1.0 + rho) * sum) - ends;
        }
    }
}
