using CsCheck;
using Fourpatch.Files;
using Fourpatch.Planning;
using Fourpatch.Vehicles;

namespace Fourpatch.Tests.Files;

public class TableFileTests
{
    private static readonly Vehicle Wren = VehicleFile.Parse(Examples.Vehicle, "wren.toml").Value;

    private static IReadOnlyList<Part> Parts(string text) => PartsFile.Parse(text, "parts.csv", Wren).Value;

    [Fact]
    public void Every_column_of_a_parts_list_reaches_its_place_in_SI()
    {
        var parts = Parts(Examples.Parts).ToDictionary(part => part.Item);
        Assert.Equal(
            new Part { Item = "engine", Action = PartAction.Fit, MassKg = 78.5, BehindFrontAxleM = 1.72, LeftOfCentreM = 0, AboveGroundM = 0.31, Stage = "2", UMassKg = 0.5, UPositionM = 0.02, Note = "with oil, without exhaust" },
            parts["engine"]);
        Assert.Equal(0.06, parts["radiator"].BehindFrontAxleM, 15);
        Assert.Equal("firewall", parts["radiator"].FromMark);
        Assert.Equal((PartAction.Remove, PartCarrier.FL), (parts["brake disc"].Action, parts["brake disc"].CarriedBy));
        Assert.Equal((1.2, -0.15, null), (parts["battery"].ToBehindM, parts["battery"].ToLeftM, parts["battery"].ToAboveM));
        Assert.Equal((0.6, 1.5, -0.2, 0.2), (parts["pump"].MinBehindM, parts["pump"].MaxBehindM, parts["pump"].MinLeftM, parts["pump"].MaxLeftM));
        Assert.Equal((null, 12.0), (parts["nose spot"].MassKg, parts["nose spot"].MaxMassKg));
        Assert.Equal((25.0, 0.745), (parts["fuel"].VolumeL, parts["fuel"].DensityKgPerL));
    }

    [Fact]
    public void Pounds_and_inches_are_told_by_the_heading()
    {
        var part = Parts("item,action,mass_lb,behind_front_axle_in,left_of_centre_mm\nengine,fit,100,10,5\n")[0];
        Assert.Equal(45.359237, part.MassKg!.Value, 12);
        Assert.Equal(0.254, part.BehindFrontAxleM, 15);
        Assert.Equal(0.005, part.LeftOfCentreM);
    }

    [Theory]
    [InlineData("item,action,mass_kg,behind_front_axle_mm,left_of_centre_mm\nengine,fit,78.5,1720,0\n")]
    [InlineData("item;action;mass_kg;behind_front_axle_mm;left_of_centre_mm\nengine;fit;78,5;1720;0\n")]
    [InlineData("sep=;\nitem;action;mass_kg;behind_front_axle_mm;left_of_centre_mm\nengine;fit;78,5;1720;0\n")]
    [InlineData("item\taction\tmass_kg\tbehind_front_axle_mm\tleft_of_centre_mm\r\nengine\tfit\t78.5\t1720\t0\r\n")]
    [InlineData("# weighed on 3\" blocks\n\nITEM, Action ,mass_kg,behind_front_axle_mm,left_of_centre_mm,,\nengine,FIT,\"78.5\",1720,0,,\n,,,,,,\n")]
    public void Any_spreadsheet_may_have_written_it(string text)
    {
        var part = Parts(text)[0];
        Assert.Equal(("engine", 78.5, 1.72), (part.Item, part.MassKg, part.BehindFrontAxleM));
    }

    [Theory]
    [InlineData("item,action,mass_kg,behind_front_axle_mm,left_of_centre_mm\nengine,fit,78,5,1720,0\n", "semicolons between the cells")]
    [InlineData("item;action;mass_kg;behind_front_axle_mm;left_of_centre_mm\nengine;fit;78,5;1.720,0;0\n", "leave out the marks between thousands")]
    [InlineData("item,action,mass_kg,behind_front_axle_mm,left_of_centre_mm\nen\u202Egine,fit,78.5,1720,0\n", "U+202E")]
    public void What_a_spreadsheet_wrote_in_a_way_that_has_two_meanings_is_asked_about(string text, string says) =>
        Assert.Contains(says, PartsFile.Parse(text, "parts.csv", Wren).Error!.OneLine, StringComparison.Ordinal);

    /// <summary>The signs by which a cell becomes a formula: OWASP, "CSV Injection".</summary>
    [Theory]
    [InlineData("=1+1")]
    [InlineData("+cmd")]
    [InlineData("-seat")]
    [InlineData("@SUM(A1)")]
    [InlineData("'=1")]
    [InlineData("''=1")]
    [InlineData("'64 carburettor")]
    [InlineData("plain")]
    [InlineData("=a,\"b\"")]
    public void What_people_called_a_part_is_no_formula_to_a_spreadsheet_and_reads_back_as_it_was(string name)
    {
        var part = new Part { Item = name, Action = PartAction.Fit, MassKg = 1, BehindFrontAxleM = -0.35, LeftOfCentreM = 0, Note = name };
        string text = PartsFile.TextOf([part], Wren);
        Assert.DoesNotMatch("(^|[,\"\n])[=+@]", text);
        Assert.Contains(",1,-350,", text, StringComparison.Ordinal);
        Assert.Equal([part], Parts(text));
    }

    [Theory]
    [InlineData("FL = 1e4")]
    [InlineData("FL = 0")]
    public void An_expected_load_that_no_wheel_carries_is_refused(string load)
    {
        string text = "name = \"x\"\nwheelbase_mm = 2600\ntrack_front_mm = 1500\ntrack_rear_mm = 1500\n[expected_kg]\n" + load + "\nFR = 100\nRL = 100\nRR = 100\n";
        Assert.Contains("expected what a wheel carries in kg, from 1 to 5000;", VehicleFile.Parse(text, "x.toml").Error!.OneLine, StringComparison.Ordinal);
    }

    [Fact]
    public void A_number_with_an_exponent_is_guessed_at_only_where_a_person_may_have_meant_it()
    {
        Assert.Contains("did you mean 1200?", Typed.Length("1.2e3").Error!.Remedy, StringComparison.Ordinal);
        Assert.DoesNotContain("did you mean", Typed.Length("1e-300").Error!.Remedy, StringComparison.Ordinal);
    }

    [Fact]
    public void A_parts_list_written_reads_back_the_same()
    {
        var parts = Parts(Examples.Parts);
        var text = PartsFile.TextOf(parts, Wren);
        Assert.Equal(parts, Parts(text));
        Assert.Contains("radiator,fit,5.2,-350,", text, StringComparison.Ordinal);
    }

    [Fact]
    public void Any_parts_list_written_reads_back_the_same() => Gen.Select(
        Gen.String[Gen.Char[' ', '~'], 0, 12],
        Gen.Int[0, 20000],
        Gen.Int[-19000, 39000],
        Gen.Int[-11000, 11000],
        Gen.Bool).Select((name, grams, behindTenths, leftTenths, fromMark) => new Part
        {
            Item = $"p{name}.",
            Action = PartAction.Fit,
            MassKg = grams / 1000.0,
            BehindFrontAxleM = fromMark ? (behindTenths / 10.0 + 410) / 1000 : behindTenths / 10.0 / 1000,
            LeftOfCentreM = leftTenths / 10.0 / 1000,
            FromMark = fromMark ? "firewall" : null,
            Note = $"\"{name}\", #;",
        }).Array[1, 5].Sample(parts =>
        {
            var list = parts.DistinctBy(part => part.Item, StringComparer.OrdinalIgnoreCase).ToList();
            Assert.Equal(list, Parts(PartsFile.TextOf(list, Wren)));
        });

    [Fact]
    public void Tables_do_not_depend_on_the_culture()
    {
        var before = PartsFile.TextOf(Parts(Examples.Parts), Wren);
        using var comma = new CommaCulture();
        Assert.Equal(before, PartsFile.TextOf(Parts(Examples.Parts), Wren));
    }

    [Fact]
    public void Stored_readings_become_typed_rows()
    {
        using var folder = new ScratchFolder();
        var cell = ReadingsFile.Cell(folder.File("cell.csv", Examples.CellReadings)).Value;
        Assert.Equal(new CellReading(4, 40, 424980.5, LoadDirection.Up, 0.04), cell[2]);
        Assert.Equal(new CellReading(5, 0, 81240, LoadDirection.Down, null), cell[3]);

        var platform = ReadingsFile.Platform(folder.File("platform.csv", Examples.PlatformReadings)).Value;
        Assert.Equal(("", 0.0), (platform[0].Spot, platform[0].MassKg));
        Assert.Equal([500000, 90000, 90000, 10000], platform[1].Counts);
        Assert.Equal((0.1, null), (platform[1].UMassKg, platform[1].PlateUnderCastor));
        Assert.Equal(2, platform[2].PlateUnderCastor);
        Assert.Null(platform[3].MassKg);

        var rotation = ReadingsFile.Rotation(folder.File("rotate.csv", Examples.RotationReadings)).Value;
        Assert.Null(rotation[0].CellAt);
        Assert.Equal(new Corners<int>(4, 1, 2, 3), rotation[2].CellAt);

        var one = ReadingsFile.OneByOne(folder.File("one.csv", Examples.OneByOneReadings)).Value;
        Assert.Equal(new OneByOneReading(2, Corner.FL, 0.052, 118.5, 0.3, 0.001), one[0]);
        Assert.Equal(Corner.RR, one[2].Corner);

        var lift = ReadingsFile.Lift(folder.File("lift.csv", Examples.LiftReadings)).Value;
        Assert.Equal(new LiftReading(2, 0, 254, null), lift[0]);
        Assert.Equal(new LiftReading(5, 0.3, 262.7, LoadDirection.Down), lift[3]);
    }

    [Fact]
    public void Readings_may_be_in_pounds_and_inches()
    {
        using var folder = new ScratchFolder();
        var row = ReadingsFile.OneByOne(folder.File("one.csv", "corner,rise_in,reading_lb\nFL,2,250\n")).Value[0];
        Assert.Equal(0.0508, row.RiseM, 15);
        Assert.Equal(113.3980925, row.ReadingKg, 10);
    }
}
