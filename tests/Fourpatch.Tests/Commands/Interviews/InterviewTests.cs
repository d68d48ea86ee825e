using Fourpatch.Files;
using Fourpatch.Planning;
using Fourpatch.Rigs;
using Fourpatch.Vehicles;

namespace Fourpatch.Tests.Commands.Interviews;

/// <summary>The three interviews from the command line to the written file. What is expected is worked out by hand beside it.</summary>
public class InterviewTests
{
    private const string Marked = """
        name = "Wren"
        wheelbase_mm = 2311
        track_front_mm = 1321
        track_rear_mm = 1295

        [marks]
        firewall = 410
        """;

    private static Bench NewBench(params string[] lines) => new() { Data = "data", Typed = Lines(lines) };

    private static string Lines(IEnumerable<string> lines) => string.Concat(lines.Select(line => line + "\n"));

    private static Vehicle VehicleIn(Bench bench, string file) => VehicleFile.Read(Path.Combine(bench.Folder, file)).Value;

    private static RigLayout LayoutIn(Bench bench, string file) => LayoutFile.Read(Path.Combine(bench.Folder, file)).Value;

    private static string[] FilesIn(Bench bench) => [.. Directory.EnumerateFiles(bench.Folder).Select(Path.GetFileName).OfType<string>().Order()];

    [Fact]
    public async Task A_car_needs_six_answers_in_any_unit()
    {
        using Bench bench = NewBench(Scripts.ShortCar);
        Outcome outcome = await bench.RunAsync("vehicle", "new");
        Assert.Equal((0, ""), (outcome.ExitCode, outcome.Errors));
        Vehicle wren = VehicleIn(bench, "wren.toml");

        // (2310 + 2312) / 2; 52 x 25.4; 51 x 25.4.
        Assert.Equal(("Wren", VehicleKind.Car), (wren.Name, wren.Kind));
        Assert.Equal([2.311, 1.3208, 1.2954], [wren.WheelbaseM, wren.TrackFrontM, wren.TrackRearM]);
        Assert.Contains("= 1320.8 mm", outcome.Out, StringComparison.Ordinal);
        Assert.Contains("Written to wren.toml, and read back the same.", outcome.Out, StringComparison.Ordinal);
        Assert.Equal(["wren.toml"], FilesIn(bench));
    }

    [Theory]
    [InlineData("260", "yes")]
    [InlineData("260", "Y")]
    [InlineData("260mm", "yes")]
    [InlineData("260", "cm")]
    [InlineData("260", "no")]
    [InlineData("260", "n")]
    public async Task Did_you_mean_may_be_answered_with_yes_and_with_no(string typed, string answer)
    {
        bool isNo = answer.StartsWith('n');
        var left = new Queue<string>([typed, answer, .. isNo ? new[] { "2600mm" } : []]);
        using var bench = new Bench
        {
            Data = "data",
            Person = said => said.Contains("called?", StringComparison.Ordinal) ? "Wren"
                    : said.Contains("heelbase", StringComparison.Ordinal) || said.Contains("did you mean", StringComparison.Ordinal) || said.Contains("Then type it", StringComparison.Ordinal) ? left.TryDequeue(out string? next) ? next : "quit"
                    : said.Contains('[', StringComparison.Ordinal) ? "" : "quit",
        };
        Outcome outcome = await bench.RunAsync("vehicle", "new");
        Assert.Contains("did you mean cm?", outcome.OneLine, StringComparison.Ordinal);
        Assert.Contains("yes takes 260cm", outcome.OneLine, StringComparison.Ordinal);
        Assert.Equal(isNo, outcome.OneLine.Contains("Then type it once more", StringComparison.Ordinal));
        Assert.Empty(left);
        Assert.Contains("2600 mm", outcome.OneLine, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Everything_known_of_a_car_comes_into_its_file()
    {
        using Bench bench = NewBench(Scripts.WholeCar);
        Outcome outcome = await bench.RunAsync("vehicle", "new");
        Assert.True(outcome.ExitCode == 0, outcome.Out + outcome.Errors);
        Vehicle car = VehicleIn(bench, "second.toml");

        // Held at the 100 mm mark: (2310 + 2312) / 2, 1300, 1280.
        Assert.Equal([2.311, 1.3, 1.28], [car.WheelbaseM, car.TrackFrontM, car.TrackRearM], new Near(1e-12));

        // 200 lb/in = 200 x 0.45359237 x 9.80665 / 25.4 N/mm (NIST SP 811:2008 App. B.8), at the wheel times 0.7 squared.
        Assert.Equal(200 * 0.45359237 * 9.80665 / 0.0254 * 0.49, car.WheelRateFrontNPerM!.Value, 6);
        Assert.Equal(40_000 * 0.75 * 0.75, car.WheelRateRearNPerM!.Value, 6);
        Assert.Equal((5_000.0, null, 180_000.0, null), (car.AntiRollFrontNPerM, car.AntiRollRearNPerM, car.TyreRateFrontNPerM, car.TyreRateRearNPerM));
        Assert.Equal(0.0254 / 16, car.PerchThreadPitchM!.Value, 12);
        Assert.Equal([("firewall", 0.41), ("nose", -0.6)], car.MarksM.Select(mark => (mark.Key, mark.Value)));
        Assert.Equal(new VehicleLimits { ClassMinimumKg = 430, BudgetKg = 455, FrontAxleKg = 250, RearAxleKg = 300 }, car.Limits);
        Assert.Equal(new TargetShares { Front = 0.48, Left = 0.5, Cross = 0.5 }, car.Target);
        Assert.Equal((0.002, 0.002, null), (car.Uncertainty.WheelbaseM, car.Uncertainty.TrackRearM, car.Uncertainty.CgHeightM));
        Assert.Equal(1.0, car.SpringBaseRearM!.Value - 0.1, 12);
        Assert.Equal((0.28, 0.285, 0.33), (car.WheelRadiusFrontM, car.WheelRadiusRearM, car.CgHeightM));
    }

    [Fact]
    public async Task What_the_file_would_not_take_is_asked_again_at_once()
    {
        using Bench bench = NewBench([.. Scripts.WholeCar.SelectMany(line => line switch
        {
            "200lb/in" => ["0.00001N/mm", "1000000N/mm", line],
            "16tpi" => ["100000tpi", line],
            _ => (string[])[line],
        })]);
        Outcome outcome = await bench.RunAsync("vehicle", "new");
        Assert.True(outcome.ExitCode == 0, outcome.Out + outcome.Errors);
        string told = outcome.OneLine + outcome.Errors;
        Assert.Equal(2, told.Split("a rate from 0.1 to 10000 N/mm").Length - 1);
        Assert.Contains("at least 0.1 mm a turn", told, StringComparison.Ordinal);
        Assert.Equal(0.0254 / 16, VehicleIn(bench, "second.toml").PerchThreadPitchM!.Value, 12);
    }

    [Fact]
    public async Task Anything_without_four_corners_is_asked_for_wheel_by_wheel()
    {
        using Bench bench = NewBench(Scripts.ThreeWheeler);
        Outcome outcome = await bench.RunAsync("vehicle", "new");
        Assert.True(outcome.ExitCode == 0, outcome.Out + outcome.Errors);
        Assert.Equal(
            [new WheelPoint("front-left", 0, 0.65), new WheelPoint("front-right", 0, -0.65), new WheelPoint("rear", 2.3, 0)],
            VehicleIn(bench, "tern.toml").FreeWheels);

        // The rig asks for those wheels, since this is the vehicle worked with last.
        bench.Typed = Lines(["", "", "", "", "no", "-", "", ""]);
        outcome = await bench.RunAsync("rig", "new");
        Assert.True(outcome.ExitCode == 0, outcome.Out + outcome.Errors);
        Assert.Contains("vehicle Tern", outcome.Out, StringComparison.Ordinal);
        RigLayout layout = LayoutFile.Read(Path.Combine(bench.Folder, "rig.toml"), ["front-left", "front-right", "rear"]).Value;
        Assert.Equal(["front-left", "front-right", "rear"], layout.Stations.Select(station => station.Name));
    }

    [Fact]
    public async Task Pads_levers_and_dollies_come_into_the_layout()
    {
        using Bench bench = NewBench();
        async Task<RigLayout> Built(string[] script, string file)
        {
            bench.Typed = Lines(script);
            Outcome outcome = await bench.RunAsync("rig", "new");
            Assert.True(outcome.ExitCode == 0, outcome.Out + outcome.Errors);
            return LayoutIn(bench, file);
        }

        RigLayout pads = await Built(Scripts.Pads, "rig.toml");
        Assert.Equal(LayoutFile.TextOf(RigLayout.FourPads("B1")), LayoutFile.TextOf(pads));

        // The port of the rig before is offered, and not wanted: "-".
        RigLayout two = await Built(Scripts.PadsOfTwoBoards, "two.toml");
        Assert.Equal(["A", "B"], two.Boards);
        Assert.Equal([2.4, 2.26796185, 0, 0], two.Stations.Select(station => station.TareKg), new Near(1e-12));

        RigLayout levers = await Built(Scripts.Levers, "levers.toml");

        // b / a, and that times d / a.
        Assert.Equal([3, 3, 905.0 / 300, 4], levers.Stations.Select(station => station.LeverFactor), new Near(1e-9));
        Assert.Equal([0.03, 0.03, 905.0 / 300 * 3 / 300, 4 * 3.0 / 250], levers.Stations.Select(station => station.ULeverFactor), new Near(1e-9));
        Assert.Equal([1.2, 1.2, 0, 0], levers.Stations.Select(station => station.TareKg));

        RigLayout one = await Built(Scripts.OneDolly, "dolly.toml");
        Assert.True(one.IsRoamingDolly);
        Assert.Equal((38.5, 0.052), (one.Dollies[0].TareKg, one.Dollies[0].WheelCentreRiseM));
        Assert.Equal([new(-0.35, 0.325), new(-0.35, -0.325), new(0.35, 0.325), new(0.35, -0.325)], one.Dollies[0].CellsAt);

        RigLayout four = await Built(Scripts.FourDollies, "dollies.toml");
        Assert.Equal(["B1", "B2", "B3", "B4"], four.Boards);
        Assert.Equal(["dolly-FL", "dolly-FR", "dolly-RL", "dolly-RR"], four.Stations.Select(station => station.Dolly));
        Assert.Equal([0.052, 0.052, null, 0.0515], four.Dollies.Select(dolly => dolly.WheelCentreRiseM));
    }

    [Fact]
    public async Task Parts_of_every_kind_are_listed_then_changed_and_dropped()
    {
        using Bench bench = NewBench(Scripts.Parts);
        bench.Write("wren.toml", Marked);
        Outcome outcome = await bench.RunAsync("parts", "new", "--vehicle", "wren.toml");
        Assert.True(outcome.ExitCode == 0, outcome.Out + outcome.Errors);
        Vehicle wren = VehicleIn(bench, "wren.toml");
        string path = Path.Combine(bench.Folder, "list.csv");
        IReadOnlyList<Part> parts = PartsFile.Read(path, wren).Value;

        // 12 lb are 5.44310844 kg (NIST SP 811:2008 App. B.8).
        Assert.Equal(
            [
                new Part { Item = "Seat", Action = PartAction.Fit, MassKg = 6.4, BehindFrontAxleM = 1.3, LeftOfCentreM = 0, AboveGroundM = 0.25, UMassKg = 0.1, Note = "the light one" },
                new Part { Item = "Radiator", Action = PartAction.Fit, MassKg = 5.44310844, BehindFrontAxleM = -0.35, LeftOfCentreM = -0.02 },
                new Part
                {
                    Item = "Battery", Action = PartAction.Movable, MassKg = 7, BehindFrontAxleM = 0.51, LeftOfCentreM = -0.15, AboveGroundM = 0.3, FromMark = "firewall",
                    MinBehindM = 0.41, MaxBehindM = 0.81, MinLeftM = -0.2, MaxLeftM = 0.2,
                },
                new Part { Item = "Tank", Action = PartAction.Move, MassKg = 4, BehindFrontAxleM = 1.7, LeftOfCentreM = 0, ToBehindM = 1.5, ToLeftM = 0 },
                new Part { Item = "Nose", Action = PartAction.BallastSpot, MaxMassKg = 10, BehindFrontAxleM = -0.6, LeftOfCentreM = 0, CarriedBy = PartCarrier.FrontAxle },
            ],
            parts);

        // Another evening: the seat weighed, everything else of it as it was; the tank struck off; replaced only when said so.
        string before = bench.Read("list.csv");
        string[] changes = ["list.csv", "seat", "", "6.55", "", "", "", "", "", "", "", "Tank", "drop", "", ""];
        bench.Typed = Lines([.. changes, "no", "other.csv", ""]);
        Assert.Equal(0, (await bench.RunAsync("parts", "new")).ExitCode);
        Assert.Equal(before, bench.Read("list.csv"));
        Assert.Equal(
            [parts[0] with { MassKg = 6.55 }, parts[1], parts[2], parts[4]],
            PartsFile.Read(Path.Combine(bench.Folder, "other.csv"), wren).Value);
        bench.Typed = Lines([.. changes, "yes", ""]);
        Assert.Equal(0, (await bench.RunAsync("parts", "new")).ExitCode);
        Assert.Equal(bench.Read("other.csv"), bench.Read("list.csv"));
    }

    [Theory]
    [InlineData("wheelbase", "260", "did you mean cm?", "cm", 2.6)]
    [InlineData("wheelbase", "102", "did you mean in?", "yes", 2.5908)]
    [InlineData("wheelbase", "26000", "one digit too many?", "2600", 2.6)]
    [InlineData("wheelbase", "2,6m", "decimal point, not a comma", "2.6m", 2.6)]
    [InlineData("wheelbase", "2.6", "did you mean m?", "m", 2.6)]
    [InlineData("wheelbase", "2600 furlongs", "unit", "260cm", 2.6)]
    [InlineData("wheelbase", "-2600", "0 or more", "2600", 2.6)]
    public async Task A_slip_is_caught_and_one_word_puts_it_right(string what, string slip, string caught, string answer, double wheelbaseM)
    {
        using Bench bench = NewBench(what, "", "", slip, answer, "", "1320", "1300", "", "", "");
        Outcome outcome = await bench.RunAsync("vehicle", "new");
        Assert.True(outcome.ExitCode == 0, outcome.Out + outcome.Errors);
        Assert.Contains(caught, string.Join(' ', outcome.Out.Split((char[])[' ', '\n'], StringSplitOptions.RemoveEmptyEntries)), StringComparison.Ordinal);
        Assert.Equal(wheelbaseM, VehicleIn(bench, "wheelbase.toml").WheelbaseM, 12);
    }

    [Fact]
    public async Task A_bare_share_and_sides_that_differ_are_asked_about()
    {
        // 52 without a sign; 12 mm between the sides, then right as it stands; a track wider than the wheelbase, in a car.
        string[] passedOver = [.. Enumerable.Repeat("", 20)];
        using Bench bench = NewBench(["Wren", "", "", "2300", "2312", "no", "2312", "yes", "2400", "1300", "1300", "yes", .. passedOver, "52", "yes", "", "", "", ""]);
        Outcome outcome = await bench.RunAsync("vehicle", "new");
        Assert.True(outcome.ExitCode == 0, outcome.Out + outcome.Errors);
        Vehicle wren = VehicleIn(bench, "wren.toml");
        Assert.Equal((2.306, 1.3, 0.52), (wren.WheelbaseM, wren.TrackFrontM, wren.Target.Front));
        Assert.Contains("wider than the wheelbase", outcome.Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Back_goes_back_a_number_goes_to_its_line_and_help_explains()
    {
        using Bench bench = NewBench(
            "back", "Wrn", "?", "car", "hook", "2310", "back", "2311", "", "1320", "1300", "", "",
            "1", "Wren", "6", "1310", "99", "what", "");
        Outcome outcome = await bench.RunAsync("vehicle", "new");
        Assert.True(outcome.ExitCode == 0, outcome.Out + outcome.Errors);

        // The file's name was settled before the name was put right.
        Vehicle wren = VehicleIn(bench, "wrn.toml");
        Assert.Equal(("Wren", 2.311, 1.31), (wren.Name, wren.WheelbaseM, wren.TrackFrontM));
        Assert.Contains("This is the first question.", outcome.Out, StringComparison.Ordinal);
        Assert.Contains("Car and kart stand on four corners.", outcome.Out, StringComparison.Ordinal);
        Assert.Contains("a number from 1 to 9", outcome.Out, StringComparison.Ordinal);
    }

    [Fact]
    public async Task An_answer_that_no_longer_fits_is_asked_for_again()
    {
        // A kart may be wider than long; then it turns out to be a car.
        using Bench bench = NewBench("Wide", "kart", "", "1100", "", "1200", "1000", "", "", "2", "car", "1050", "");
        Outcome outcome = await bench.RunAsync("vehicle", "new");
        Assert.True(outcome.ExitCode == 0, outcome.Out + outcome.Errors);
        Assert.Contains("does not go with that any more", outcome.Out, StringComparison.Ordinal);
        Assert.Equal((VehicleKind.Car, 1.05), (VehicleIn(bench, "wide.toml").Kind, VehicleIn(bench, "wide.toml").TrackFrontM));
    }

    [Fact]
    public async Task A_cell_cannot_stand_in_two_places_nor_a_log_be_a_rig()
    {
        using Bench bench = NewBench("pads", "B1:1", "B1:1", "B1:5", "B1:2", "B1:3,B1:3", "B1:3", "", "", "replay:a.csv", "virtual", "", "");
        Outcome outcome = await bench.RunAsync("rig", "new");
        Assert.True(outcome.ExitCode == 0, outcome.Out + outcome.Errors);
        Assert.Contains("B1:1 stands under FL already", outcome.Out, StringComparison.Ordinal);
        Assert.Contains("B1:3 is named twice", outcome.Out, StringComparison.Ordinal);
        Assert.Contains("replay:a.csv is a log", outcome.Out, StringComparison.Ordinal);
        Assert.Equal(LayoutFile.TextOf(RigLayout.FourPads("B1")), bench.Read("rig.toml"));
    }
}
