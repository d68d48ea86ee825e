using Fourpatch.Files;
using Fourpatch.Rigs;
using Fourpatch.Vehicles;
using Fourpatch.VirtualRig;

namespace Fourpatch.Tests.Files;

public class LayoutAndScenarioTests
{
    [Fact]
    public void Pads_name_their_cells()
    {
        var layout = LayoutFile.Parse(Examples.Pads, "rig.toml").Value;
        var station = layout.Stations[0];
        Assert.Equal("FL", station.Name);
        Assert.Equal([new CellId("B1", 1)], station.Cells);
        Assert.Equal((1.2, 2.95, 0.01), (station.TareKg, station.LeverFactor, station.ULeverFactor));
        Assert.Equal((0, 1), (layout.Stations[1].TareKg, layout.Stations[1].LeverFactor));
        Assert.Equal(["B1"], layout.Boards);
    }

    [Fact]
    public void Stations_may_stand_on_dollies()
    {
        var layout = LayoutFile.Parse(Examples.FourDollies, "rig.toml").Value;
        Assert.Equal(["one", "two"], layout.Stations.Select(station => station.Dolly));
        Assert.Equal(0.052, layout.Dollies[0].WheelCentreRiseM);
        Assert.Equal(new FramePoint(0.25, -0.2), layout.Dollies[0].CellsAt[3]);
        Assert.Equal(["B1", "B2"], layout.Boards);
        Assert.False(layout.IsRoamingDolly);
    }

    [Fact]
    public void One_dolly_without_a_station_goes_round_the_car() =>
        Assert.True(LayoutFile.Parse("[dolly.trolley]\ncells = [\"B1:1\", \"B1:2\", \"B1:3\", \"B1:4\"]\n", "rig.toml").Value.IsRoamingDolly);

    [Fact]
    public void Stations_of_another_vehicle_are_its_wheels()
    {
        const string text = "[station.front]\ncells = [\"B1:1\"]\n[station.rear]\ncells = [\"B1:2\"]\n";
        Assert.True(LayoutFile.Parse(text, "rig.toml", ["front", "rear"]).IsOk);
        Assert.Equal(ErrorCode.UnknownName, LayoutFile.Parse(text, "rig.toml").Error!.Code);
    }

    [Theory]
    [InlineData(Examples.Pads)]
    [InlineData(Examples.FourDollies)]
    public void A_layout_written_reads_back_the_same(string text)
    {
        var written = LayoutFile.TextOf(LayoutFile.Parse(text, "rig.toml").Value);
        Assert.Equal(written, LayoutFile.TextOf(LayoutFile.Parse(written, "rig.toml").Value));
        foreach (var line in text.Split('\n'))
            Assert.Contains(line.TrimEnd(), written, StringComparison.Ordinal);
    }

    [Fact]
    public void A_scenario_may_start_with_nothing_on_the_rig()
    {
        Scenario empty = ScenarioFile.Parse("starts_empty = true\n" + Commands.Cars.Pads, "pads.toml").Value;
        Assert.True(empty.StartsEmpty);
        Assert.Contains("starts_empty = true", ScenarioFileText.Of(empty), StringComparison.Ordinal);
    }

    [Fact]
    public void A_scenario_holds_everything_its_file_says()
    {
        var scenario = ScenarioFile.Parse(Examples.Scenario, "evening.toml").Value;
        Assert.Equal(("wren.toml", RigBuild.Pads, 80.0, 600.0, -6.0), (scenario.VehiclePath, scenario.Build, scenario.RateHz, scenario.DurationS, scenario.TemperatureRiseK));
        Assert.Equal(new ScenarioCar { MassKg = 452, CgBehindFrontAxleM = 1.354, CgLeftOfCentreM = 0.008, CgHeightM = 0.33 }, scenario.Car);
        Assert.Equal(new Corners<double>(0, 0.0035, -0.002, 0.001), scenario.FloorM);
        Assert.Equal(4, scenario.Boards[0].RateErrorPercent);
        Assert.Equal(
            new ScenarioCell
            {
                ZeroCounts = 81234, KgPerCount = -1.164e-4, ZeroErrorCounts = 40, SpanErrorPercent = 0.2, NonlinearityPercent = 0.03,
                HysteresisPercent = 0.02, CreepPercent = 0.02, TempZeroPercentPerK = 0.002, TempSpanPercentPerK = 0.001,
            },
            scenario.Boards[0].Cells[0]);
        Assert.False(scenario.Boards[0].Cells[1].Calibrated);
        Assert.Equal(new ScenarioCell(), scenario.Boards[0].Cells[3]);
        Assert.Equal(new ScenarioNoise { WhiteCountsRms = 40, SwayKg = 0.4, SwayHz = 1.6, DriftKgPerH = 0.1, FlickerCountsRms = 5, MainsKg = 0.2, MainsHz = 60 }, scenario.Noise);
        Assert.Equal(new ScenarioFault { Kind = FaultKind.Stuck, Board = "B1", Cell = 2, AtS = 30, ForS = 10 }, scenario.Faults[0]);
        Assert.Equal(new ScenarioFault { Kind = FaultKind.Silence, AtS = 90 }, scenario.Faults[1]);
    }

    [Fact]
    public void A_short_scenario_takes_ordinary_boards_and_cells()
    {
        var scenario = ScenarioFile.Parse("vehicle = \"wren.toml\"\nbuild = \"four-dollies\"\n[car]\nmass_kg = 452\ncg_behind_front_axle_mm = 1350\n", "s.toml").Value;
        Assert.Equal(["B1", "B2", "B3", "B4"], scenario.Boards.Select(board => board.Id));
        Assert.All(scenario.Boards, board => Assert.Equal(4, board.Cells.Count));
        Assert.Equal(0.45, scenario.Car!.CgHeightM);
    }

    [Fact]
    public void True_loads_may_stand_instead_of_a_car_and_a_lever_has_its_factor()
    {
        var scenario = ScenarioFile.Parse("vehicle = \"w.toml\"\nbuild = \"lever\"\n[truth_kg]\nFL = 1\nFR = 2\nRL = 3\nRR = 4\n[lever]\nfactor = 2.5\nRR = 2.9\n", "s.toml").Value;
        Assert.Equal(new Corners<double>(1, 2, 3, 4), scenario.TruthKg);
        Assert.Equal(new Corners<double>(2.5, 2.5, 2.5, 2.9), scenario.LeverFactor);
    }

    // HX711 datasheet V2.0: full-scale input +/-0.5 AVDD/gain, so 2^24 counts are AVDD/128.
    [Fact]
    public void A_cell_without_a_span_has_that_of_its_rated_output() =>
        Assert.Equal(500 / (0.002 / (1 / 128.0) * Math.Pow(2, 24)), new ScenarioCell().TrueKgPerCount, 1e-16);

    [Fact]
    public void A_scenario_written_reads_back_the_same()
    {
        foreach (var build in new[] { "pads", "lever", "one-dolly", "four-dollies" })
        {
            var boards = build == "four-dollies" ? "" : "[[board]]\nid = \"X\"\n[[board.cell]]\ncapacity_kg = 300\n[[board.cell]]\n[[board.cell]]\n[[board.cell]]\n";
            var text = $"vehicle = \"w.toml\"\nbuild = \"{build}\"\n[car]\nmass_kg = 452\ncg_behind_front_axle_mm = 1350\n{boards}[[fault]]\nname = \"unplugged\"\ncell = 3\n";
            var written = ScenarioFileText.Of(ScenarioFile.Parse(text, "s.toml").Value);
            Assert.Equal(written, ScenarioFileText.Of(ScenarioFile.Parse(written, "s.toml").Value));
        }

        var whole = ScenarioFileText.Of(ScenarioFile.Parse(Examples.Scenario, "s.toml").Value);
        Assert.Equal(whole, ScenarioFileText.Of(ScenarioFile.Parse(whole, "s.toml").Value));
        Assert.Contains("kg_per_count = -0.0001164", whole, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("unplugged", FaultKind.Unplugged, null, null, 0)]
    [InlineData("stuck:2@30", FaultKind.Stuck, null, 2, 30)]
    [InlineData("board-reset@12.5", FaultKind.BoardReset, null, null, 12.5)]
    [InlineData("saturated:B2:3@5s", FaultKind.Saturated, "B2", 3, 5)]
    [InlineData("silence:B3", FaultKind.Silence, "B3", null, 0)]
    public void Faults_are_read_from_the_command_line(string text, FaultKind kind, string? board, int? cell, double atS) =>
        Assert.Equal(new ScenarioFault { Kind = kind, Board = board, Cell = cell, AtS = atS }, FaultOption.Parse(text).Value);
}
