using MathNet.Numerics.LinearAlgebra;

namespace Fourpatch.Vehicles;

/// <summary>
/// The linear equations behind <see cref="FourSprings"/> for a given set of standing wheels. Nine unknowns: the force S each suspension passes on, the
/// height z and roll p of the body over each axle, and the torque T that the front half passes to the rear through the chassis.
/// </summary>
internal static class SpringEquations
{
    private const int FrontHeight = 4, RearHeight = 5, FrontRoll = 6, RearRoll = 7, Torque = 8, Unknowns = 9;

    /// <summary>The part of a body force's roll moment that an even torsion bar between the axles passes to the rear; beyond an axle all of it is that axle's.</summary>
    public static double RearPart(BodyLoad load, Springs springs) => Math.Clamp(load.BehindFrontAxleM / springs.WheelbaseM, 0, 1);

    /// <summary>Loads and attitude with exactly the <paramref name="standing"/> wheels on their supports; loads may come out negative, the others' gaps too.</summary>
    public static Stance Solve(Springs springs, IReadOnlyList<BodyLoad> body, Setting setting, Corners<bool> standing)
    {
        var matrix = Matrix<double>.Build.Dense(Unknowns, Unknowns);
        var right = Vector<double>.Build.Dense(Unknowns);
        var atWheelCentre = setting.AtWheelCentre;
        var suspension = springs.SuspensionCompliance();
        var perchesM = springs.RisesOfPerchesM(setting.PerchRisesM);

        foreach (var corner in Corners.All)
        {
            var row = (int)corner;
            if (!standing[corner])
            {
                // Nothing under the wheel: the suspension holds up what the wheel itself weighs.
                matrix[row, row] = 1;
                right[row] = -setting.UnsprungN[corner];
                continue;
            }

            // Fit: (suspension S) + tyre (S + unsprung) + body = support + perch.
            var tyre = springs.TyreFlexibility(corner, atWheelCentre);
            for (var j = 0; j < 4; j++) matrix[row, j] = suspension[row, j];
            matrix[row, row] += tyre;
            var (height, roll, leftM) = Places(corner, springs);
            matrix[row, height] = 1;
            matrix[row, roll] = leftM;
            right[row] = setting.Supports[corner].HeightM + perchesM[corner] - tyre * setting.UnsprungN[corner];
        }

        // Balance of each half: vertical, then about the car's long axis.
        var (frontN, rearN, frontNm, rearNm) = Halves(springs, body);
        Balance(4, Corner.FL, Corner.FR, springs.Front.TrackM, frontN, frontNm, torque: -1);
        Balance(6, Corner.RL, Corner.RR, springs.Rear.TrackM, rearN, rearNm, torque: 1);

        // The chassis twists by its flexibility times the torque.
        matrix[8, FrontRoll] = 1;
        matrix[8, RearRoll] = -1;
        matrix[8, Torque] = -springs.ChassisFlexibilityRadPerNm;

        return ToStance(springs, setting, standing, suspension, perchesM, matrix.LU().Solve(right));

        void Balance(int row, Corner left, Corner rightCorner, double trackM, double forceN, double momentNm, int torque)
        {
            matrix[row, (int)left] = matrix[row, (int)rightCorner] = 1;
            right[row] = forceN;
            matrix[row + 1, (int)left] = trackM / 2;
            matrix[row + 1, (int)rightCorner] = -trackM / 2;
            matrix[row + 1, Torque] = torque;
            right[row + 1] = momentNm;
        }
    }

    private static Stance ToStance(
        Springs springs, Setting setting, Corners<bool> standing, double[,] suspension, Corners<double> perchesM, Vector<double> solution)
    {
        var body = Corners.Each(corner =>
        {
            var (height, roll, leftM) = Places(corner, springs);
            return solution[height] + leftM * solution[roll];
        });
        var travel = Corners.Each(corner =>
            Enumerable.Range(0, 4).Sum(j => suspension[(int)corner, j] * solution[j]) - perchesM[corner]);
        return new()
        {
            LoadsN = Corners.Each(corner => standing[corner] ? solution[(int)corner] + setting.UnsprungN[corner] : 0),
            Lifted = [.. Corners.All.Where(corner => !standing[corner])],
            GapM = Corners.Each(corner => standing[corner] ? 0 : body[corner] + travel[corner] - setting.Supports[corner].HeightM),
            HeaveM = (solution[FrontHeight] + solution[RearHeight]) / 2,
            PitchRad = (solution[FrontHeight] - solution[RearHeight]) / springs.WheelbaseM,
            RollRad = (solution[FrontRoll] + solution[RearRoll]) / 2,
            ChassisTwistRad = solution[FrontRoll] - solution[RearRoll],
            BodyM = body,
            WheelTravelM = travel,
        };
    }

    private static (int Height, int Roll, double LeftM) Places(Corner corner, Springs springs)
    {
        var halfTrackM = (corner.IsFront() ? springs.Front : springs.Rear).TrackM / 2;
        return (corner.IsFront() ? FrontHeight : RearHeight, corner.IsFront() ? FrontRoll : RearRoll, corner.IsLeft() ? halfTrackM : -halfTrackM);
    }

    private static (double FrontN, double RearN, double FrontNm, double RearNm) Halves(Springs springs, IReadOnlyList<BodyLoad> body)
    {
        double frontN = 0, rearN = 0, frontNm = 0, rearNm = 0;
        foreach (var load in body)
        {
            var atRear = load.BehindFrontAxleM / springs.WheelbaseM;
            frontN += load.ForceN * (1 - atRear);
            rearN += load.ForceN * atRear;
            var momentNm = load.ForceN * load.LeftOfCentreM;
            frontNm += momentNm * (1 - RearPart(load, springs));
            rearNm += momentNm * RearPart(load, springs);
        }
        return (frontN, rearN, frontNm, rearNm);
    }
}
