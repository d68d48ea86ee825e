using System.Globalization;
using Fourpatch.Core.Cells;
using Fourpatch.Links;
using Fourpatch.Rigs;
using Fourpatch.Tests.Commands;
using Fourpatch.Uncertainty;
using Fourpatch.VirtualRig;
using Fourpatch.Weighing;

namespace Fourpatch.Tests.Weighing;

/// <summary>Stations: (sum of their cells - tare) x lever factor, with every cause of their uncertainty.</summary>
[Collection(KeepsTime.Name)]
public class StationTests
{
    private static readonly WeighSettings Settings = new(TimeSpan.FromSeconds(4), TimeSpan.FromSeconds(20));

    [Fact]
    public async Task A_station_on_a_dolly_is_the_sum_of_its_cells_less_its_tare()
    {
        ScenarioBoard pads = Garages.PadsScenario.Boards[0];
        ScenarioBoard[] boards = [.. Enumerable.Range(1, 4).Select(i => pads with { Id = $"A{i}" })];
        Scenario scenario = Garages.PadsScenario with { Build = RigBuild.FourDollies, Boards = boards, TruthKg = null, Car = new() { MassKg = 600, CgBehindFrontAxleM = 1.3, CgLeftOfCentreM = 0.02 } };
        var garage = new VirtualGarage(scenario, VirtualRig.Wren.Vehicle, 5);
        var layout = new RigLayout
        {
            Stations = [.. new[] { "FL", "FR", "RL", "RR" }.Select((name, i) => new StationLayout { Name = name, Dolly = $"d{i + 1}" })],
            Dollies = [.. Enumerable.Range(1, 4).Select(i => new DollyLayout { Name = $"d{i}", Cells = [.. Enumerable.Range(1, 4).Select(cell => new CellId($"A{i}", cell))], TareKg = scenario.Dolly.TareKg })],
        };
        WeighingResult result = await WeighAsync(garage, layout, "A3", "A1", "A4", "A2");
        Assert.True(result.IsAcceptable, string.Join('\n', result.Reasons.Select(reason => reason.Text)));
        CheckLoads(garage.AsItStands.CornersKg.ToArray(), result);
        Assert.Equal(["A3", "A1", "A4", "A2"], result.Boards);
    }

    [Fact]
    public async Task Tare_comes_off_before_the_lever_factor()
    {
        Scenario scenario = Garages.PadsScenario with { Build = RigBuild.Lever, LeverFactor = new(3, 3, 2.5, 2.5) };
        var garage = new VirtualGarage(scenario, Garages.Plain, 6);
        RigLayout plain = RigLayout.FourPads("B1");
        StationLayout[] stations = [.. plain.Stations.Select((station, i) => station with { LeverFactor = i < 2 ? 3 : 2.5, ULeverFactor = i == 0 ? 0.01 : 0, TareKg = i == 1 ? 2 : 0 })];
        WeighingResult result = await WeighAsync(garage, plain with { Stations = stations }, "");
        double[] expected = [118.4, 109.9 - (2 * 3), 127.3, 131.6];
        CheckLoads(expected, result);

        // The factor's own uncertainty: cell load x u, here 118.4 / 3 x 0.01.
        Measured fl = result.Loads[0].LoadKg!;
        Contribution lever = Assert.Single(fl.Contributions, contribution => contribution.Cause.Key == "lever FL");
        Assert.Equal(fl.Value / 3 * 0.01, lever.Amount, 6);
        Assert.DoesNotContain(result.Loads[1].LoadKg!.Contributions, contribution => contribution.Cause.Key.StartsWith("lever", StringComparison.Ordinal));
    }

    [Fact]
    public void How_sure_the_zero_of_a_cell_is_goes_into_its_load_by_its_span()
    {
        var id = new CellId("B1", 1);
        Measured load = new StationReader(new RigLayout(), new CellAssumptions()).Join(
            new StationLayout { Name = "FL", Cells = [id] },
            [new CellEvidence(
                id,
                new CellMean { Id = id, Status = SampleStatus.Ok, Verdict = SettlingVerdict.Settled, Counts = 90_000, StandardUncertaintyCounts = 3, DegreesOfFreedom = 20, Used = 80, EndMicroseconds = 1 },
                new CellCalibration { SpanPicokilograms = -1_000_000_000, DateYyyymmdd = 20260301, CapacityGrams = 200_000, SpanOwnPpm = 100, ZeroUncertaintySixteenths = 32 })]).LoadKg!;

        // A gram a count, two counts.
        Contribution zero = Assert.Single(load.Contributions, one => one.Cause.Name == "zero of cell B1:1");
        Assert.Equal(0.002, Math.Abs(zero.Amount), 12);
    }

    [Fact]
    public void What_a_tare_and_the_castors_may_be_off_are_causes_and_only_the_castors_are_new_at_every_wheel()
    {
        CellId[] ids = [.. Enumerable.Range(1, 4).Select(cell => new CellId("B1", cell))];
        var dolly = new DollyLayout { Name = "trolley", Cells = ids, TareKg = 12, UTareKg = 0.05, UCastorShare = 0.0008 };
        var reader = new StationReader(new RigLayout { Dollies = [dolly] }, new CellAssumptions());
        Measured At(string wheel, long microseconds) => reader.Join(
            new StationLayout { Name = wheel, Dolly = "trolley" },
            [.. ids.Select(id => new CellEvidence(
                id,
                new CellMean { Id = id, Status = SampleStatus.Ok, Verdict = SettlingVerdict.Settled, Counts = 90_000, StandardUncertaintyCounts = 3, DegreesOfFreedom = 20, Used = 80, EndMicroseconds = microseconds },
                new CellCalibration { SpanPicokilograms = 1_000_000_000, DateYyyymmdd = 20260301, CapacityGrams = 200_000, SpanOwnPpm = 100 }))]).LoadKg!;
        Measured left = At("FL", 1_000_000), right = At("FR", 60_000_000);
        Assert.Equal((4 * 90) - 12, left.Value, 9);

        Contribution tare = Assert.Single(left.Contributions, one => one.Cause.Key == "tare trolley");
        Assert.Equal(0.05, Math.Abs(tare.Amount), 9);
        Assert.Equal(tare.Amount, right.ContributionOf(tare.Cause), 12);
        Contribution castors = Assert.Single(left.Contributions, one => one.Cause.Name == "which way the castors of trolley point");
        Assert.Equal(348 * 0.0008, castors.Amount, 9);
        Assert.Equal(0, right.ContributionOf(castors.Cause));
    }

    [Fact]
    public async Task The_mass_all_cells_were_calibrated_with_cancels_in_shares_and_stays_in_the_total()
    {
        WeighingResult result = await WeighAsync(Garages.Pads(), null, "");
        Measured[] loads = [.. result.Loads.Select(load => load.LoadKg!)];
        Cause reference = Assert.Single(loads.SelectMany(load => load.Contributions).Select(contribution => contribution.Cause).Distinct(), cause => cause.Key == "reference virtual masses");
        Assert.All(loads, load => Assert.Equal(load.Value * 100e-6, load.ContributionOf(reference), 9));
        Assert.Equal(result.Totals.TotalKg!.Value * 100e-6, result.Totals.TotalKg.ContributionOf(reference), 9);
        foreach (Measured share in new[] { result.Totals.FrontShare!, result.Totals.LeftShare!, result.Totals.CrossShare! })
        {
            Assert.Equal(0, share.ContributionOf(reference), 12);
            Assert.True(share.StandardUncertainty > 1e-5);
        }

        Assert.Equal(0, result.Totals.CgBehindFrontAxleM!.ContributionOf(reference), 12);

        // What is a cell's own is nobody else's.
        Assert.Equal(loads[0].ContributionOf(reference) * loads[1].ContributionOf(reference), Measured.Covariance(loads[0], loads[1]), 12);
    }

    [Theory]
    [InlineData(FaultKind.Saturated, ReasonCode.Saturated)]
    [InlineData(FaultKind.Stuck, ReasonCode.Stuck)]
    public async Task A_cell_that_cannot_be_used_leaves_its_corner_unknown_and_the_others_known(FaultKind kind, ReasonCode code)
    {
        WeighingResult result = await WeighAsync(Garages.Pads(new ScenarioFault { Kind = kind, Cell = 2 }), null, "");
        Assert.False(result.IsAcceptable);
        Assert.Null(result.Loads[1].LoadKg);
        Assert.All(new[] { 0, 2, 3 }, i => Assert.NotNull(result.Loads[i].LoadKg));
        Assert.Null(result.Totals.TotalKg);
        Reason reason = Assert.Single(result.Reasons);
        Assert.Equal((code, "FR"), (reason.Code, reason.Corner));
        Assert.Contains("cell B1:2", reason.Text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_cell_whose_plug_is_out_never_passes_for_a_load()
    {
        WeighingResult result = await WeighAsync(Garages.Pads(new ScenarioFault { Kind = FaultKind.Unplugged, Cell = 3 }), null, "");
        Assert.False(result.IsAcceptable);
        Assert.Contains(result.Reasons, reason => reason.Corner == "RL" && Acceptance.Forbids(reason.Code));
        Assert.DoesNotContain(result.Reasons, reason => reason.Corner is "FL" or "FR" or "RR");
    }

    [Fact]
    public async Task A_cell_without_calibration_says_what_to_do()
    {
        ScenarioBoard board = Garages.PadsScenario.Boards[0];
        Scenario scenario = Garages.PadsScenario with { Boards = [board with { Cells = [.. board.Cells.Select((cell, i) => cell with { Calibrated = i != 3 })] }] };
        WeighingResult result = await WeighAsync(new VirtualGarage(scenario, Garages.Plain, 7), null, "");
        Assert.Null(result.Loads[3].LoadKg);
        Assert.Equal(ReasonCode.Uncalibrated, Assert.Single(result.Reasons).Code);
        Assert.False(result.IsAcceptable);
    }

    [Fact]
    public async Task A_load_above_capacity_and_one_below_nothing_are_refused()
    {
        Scenario heavy = Garages.PadsScenario with { TruthKg = new(320, 100, 100, 100) };
        WeighingResult over = await WeighAsync(new VirtualGarage(heavy, Garages.Plain, 8), null, "");
        Assert.Contains(over.Reasons, reason => (reason.Code, reason.Corner) == (ReasonCode.OverCapacity, "FL"));
        Assert.False(over.IsAcceptable);

        WeighingResult swapped = await WeighAsync(Garages.Pads(new ScenarioFault { Kind = FaultKind.SwappedSignal, Cell = 4 }), null, "");
        Assert.Contains(swapped.Reasons, reason => (reason.Code, reason.Corner) == (ReasonCode.NegativeLoad, "RR"));
        Assert.False(swapped.IsAcceptable);
    }

    [Fact]
    public async Task A_car_that_sways_is_not_settled_and_said_to_be_so()
    {
        Scenario swaying = Garages.PadsScenario with { Noise = new ScenarioNoise { SwayKg = 4, SwayHz = 0.05 } };
        WeighingResult result = await WeighAsync(new VirtualGarage(swaying, Garages.Plain, 9), null, "");
        Assert.False(result.IsAcceptable);
        Assert.All(result.Reasons, reason => Assert.Contains(reason.Code, new[] { ReasonCode.NotSettled, ReasonCode.TooNoisy }));
        Assert.Equal(4, result.Reasons.Count);
    }

    [Fact]
    public async Task A_wheel_the_layout_does_not_know_is_named_with_the_table_to_add()
    {
        RigLayout three = RigLayout.FourPads("B1") with { Stations = [.. RigLayout.FourPads("B1").Stations.Take(3)] };
        WeighingResult result = await WeighAsync(Garages.Pads(), three, "");
        Reason reason = Assert.Single(result.Reasons);
        Assert.Equal("RR: the layout has no station of this name; add [station.RR] to it", reason.Text);
        Assert.Null(result.Loads[3].LoadKg);
    }

    private static async Task<WeighingResult> WeighAsync(VirtualGarage garage, RigLayout? layout, params string[] boards)
    {
        await using RigSession rig = await RigSession.ConnectAsync(
            [.. boards.Select(board => new PortAddress(PortKind.Virtual, board))], layout, new GarageLinks(garage), TimeProvider.System, default);
        return await AllAtOnce.TakeAsync(rig, garage.Scenario.Car is null ? Garages.Plain : VirtualRig.Wren.Vehicle, new CellAssumptions(), Settings, null, default);
    }

    private static void CheckLoads(double[] expectedKg, WeighingResult result)
    {
        for (int i = 0; i < 4; i++)
        {
            Measured load = result.Loads[i].LoadKg!;
            Assert.True(Math.Abs(load.Value - expectedKg[i]) <= load.Expand().HalfWidth, string.Create(CultureInfo.InvariantCulture, $"{result.Loads[i].Name}: {load}, true {expectedKg[i]}"));
        }
    }
}
