using Fourpatch.Vehicles;

namespace Fourpatch.Files;

/// <summary>
/// Reads a vehicle file (TOML). Every key it does not know is an error that names the nearest one; so is a value of the
/// wrong type, one that cannot be, and one that most likely is a slip of unit. Millimetres and N/mm become SI here.
/// </summary>
/// <remarks>
/// Tables: the keys of design without a header, then <c>[wheel.NAME]</c>, <c>[wheel_rate_n_per_mm]</c>,
/// <c>[anti_roll_n_per_mm]</c>, <c>[tyre_rate_n_per_mm]</c> (each <c>front</c>, <c>rear</c>; <c>inf</c> means rigid),
/// <c>[perch]</c>, <c>[marks]</c>, <c>[limits]</c> (<c>class_minimum_kg</c>, <c>budget_kg</c>, <c>front_axle_kg</c>,
/// <c>rear_axle_kg</c>, <c>front_tyre_kg</c>, <c>rear_tyre_kg</c>), <c>[expected_kg]</c>, <c>[target]</c>
/// (<c>front_share</c>, <c>left_share</c>, <c>cross_share</c>), <c>[uncertainty]</c>: the same keys again (tables as
/// <c>[uncertainty.perch]</c>) and <c>wheel_position_mm</c>, each a standard uncertainty.
/// </remarks>
public static class VehicleFile
{
    // Ends far beyond any vehicle: what lies outside cannot be meant, and would overflow where it is squared or divided by.
    private static readonly NumberRule Length = new("a length in mm", 0, 100_000, LowestExcluded: true);
    private static readonly NumberRule Place = new("a distance in mm, negative ahead of the front axle or right of the centre line", -20_000, 20_000);
    private static readonly NumberRule Rate = new("a rate in N/mm (inf: rigid)", 0.001, 100_000, MayBeInfinite: true);
    private static readonly NumberRule BarRate = new("a rate in N/mm", 0, 100_000);
    private static readonly NumberRule Torsion = new("a stiffness in Nm per degree (inf: rigid)", 0.1, 1e6, MayBeInfinite: true);
    private static readonly NumberRule Twist = new("a stiffness in Nm per radian", 100, 1e7);
    private static readonly NumberRule Ratio = new("spring travel per wheel travel", 0.01, 2);
    private static readonly NumberRule Pitch = new("a thread pitch in mm", 0.1, 10);
    private static readonly NumberRule Mass = new("a mass in kg", 0, 50_000, LowestExcluded: true);
    private static readonly NumberRule Load = new("what a wheel carries in kg", 1, 5000);
    private static readonly NumberRule Share = new("a share (52 % is 0.52)", 0, 1);
    private static readonly NumberRule ULength = new("a standard uncertainty in mm", 0, 5_000);
    private static readonly NumberRule URate = new("a standard uncertainty in N/mm", 0, 100_000);
    private static readonly NumberRule UTorsion = new("a standard uncertainty in Nm per degree", 0, 1e6);
    private static readonly NumberRule UTwist = new("a standard uncertainty in Nm per radian", 0, 1e7);
    private static readonly NumberRule URatio = new("a standard uncertainty of spring travel per wheel travel", 0, 2);

    public static Result<Vehicle> Read(string path) => TextFile.Read(path).Then(text => Parse(text, path));

    /// <summary>Reads the text of a vehicle file; <paramref name="file"/> is what errors call it.</summary>
    public static Result<Vehicle> Parse(string text, string file) => TomlDocument.Parse(text, file).Then<Vehicle>(root =>
    {
        var vehicle = Whole(root);
        return root.Problems.First is { } error ? error : vehicle;
    });

    private static Vehicle Whole(TomlSection root)
    {
        var kind = root.Word<VehicleKind>("kind") ?? VehicleKind.Car;
        var wheels = FreeWheels(root, kind);
        var rates = new Axles(root, "wheel_rate_n_per_mm", Rate);
        var bars = new Axles(root, "anti_roll_n_per_mm", BarRate);
        var tyres = new Axles(root, "tyre_rate_n_per_mm", Rate);
        var perch = root.Section("perch");
        var vehicle = new Vehicle
        {
            Name = root.RequiredText("name", "the name of the vehicle in double quotes"),
            Kind = kind,
            FreeWheels = wheels,
            SpringBaseFrontM = Mm(root, "spring_base_front_mm", Length),
            SpringBaseRearM = Mm(root, "spring_base_rear_mm", Length),
            WheelRadiusFrontM = Checked(root, "wheel_radius_front_mm", Plausibility.WheelRadiusM),
            WheelRadiusRearM = Checked(root, "wheel_radius_rear_mm", Plausibility.WheelRadiusM),
            CgHeightM = Checked(root, "cg_height_mm", Plausibility.CgHeightM),
            WheelRateFrontNPerM = rates.Front,
            WheelRateRearNPerM = rates.Rear,
            AntiRollFrontNPerM = bars.Front,
            AntiRollRearNPerM = bars.Rear,
            TyreRateFrontNPerM = tyres.Front,
            TyreRateRearNPerM = tyres.Rear,
            ChassisTorsionNmPerRad = root.Number("chassis_torsion_nm_per_deg", Torsion) is double torsion ? FileNumbers.NmPerRadFromNmPerDeg(torsion) : null,
            TwistStiffnessNmPerRad = root.Number("twist_stiffness_nm_per_rad", Twist),
            SpringTravelPerWheelTravelFront = perch?.Number("spring_travel_per_wheel_travel_front", Ratio),
            SpringTravelPerWheelTravelRear = perch?.Number("spring_travel_per_wheel_travel_rear", Ratio),
            PerchThreadPitchM = perch is null ? null : Mm(perch, "thread_pitch_mm", Pitch),
            MarksM = root.NamedNumbers("marks", Place).ToDictionary(mark => mark.Key, mark => FileNumbers.MFromMm(mark.Value)),
            Limits = LimitsOf(root),
            ExpectedKg = root.CornerNumbers("expected_kg", Load),
            Target = TargetOf(root),
            Uncertainty = UncertaintyOf(root),
        };
        vehicle = WithCorners(root, vehicle);
        CheckDoubts(root, vehicle);
        perch?.End();
        root.End();
        return vehicle;
    }

    /// <summary>Wheelbase and tracks: needed with four corners; of a bare chassis those it will have, all three or none; without meaning otherwise.</summary>
    private static Vehicle WithCorners(TomlSection root, Vehicle vehicle)
    {
        string[] keys = ["wheelbase_mm", "track_front_mm", "track_rear_mm"];
        if (vehicle.Kind is not (VehicleKind.Car or VehicleKind.Kart or VehicleKind.BareChassis))
        {
            foreach (var key in keys)
            {
                if (root.Number(key, Length) is not null)
                    root.Report(key, root.LineOf(key), ErrorCode.Contradiction, "does not go with [wheel.NAME]", "either four corners or free wheels", "leave it out, or leave out every [wheel.NAME]");
            }

            return vehicle;
        }

        if (vehicle.Kind == VehicleKind.BareChassis && !keys.Any(root.Has))
        {
            // Asked for, so that a slip in one of them is told from a key nobody knows.
            foreach (var key in keys)
                root.Number(key, Length);
            return vehicle;
        }

        var wheelbaseM = RequiredChecked(root, keys[0], Plausibility.WheelbaseM);
        var trackFrontM = RequiredChecked(root, keys[1], Plausibility.TrackM);
        var trackRearM = RequiredChecked(root, keys[2], Plausibility.TrackM);
        if (vehicle.Kind == VehicleKind.Car && root.Problems.First is null)
        {
            root.Report(keys[1], Plausibility.TrackAgainstWheelbase(trackFrontM, wheelbaseM));
            root.Report(keys[2], Plausibility.TrackAgainstWheelbase(trackRearM, wheelbaseM));
        }

        return vehicle with { WheelbaseM = wheelbaseM, TrackFrontM = trackFrontM, TrackRearM = trackRearM };
    }

    private static List<WheelPoint> FreeWheels(TomlSection root, VehicleKind kind)
    {
        var wheels = new List<WheelPoint>();
        foreach (var (name, section) in root.NamedSections("wheel"))
        {
            var behindMm = section.RequiredNumber("behind_front_axle_mm", Place);
            var leftMm = section.RequiredNumber("left_of_centre_mm", Place);
            section.End();
            if (!Names.IsName(name))
                root.Report("wheel", section.Line, ErrorCode.Syntax, $"found the wheel {InputError.Quote(name)}", Names.Expected, "choose a shorter or plainer name");
            wheels.Add(new WheelPoint(name, FileNumbers.MFromMm(behindMm), FileNumbers.MFromMm(leftMm)));
        }

        if (kind is VehicleKind.Car or VehicleKind.Kart && wheels.Count > 0)
            root.Report("wheel", root.LineOf("wheel"), ErrorCode.Contradiction, $"a {Words.Of(kind)} has its four corners already", "no [wheel.NAME]", "leave these tables out, or say another kind");
        if (kind is not (VehicleKind.Car or VehicleKind.Kart) && wheels.Count < 2)
            root.Report("wheel", root.LineOf("kind"), ErrorCode.Missing, $"has {wheels.Count} wheels or supports", $"at least two for kind {Words.Of(kind)}", "add [wheel.NAME] with behind_front_axle_mm and left_of_centre_mm");
        return wheels;
    }

    private static VehicleLimits LimitsOf(TomlSection root)
    {
        if (root.Section("limits") is not { } section)
            return new VehicleLimits();
        var limits = new VehicleLimits
        {
            ClassMinimumKg = section.Number("class_minimum_kg", Mass),
            BudgetKg = section.Number("budget_kg", Mass),
            FrontAxleKg = section.Number("front_axle_kg", Mass),
            RearAxleKg = section.Number("rear_axle_kg", Mass),
            FrontTyreKg = section.Number("front_tyre_kg", Mass),
            RearTyreKg = section.Number("rear_tyre_kg", Mass),
        };
        section.End();
        return limits;
    }

    private static TargetShares TargetOf(TomlSection root)
    {
        if (root.Section("target") is not { } section)
            return new TargetShares();
        var target = new TargetShares
        {
            Front = section.Number("front_share", Share),
            Left = section.Number("left_share", Share),
            Cross = section.Number("cross_share", Share),
        };
        section.End();
        return target;
    }

    private static VehicleUncertainty UncertaintyOf(TomlSection root)
    {
        if (root.Section("uncertainty") is not { } section)
            return new VehicleUncertainty();
        var rates = new Axles(section, "wheel_rate_n_per_mm", URate);
        var bars = new Axles(section, "anti_roll_n_per_mm", URate);
        var tyres = new Axles(section, "tyre_rate_n_per_mm", URate);
        var perch = section.Section("perch");
        var uncertainty = new VehicleUncertainty
        {
            WheelbaseM = Mm(section, "wheelbase_mm", ULength),
            TrackFrontM = Mm(section, "track_front_mm", ULength),
            TrackRearM = Mm(section, "track_rear_mm", ULength),
            FreeWheelPositionM = Mm(section, "wheel_position_mm", ULength),
            SpringBaseFrontM = Mm(section, "spring_base_front_mm", ULength),
            SpringBaseRearM = Mm(section, "spring_base_rear_mm", ULength),
            WheelRadiusFrontM = Mm(section, "wheel_radius_front_mm", ULength),
            WheelRadiusRearM = Mm(section, "wheel_radius_rear_mm", ULength),
            CgHeightM = Mm(section, "cg_height_mm", ULength),
            WheelRateFrontNPerM = rates.Front,
            WheelRateRearNPerM = rates.Rear,
            AntiRollFrontNPerM = bars.Front,
            AntiRollRearNPerM = bars.Rear,
            TyreRateFrontNPerM = tyres.Front,
            TyreRateRearNPerM = tyres.Rear,
            ChassisTorsionNmPerRad = section.Number("chassis_torsion_nm_per_deg", UTorsion) is double torsion ? FileNumbers.NmPerRadFromNmPerDeg(torsion) : null,
            TwistStiffnessNmPerRad = section.Number("twist_stiffness_nm_per_rad", UTwist),
            SpringTravelPerWheelTravelFront = perch?.Number("spring_travel_per_wheel_travel_front", URatio),
            SpringTravelPerWheelTravelRear = perch?.Number("spring_travel_per_wheel_travel_rear", URatio),
        };
        perch?.End();
        section.End();
        return uncertainty;
    }

    /// <summary>What is known worse than to its own size is not known; most likely a digit slipped. Bars may be: one of them can be next to nothing.</summary>
    private static void CheckDoubts(TomlSection root, Vehicle vehicle)
    {
        if (root.Section("uncertainty") is not { } section)
            return;
        var doubts = vehicle.Uncertainty;
        CheckDoubt(section, "wheelbase_mm", vehicle.WheelbaseM, doubts.WheelbaseM);
        CheckDoubt(section, "track_front_mm", vehicle.TrackFrontM, doubts.TrackFrontM);
        CheckDoubt(section, "track_rear_mm", vehicle.TrackRearM, doubts.TrackRearM);
        CheckDoubt(section, "spring_base_front_mm", vehicle.SpringBaseFrontM, doubts.SpringBaseFrontM);
        CheckDoubt(section, "spring_base_rear_mm", vehicle.SpringBaseRearM, doubts.SpringBaseRearM);
        CheckDoubt(section, "chassis_torsion_nm_per_deg", vehicle.ChassisTorsionNmPerRad, doubts.ChassisTorsionNmPerRad);
        CheckDoubt(section, "twist_stiffness_nm_per_rad", vehicle.TwistStiffnessNmPerRad, doubts.TwistStiffnessNmPerRad);
        CheckDoubt(section.Section("wheel_rate_n_per_mm"), "front", vehicle.WheelRateFrontNPerM, doubts.WheelRateFrontNPerM);
        CheckDoubt(section.Section("wheel_rate_n_per_mm"), "rear", vehicle.WheelRateRearNPerM, doubts.WheelRateRearNPerM);
        CheckDoubt(section.Section("tyre_rate_n_per_mm"), "front", vehicle.TyreRateFrontNPerM, doubts.TyreRateFrontNPerM);
        CheckDoubt(section.Section("tyre_rate_n_per_mm"), "rear", vehicle.TyreRateRearNPerM, doubts.TyreRateRearNPerM);
    }

    private static void CheckDoubt(TomlSection? section, string key, double? value, double? uncertainty)
    {
        if (value > 0 && uncertainty > value)
            section?.Report(key, section.LineOf(key), ErrorCode.Contradiction, "is larger than the value itself", "a standard uncertainty no larger than that", "correct one of the two");
    }

    private static double? Mm(TomlSection section, string key, NumberRule rule) =>
        section.Number(key, rule) is double mm ? FileNumbers.MFromMm(mm) : null;

    private static double? Checked(TomlSection section, string key, Func<double, InputError?> check)
    {
        var lengthM = Mm(section, key, Length);
        if (lengthM is double value)
            section.Report(key, check(value));
        return lengthM;
    }

    private static double RequiredChecked(TomlSection section, string key, Func<double, InputError?> check)
    {
        if (section.Has(key))
            return Checked(section, key, check) ?? 1;
        return section.RequiredNumber(key, Length);
    }

    /// <summary>A table with <c>front</c> and <c>rear</c>, in N/mm.</summary>
    private readonly struct Axles
    {
        public Axles(TomlSection section, string key, NumberRule rule)
        {
            if (section.Section(key) is not { } table)
                return;
            Front = table.Number("front", rule) is double front ? FileNumbers.NPerMFromNPerMm(front) : null;
            Rear = table.Number("rear", rule) is double rear ? FileNumbers.NPerMFromNPerMm(rear) : null;
            table.End();
        }

        public double? Front { get; }

        public double? Rear { get; }
    }
}
