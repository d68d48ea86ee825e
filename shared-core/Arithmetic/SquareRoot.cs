namespace Fourpatch.Core.Arithmetic
{
    /// <summary>Square root by Newton's method, in true double: the board's own Math computes in float.</summary>
    public static class SquareRoot
    {
        private const double TwoTo32 = 4294967296.0;

        /// <summary>
        /// Square root of a number, to within two units of the last place for normal numbers (tiny ones near 1e-308 included).
        /// </summary>
        /// <returns>False, and a root of 0, when the number is negative or not finite.</returns>
        public static bool TryOf(double value, out double root)
        {
            root = 0.0;
            if (!Quotient.IsFinite(value) || value < 0.0)
            {
                return false;
            }

            if (value == 0.0)
            {
                return true;
            }

            // value = mantissa x scale^2 with a mantissa from 1 to 4: multiplying by powers of two loses nothing.
            double mantissa = value;
            double scale = 1.0;
            while (mantissa >= TwoTo32)
            {
                mantissa *= 1.0 / TwoTo32;
                scale *= 65536.0;
            }

            while (mantissa < 1.0 / TwoTo32)
            {
                mantissa *= TwoTo32;
                scale *= 1.0 / 65536.0;
            }

            while (mantissa >= 4.0)
            {
                mantissa *= 0.25;
                scale *= 2.0;
            }

            while (mantissa < 1.0)
            {
                mantissa *= 4.0;
                scale *= 0.5;
            }

            // Newton's iteration for 1 / root needs no division. The straight line starts it within 10 %;
            // an error e becomes 1.5 e^2, so five rounds reach the last place.
            double inverse = 1.09 - (0.16 * mantissa);
            for (int i = 0; i < 5; i++)
            {
                inverse *= 1.5 - (0.5 * mantissa * inverse * inverse);
            }

            double estimate = mantissa * inverse;
            estimate += 0.5 * inverse * (mantissa - (estimate * estimate));
            root = estimate * scale;
            return true;
        }
    }
}
