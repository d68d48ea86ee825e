using Fourpatch.Core.Arithmetic;

namespace Fourpatch.Core.Corners
{
    /// <summary>
    /// What the four wheels carry, and what follows from it by statics alone. Loads in kg; front left, front right,
    /// rear left, rear right. x counts behind the front axle line, y to the driver's left of the centre line, in m.
    /// </summary>
    public struct CornerLoads
    {
        /// <summary>Front left, kg.</summary>
        public double FrontLeftKg;

        /// <summary>Front right, kg.</summary>
        public double FrontRightKg;

        /// <summary>Rear left, kg.</summary>
        public double RearLeftKg;

        /// <summary>Rear right, kg.</summary>
        public double RearRightKg;

        /// <summary>The four corners, kg.</summary>
        public CornerLoads(double frontLeftKg, double frontRightKg, double rearLeftKg, double rearRightKg)
        {
            FrontLeftKg = frontLeftKg;
            FrontRightKg = frontRightKg;
            RearLeftKg = rearLeftKg;
            RearRightKg = rearRightKg;
        }

        /// <summary>W: the sum of the four, kg.</summary>
        public double TotalKg
        {
            get { return FrontLeftKg + FrontRightKg + RearLeftKg + RearRightKg; }
        }

        /// <summary>(FR + RL) - (FL + RR), kg.</summary>
        public double DiagonalDifferenceKg
        {
            get { return (FrontRightKg + RearLeftKg) - (FrontLeftKg + RearRightKg); }
        }

        /// <summary>RL - RR, kg.</summary>
        public double RearLeftMinusRightKg
        {
            get { return RearLeftKg - RearRightKg; }
        }

        /// <summary>(FL + FR) / W, 0 to 1.</summary>
        /// <returns>False when the total is zero or a load is not a number.</returns>
        public bool TryFrontShare(out double share)
        {
            return Quotient.TryDivide(FrontLeftKg + FrontRightKg, TotalKg, out share);
        }

        /// <summary>(FL + RL) / W, 0 to 1.</summary>
        /// <returns>False when the total is zero or a load is not a number.</returns>
        public bool TryLeftShare(out double share)
        {
            return Quotient.TryDivide(FrontLeftKg + RearLeftKg, TotalKg, out share);
        }

        /// <summary>(FR + RL) / W, 0 to 1: the diagonal.</summary>
        /// <returns>False when the total is zero or a load is not a number.</returns>
        public bool TryCrossShare(out double share)
        {
            return Quotient.TryDivide(FrontRightKg + RearLeftKg, TotalKg, out share);
        }

        /// <summary>Centre of gravity behind the front axle line: L (RL + RR) / W, in m.</summary>
        /// <returns>False when the total is zero or a number is not finite.</returns>
        public bool TryCentreBehindFrontAxleM(double wheelbaseM, out double behindM)
        {
            return Quotient.TryDivide(wheelbaseM * (RearLeftKg + RearRightKg), TotalKg, out behindM);
        }

        /// <summary>Centre of gravity left of the centre line: ((FL - FR) tf/2 + (RL - RR) tr/2) / W, in m.</summary>
        /// <returns>False when the total is zero or a number is not finite.</returns>
        public bool TryCentreLeftM(double trackFrontM, double trackRearM, out double leftM)
        {
            double momentKgM = ((FrontLeftKg - FrontRightKg) * trackFrontM * 0.5) + ((RearLeftKg - RearRightKg) * trackRearM * 0.5);
            return Quotient.TryDivide(momentKgM, TotalKg, out leftM);
        }
    }
}
