using Fourpatch.Uncertainty;
using Fourpatch.Vehicles;
using Fourpatch.Weighing;

namespace Fourpatch.Tests.Reports;

/// <summary>Vehicles of every kind and shape, weighed, and some of whose wheels are not known. All invented.</summary>
internal static class PlanViewCases
{
    public static IReadOnlyDictionary<string, WeighingResult> All { get; } = new Dictionary<string, WeighingResult>
    {
        ["wren"] = Corners("Wren", 2442, 1340, 1300, 106.1, 100.7, 116.5, 115.2),
        ["kart"] = Corners("Gnat", 1050, 1060, 1130, 33.4, 34.1, 46.0, 44.8, u: 0.05),
        ["truck"] = Corners("Heron", 6200, 2050, 1860, 2384.5, 2401.0, 4120.5, 4088.0, u: 4),
        ["wide"] = Corners("Flounder", 900, 1900, 1900, 61.0, 60.1, 70.2, 71.3),
        ["long"] = Corners("Pike", 12000, 2100, 2050, 3001, 2990, 3210, 3190, u: 12),
        ["heavy"] = Corners("Bison", 4100, 2500, 2500, 24500.5, 24320.5, 31010.0, 30990.5, u: 0.6),
        ["one-missing"] = Corners("Wren", 2442, 1340, 1300, 106.1, null, 116.5, 115.2),
        ["all-missing"] = Corners("Wren", 2442, 1340, 1300, null, null, null, null),
        ["far-off"] = Corners("Snail", 2442, 1340, 1300, 400, 2, 90, 1, u: 0.3),
        ["markup"] = Corners("<script>alert('x')</script> & \"Sons\"", 2442, 1340, 1300, 106.1, 100.7, 116.5, 115.2),
        ["motorcycle"] = Free("Swift", VehicleKind.Motorcycle, [("front", 0, 0, 96.2), ("rear", 1430, 0, 101.9)]),
        ["three-wheeler"] = Free("Tern", VehicleKind.ThreeWheeler, [("front-left", 0, 650, 92.4), ("front-right", 0, -650, 90.0), ("rear", 2300, 0, 140.1)]),
        ["trailer"] = Free("Snipe", VehicleKind.Trailer, [("coupling", -2900, 0, 62.0), ("left-front", 0, 760, 210.5), ("right-front", 0, -760, 214.0), ("left-rear", 780, 760, 220.0), ("right-rear", 780, -760, null)]),
        ["single-axle"] = Free("Axle", VehicleKind.SingleAxle, [("left", 0, 700, 120), ("right", 0, -700, 118)]),
        ["long-names"] = Free("Frame", VehicleKind.BareChassis, [("trestle_under_the_left_engine_mnt", 0, 400, 120), ("trestleundertherightenginemount", 10, -400, 118), ("stand-rear", 2100, 0, 133)]),
    };

    private static WeighingResult Corners(string name, double wheelbaseMm, double frontMm, double rearMm, double? fl, double? fr, double? rl, double? rr, double u = 0.18) => Of(
        new Vehicle { Name = name, WheelbaseM = wheelbaseMm / 1000, TrackFrontM = frontMm / 1000, TrackRearM = rearMm / 1000, Uncertainty = new() { WheelbaseM = 0.0008, TrackFrontM = 0.001, TrackRearM = 0.001 } },
        [("FL", fl), ("FR", fr), ("RL", rl), ("RR", rr)], u);

    private static WeighingResult Free(string name, VehicleKind kind, (string Name, double BehindMm, double LeftMm, double? Kg)[] wheels) => Of(
        new Vehicle { Name = name, Kind = kind, FreeWheels = [.. wheels.Select(wheel => new WheelPoint(wheel.Name, wheel.BehindMm / 1000, wheel.LeftMm / 1000))] },
        [.. wheels.Select(wheel => (wheel.Name, wheel.Kg))], 0.2);

    private static WeighingResult Of(Vehicle vehicle, (string Name, double? Kg)[] loads, double u) => WeighingResult.Of(
        vehicle,
        loads.ToDictionary(load => load.Name, load => load.Kg is { } kg ? Measured.From(kg, new Cause($"noise {load.Name}", "noise"), u) : null),
        []);
}
