using Fourpatch.Vehicles;
using Fourpatch.VirtualRig;

namespace Fourpatch.Tests.VirtualRig;

/// <summary>Invented cars and garages for these tests.</summary>
internal static class Wren
{
    /// <summary>The car of the worked example "four springs, case C": 30 and 40 N/mm, 2.6 m, tracks 1.50 and 1.44 m, tyres already counted.</summary>
    public static Vehicle Vehicle { get; } = new()
    {
        Name = "Wren",
        WheelbaseM = 2.6,
        TrackFrontM = 1.50,
        TrackRearM = 1.44,
        WheelRateFrontNPerM = 30e3,
        WheelRateRearNPerM = 40e3,
        TyreRateFrontNPerM = double.PositiveInfinity,
        TyreRateRearNPerM = double.PositiveInfinity,
        WheelRadiusFrontM = 0.29,
        WheelRadiusRearM = 0.31,
    };

    public static ScenarioBoard Board(string id = "B1", ScenarioCell? cell = null) => new() { Id = id, Cells = [.. Enumerable.Repeat(cell ?? new(), 4)] };

    /// <summary>Case C's weight and centre of gravity on four pads.</summary>
    public static Scenario OnPads(Corners<double>? floorM = null) => new()
    {
        VehiclePath = "wren.toml",
        Build = RigBuild.Pads,
        RateHz = 80,
        Car = new() { MassKg = 14000 / StandardGravity.MPerS2, CgBehindFrontAxleM = 1.17, CgLeftOfCentreM = 0.02, CgHeightM = 0 },
        FloorM = floorM ?? Corners.Same(0.0),
        Boards = [Board()],
    };

    public static Scenario WithTruth(double fl, double fr, double rl, double rr) => OnPads() with { Car = null, TruthKg = new(fl, fr, rl, rr) };

    public static Scenario OnDollies(int count, double cgHeightM = 0.4) => OnPads() with
    {
        Build = count == 1 ? RigBuild.OneDolly : RigBuild.FourDollies,
        Car = new() { MassKg = 620, CgBehindFrontAxleM = 1.4, CgLeftOfCentreM = 0.015, CgHeightM = cgHeightM },
        Boards = [.. Enumerable.Range(1, count).Select(i => Board($"B{i}"))],
    };
}
