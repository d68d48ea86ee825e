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
        private int _samples;
        private double _meanTime;

        /// <summary>Batches made of the last series, 1 to <see cref="BatchesMax"/>.</summary>
        public int Batches { get; private set; }

        /// <summary>Samples in the first batch, at least 1; later ones may hold one more.</summary>
        public int BatchLength { get; private set; }

        /// <summary>Mean of the series.</summary>
        public double Mean { get; private set; }

        /// <summary>Slope of the straight line, value per second; 0 without a line.</summary>
        public double SlopePerSecond { get; private set; }

        /// <summary>Standard error of what was asked for: of the mean on Batches - 1, of the slope on Batches - 2 degrees of freedom.</summary>
        public double StandardError { get; private set; }

        /// <summary>Standard deviation of one sample about the mean, or about the line.</summary>
        public double Scatter { get; private set; }

        /// <summary>
        /// What <see cref="StandardError"/> should be if the samples scattered by 1 (standard deviation) and were correlated
        /// with their neighbours, to first order, as they are.
        /// </summary>
        public double StandardErrorPerNoise { get; private set; }

        /// <summary>Finds the mean of a series and its standard error, 0 for a single sample.</summary>
        /// <param name="values">The samples in the order of time, finite.</param>
        /// <param name="count">How many, at least 1.</param>
        public void TakeMean(double[] values, int count)
        {
            Cut(null, values, count);
            Judge(null, values, Batches - 1, count);
        }

        /// <summary>Finds the straight line through a series and the standard error of its slope.</summary>
        /// <param name="timesSeconds">Times of the samples, in order.</param>
        /// <param name="values">The samples, finite.</param>
        /// <param name="count">How many.</param>
        /// <returns>False, without a slope, for fewer than three samples or when all times are equal.</returns>
        public bool TryTakeLine(double[] timesSeconds, double[] values, int count)
        {
            Cut(timesSeconds, values, count);
            double squaresOfTime = 0.0;
            double products = 0.0;
            for (int i = 0; i < Batches; i++)
            {
                double time = _times[i] - _meanTime;
                squaresOfTime += _counts[i] * time * time;
                products += _counts[i] * time * (_values[i] - Mean);
            }

            if (Batches < 3 || !Quotient.TryDivide(products, squaresOfTime, out double slope))
            {
                return false;
            }

            SlopePerSecond = slope;
            Judge(timesSeconds, values, Batches - 2, squaresOfTime);
            return true;
        }

        private void Cut(double[] timesSeconds, double[] values, int count)
        {
            SlopePerSecond = 0.0;
            StandardError = 0.0;
            StandardErrorPerNoise = 0.0;
            _samples = count;
            Batches = count >> BatchLengthShift;
            if (Batches > BatchesMax)
            {
                Batches = BatchesMax;
            }
            else if (Batches < BatchesMin)
            {
                Batches = count < BatchesMin ? count : BatchesMin;
            }

            for (int i = 0; i < Batches; i++)
            {
                _counts[i] = 0.0;
                _values[i] = 0.0;
                _times[i] = 0.0;
            }

            // Sample i belongs to batch i x batches / count, found without dividing.
            int batch = 0;
            for (int i = 0; i < count; i++)
            {
                while (i * Batches >= (batch + 1) * count)
                {
                    batch++;
                }

                _counts[batch] += 1.0;
                _values[batch] += values[i] - values[0];
                _times[batch] += timesSeconds == null ? 0.0 : timesSeconds[i];
            }

            BatchLength = (int)_counts[0];
            FindMeans(values[0]);
        }

        // Sums above the first sample become means.
        private void FindMeans(double first)
        {
            double sumOfValues = 0.0;
            double sumOfTimes = 0.0;
            for (int i = 0; i < Batches; i++)
            {
                sumOfValues += _values[i];
                sumOfTimes += _times[i];
                Quotient.TryDivide(_values[i], _counts[i], out double value);
                Quotient.TryDivide(_times[i], _counts[i], out double time);
                _values[i] = first + value;
                _times[i] = time;
            }

            Quotient.TryDivide(sumOfValues, _samples, out double mean);
            Mean = first + mean;
            Quotient.TryDivide(sumOfTimes, _samples, out _meanTime);
        }

        // Batches weigh as much as they hold samples: for independent samples their mean square is that of one sample.
        private void Judge(double[] timesSeconds, double[] values, int degreesOfFreedom, double weight)
        {
            double squares = 0.0;
            for (int i = 0; i < Batches; i++)
            {
                double residual = _values[i] - Mean - (SlopePerSecond * (_times[i] - _meanTime));
                squares += _counts[i] * residual * residual;
            }

            // Variance of the mean of the whole series for each unit of variance of a sample, and as the batches show it.
            double rho = Correlation(timesSeconds, values, _samples - Batches + degreesOfFreedom);
            double whole = Inflation(rho, _samples);
            Quotient.TryDivide(whole, Inflation(rho, BatchLength), out double beyondBatches);
            Quotient.TryDivide(squares, degreesOfFreedom, out double meanSquare);
            Quotient.TryDivide(meanSquare * beyondBatches, weight, out double variance);
            Quotient.TryDivide(whole, weight, out double variancePerNoise);
            SquareRoot.TryOf(variance, out double error);
            SquareRoot.TryOf(variancePerNoise, out double errorPerNoise);
            StandardError = error;
            StandardErrorPerNoise = errorPerNoise;
        }

        // First-order autocorrelation of neighbouring samples about the mean, or about the line when times are given;
        // from 0 to the largest that so short a series can tell.
        private double Correlation(double[] timesSeconds, double[] values, int degreesOfFreedom)
        {
            double products = 0.0;
            double squares = 0.0;
            double previous = 0.0;
            for (int i = 0; i < _samples; i++)
            {
                double residual = values[i] - Mean;
                if (timesSeconds != null)
                {
                    residual -= SlopePerSecond * (timesSeconds[i] - _meanTime);
                }

                products += residual * previous;
                squares += residual * residual;
                previous = residual;
            }

            Quotient.TryDivide(squares, degreesOfFreedom, out double variance);
            SquareRoot.TryOf(variance, out double scatter);
            Scatter = scatter;
            // What was fitted makes a short series look less correlated than it is, by about (1 + 3 rho) / n
            // (M. G. Kendall, "Note on bias in the estimation of autocorrelation", Biometrika 41, 1954).
            if (!Quotient.TryDivide(products, squares, out double correlation)
                || !Quotient.TryDivide(1.0 + (3.0 * correlation), _samples, out double bias))
            {
                return 0.0;
            }

            double corrected = correlation + bias;
            if (corrected < 0.0)
            {
                return 0.0;
            }

            return corrected > LargestCorrelation ? LargestCorrelation : corrected;
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
