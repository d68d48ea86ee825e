using Fourpatch.Calibrating;
using Fourpatch.Core.Cells;
using Fourpatch.Links;
using Fourpatch.Rigs;
using Fourpatch.Tests.Commands;
using Fourpatch.VirtualRig;

namespace Fourpatch.Tests.Rigs;

/// <summary>Boards matched to a layout by their names, and what is brought into their flash.</summary>
[Collection(KeepsTime.Name)]
public class RigSessionTests
{
    private static readonly TimeSpan Long = TimeSpan.FromSeconds(60);

    [Fact]
    public async Task Without_a_layout_cells_1_to_4_of_the_one_board_stand_under_the_corners_in_order()
    {
        await using RigSession rig = await ConnectAsync(Garages.Pads(), null, "");
        Assert.Equal(["FL", "FR", "RL", "RR"], rig.Layout.Stations.Select(station => station.Name));
        Assert.Equal(["B1:1", "B1:2", "B1:3", "B1:4"], rig.Layout.Stations.Select(station => station.Cells.Single().ToString()));
    }

    [Theory]
    [InlineData("A1 A2 A3 A4")]
    [InlineData("A4 A2 A1 A3")]
    public async Task Boards_are_found_by_their_names_whatever_the_order_of_their_ports(string order)
    {
        VirtualGarage garage = Four();
        await using RigSession rig = await ConnectAsync(garage, FourLayout(), order.Split(' '));
        Assert.Equal(order.Split(' '), rig.Boards.Select(board => board.BoardId));
        await rig.PumpAsync(() => rig.Boards.All(board => board.Cell(1).HasGood), Long, default);
        foreach (string id in order.Split(' '))
        {
            CellCalibration calibration = rig.Board(id)!.Calibration(2)!;
            double trueKg = garage.TrueCellKg(new CellId(id, 2));
            await rig.PumpAsync(() => rig.Board(id)!.Cell(2).HasGood, Long, default);
            Assert.Equal(trueKg, calibration.LoadKg(rig.Board(id)!.Cell(2).LastGood.Counts), 0.3);
        }
    }

    [Fact]
    public async Task Two_boards_of_one_name_are_refused()
    {
        var opener = new TwoGarages(Garages.Pads(), Garages.Pads());
        var refused = await Assert.ThrowsAsync<RigMismatchException>(() => RigSession.ConnectAsync(
            [new PortAddress(PortKind.Virtual, "one"), new PortAddress(PortKind.Virtual, "two")], null, opener, TimeProvider.System, default));
        Assert.Contains("two boards are both named B1", refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Two_boards_without_a_layout_are_refused()
    {
        var refused = await Assert.ThrowsAsync<RigMismatchException>(() => ConnectAsync(Four(), null, "A1", "A2"));
        Assert.Contains("2 boards need a layout", refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_board_of_the_layout_that_is_not_there_is_named_with_those_that_are()
    {
        var refused = await Assert.ThrowsAsync<RigMismatchException>(() => ConnectAsync(Four(), FourLayout(), "A1", "A2", "A4"));
        Assert.Contains("the layout names board A3, but found was A1, A2, A4", refused.Message, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_zero_is_refused_with_something_on_the_pad_and_flash_keeps_what_it_held()
    {
        VirtualGarage garage = Garages.Pads();
        await using RigSession rig = await ConnectAsync(garage, null, "");
        BoardFeed board = rig.Boards[0];
        CellCalibration[] before = [.. Enumerable.Range(1, 4).Select(cell => Copy(board.Calibration(cell)!))];
        BoardIdentity identity = board.Connection.State.Identity!;

        // The car stands on it: 118 kg on a cell of 300 kg.
        Dictionary<int, (double, double)> zeros = await MeansAsync(rig);
        var refused = await Assert.ThrowsAsync<NotStoredException>(() => BoardCalibration.StoreZerosAsync(board, zeros, default));
        Assert.Contains("something stands on a pad", refused.Message, StringComparison.Ordinal);
        Assert.Contains("clear the pads", refused.Message, StringComparison.Ordinal);

        BoardState held = await board.Connection.ReloadAsync(default);
        Assert.All(Enumerable.Range(0, 4), i => Assert.True(held.Calibrations[i].IsSameAs(before[i])));
        Assert.Equal((identity.CommitNumber, identity.CommitChecksum), (held.Identity!.CommitNumber, held.Identity.CommitChecksum));

        // And the stream goes on.
        rig.ClearWindows();
        Assert.True(await rig.PumpAsync(() => board.Cell(1).HasGood, Long, default));
    }

    [Fact]
    public async Task A_zero_with_one_pad_loaded_changes_no_cell()
    {
        VirtualGarage garage = Garages.Pads();
        garage.TakeCarOff();
        garage.LoadPad(3, 20);
        await using RigSession rig = await ConnectAsync(garage, null, "");
        CellCalibration before = Copy(rig.Boards[0].Calibration(1)!);
        await Assert.ThrowsAsync<NotStoredException>(async () => await BoardCalibration.StoreZerosAsync(rig.Boards[0], await MeansAsync(rig), default));
        Assert.True((await rig.Boards[0].Connection.ReloadAsync(default)).Calibrations[0].IsSameAs(before));
    }

    [Fact]
    public async Task A_zero_of_empty_pads_is_stored_and_read_back()
    {
        VirtualGarage garage = Garages.Pads();
        garage.TakeCarOff();
        await using RigSession rig = await ConnectAsync(garage, null, "");
        Dictionary<int, (double Counts, double)> zeros = await MeansAsync(rig);
        uint commit = rig.Boards[0].Connection.State.Identity!.CommitNumber;
        await BoardCalibration.StoreZerosAsync(rig.Boards[0], zeros, default);
        for (int cell = 1; cell <= 4; cell++)
        {
            CellCalibration held = rig.Boards[0].Calibration(cell)!;
            Assert.Equal((int)Math.Round(zeros[cell].Counts * 16), held.ZeroSixteenths);
            Assert.NotEqual(0, held.SpanPicokilograms);
        }

        Assert.Equal(commit + 1, rig.Boards[0].Connection.State.Identity!.CommitNumber);
    }

    [Fact]
    public async Task What_is_stored_is_read_back_and_survives_a_restart_of_the_board()
    {
        VirtualGarage garage = Garages.Pads();
        await using RigSession rig = await ConnectAsync(garage, null, "");
        CellCalibration wanted = Copy(rig.Boards[0].Calibration(2)!);
        wanted.ZeroSixteenths = -12345;
        wanted.SpanPicokilograms = -71_234_567;
        wanted.DateYyyymmdd = 20260502;
        Assert.True(wanted.Reference.TrySet("gym plates"));
        await BoardCalibration.StoreAsync(rig.Boards[0], new Dictionary<int, CellCalibration> { [2] = wanted }, default);
        Assert.True(rig.Boards[0].Calibration(2)!.IsSameAs(wanted));

        garage.Boards[0].Reset();
        Assert.True(await rig.PumpAsync(() => rig.Boards[0].Connection.State.Restarts == 1 && rig.Boards[0].IsPresent && rig.Boards[0].Cell(1).HasGood, Long, default));
        Assert.True(rig.Boards[0].Calibration(2)!.IsSameAs(wanted));
    }

    [Fact]
    public async Task A_board_whose_flash_is_worn_says_so_and_holds_what_it_held()
    {
        VirtualGarage garage = Garages.Pads();
        await using RigSession rig = await ConnectAsync(garage, null, "");
        CellCalibration before = Copy(rig.Boards[0].Calibration(1)!);
        CellCalibration wanted = Copy(before);
        wanted.SpanPicokilograms++;
        garage.Boards[0].IsFlashWorn = true;
        var refused = await Assert.ThrowsAsync<NotStoredException>(() => BoardCalibration.StoreAsync(rig.Boards[0], new Dictionary<int, CellCalibration> { [1] = wanted }, default));
        Assert.Contains("flash could not be written", refused.Message, StringComparison.Ordinal);
        Assert.True((await rig.Boards[0].Connection.ReloadAsync(default)).Calibrations[0].IsSameAs(before));
    }

    [Fact]
    public async Task A_name_is_stored_and_answered_from_then_on()
    {
        await using RigSession rig = await ConnectAsync(Garages.Pads(), null, "");
        await BoardCalibration.StoreNameAsync(rig.Boards[0], 0, "left-rig", default);
        await BoardCalibration.StoreNameAsync(rig.Boards[0], 3, "blue pad", default);
        Assert.Equal("left-rig", rig.Boards[0].Connection.State.Identity!.BoardId);
        Assert.Equal("blue pad", rig.Boards[0].Connection.State.CellNames[2]);
    }

    private static CellCalibration Copy(CellCalibration calibration)
    {
        var copy = new CellCalibration();
        copy.CopyFrom(calibration);
        return copy;
    }

    private static async Task<Dictionary<int, (double Counts, double UCounts)>> MeansAsync(RigSession rig)
    {
        rig.ClearWindows();
        TimeSpan window = TimeSpan.FromSeconds(3);
        BoardFeed board = rig.Boards[0];
        Assert.True(await rig.PumpAsync(() => Enumerable.Range(1, 4).All(cell => board.Cell(cell).GoodFor >= window), Long, default));
        return Enumerable.Range(1, 4).ToDictionary(cell => cell, cell =>
        {
            CellMean mean = board.Cell(cell).Mean(window, 1000, 1000);
            return (mean.Counts, mean.StandardUncertaintyCounts);
        });
    }

    private static VirtualGarage Four()
    {
        ScenarioBoard pads = Garages.PadsScenario.Boards[0];
        ScenarioBoard[] boards = [.. Enumerable.Range(1, 4).Select(i => pads with { Id = $"A{i}", Cells = [.. pads.Cells.Select(cell => cell with { ZeroCounts = cell.ZeroCounts + (i * 10_000) })] })];
        Scenario scenario = Garages.PadsScenario with { Build = RigBuild.FourDollies, Boards = boards, TruthKg = null, Car = new() { MassKg = 600, CgBehindFrontAxleM = 1.3, CgLeftOfCentreM = 0.02 } };
        return new VirtualGarage(scenario, VirtualRig.Wren.Vehicle, 5);
    }

    private static RigLayout FourLayout() => new()
    {
        Stations = [.. new[] { "FL", "FR", "RL", "RR" }.Select((name, i) => new StationLayout { Name = name, Dolly = $"d{i + 1}" })],
        Dollies = [.. Enumerable.Range(1, 4).Select(i => new DollyLayout { Name = $"d{i}", Cells = [.. Enumerable.Range(1, 4).Select(cell => new CellId($"A{i}", cell))], TareKg = 12 })],
    };

    private static Task<RigSession> ConnectAsync(VirtualGarage garage, RigLayout? layout, params string[] boards) => RigSession.ConnectAsync(
        [.. boards.Select(board => new PortAddress(PortKind.Virtual, board))], layout, new GarageLinks(garage), TimeProvider.System, default);

    private sealed class TwoGarages(VirtualGarage one, VirtualGarage two) : ILinkOpener
    {
        public ValueTask<ILink> OpenAsync(PortAddress address, CancellationToken cancel)
        {
            VirtualGarage garage = address.Target == "one" ? one : two;
            return ValueTask.FromResult<ILink>(VirtualLink.AtFullSpeed(garage, garage.Boards[0]));
        }

        public IReadOnlyList<string> SerialPorts() => [];
    }
}
