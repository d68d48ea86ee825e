using CsCheck;
using Fourpatch.Files;
using Fourpatch.Vehicles;

namespace Fourpatch.Tests.Files;

public class VehicleFileTests
{
    [Fact]
    public void Every_key_reaches_its_place_in_SI()
    {
        var wren = VehicleFile.Parse(Examples.Vehicle, "wren.toml").Value;
        Assert.Equal("Wren", wren.Name);
        Assert.Equal((2.41, 1.395, 1.3705), (wren.WheelbaseM, wren.TrackFrontM, wren.TrackRearM));
        Assert.Equal((0.9, 0.88), (wren.SpringBaseFrontM, wren.SpringBaseRearM));
        Assert.Equal((0.268, 0.281, 0.33), (wren.WheelRadiusFrontM, wren.WheelRadiusRearM, wren.CgHeightM));
        Assert.Equal(2900 * 180 / Math.PI, wren.ChassisTorsionNmPerRad!.Value, 9);
        Assert.Equal((21500.0, 24000.0), (wren.WheelRateFrontNPerM, wren.WheelRateRearNPerM));
        Assert.Equal((6000.0, 0.0), (wren.AntiRollFrontNPerM, wren.AntiRollRearNPerM));
        Assert.Equal((180000.0, double.PositiveInfinity), (wren.TyreRateFrontNPerM, wren.TyreRateRearNPerM));
        Assert.Equal((0.72, 0.8, 0.002), (wren.SpringTravelPerWheelTravelFront, wren.SpringTravelPerWheelTravelRear, wren.PerchThreadPitchM));
        Assert.Equal((0.41, -0.62), (wren.MarksM["firewall"], wren.MarksM["nose"]));
        Assert.Equal(new VehicleLimits { ClassMinimumKg = 430, BudgetKg = 455, FrontAxleKg = 400, RearAxleKg = 400, FrontTyreKg = 250, RearTyreKg = 280 }, wren.Limits);
        Assert.Equal(new Corners<double>(100, 98, 128, 126), wren.ExpectedKg);
        Assert.Equal(new TargetShares { Front = 0.44, Left = 0.5, Cross = 0.5 }, wren.Target);
        Assert.Equal((0.0015, 0.002, 0.025), (wren.Uncertainty.WheelbaseM, wren.Uncertainty.TrackFrontM, wren.Uncertainty.CgHeightM));
        Assert.Equal((1000.0, 1500.0), (wren.Uncertainty.WheelRateFrontNPerM, wren.Uncertainty.WheelRateRearNPerM));
    }

    [Fact]
    public void Another_kind_of_vehicle_has_its_own_wheels_and_no_wheelbase()
    {
        var wagtail = VehicleFile.Parse(Examples.Motorcycle, "wagtail.toml").Value;
        Assert.False(wagtail.HasFourCorners);
        Assert.Equal([new WheelPoint("front", 0, 0), new WheelPoint("rear", 1.42, 0)], wagtail.FreeWheels);
    }

    [Fact]
    public void What_is_written_keeps_the_numbers_as_a_person_would_write_them()
    {
        var text = VehicleFileText.Of(VehicleFile.Parse(Examples.Vehicle, "wren.toml").Value);
        foreach (var line in Examples.Vehicle.Split('\n').Where(line => line.Contains('=', StringComparison.Ordinal) && !line.StartsWith("kind", StringComparison.Ordinal)))
            Assert.Contains("\n" + line.TrimEnd(), text, StringComparison.Ordinal);
    }

    [Fact]
    public void Whatever_is_written_reads_back_as_the_same_vehicle() => AnyVehicle.Sample(vehicle =>
    {
        var text = VehicleFileText.Of(vehicle);
        var read = VehicleFile.Parse(text, "any.toml");
        Assert.True(read.IsOk, read.Error?.OneLine);
        Assert.Equal(text, VehicleFileText.Of(read.Value));
        Assert.Equal(vehicle.MarksM, read.Value.MarksM);
        Assert.Equal(vehicle.FreeWheels, read.Value.FreeWheels);
        Assert.Equal(vehicle with { MarksM = read.Value.MarksM, FreeWheels = read.Value.FreeWheels }, read.Value);
    });

    [Fact]
    public void Reading_and_writing_do_not_depend_on_the_culture()
    {
        var before = VehicleFileText.Of(VehicleFile.Parse(Examples.Vehicle, "wren.toml").Value);
        using var comma = new CommaCulture();
        Assert.Equal(before, VehicleFileText.Of(VehicleFile.Parse(Examples.Vehicle, "wren.toml").Value));
    }

    [Fact]
    public void A_file_is_written_and_read_by_path()
    {
        using var folder = new ScratchFolder();
        var path = Path.Combine(folder.Path, "wren.toml");
        Assert.Null(VehicleFileText.Write(path, VehicleFile.Parse(Examples.Vehicle, "x").Value));
        Assert.Equal("Wren", VehicleFile.Read(path).Value.Name);
        Assert.Equal(path + "x", VehicleFile.Read(path + "x").Error!.File);
    }

    // Lengths and rates that a tape and a spring tester can give: decimal millimetres and N/mm.
    private static readonly Gen<double> Mm = Gen.Int[0, 9999].Select(tenths => tenths / 10.0);

    private static Gen<double?> Maybe(double lowest, double highest, double fileUnitInSi) =>
        Gen.Select(Gen.Bool, Gen.Int[0, 100_000]).Select((present, step) => present ? FromFile(Math.Round(lowest + (highest - lowest) * step / 100_000, 2), fileUnitInSi) : (double?)null);

    private static double FromFile(double inFile, double fileUnitInSi) => fileUnitInSi < 1 ? inFile / (1 / fileUnitInSi) : inFile * fileUnitInSi;

    private static readonly Gen<Vehicle> AnyVehicle = Gen.Select(
        Gen.String[Gen.Char[' ', '~'], 1, 20],
        Gen.Select(Mm, Mm, Mm),
        Gen.Select(Maybe(100, 600, 1e-3), Maybe(100, 1500, 1e-3), Maybe(5, 200, 1e3), Maybe(0, 50, 1e3), Maybe(100, 400, 1e3)),
        Gen.Select(Maybe(0.3, 1.2, 1), Maybe(0.5, 5, 1e-3), Maybe(300, 3000, 1), Maybe(0, 1, 1), Maybe(0, 30, 1e-3)),
        Gen.Dictionary(Gen.String[Gen.Char['!', '~'], 1, 8], Gen.Int[-30000, 30000].Select(tenths => tenths / 10.0 / 1000))[0, 4]).Select((name, dimensions, springs, others, marks) => new Vehicle
    {
        Name = "n" + name,
        Kind = VehicleKind.Kart,
        WheelbaseM = (2000 + dimensions.Item1) / 1000,
        TrackFrontM = (1000 + dimensions.Item2) / 1000,
        TrackRearM = (1000 + dimensions.Item3) / 1000,
        WheelRadiusFrontM = springs.Item1,
        CgHeightM = springs.Item2,
        WheelRateFrontNPerM = springs.Item3,
        WheelRateRearNPerM = springs.Item3 is null ? null : double.PositiveInfinity,
        AntiRollRearNPerM = springs.Item4,
        TyreRateFrontNPerM = springs.Item5,
        SpringTravelPerWheelTravelRear = others.Item1,
        PerchThreadPitchM = others.Item2,
        Limits = new VehicleLimits { BudgetKg = others.Item3 },
        Target = new TargetShares { Cross = others.Item4 },
        Uncertainty = new VehicleUncertainty { WheelbaseM = others.Item5, SpringBaseRearM = others.Item5, AntiRollFrontNPerM = springs.Item4, SpringTravelPerWheelTravelFront = others.Item4 },
        ExpectedKg = others.Item3 is double kg ? new Corners<double>(kg, kg / 2, kg / 3, kg / 7) : null,
        MarksM = marks,
    });
}
