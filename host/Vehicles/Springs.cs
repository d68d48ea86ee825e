namespace Fourpatch.Vehicles;

/// <summary>One axle's springs, the same left and right. Rates may be positive infinity (rigid).</summary>
public sealed record AxleSprings
{
    /// <summary>Distance of the tyres' middles, metres.</summary>
    public required double TrackM { get; init; }

    /// <summary>Rate of one wheel against the body, N/m; with a beam axle, of one spring.</summary>
    public required double WheelRateNPerM { get; init; }

    /// <summary>Force at each wheel per left-right difference in wheel travel, N/m.</summary>
    public double AntiRollNPerM { get; init; }

    /// <summary>Distance of the springs on a beam axle, metres; null: independent wheels.</summary>
    public double? SpringBaseM { get; init; }

    /// <summary>Vertical rate of one tyre, N/m; infinite when there is none to count.</summary>
    public double TyreRateNPerM { get; init; } = double.PositiveInfinity;

    /// <summary>Travel of both wheels per newton at each, when both move alike, m/N.</summary>
    internal double BothAlikeMPerN => 1 / WheelRateNPerM;

    /// <summary>
    /// Travel of each wheel per newton at each, when they move oppositely, m/N. The axle's roll stiffness is (rate/2 + anti-roll) x track squared,
    /// the rate taken at the spring base when that is not the track.
    /// </summary>
    internal double OppositeMPerN
    {
        get
        {
            var lever = (SpringBaseM ?? TrackM) / TrackM;
            return 1 / (WheelRateNPerM * lever * lever + 2 * AntiRollNPerM);
        }
    }

    /// <summary>
    /// The part of a left-right difference of the spring seats that arrives at the wheels: a bar holds against it. The springs' own stiffness over that of
    /// springs and bar; 1 without a bar, and of rigid springs.
    /// </summary>
    internal double SeatPart => AntiRollNPerM == 0 || double.IsInfinity(WheelRateNPerM) ? 1 : 1 - (2 * AntiRollNPerM * OppositeMPerN);

    internal void Check(string axle)
    {
        Above(TrackM, "track", infinite: false);
        Above(WheelRateNPerM, "wheel rate", infinite: true);
        Above(TyreRateNPerM, "tyre rate", infinite: true);
        if (SpringBaseM is { } springBase) Above(springBase, "spring base", infinite: false);
        if (!(AntiRollNPerM >= 0 && double.IsFinite(AntiRollNPerM))) throw new ArgumentException($"The {axle} anti-roll rate must be zero or more.");

        void Above(double value, string what, bool infinite)
        {
            if (!(value > 0) || (!infinite && double.IsInfinity(value))) throw new ArgumentException($"The {axle} {what} must be above zero.");
        }
    }
}

/// <summary>
/// A vehicle's elasticity between its four supports: wheel springs, anti-roll bars, tyres in series, and the chassis in torsion. The compliance
/// matrix C says how far each support point gives per newton at each; the twist pattern n is the only set of loads that balances itself.
/// </summary>
/// <remarks>Source: rigid body on elastic supports by the force method; the chassis is an even torsion bar between the axle lines.</remarks>
public sealed record Springs
{
    /// <summary>Distance of the axles, metres.</summary>
    public required double WheelbaseM { get; init; }

    /// <summary>The front axle.</summary>
    public required AxleSprings Front { get; init; }

    /// <summary>The rear axle.</summary>
    public required AxleSprings Rear { get; init; }

    /// <summary>Radians of twist between the axles per newton metre; 0: rigid.</summary>
    public double ChassisFlexibilityRadPerNm { get; init; }

    /// <summary>The loads that balance each other, n = (1/tf, -1/tf, -1/tr, 1/tr), 1/m: a torque of 1 N m between the axles.</summary>
    public Corners<double> TwistPattern => new(1 / Front.TrackM, -1 / Front.TrackM, -1 / Rear.TrackM, 1 / Rear.TrackM);

    /// <summary>How far support i gives per newton at support j, corner order, m/N; chassis torsion not included (it is no support's own).</summary>
    /// <param name="atWheelCentre">Corners supported (or raised) at the wheel centre, whose own tyre is by-passed; null: none.</param>
    public double[,] Compliance(Corners<bool>? atWheelCentre = null)
    {
        var c = SuspensionCompliance();
        foreach (var corner in Corners.All) c[(int)corner, (int)corner] += TyreFlexibility(corner, atWheelCentre);
        return c;
    }

    /// <summary>The part of each perch rise that counts in twist, 0 to 1: where a bar is fitted, it holds against what differs between left and right.</summary>
    public Corners<double> SeatParts => new(Front.SeatPart, Front.SeatPart, Rear.SeatPart, Rear.SeatPart);

    /// <summary>The rises of the supports that perch rises come to, metres: whole where both sides of an axle rise alike, <see cref="SeatParts"/> of what differs.</summary>
    /// <param name="perchRisesM">As <see cref="Setting.PerchRisesM"/>.</param>
    public Corners<double> RisesOfPerchesM(Corners<double> perchRisesM)
    {
        var (fl, fr, rl, rr) = perchRisesM;
        var (front, rear) = (Front.SeatPart * (fl - fr) / 2, Rear.SeatPart * (rl - rr) / 2);
        return new(((fl + fr) / 2) + front, ((fl + fr) / 2) - front, ((rl + rr) / 2) + rear, ((rl + rr) / 2) - rear);
    }

    /// <summary>C n, metres per newton metre: rises in this proportion move the diagonals and leave the body where it is (chassis rigid).</summary>
    public Corners<double> ComplianceTimesTwist(Corners<bool>? atWheelCentre = null)
    {
        var c = Compliance(atWheelCentre);
        var n = TwistPattern.ToArray();
        return Corners.Each(corner => Enumerable.Range(0, 4).Sum(j => c[(int)corner, j] * n[j]));
    }

    /// <summary>n'Cn plus the chassis, radians of twist per newton metre: 1/K front roll + 1/K rear roll + 1/K chassis.</summary>
    /// <exception cref="InvalidOperationException">Everything is rigid.</exception>
    public double TwistComplianceRadPerNm(Corners<bool>? atWheelCentre = null)
    {
        var twist = TwistPattern.Zip(ComplianceTimesTwist(atWheelCentre), (n, cn) => n * cn).ToArray().Sum() + ChassisFlexibilityRadPerNm;
        return twist > 0 ? twist : throw new InvalidOperationException("With everything rigid the four loads are not determined.");
    }

    /// <summary>The reciprocal of <see cref="TwistComplianceRadPerNm"/>: newton metres between the axles per radian of twist of the supports.</summary>
    public double TwistStiffnessNmPerRad(Corners<bool>? atWheelCentre = null) => 1 / TwistComplianceRadPerNm(atWheelCentre);

    /// <summary>Change of the loads when supports rise: n (n.h) / (n'Cn), newtons; perches by way of <see cref="RisesOfPerchesM"/>. Holds while every wheel stays down.</summary>
    /// <param name="risesM">Rise of each support, metres.</param>
    /// <param name="atWheelCentre">Corners raised at the wheel centre.</param>
    public Corners<double> TwistLoadsN(Corners<double> risesM, Corners<bool>? atWheelCentre = null)
    {
        var torqueNm = TwistPattern.Zip(risesM, (n, h) => n * h).ToArray().Sum() / TwistComplianceRadPerNm(atWheelCentre);
        return TwistPattern.Select(n => n * torqueNm);
    }

    /// <summary>As <see cref="Compliance"/>, springs and bars only.</summary>
    internal double[,] SuspensionCompliance()
    {
        var c = new double[4, 4];
        Put(Front, 0);
        Put(Rear, 2);
        return c;

        void Put(AxleSprings axle, int at)
        {
            var (alike, opposite) = (axle.BothAlikeMPerN, axle.OppositeMPerN);
            c[at, at] = c[at + 1, at + 1] = (alike + opposite) / 2;
            c[at, at + 1] = c[at + 1, at] = (alike - opposite) / 2;
        }
    }

    internal double TyreFlexibility(Corner corner, Corners<bool>? atWheelCentre) =>
        atWheelCentre is not null && atWheelCentre[corner] ? 0 : 1 / (corner.IsFront() ? Front : Rear).TyreRateNPerM;

    internal void Check()
    {
        if (!(WheelbaseM > 0 && double.IsFinite(WheelbaseM))) throw new ArgumentException("The wheelbase must be above zero.");
        Front.Check("front");
        Rear.Check("rear");
        _ = TwistComplianceRadPerNm();
    }
}
