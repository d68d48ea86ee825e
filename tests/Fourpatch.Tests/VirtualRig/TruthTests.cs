using Fourpatch.Rigs;
using Fourpatch.Vehicles;
using Fourpatch.VirtualRig;

namespace Fourpatch.Tests.VirtualRig;

public class TruthTests
{
    private const double G = StandardGravity.MPerS2;

    // Four springs, case C: worked by hand from statics and n(n.h)/(n'Cn); common practice, no source.
    private static readonly double[] CaseCFlatN = [3933.752093802345, 3766.247906197655, 3257.202680067002, 3042.797319932998];
    private static readonly double[] CaseCRaisedN = [3985.439100263221, 3714.560899736779, 3203.3620483369227, 3096.6379516630773];

    // On level blocks the car turns about its wheel centres: with the centre of gravity there, blocks tilt no weight over.
    private static readonly ScenarioCar CgAtWheelCentres = Wren.OnPads().Car! with { CgHeightM = 0.30 };

    [Fact]
    public void The_loads_on_a_level_floor_are_those_of_statics()
    {
        VirtualGarage garage = new(Wren.OnPads(), Wren.Vehicle, 1);
        Near(CaseCFlatN, garage.OnLevelFloor.CornersKg, 1e-9);
        Near(CaseCFlatN, garage.AsItStands.CornersKg, 1e-9);
        Assert.Equal(14000 / G, garage.OnFloor.TotalKg, 1e-9);
        Assert.Equal(1.17, garage.OnFloor.CgBehindFrontAxleM!.Value, 1e-12);
        Assert.Equal(0.02, garage.OnFloor.CgLeftOfCentreM!.Value, 1e-12);
        Assert.Equal(7700.0 / 14000, garage.OnFloor.FrontShare!.Value, 1e-12);
        Assert.Equal(0.501675041876047, garage.OnFloor.CrossShare!.Value, 1e-12);
    }

    [Fact]
    public void A_floor_that_stands_6_mm_higher_at_one_wheel_moves_the_diagonals_by_the_closed_form()
    {
        VirtualGarage garage = new(Wren.OnPads(new(0, 0, 0, 0.006)), Wren.Vehicle, 1);
        Near(CaseCFlatN, garage.OnLevelFloor.CornersKg, 1e-9);
        Near(CaseCRaisedN, garage.OnFloor.CornersKg, 1e-9);
        Assert.Equal(0.49413735343383586, garage.OnFloor.CrossShare!.Value, 1e-12);
    }

    [Fact]
    public void A_plate_under_one_pad_does_what_the_floor_there_would()
    {
        VirtualGarage garage = new(Wren.OnPads() with { Car = CgAtWheelCentres }, Wren.Vehicle, 1);
        garage.SetBlock(Corner.RR, 0.006);
        Near(CaseCRaisedN, garage.AsItStands.CornersKg, 1e-9);
        Near(CaseCFlatN, garage.OnFloor.CornersKg, 1e-9);
        garage.SetBlock(Corner.RR, 0);
        Near(CaseCFlatN, garage.AsItStands.CornersKg, 1e-9);
    }

    [Fact]
    public void Given_loads_are_the_truth_and_still_answer_to_a_plate()
    {
        VirtualGarage garage = new(Wren.WithTruth(160, 150, 155, 170), Wren.Vehicle with { CgHeightM = CgAtWheelCentres.CgHeightM }, 1);
        Assert.Equal(new Corners<double>(160, 150, 155, 170), garage.AsItStands.CornersKg);
        garage.SetBlock(Corner.RR, 0.006);
        var moved = garage.AsItStands.CornersKg;
        Assert.Equal(160 + 51.68700646087581 / G, moved.FL, 1e-9);
        Assert.Equal(635, garage.AsItStands.TotalKg, 1e-9);
    }

    [Fact]
    public void Without_spring_rates_a_plate_is_refused_and_nothing_changes()
    {
        VirtualGarage garage = new(Wren.WithTruth(160, 150, 155, 170), Wren.Vehicle with { WheelRateFrontNPerM = null }, 1);
        var refusal = Assert.Throws<InvalidOperationException>(() => garage.SetBlock(Corner.FL, 0.006));
        Assert.Contains("wheel_rate_n_per_mm", refusal.Message);
        Assert.Equal(160, garage.TrueCellKg(new("B1", 1)));
    }

    [Fact]
    public void Pads_carry_their_wheels_wherever_they_are_moved()
    {
        VirtualGarage garage = new(Wren.WithTruth(160, 150, 155, 170), Wren.Vehicle, 1);
        Assert.Equal([160, 150, 155, 170], CellsKg(garage, "B1"));
        garage.ArrangePads(new(4, 1, 2, 3));
        Assert.Equal([150, 155, 170, 160], CellsKg(garage, "B1"));
        garage.TakeCarOff();
        garage.LoadPad(2, 20);
        Assert.Equal([0, 20, 0, 0], CellsKg(garage, "B1"));
        garage.ClearMasses();
        Assert.Equal([0, 0, 0, 0], CellsKg(garage, "B1"));
    }

    [Fact]
    public void A_lever_passes_on_a_known_part()
    {
        VirtualGarage garage = new(Wren.WithTruth(160, 150, 155, 170) with { Build = RigBuild.Lever, LeverFactor = new(3, 3, 2, 1) }, Wren.Vehicle, 1);
        Assert.Equal([160 / 3.0, 50, 77.5, 170], CellsKg(garage, "B1"));
    }

    [Theory]
    [InlineData(true, 0.35)]
    [InlineData(false, 0.35)]
    [InlineData(true, 0.10)]
    public void A_lifted_axle_moves_the_load_from_which_the_height_of_the_centre_of_gravity_follows(bool isFront, double riseM)
    {
        const double HeightM = 0.43;
        var vehicle = Wren.Vehicle;
        VirtualGarage garage = new(Wren.OnPads() with { Car = Wren.OnPads().Car! with { CgHeightM = HeightM } }, vehicle, 1);
        var level = garage.AsItStands;
        garage.LiftAxle(isFront, riseM);
        var lifted = garage.AsItStands;

        // The published general form with unlike radii, theta found by halving instead of the garage's closed form.
        var (rf, rr, l) = (vehicle.WheelRadiusFrontM!.Value, vehicle.WheelRadiusRearM!.Value, vehicle.WheelbaseM);
        var (stay, go) = isFront ? (rr, rf) : (rf, rr);
        double low = 0, high = 1;
        for (var i = 0; i < 100; i++)
        {
            var middle = (low + high) / 2;
            if (l * Math.Sin(middle) - (stay - go) * Math.Cos(middle) < riseM - (stay - go)) low = middle;
            else high = middle;
        }
        var w = level.TotalKg;
        var stayLevel = w * (isFront ? 1 - level.FrontShare!.Value : level.FrontShare!.Value);
        var stayLifted = w * (isFront ? 1 - lifted.FrontShare!.Value : lifted.FrontShare!.Value);
        var height = go + stayLifted / w * (stay - go) + (stayLifted - stayLevel) * l / (w * Math.Tan(low));
        Assert.Equal(HeightM, height, 1e-9);
        Assert.Equal(w, lifted.TotalKg, 1e-9);
    }

    [Fact]
    public void A_dolly_of_no_height_leaves_the_car_as_it_stood_even_on_soft_tyres()
    {
        var soft = Wren.Vehicle with { TyreRateFrontNPerM = 200e3, TyreRateRearNPerM = 180e3 };
        VirtualGarage garage = new(Wren.OnDollies(1), soft, 1);
        foreach (var corner in Corners.All)
        {
            garage.PlaceDolly(corner, riseM: 0);
            Near(garage.OnFloor.CornersKg, garage.AsItStands.CornersKg, 1e-9);
        }
    }

    [Fact]
    public void A_raised_corner_over_reads_by_its_twist_stiffness_and_a_block_on_its_axle_takes_that_away()
    {
        var soft = Wren.Vehicle with { TyreRateFrontNPerM = 200e3, TyreRateRearNPerM = 180e3 };

        // Height of the centre of gravity = mean wheel radius: nothing tilts over.
        VirtualGarage garage = new(Wren.OnDollies(1, cgHeightM: 0.30), soft, 1);
        var level = garage.OnFloor.CornersKg;
        garage.PlaceDolly(Corner.FL, riseM: 0.02);
        var overReadKg = garage.AsItStands.CornersKg.FL - level.FL;

        // n'Cn by hand: axles in roll as 2/(k t^2) of spring and tyre in series, the raised wheel without its tyre.
        var twist = 2 / (30e3 * 1.5 * 1.5) + 1 / (200e3 * 1.5 * 1.5) + 2 / (40e3 * 1.44 * 1.44) + 2 / (180e3 * 1.44 * 1.44);
        Assert.Equal(0.02 / (1.5 * 1.5) / twist / G, overReadKg, 1e-6);

        garage.SetBlock(Corner.FR, 0.02);
        Near(level, garage.AsItStands.CornersKg, 0.2);
    }

    [Fact]
    public void What_a_car_cannot_stand_is_refused_and_nothing_changes()
    {
        VirtualGarage garage = new(Wren.OnDollies(1), Wren.Vehicle, 1);
        garage.PlaceDolly(Corner.FL);
        var before = CellsKg(garage, "B1");
        Assert.Throws<InvalidOperationException>(() => garage.StandWheelAt(new(0.6, 0)));
        Assert.Equal(before, CellsKg(garage, "B1"));
        Assert.Throws<InvalidOperationException>(() => garage.LoadPad(1, 10));
        Assert.Throws<InvalidOperationException>(() => garage.PutCarOn());
    }

    internal static double[] CellsKg(VirtualGarage garage, string board) => [.. Enumerable.Range(1, 4).Select(cell => garage.TrueCellKg(new CellId(board, cell)))];

    private static void Near(double[] newtons, Corners<double> kg, double toleranceKg) => Near(Corners.From(newtons).Select(n => n / G), kg, toleranceKg);

    private static void Near(Corners<double> expected, Corners<double> actual, double tolerance)
    {
        foreach (var corner in Corners.All) Assert.Equal(expected[corner], actual[corner], tolerance);
    }
}
