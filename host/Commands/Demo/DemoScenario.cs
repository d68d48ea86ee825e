using Fourpatch.Vehicles;
using Fourpatch.VirtualRig;

namespace Fourpatch.Commands.Demo;

/// <summary>Makes an evening for a person's own car: only its dimensions are theirs, the rest is invented.</summary>
internal static class DemoScenario
{
    private const double InventedMassKg = 850;
    private static readonly double[] CellCapacitiesKg = [50, 100, 200, 300, 500, 750, 1000, 1500, 2000, 3000, 5000, 10000];

    /// <summary>Four pads under this car on a floor that is a little uneven.</summary>
    public static Scenario For(Vehicle vehicle)
    {
        double massKg = vehicle.ExpectedKg is { } expected ? expected.ToArray().Sum() : InventedMassKg;
        double frontShare = vehicle.Target.Front ?? (vehicle.ExpectedKg is { } loads ? (loads.FL + loads.FR) / massKg : 0.5);
        double heaviestKg = massKg * Math.Max(frontShare, 1 - frontShare) / 2;

        // A pad is rated for twice the heaviest corner (practice: a wheel comes down hard, or another one lifts).
        double capacityKg = Array.Find(CellCapacitiesKg, capacity => capacity >= 2 * heaviestKg) is > 0 and var found ? found : Math.Ceiling(2 * heaviestKg);
        Scenario wren = InsideLinks.BuiltIn().Scenario;

        // What an uneven floor does to the loads is known only with the wheel rates; without them they are written down.
        bool isSprung = vehicle is { WheelRateFrontNPerM: not null, WheelRateRearNPerM: not null };
        return wren with
        {
            Car = !isSprung ? null : new ScenarioCar
            {
                MassKg = massKg,
                CgBehindFrontAxleM = vehicle.WheelbaseM * (1 - frontShare),
                CgLeftOfCentreM = 0.01,
                CgHeightM = vehicle.CgHeightM ?? 0.45,
            },
            TruthKg = isSprung ? null : LoadsKg(massKg, frontShare),
            FloorM = isSprung ? wren.FloorM : Corners.Same(0.0),
            Boards = [.. wren.Boards.Select(board => board with { Cells = [.. board.Cells.Select(cell => cell with { CapacityKg = capacityKg, KgPerCount = null })] })],
        };
    }

    /// <summary>What of the evening is the person's own, and what is not.</summary>
    public static string WhatIsInvented(Vehicle vehicle) => vehicle.ExpectedKg is null
        ? FormattableString.Invariant($"Of {vehicle.Name} only what its file says is yours: its mass of {InventedMassKg:0} kg is invented, as are floor, cells and where the load sits. [expected_kg] in the file makes it your car's.")
        : $"Of {vehicle.Name} what its file says is yours, with the mass of its [expected_kg]; floor, cells and the rest are invented.";

    // A little heavier on the left, and on one diagonal.
    private static Corners<double> LoadsKg(double massKg, double frontShare)
    {
        const double Left = 0.505;
        const double Wedge = 0.004;
        return new Corners<double>(
            massKg * ((frontShare * Left) - Wedge), massKg * ((frontShare * (1 - Left)) + Wedge),
            massKg * (((1 - frontShare) * Left) + Wedge), massKg * (((1 - frontShare) * (1 - Left)) - Wedge));
    }
}
