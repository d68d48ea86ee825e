namespace Fourpatch.Core.Arithmetic
{
    /// <summary>Doubles to scaled integers, the same on board and laptop (no Math class, no number formatting).</summary>
    public static class FixedPoint
    {
        /// <summary>Largest magnitude that is converted; beyond it a double no longer counts single units reliably.</summary>
        public const double LargestMagnitude = 9.0e15;

        /// <summary>Rounds to the nearest integer, ties away from zero.</summary>
        /// <returns>False, and 0, when the value is not finite or larger than <see cref="LargestMagnitude"/>.</returns>
        public static bool TryRound(double value, out long rounded)
        {
            rounded = 0;
            if (!Quotient.IsFinite(value) || value > LargestMagnitude || value < -LargestMagnitude)
            {
                return false;
            }

            // Adding a half before cutting would itself round: 0.49999999999999994 would become 1, and 2^52 + 1 the next even number.
            rounded = (long)value;
            double rest = value - rounded;
            if (rest >= 0.5)
            {
                rounded++;
            }
            else if (rest <= -0.5)
            {
                rounded--;
            }

            return true;
        }
    }
}
