using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;

namespace Fourpatch.Weighing.Raised;

/// <summary>What decides how a car answers when its wheels stand at unlike heights, apart from its loads.</summary>
/// <param name="LogStiffness">Natural logarithm of the twist stiffness 1/(n'Cn) in N m/rad, tyres and chassis in it.</param>
/// <param name="CgArmM">Height of the centre of gravity above the wheel centres: on level blocks the car swings about those.</param>
/// <param name="FrontPart">Part of the twist compliance that is the front axle's, 0 to 1; the chassis counted with neither.</param>
/// <param name="TyreFrontMmPerKn">Flexibility of one front tyre, which a rise measured at the wheel centre by-passes.</param>
/// <param name="TyreRearMmPerKn">Flexibility of one rear tyre.</param>
public sealed record CarAnswer<T>(T LogStiffness, T CgArmM, T FrontPart, T TyreFrontMmPerKn, T TyreRearMmPerKn)
{
    /// <summary>The five in order.</summary>
    public T[] ToArray() => [LogStiffness, CgArmM, FrontPart, TyreFrontMmPerKn, TyreRearMmPerKn];
}

/// <summary>Makes a <see cref="CarAnswer{T}"/>.</summary>
public static class CarAnswer
{
    /// <summary>Five values in order.</summary>
    public static CarAnswer<T> From<T>(IReadOnlyList<T> values) => new(values[0], values[1], values[2], values[3], values[4]);
}

/// <summary>
/// A car whose wheels are raised one at a time or two at a time: its geometry, and what is known beforehand of how it answers. Pure mathematics.
/// </summary>
public sealed class RaisedCar
{
    // Wheel and tyre together of anything from a light single-seater on soft springs to a stiff racing car: 10 to 160 N/mm (common practice, no source).
    private const double UsualRateNPerM = 40e3;
    private const double DoubtOfUsualRate = 0.7;

    // Rates from a catalogue, bushes and bars left out: a third is not rare (common practice, no source; as for perches).
    private const double DoubtOfRates = 0.3;

    // Centres of gravity of cars lie between 0.3 and 0.7 m, wheels have radii of about 0.3 m (common practice, no source).
    private const double UsualCgHeightM = 0.5, HalfRangeOfCgHeightM = 0.2, UsualRadiusM = 0.3, DoubtOfRadiusM = 0.02;
    private const double UsualFrontPart = 0.5, DoubtOfFrontPart = 0.15;

    // Less than this part of the car's compliance never remains when one tyre is by-passed.
    private const double LeastPart = 0.2;

    private readonly Corners<double> _n;

    private RaisedCar(Vehicle vehicle, CarAnswer<Measured> known, bool knowsStiffness)
    {
        Vehicle = vehicle;
        Known = known;
        KnowsStiffness = knowsStiffness;
        _n = new(1 / vehicle.TrackFrontM, -1 / vehicle.TrackFrontM, -1 / vehicle.TrackRearM, 1 / vehicle.TrackRearM);
    }

    /// <summary>The car.</summary>
    public Vehicle Vehicle { get; }

    /// <summary>What is known beforehand, or a wide guess, each with its causes.</summary>
    public CarAnswer<Measured> Known { get; }

    /// <summary>Whether the vehicle file gives wheel rates, or a twist stiffness was learnt.</summary>
    public bool KnowsStiffness { get; }

    /// <summary>What is known of a vehicle.</summary>
    /// <exception cref="ArgumentException">It does not stand on four corners.</exception>
    public static RaisedCar Of(Vehicle vehicle)
    {
        if (!vehicle.HasFourCorners) throw new ArgumentException($"{vehicle.Name} does not stand on four corners.", nameof(vehicle));
        Measured height = vehicle.MeasuredCgHeightM() ?? Measured.From(UsualCgHeightM, new(
            "height of the centre of gravity assumed", "height of the centre of gravity not stated, 500 mm assumed", shape: Shape.Rectangular,
            remedy: "give cg_height_mm in the vehicle file, or put blocks under all the other wheels"), Cause.RectangleStandardUncertainty(HalfRangeOfCgHeightM));
        Measured arm = height - RadiusM(vehicle);
        Measured? learnt = vehicle.MeasuredTwistStiffnessNmPerRad() is { } stiffness ? Measured.Evaluate([stiffness], values => Math.Log(values[0])) : null;
        if (SpringEstimate.Of(vehicle) is not { } estimate)
        {
            var wheelRollFront = UsualRateNPerM * vehicle.TrackFrontM * vehicle.TrackFrontM / 2;
            var wheelRollRear = UsualRateNPerM * vehicle.TrackRearM * vehicle.TrackRearM / 2;
            Measured guess = Measured.From(-Math.Log(1 / wheelRollFront + 1 / wheelRollRear), new(
                "twist stiffness not known", "how stiff the car is in twist, not known beforehand",
                remedy: "a block under the partner wheel, a second rise, or the wheel rates in the vehicle file"), DoubtOfUsualRate);
            return new(vehicle, new(learnt ?? guess, arm, FrontPart(UsualFrontPart), Tyre(vehicle, vehicle.TyreRateFrontNPerM, "front"), Tyre(vehicle, vehicle.TyreRateRearNPerM, "rear")), learnt is not null);
        }

        Measured[] answer = estimate.Evaluate([], (springs, _) =>
        [
            -Math.Log(springs.TwistComplianceRadPerNm()),
            RollComplianceRadPerNm(springs.Front) / (RollComplianceRadPerNm(springs.Front) + RollComplianceRadPerNm(springs.Rear)),
            1e6 / springs.Front.TyreRateNPerM,
            1e6 / springs.Rear.TyreRateNPerM,
        ]);
        if (vehicle.Uncertainty is { WheelRateFrontNPerM: null } or { WheelRateRearNPerM: null })
        {
            answer[0] = answer[0].With(new("wheel rates as stated", "wheel rates, whose uncertainty the vehicle file does not state", remedy: "a block under the partner wheel, or say how sure the rates are below [uncertainty]"), DoubtOfRates);
        }

        return new(vehicle, new(learnt ?? answer[0], arm, FrontPart(answer[1].Value), answer[2], answer[3]), knowsStiffness: true);
    }

    /// <summary>
    /// By how much a corner carries more than on the floor when the wheels are raised: n (n.h)/(n'Cn), with the own tyre of every wheel by-passed whose height is
    /// that of its centre, and what the tilt moves, weight x height of its centre above the wheel centres x tilt. Kilograms; every wheel stays down.
    /// </summary>
    /// <param name="corner">Which.</param>
    /// <param name="risesM">How far each wheel stands above where it stands on the floor.</param>
    /// <param name="atWheelCentre">Wheels whose rise was measured at their centre.</param>
    /// <param name="answer">How the car answers.</param>
    /// <param name="totalKg">What it weighs.</param>
    public double ChangeKg(Corner corner, Corners<double> risesM, Corners<bool> atWheelCentre, CarAnswer<double> answer, double totalKg)
    {
        var whole = Math.Exp(-answer.LogStiffness);
        var compliance = whole;
        double twistRad = 0;
        foreach (var wheel in Corners.All)
        {
            twistRad += _n[wheel] * risesM[wheel];
            if (atWheelCentre[wheel] && risesM[wheel] != 0) compliance -= _n[wheel] * _n[wheel] * (wheel.IsFront() ? answer.TyreFrontMmPerKn : answer.TyreRearMmPerKn) * 1e-6;
        }

        var twistKg = _n[corner] * twistRad / Math.Max(compliance, LeastPart * whole) / StandardGravity.MPerS2;
        return twistKg + TiltKg(corner, risesM, answer, totalKg);
    }

    /// <summary>Weight that moves when an axle's wheels stand higher than the other's by <paramref name="riseM"/>: W a r / L^2, kg off the raised axle.</summary>
    public static double AxleTiltKg(double totalKg, double cgArmM, double riseM, double wheelbaseM) => totalKg * cgArmM * riseM / (wheelbaseM * wheelbaseM);

    /// <summary>By what a reading error is multiplied when a straight line through two rises is followed to zero: sqrt(r1^2 + r2^2)/(r2 - r1).</summary>
    public static double ExtrapolationFactor(double lowRiseM, double highRiseM) => Math.Sqrt(lowRiseM * lowRiseM + highRiseM * highRiseM) / (highRiseM - lowRiseM);

    private double TiltKg(Corner corner, Corners<double> h, CarAnswer<double> answer, double totalKg)
    {
        // The springs' share of the attitude: each axle's mean height is its wheels' mean, the roll lies between the two axles' by their stiffness.
        var moved = AxleTiltKg(totalKg, answer.CgArmM, (h.FL + h.FR - h.RL - h.RR) / 2, Vehicle.WheelbaseM);
        var frontStiffness = 1 - answer.FrontPart;
        var rollRad = frontStiffness * (h.FL - h.FR) / Vehicle.TrackFrontM + answer.FrontPart * (h.RL - h.RR) / Vehicle.TrackRearM;
        var momentKgM = -totalKg * answer.CgArmM * rollRad;
        var side = corner.IsLeft() ? 1 : -1;
        return corner.IsFront()
            ? -moved / 2 + side * frontStiffness * momentKgM / Vehicle.TrackFrontM
            : moved / 2 + side * answer.FrontPart * momentKgM / Vehicle.TrackRearM;
    }

    private static double RollComplianceRadPerNm(AxleSprings axle) => 2 / (axle.TrackM * axle.TrackM) * (axle.OppositeMPerN + 1 / axle.TyreRateNPerM);

    private static Measured RadiusM(Vehicle vehicle) => vehicle is { WheelRadiusFrontM: { } front, WheelRadiusRearM: { } rear }
        ? Measured.Exact((front + rear) / 2)
        : Measured.From(
            vehicle.WheelRadiusFrontM ?? vehicle.WheelRadiusRearM ?? UsualRadiusM,
            new("wheel radius assumed", "wheel radius not stated, 300 mm assumed", remedy: "give wheel_radius_front_mm and wheel_radius_rear_mm in the vehicle file"), DoubtOfRadiusM);

    private static Measured FrontPart(double value) =>
        Measured.From(value, new("front part of the twist compliance", "how the roll stiffness is shared between the axles"), DoubtOfFrontPart);

    private static Measured Tyre(Vehicle vehicle, double? rateNPerM, string axle)
    {
        var rate = rateNPerM ?? SpringEstimate.DefaultTyreRateNPerM;
        return rateNPerM is not null ? Measured.Exact(1e6 / rate) : Measured.From(
            1e6 / rate, new($"tyre rate not stated {axle}", $"{axle} tyre rate not stated, 200 N/mm assumed", shape: Shape.Rectangular, remedy: $"give the tyre rate of {vehicle.Name} in its file"),
            Cause.RectangleStandardUncertainty(SpringEstimate.DefaultTyreRateHalfWidth * 1e6 / rate));
    }
}
