using Fourpatch.Core.Arithmetic;

namespace Fourpatch.Core.Cells
{
    /// <summary>The factor that turns a standard uncertainty into a 95 % interval when its degrees of freedom are few.</summary>
    public static class StudentT
    {
        private const int TableLength = 30;

        // Two-sided 95 % quantile of the normal distribution.
        private const double Normal95 = 1.959963984540054;

        // Two-sided 95 % quantiles for 1 to 30 degrees of freedom, computed; rounded to two decimals they are
        // the 95 % column of NIST Technical Note 1297, table B.1.
        private static readonly double[] _factors =
        {
            12.706204736, 4.302652730, 3.182446305, 2.776445105, 2.570581837, 2.446911849, 2.364624251, 2.306004135, 2.262157163, 2.228138852,
            2.200985160, 2.178812830, 2.160368656, 2.144786688, 2.131449546, 2.119905299, 2.109815578, 2.100922040, 2.093024054, 2.085963447,
            2.079613845, 2.073873068, 2.068657610, 2.063898562, 2.059538553, 2.055529439, 2.051830516, 2.048407142, 2.045229642, 2.042272456,
        };

        /// <summary>
        /// Two-sided 95 % Student t. Degrees of freedom that are not whole are cut to the next lower whole number
        /// (JCGM 100, G.6.4); infinitely many give the normal factor 1.96.
        /// </summary>
        /// <returns>False, and a factor of 0, below one degree of freedom and for NaN: no interval can be stated.</returns>
        public static bool TryFactor95(double degreesOfFreedom, out double factor)
        {
            factor = 0.0;
            if (double.IsNaN(degreesOfFreedom) || degreesOfFreedom < 1.0)
            {
                return false;
            }

            if (degreesOfFreedom > 1.0e9)
            {
                factor = Normal95;
                return true;
            }

            int whole = (int)degreesOfFreedom;
            factor = whole <= TableLength ? _factors[whole - 1] : Expansion(whole);
            return true;
        }

        // Abramowitz and Stegun, Handbook of Mathematical Functions, 26.7.5, to the fourth power of 1/nu:
        // wrong by less than 1e-7 beyond the table.
        private static double Expansion(int wholeDegreesOfFreedom)
        {
            if (!Quotient.TryDivide(1.0, wholeDegreesOfFreedom, out double inverse))
            {
                return Normal95;
            }

            const double Z = Normal95;
            const double Z2 = Z * Z;
            const double G1 = Z * (Z2 + 1.0) / 4.0;
            const double G2 = Z * ((((5.0 * Z2) + 16.0) * Z2) + 3.0) / 96.0;
            const double G3 = Z * ((((((3.0 * Z2) + 19.0) * Z2) + 17.0) * Z2) - 15.0) / 384.0;
            const double G4 = Z * ((((((((79.0 * Z2) + 776.0) * Z2) + 1482.0) * Z2) - 1920.0) * Z2) - 945.0) / 92160.0;
            return Z + (inverse * (G1 + (inverse * (G2 + (inverse * (G3 + (inverse * G4)))))));
        }
    }
}
