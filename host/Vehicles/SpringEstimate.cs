using Fourpatch.Uncertainty;

namespace Fourpatch.Vehicles;

/// <summary>
/// What is known of a vehicle's springs, each part with its uncertainty. A tyre rate the file leaves out is taken as 200 N/mm, anything within
/// 25 % of it equally likely, the same for both axles; a chassis whose torsional stiffness is left out as rigid, with the flexibility of a 5000 N m/degree
/// frame as its standard uncertainty (common practice, no source). An anti-roll bar left out is not fitted.
/// </summary>
public sealed class SpringEstimate
{
    /// <summary>Assumed vertical rate of a tyre, N/m.</summary>
    public const double DefaultTyreRateNPerM = 200e3;

    /// <summary>Half-width of what an assumed tyre rate may be, as a part of it.</summary>
    public const double DefaultTyreRateHalfWidth = 0.25;

    /// <summary>Chassis whose flexibility is the standard uncertainty of one that is not stated, N m per radian.</summary>
    public const double UnknownChassisTorsionNmPerRad = 5000 * 180 / Math.PI;

    private readonly List<(Measured Value, Func<Springs, double, Springs> Put)> _parts = [];

    private SpringEstimate(Springs stated) => Nominal = stated;

    /// <summary>The springs at their best estimates.</summary>
    public Springs Nominal { get; }

    /// <summary>The uncertain parts; the rest of <see cref="Nominal"/> is exact.</summary>
    public IReadOnlyList<Measured> Inputs => [.. _parts.Select(part => part.Value)];

    /// <summary>The vehicle's springs; null when it has no four corners or a wheel rate is not known.</summary>
    public static SpringEstimate? Of(Vehicle vehicle)
    {
        if (!vehicle.HasFourCorners || vehicle.WheelRateFrontNPerM is not { } rateFront || vehicle.WheelRateRearNPerM is not { } rateRear) return null;
        var u = vehicle.Uncertainty;
        SpringEstimate estimate = new(new()
        {
            WheelbaseM = vehicle.WheelbaseM,
            Front = new()
            {
                TrackM = vehicle.TrackFrontM,
                WheelRateNPerM = rateFront,
                AntiRollNPerM = vehicle.AntiRollFrontNPerM ?? 0,
                SpringBaseM = vehicle.SpringBaseFrontM,
                TyreRateNPerM = vehicle.TyreRateFrontNPerM ?? DefaultTyreRateNPerM,
            },
            Rear = new()
            {
                TrackM = vehicle.TrackRearM,
                WheelRateNPerM = rateRear,
                AntiRollNPerM = vehicle.AntiRollRearNPerM ?? 0,
                SpringBaseM = vehicle.SpringBaseRearM,
                TyreRateNPerM = vehicle.TyreRateRearNPerM ?? DefaultTyreRateNPerM,
            },
            ChassisFlexibilityRadPerNm = vehicle.ChassisTorsionNmPerRad is { } torsion ? 1 / torsion : 0,
        });

        estimate.Add(vehicle.MeasuredWheelbaseM(), (s, value) => s with { WheelbaseM = value });
        estimate.Add(vehicle.MeasuredTrackFrontM(), (s, value) => s with { Front = s.Front with { TrackM = value } });
        estimate.Add(vehicle.MeasuredTrackRearM(), (s, value) => s with { Rear = s.Rear with { TrackM = value } });
        estimate.AddStated(vehicle, "front wheel rate", rateFront, u.WheelRateFrontNPerM, (s, value) => s with { Front = s.Front with { WheelRateNPerM = value } });
        estimate.AddStated(vehicle, "rear wheel rate", rateRear, u.WheelRateRearNPerM, (s, value) => s with { Rear = s.Rear with { WheelRateNPerM = value } });
        estimate.AddStated(vehicle, "front anti-roll rate", vehicle.AntiRollFrontNPerM, u.AntiRollFrontNPerM, (s, value) => s with { Front = s.Front with { AntiRollNPerM = value } });
        estimate.AddStated(vehicle, "rear anti-roll rate", vehicle.AntiRollRearNPerM, u.AntiRollRearNPerM, (s, value) => s with { Rear = s.Rear with { AntiRollNPerM = value } });
        estimate.AddStated(vehicle, "front spring base", vehicle.SpringBaseFrontM, u.SpringBaseFrontM, (s, value) => s with { Front = s.Front with { SpringBaseM = value } });
        estimate.AddStated(vehicle, "rear spring base", vehicle.SpringBaseRearM, u.SpringBaseRearM, (s, value) => s with { Rear = s.Rear with { SpringBaseM = value } });
        estimate.AddTyre(vehicle, "front tyre rate", vehicle.TyreRateFrontNPerM, u.TyreRateFrontNPerM, (s, value) => s with { Front = s.Front with { TyreRateNPerM = value } });
        estimate.AddTyre(vehicle, "rear tyre rate", vehicle.TyreRateRearNPerM, u.TyreRateRearNPerM, (s, value) => s with { Rear = s.Rear with { TyreRateNPerM = value } });
        estimate.AddChassis(vehicle);
        return estimate;
    }

    /// <summary>The springs with other values for <see cref="Inputs"/>, in their order.</summary>
    public Springs With(IReadOnlyList<double> inputs)
    {
        var springs = Nominal;
        for (var i = 0; i < _parts.Count; i++) springs = _parts[i].Put(springs, inputs[i]);
        return springs;
    }

    /// <summary>Anything that follows from the springs and from other measured values, with the uncertainty of both.</summary>
    /// <param name="others">Measured values that the function also takes.</param>
    /// <param name="function">From the springs and the others' values to the results.</param>
    public Measured[] Evaluate(IReadOnlyList<Measured> others, Func<Springs, double[], double[]> function) =>
        Measured.Evaluate([.. Inputs, .. others], values => function(With(values[.._parts.Count]), values[_parts.Count..]));

    /// <summary>Twist of the supports per torque between the axles, n'Cn with tyres and chassis, rad/(N m).</summary>
    /// <param name="atWheelCentre">Corners raised at the wheel centre, whose own tyre does not count.</param>
    public Measured TwistComplianceRadPerNm(Corners<bool>? atWheelCentre = null) =>
        Evaluate([], (springs, _) => [springs.TwistComplianceRadPerNm(atWheelCentre)])[0];

    /// <summary>The vehicle's twist stiffness, 1/(n'Cn), N m/rad.</summary>
    /// <param name="atWheelCentre">Corners raised at the wheel centre, whose own tyre does not count.</param>
    public Measured TwistStiffnessNmPerRad(Corners<bool>? atWheelCentre = null) => 1 / TwistComplianceRadPerNm(atWheelCentre);

    /// <summary>The part of a perch rise that counts in twist, <see cref="Springs.SeatParts"/>, as far as it is known; 1 where the springs, and so a bar's part, are not.</summary>
    public static Corners<Measured> SeatParts(Vehicle vehicle) => Of(vehicle) is { } springs
        ? Corners.From(springs.Evaluate([], (at, _) => at.SeatParts.ToArray()))
        : Corners.Same(Measured.Exact(1));

    private void Add(Measured value, Func<Springs, double, Springs> put)
    {
        if (value.StandardUncertainty > 0) _parts.Add((value, put));
    }

    private void AddStated(Vehicle vehicle, string what, double? value, double? standardUncertainty, Func<Springs, double, Springs> put)
    {
        if (value is { } stated && double.IsFinite(stated)) Add(vehicle.Dimension(what, stated, standardUncertainty), put);
    }

    private void AddTyre(Vehicle vehicle, string what, double? value, double? standardUncertainty, Func<Springs, double, Springs> put)
    {
        if (value is not null)
        {
            AddStated(vehicle, what, value, standardUncertainty, put);
            return;
        }
        Cause unknown = new($"vehicle {vehicle.Name}: tyre rate not stated", "tyre rate not stated, 200 N/mm assumed", shape: Shape.Rectangular,
            remedy: "Give the tyre rate in the vehicle file, or let a shim under one wheel show how stiff the car is.");
        Add(Measured.From(DefaultTyreRateNPerM, unknown, Cause.RectangleStandardUncertainty(DefaultTyreRateHalfWidth * DefaultTyreRateNPerM)), put);
    }

    private void AddChassis(Vehicle vehicle)
    {
        Func<Springs, double, Springs> put = (s, value) => s with { ChassisFlexibilityRadPerNm = value };
        if (vehicle.ChassisTorsionNmPerRad is { } torsion)
        {
            if (double.IsFinite(torsion)) Add(1 / vehicle.Dimension("chassis torsion", torsion, vehicle.Uncertainty.ChassisTorsionNmPerRad), put);
            return;
        }
        Cause unknown = new($"vehicle {vehicle.Name}: chassis torsion not stated", "chassis torsion not stated, a rigid one assumed",
            remedy: "Give the chassis torsion in the vehicle file, or let a shim under one wheel show how stiff the car is.");
        Add(Measured.From(0, unknown, 1 / UnknownChassisTorsionNmPerRad), put);
    }
}
