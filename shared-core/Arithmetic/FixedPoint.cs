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

            rounded = value < 0.0 ? (long)(value - 0.5) : (long)(value + 0.5);
            return true;
        }
    }
}
