namespace Fourpatch.Core.Arithmetic
{
    /// <summary>
    /// The only place of the core that divides by something it does not know: on the board a division by zero
    /// throws an exception that no catch clause can name, for double as for int. The build gate refuses any other.
    /// </summary>
    public static class Quotient
    {
        /// <summary>Divides two numbers.</summary>
        /// <returns>False, and a quotient of 0, when either is not a finite number, the divisor is zero, or the quotient too large for a double.</returns>
        public static bool TryDivide(double dividend, double divisor, out double quotient)
        {
            quotient = 0.0;
            if (!IsFinite(dividend) || !IsFinite(divisor) || divisor == 0.0)
            {
                return false;
            }

            double result = dividend / divisor;
            if (!IsFinite(result))
            {
                return false;
            }

            quotient = result;
            return true;
        }

        /// <summary>Divides two non-negative integers, rounding to the nearest (ties away from zero).</summary>
        /// <returns>False, and a quotient of 0, when the dividend is negative or the divisor not positive.</returns>
        public static bool TryDivideRounded(long dividend, long divisor, out long quotient)
        {
            quotient = 0;
            if (dividend < 0 || divisor <= 0)
            {
                return false;
            }

            // Comparing the remainder, not adding half the divisor first, which could run over.
            quotient = dividend / divisor;
            long remainder = dividend - (quotient * divisor);
            if (remainder >= divisor - remainder)
            {
                quotient++;
            }

            return true;
        }

        /// <summary>True for every double but NaN and the infinities, without an order comparison of a NaN (wrong on the board).</summary>
        public static bool IsFinite(double value)
        {
            // value - value is 0 for finite numbers and NaN otherwise; equality with NaN is false on both runtimes.
            return value - value == 0.0;
        }
    }
}
