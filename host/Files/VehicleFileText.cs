using Fourpatch.Vehicles;

namespace Fourpatch.Files;

/// <summary>Writes a vehicle file that <see cref="VehicleFile"/> reads back as the same vehicle, with its units as comments.</summary>
public static class VehicleFileText
{
    /// <summary>Writes the file whole; null when it is there, else what was wrong.</summary>
    public static InputError? Write(string path, Vehicle vehicle) => AtomicFile.WriteText(path, Of(vehicle));

    public static string Of(Vehicle vehicle)
    {
        ArgumentNullException.ThrowIfNull(vehicle);
        var toml = new TomlText();
        toml.Comment("Lengths in mm, rates in N/mm. Behind the front axle line and left of the centre line count positive;");
        toml.Comment("left is the driver's left, ahead is negative.");
        toml.Text("name", vehicle.Name);
        if (vehicle.Kind != VehicleKind.Car)
            toml.Text("kind", Words.Of(vehicle.Kind), Words.List<VehicleKind>());
        if (vehicle.HasFourCorners || vehicle.WheelbaseM > 0)
        {
            toml.Mm("wheelbase_mm", vehicle.WheelbaseM, "hub to hub, mean of both sides");
            toml.Mm("track_front_mm", vehicle.TrackFrontM, "middle of tyre to middle of tyre");
            toml.Mm("track_rear_mm", vehicle.TrackRearM);
        }

        toml.Mm("spring_base_front_mm", vehicle.SpringBaseFrontM, "beam axle: distance of its springs");
        toml.Mm("spring_base_rear_mm", vehicle.SpringBaseRearM, "beam axle: distance of its springs");
        toml.Mm("wheel_radius_front_mm", vehicle.WheelRadiusFrontM, "wheel centre above ground, loaded");
        toml.Mm("wheel_radius_rear_mm", vehicle.WheelRadiusRearM, "wheel centre above ground, loaded");
        toml.Mm("cg_height_mm", vehicle.CgHeightM, "centre of gravity above ground");
        toml.Number("chassis_torsion_nm_per_deg", vehicle.ChassisTorsionNmPerRad, FileNumbers.NmPerDeg, "between the axles");
        toml.Number("twist_stiffness_nm_per_rad", vehicle.TwistStiffnessNmPerRad, comment: "of the whole car, as a plate under one wheel showed it");

        foreach (var wheel in vehicle.FreeWheels)
        {
            toml.Table($"wheel.{wheel.Name}");
            toml.Mm("behind_front_axle_mm", wheel.BehindFrontAxleM);
            toml.Mm("left_of_centre_mm", wheel.LeftOfCentreM);
        }

        Axles(toml, "wheel_rate_n_per_mm", vehicle.WheelRateFrontNPerM, vehicle.WheelRateRearNPerM, "force per mm of one wheel's travel, springs only; inf: rigid");
        Axles(toml, "anti_roll_n_per_mm", vehicle.AntiRollFrontNPerM, vehicle.AntiRollRearNPerM, "force at each wheel per mm of left-right difference in wheel travel");
        Axles(toml, "tyre_rate_n_per_mm", vehicle.TyreRateFrontNPerM, vehicle.TyreRateRearNPerM, "vertical rate of one tyre");
        Perch(toml, "perch", vehicle.SpringTravelPerWheelTravelFront, vehicle.SpringTravelPerWheelTravelRear, vehicle.PerchThreadPitchM);
        if (vehicle.MarksM.Count > 0)
        {
            toml.Table("marks", "mm behind the front axle line");
            foreach (var (name, behindM) in vehicle.MarksM)
                toml.Mm(name, behindM);
        }

        Limits(toml, vehicle.Limits);
        if (vehicle.ExpectedKg is { } expected)
        {
            toml.Table("expected_kg", "load at each corner, for checks of capacity");
            foreach (var corner in Corners.All)
                toml.Number(corner.ToString(), expected[corner]);
        }

        if (vehicle.Target != new TargetShares())
        {
            toml.Table("target", "shares from 0 to 1");
            toml.Number("front_share", vehicle.Target.Front);
            toml.Number("left_share", vehicle.Target.Left);
            toml.Number("cross_share", vehicle.Target.Cross);
        }

        if (vehicle.Uncertainty != new VehicleUncertainty())
            Uncertainty(toml, vehicle.Uncertainty);
        return toml.ToString();
    }

    private static void Limits(TomlText toml, VehicleLimits limits)
    {
        if (limits == new VehicleLimits())
            return;
        toml.Table("limits", "kg");
        toml.Number("class_minimum_kg", limits.ClassMinimumKg, comment: "least the rules allow, as they count it");
        toml.Number("budget_kg", limits.BudgetKg, comment: "most the finished vehicle is meant to weigh");
        toml.Number("front_axle_kg", limits.FrontAxleKg, comment: "ratings");
        toml.Number("rear_axle_kg", limits.RearAxleKg);
        toml.Number("front_tyre_kg", limits.FrontTyreKg);
        toml.Number("rear_tyre_kg", limits.RearTyreKg);
    }

    private static void Uncertainty(TomlText toml, VehicleUncertainty u)
    {
        toml.Table("uncertainty", "standard uncertainties (one sigma), in the unit of the key");
        toml.Mm("wheelbase_mm", u.WheelbaseM);
        toml.Mm("track_front_mm", u.TrackFrontM);
        toml.Mm("track_rear_mm", u.TrackRearM);
        toml.Mm("wheel_position_mm", u.FreeWheelPositionM);
        toml.Mm("spring_base_front_mm", u.SpringBaseFrontM);
        toml.Mm("spring_base_rear_mm", u.SpringBaseRearM);
        toml.Mm("wheel_radius_front_mm", u.WheelRadiusFrontM);
        toml.Mm("wheel_radius_rear_mm", u.WheelRadiusRearM);
        toml.Mm("cg_height_mm", u.CgHeightM);
        toml.Number("chassis_torsion_nm_per_deg", u.ChassisTorsionNmPerRad, FileNumbers.NmPerDeg);
        toml.Number("twist_stiffness_nm_per_rad", u.TwistStiffnessNmPerRad);
        Axles(toml, "uncertainty.wheel_rate_n_per_mm", u.WheelRateFrontNPerM, u.WheelRateRearNPerM, null);
        Axles(toml, "uncertainty.anti_roll_n_per_mm", u.AntiRollFrontNPerM, u.AntiRollRearNPerM, null);
        Axles(toml, "uncertainty.tyre_rate_n_per_mm", u.TyreRateFrontNPerM, u.TyreRateRearNPerM, null);
        Perch(toml, "uncertainty.perch", u.SpringTravelPerWheelTravelFront, u.SpringTravelPerWheelTravelRear, null);
    }

    private static void Axles(TomlText toml, string table, double? frontNPerM, double? rearNPerM, string? comment)
    {
        if (frontNPerM is null && rearNPerM is null)
            return;
        toml.Table(table, comment);
        toml.Number("front", frontNPerM, FileNumbers.NPerMm);
        toml.Number("rear", rearNPerM, FileNumbers.NPerMm);
    }

    private static void Perch(TomlText toml, string table, double? front, double? rear, double? pitchM)
    {
        if (front is null && rear is null && pitchM is null)
            return;
        toml.Table(table);
        toml.Number("spring_travel_per_wheel_travel_front", front, comment: "usually 0.5 to 1");
        toml.Number("spring_travel_per_wheel_travel_rear", rear);
        toml.Mm("thread_pitch_mm", pitchM, "perch movement per turn");
    }
}
